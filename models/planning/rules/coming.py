"""The workshops to come with what is found for each: everything is read once, however many there are."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from functools import cache

from sqlalchemy.orm import Session

from models.clock import to_local
from models.planning.rules.workshops import footprint_of
from models.rules.answers import ActivityFindings
from models.rules.areas import Area
from models.rules.findings import find_in
from models.rules.footprint import Footprint
from models.rules.records import on_record
from models.rules.working_days import Calendar
from models.rules.workshop import Workshop
from models.store import rules as kept
from models.store.spots import Spot
from models.store.spots import shelf as spots


@dataclass(frozen=True, slots=True)
class Coming:
    """A workshop to come that is not called off. today: where it takes place."""

    workshop: Workshop
    spot: Spot
    footprint: Footprint
    today: date


def coming_workshops(s: Session, now: datetime) -> tuple[Coming, ...]:
    """In the order in which they start."""
    workshops = [each for each in kept.list_workshops(s, from_=now) if not each.called_off]
    where = spots.these(s, {each.spot_id for each in workshops})

    @cache
    def today(zone: str) -> date:
        return to_local(now, zone).date()

    spotted = [(each, where[each.spot_id]) for each in workshops]
    return tuple(Coming(each, spot, footprint_of(each, spot.zone), today(spot.zone)) for each, spot in spotted)


def findings_of(s: Session, coming: Sequence[Coming], calendar: Calendar) -> tuple[tuple[ActivityFindings, ...], ...]:
    """What is found for each, as `findings_at` finds it for one."""
    around = _around(s, coming)
    passed = _passed(s, coming, around)
    area_ids = {area.id for some in (*around.values(), *passed.values()) for area in some}
    records = on_record(kept.rules_for(s, area_ids, *around), kept.enquiries_for(s, area_ids, *around))
    return tuple(
        find_in(
            records,
            each.footprint,
            around[each.spot.id],
            today=each.today,
            spot_id=each.spot.id,
            calendar=calendar,
            passed=passed.get(each.workshop.id, ()),
        )
        for each in coming
    )


def _around(s: Session, coming: Sequence[Coming]) -> dict[int, tuple[Area, ...]]:
    """By number of the spot, the areas that touch it."""
    where = {each.spot.id: (each.spot.latitude_deg, each.spot.longitude_deg) for each in coming}
    return dict(zip(where, kept.areas_at_each(s, list(where.values())), strict=True))


def _passed(s: Session, coming: Sequence[Coming], around: Mapping[int, Sequence[Area]]) -> dict[int, tuple[Area, ...]]:
    """By number of the workshop, the areas that control passing and lie on the straight way to its spot alone."""
    walks = [(each, each.workshop.meeting_point) for each in coming if each.workshop.meeting_point]
    ways = [(point, (each.spot.latitude_deg, each.spot.longitude_deg)) for each, point in walks]
    passed = {}
    for (each, _), crossed in zip(walks, kept.areas_along_each(s, ways, no_passing=True), strict=True):
        own = {area.id for area in around[each.spot.id]}
        passed[each.workshop.id] = tuple(area for area in crossed if area.id not in own)
    return passed
