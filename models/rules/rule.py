"""A rule: what was found out about one activity in one area, or at one spot, with its source and its date."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, time

FOUND: dict[str, str] = {
    "needed": "permission needed",
    "not_permitted": "not permitted",
    "conditions": "recorded as permitted with conditions",
    "permitted": "recorded as permitted without conditions",
    "none_found": "no rule found",
    "unknown": "unknown",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleDraft:
    """A rule as typed or read; exactly one of area_id and spot_id is given.

    over: it begins with more than so many (see Activity.counted), None: from the first. width_min_m: the width that it
    wants left for walkers, metres, None where it names none. from_time, to_time: local hours in which it holds, over
    midnight where to_time is the earlier. weekdays: Monday 0; empty for all. first_day,
    last_day: days it holds, None for open. lead_days: clear days between asking and the day, working days where
    lead_working. spoken: somebody told it on the spot. check_again: the record counts as too old after this day.
    """

    area_id: int | None = None
    spot_id: int | None = None
    activity: str
    found: str
    over: int | None = None
    width_min_m: float | None = None
    from_time: time | None = None
    to_time: time | None = None
    weekdays: tuple[int, ...] = ()
    first_day: date | None = None
    last_day: date | None = None
    conditions: str = ""
    lead_days: int | None = None
    lead_working: bool = True
    fee: str = ""
    insurance: str = ""
    source_title: str
    source_section: str = ""
    source_link: str = ""
    spoken: bool = False
    read_by: str = ""
    checked_on: date
    check_again: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule(RuleDraft):
    """A rule as kept; hand `version` back with a change."""

    id: int
    version: int
