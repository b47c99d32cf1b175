"""Weather typed for hours at a spot: kept, changed, deleted and brought back. A forecast's hours are only fetched."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from sqlalchemy.orm import Session

from models.planning.street.weather_form import CLOCK, span_words
from models.problems import InputProblems
from models.store import weather as kept
from models.store.engine import Store
from models.store.spots import get_spot
from models.store.versions import Missing
from models.store.weather import HourDraft, KeptHour
from models.street.forecast import HOUR


def get_hour(store: Store, spot_id: int, hour_id: int) -> KeptHour:
    """Raises Missing, for an hour of another spot or of a forecast too."""
    with store.reading() as s:
        return _typed(kept.shelf.get(s, hour_id), spot_id)


def add_hours(store: Store, drafts: Sequence[HourDraft]) -> None:
    """All of them or none. Raises InputProblems where an hour among them is typed already."""
    with store.writing() as s:
        _must_be_new(s, drafts)
        kept.shelf.add_all(s, drafts)


def change_hour(store: Store, spot_id: int, hour_id: int, version: int, draft: HourDraft) -> KeptHour:
    """Raises Clash where somebody changed it in between, Missing, InputProblems where another one has that hour."""
    with store.writing() as s:
        _typed(kept.shelf.find(s, hour_id)[0], spot_id)
        _must_be_new(s, [draft], but=hour_id)
        return kept.shelf.change(s, hour_id, version, draft)


def delete_hour(store: Store, spot_id: int, hour_id: int, version: int, *, now: datetime) -> KeptHour:
    """Put aside, with a way back. Raises Clash, Missing."""
    with store.writing() as s:
        _typed(kept.shelf.find(s, hour_id)[0], spot_id)
        return kept.shelf.delete(s, hour_id, version, now=now)


def restore_hour(store: Store, spot_id: int, hour_id: int) -> KeptHour:
    """Raises Missing, InputProblems where the hour was typed anew meanwhile."""
    with store.writing() as s:
        _must_be_new(s, [_typed(kept.shelf.find(s, hour_id)[0], spot_id)], but=hour_id)
        return kept.shelf.restore(s, hour_id)


def _must_be_new(s: Session, drafts: Sequence[HourDraft], but: int | None = None) -> None:
    spot = get_spot(s, drafts[0].spot_id)
    there = kept.typed_among(s, spot.id, [draft.starts for draft in drafts])
    taken = [hour for hour in there if hour.id != but]
    if taken:
        first = span_words(taken[0].starts, taken[0].starts + HOUR, spot.zone)
        more = f" and {len(taken) - 1} more" if len(taken) > 1 else ""
        raise InputProblems({CLOCK: f"{first}{more} is typed already: change it in the list, or delete it first."})


def _typed(hour: KeptHour, spot_id: int) -> KeptHour:
    if hour.spot_id != spot_id or hour.issued_at is not None:
        raise Missing(hour.id, "hour of weather")
    return hour
