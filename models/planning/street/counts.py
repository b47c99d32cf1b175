"""Counts of who comes by: kept, changed, deleted and brought back; and the rates that follow from them."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from functools import lru_cache

from sqlalchemy.orm import Session

from models.rules.working_days import calendar_of
from models.store import street as kept
from models.store.engine import Store
from models.store.settings import get_setting
from models.store.spots import Spot
from models.store.street import CountDraft, KeptCount
from models.street.footfall import Count, Footfall, IsHoliday, footfall


def get_count(store: Store, spot_id: int, count_id: int) -> KeptCount:
    """Raises Missing, for a count of another spot too."""
    with store.reading() as s:
        return kept.shelf.get(s, count_id, spot_id=spot_id)


def add_count(store: Store, draft: CountDraft) -> KeptCount:
    with store.writing() as s:
        return kept.shelf.add(s, draft)


def change_count(store: Store, spot_id: int, count_id: int, version: int, draft: CountDraft) -> KeptCount:
    """Raises Clash where somebody changed it in between, Missing."""
    with store.writing() as s:
        kept.shelf.find(s, count_id, spot_id=spot_id)
        return kept.shelf.change(s, count_id, version, draft)


def delete_count(store: Store, spot_id: int, count_id: int, version: int, *, now: datetime) -> KeptCount:
    """Put aside, with a way back. Raises Clash, Missing."""
    with store.writing() as s:
        kept.shelf.find(s, count_id, spot_id=spot_id)
        return kept.shelf.delete(s, count_id, version, now=now)


def restore_count(store: Store, spot_id: int, count_id: int) -> KeptCount:
    with store.writing() as s:
        kept.shelf.find(s, count_id, spot_id=spot_id)
        return kept.shelf.restore(s, count_id)


def is_holiday_by(s: Session) -> IsHoliday:
    """By the holidays of the organiser's settings."""
    return calendar_of(get_setting(s, "holidays") or "").is_holiday


def footfall_at(s: Session, spot: Spot) -> Footfall:
    """The rates at a spot, by the clocks and the holidays of the place."""
    return rates_of(kept.counts_at(s, spot.id), spot.zone, is_holiday_by(s))


def footfall_of(store: Store, spots: Iterable[Spot]) -> tuple[dict[int, Footfall], IsHoliday]:
    """The rates at many spots, by their numbers, and the holidays they go by; where nobody counted is left out."""
    zones = {spot.id: spot.zone for spot in spots}
    with store.reading() as s:
        counted = kept.counts_by_spot(s, zones)
        is_holiday = is_holiday_by(s)
    rates = {spot_id: rates_of(counts, zones[spot_id], is_holiday) for spot_id, counts in counted.items()}
    return rates, is_holiday


def rates_of(counts: Iterable[KeptCount], zone: str, is_holiday: IsHoliday) -> Footfall:
    """By the clocks of the zone; the same counts are worked out once."""
    return _rates_of(tuple(count.local(zone) for count in counts), zone, is_holiday)


@lru_cache(maxsize=256)
def _rates_of(counts: tuple[Count, ...], zone: str, is_holiday: IsHoliday) -> Footfall:
    """zone: of the counts, for equal instants of two zones are no equal hours."""
    return footfall(counts, is_holiday)
