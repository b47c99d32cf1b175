"""What applies to a footprint at a spot: the areas, the answers for each activity, and how they are shown."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from functools import partial

from sqlalchemy.orm import Session

from models.clock import day_words
from models.exchange.geodesy import metres_between
from models.rules.answers import ActivityFindings, Answer, Finding
from models.rules.areas import KINDS, Area
from models.rules.coverage import same_guard
from models.rules.findings import find, strictest
from models.rules.footprint import Footprint
from models.rules.working_days import calendar_of
from models.store import rules as kept
from models.store.engine import Store
from models.store.settings import get_setting
from models.store.spots import Spot, get_spot
from models.words import rules as words


@dataclass(frozen=True, slots=True)
class SpotFindings:
    """areas: all that touch the spot. passed: those that the walk crosses and that control passing."""

    areas: tuple[Area, ...]
    passed: tuple[Area, ...]
    found: tuple[ActivityFindings, ...]
    calendar_words: str
    strictest: Answer


@dataclass(frozen=True, slots=True)
class FindingShown:
    """One answer in words. short: a few of them. where: the area's name, or what else it speaks of. by: the last day
    to ask.
    """

    answer: Answer
    short: str
    words: str
    where: str
    why: str
    ask: str
    say: str
    by: date | None
    area_id: int | None
    rule_id: int | None
    enquiry_id: int | None
    differences: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ActivityShown:
    """An activity with how much of it, the answer that holds, and the others, strictest first.

    way_round: something to ask about instead, empty where there is none.
    """

    activity: str
    words: str
    strictest: FindingShown
    others: tuple[FindingShown, ...]
    way_round: str


@dataclass(frozen=True, slots=True)
class AreaShown:
    """A rule area that applies."""

    id: int
    name: str
    kind: str
    authority: str
    contact: str
    web: str
    no_passing: bool
    notes: str


@dataclass(frozen=True, slots=True)
class FallbackShown:
    """Where to go instead.

    same_guard: what it shares with the spot, so that it is no fallback. known: who controls each of them is recorded.
    """

    spot_id: int
    name: str
    distance_m: float
    same_guard: tuple[str, ...]
    known: bool


def spot_findings(
    store: Store,
    spot_id: int,
    footprint: Footprint,
    *,
    today: date,
    meeting_point: tuple[float, float] | None = None,
) -> SpotFindings:
    """All answers for a footprint at a spot. Raises Missing."""
    with store.reading() as s:
        return findings_at(s, get_spot(s, spot_id), footprint, today=today, meeting_point=meeting_point)


def findings_at(
    s: Session, spot: Spot, footprint: Footprint, *, today: date, meeting_point: tuple[float, float] | None = None
) -> SpotFindings:
    """The same in an open session."""
    here = (spot.latitude_deg, spot.longitude_deg)
    areas = kept.areas_at(s, *here)
    passed = _passed(s, meeting_point, here, areas)
    ids = [area.id for area in (*areas, *passed)]
    calendar = calendar_of(get_setting(s, "holidays"))
    found = find(
        footprint,
        areas,
        kept.rules_for(s, ids, spot.id),
        kept.enquiries_for(s, ids, spot.id),
        today=today,
        spot_id=spot.id,
        calendar=calendar,
        passed=passed,
    )
    return SpotFindings(areas, passed, found, calendar.words, strictest(found))


def activities_shown(found: tuple[ActivityFindings, ...], spot: Spot, today: date) -> tuple[ActivityShown, ...]:
    """Every activity with all its answers in words."""
    return tuple(_activity(each, found, partial(finding_shown, spot=spot, today=today)) for each in found)


def finding_shown(finding: Finding, *, spot: Spot, today: date) -> FindingShown:
    area = finding.area
    return FindingShown(
        answer=finding.answer,
        short=_short(finding),
        words=words.answer_words(finding, today),
        where=area.name if area else "this spot" if finding.rule or finding.enquiry else "",
        why=words.why_words(finding),
        ask=words.ask_words(finding, spot.controller),
        say=words.say_words(finding),
        by=finding.by,
        area_id=area.id if area else None,
        rule_id=finding.rule.id if finding.rule else None,
        enquiry_id=finding.enquiry.id if finding.enquiry else None,
        differences=finding.differences,
    )


def activity_names(found: tuple[ActivityFindings, ...]) -> dict[str, str]:
    """By activity, how much of it is done, in words."""
    return {each.activity: words.amount_words(each.activity, each.strictest.amount) for each in found}


def areas_shown(areas: tuple[Area, ...]) -> tuple[AreaShown, ...]:
    return tuple(
        AreaShown(a.id, a.name, KINDS[a.kind], a.authority, a.contact, a.web, a.no_passing, a.notes) for a in areas
    )


def fallback_shown(s: Session, spot: Spot, areas: tuple[Area, ...], other: Spot) -> FallbackShown:
    there = kept.areas_at(s, other.latitude_deg, other.longitude_deg)
    away = metres_between((spot.latitude_deg, spot.longitude_deg), (other.latitude_deg, other.longitude_deg))
    known = bool(areas or spot.controller) and bool(there or other.controller)
    shared = same_guard(areas, there, spot.controller, other.controller)
    return FallbackShown(other.id, other.name, away, shared, known)


def _passed(
    s: Session, meeting_point: tuple[float, float] | None, here: tuple[float, float], areas: tuple[Area, ...]
) -> tuple[Area, ...]:
    """Areas that control passing and lie on the straight way from the meeting point, those of the spot left out."""
    if meeting_point is None:
        return ()
    own = {area.id for area in areas}
    crossed = kept.areas_along(s, (meeting_point, here))
    return tuple(area for area in crossed if area.no_passing and area.id not in own)


def _short(finding: Finding) -> str:
    by = f" by {day_words(finding.by)}" if finding.answer == Answer.ASK_BY and finding.by else ""
    return f"{words.ANSWER_WORDS[finding.answer]}{by}"


def _activity(
    each: ActivityFindings, found: tuple[ActivityFindings, ...], shown: Callable[[Finding], FindingShown]
) -> ActivityShown:
    first, *others = each.findings
    return ActivityShown(
        activity=each.activity,
        words=words.amount_words(each.activity, first.amount),
        strictest=shown(first),
        others=tuple(map(shown, others)),
        way_round=words.way_round_words(found, first),
    )
