"""Rules and enquiries laid out as findings look them up; made once for any number of footprints."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from models.rules.activities import ACTIVITIES
from models.rules.enquiry import Enquiry
from models.rules.hours import OPEN, Span
from models.rules.rule import Rule

Place = tuple[int | None, int | None]
"""Number of an area, or of a spot."""
TOLD = ("granted", "asked", "planned", "refused", "lapsed", "withdrawn")
"""Which of several enquiries that settle nothing is told beside a rule."""


@dataclass(frozen=True, slots=True)
class Records:
    """rules: by place and activity, each with the days and hours in which it holds. dated: by place, every enquiry with
    the first and last day that it names, open ends as far as dates go. told: by place and activity, the enquiries that
    bear on it, those first that are told first. widths: by place, the rules of any activity that want a width left.
    """

    rules: Mapping[tuple[Place, str], Sequence[tuple[Rule, Span]]]
    dated: Mapping[Place, Sequence[tuple[date, date, Enquiry]]]
    told: Mapping[tuple[Place, str], Sequence[Enquiry]]
    widths: Mapping[Place, Sequence[tuple[Rule, Span]]]


def on_record(rules: Iterable[Rule], enquiries: Iterable[Enquiry]) -> Records:
    placed, dated, told, widths = defaultdict(list), defaultdict(list), defaultdict(list), defaultdict(list)
    for rule in rules:
        place, held = (rule.area_id, rule.spot_id), (rule, span_of(rule))
        placed[place, rule.activity].append(held)
        if rule.width_min_m is not None:
            widths[place].append(held)
    for enquiry in sorted(enquiries, key=lambda each: (TOLD.index(each.state), -each.id)):
        place = (enquiry.area_id, enquiry.spot_id)
        dated[place].append((enquiry.first_day or date.min, enquiry.last_day or date.max, enquiry))
        for activity in ACTIVITIES if asks_or_grants(enquiry) else enquiry.activities:
            told[place, activity].append(enquiry)
    return Records(dict(placed), dict(dated), dict(told), dict(widths))


def asks_or_grants(enquiry: Enquiry) -> bool:
    """What was asked or granted is told even where it does not name the activity: that is what it lacks."""
    return enquiry.state in ("granted", "asked")


def span_of(rule: Rule) -> Span:
    """The days and hours in which a rule holds."""
    limits = (rule.first_day, rule.last_day, rule.from_time, rule.to_time)
    if limits == (None,) * 4 and not rule.weekdays:
        return OPEN
    return Span(
        first_day=rule.first_day,
        last_day=rule.last_day,
        weekdays=rule.weekdays,
        from_time=rule.from_time,
        to_time=rule.to_time,
    )
