"""Stations kept, changed, put aside and brought back; the next free letter."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from string import ascii_uppercase

from models.store import stations as kept
from models.store.engine import Store
from models.store.rules import get_workshop
from models.store.types import name_key
from models.workshop.station import Station, StationDraft


def get_station(store: Store, workshop_id: int, station_id: int) -> Station:
    """Raises Missing, for a station of another workshop too."""
    with store.reading() as s:
        get_workshop(s, workshop_id)
        return kept.shelf.get(s, station_id, workshop_id=workshop_id)


def add_station(store: Store, draft: StationDraft) -> Station:
    """Raises InputProblem, also for a name that is taken and for one station too many."""
    with store.writing() as s:
        return kept.add_station(s, draft)


def change_station(store: Store, station_id: int, version: int, draft: StationDraft) -> Station:
    """Raises Clash where somebody changed it in between, Missing, InputProblem."""
    with store.writing() as s:
        kept.shelf.find(s, station_id, workshop_id=draft.workshop_id)
        return kept.change_station(s, station_id, version, draft)


def delete_station(store: Store, workshop_id: int, station_id: int, version: int, *, now: datetime) -> Station:
    """Put aside, with a way back. Raises Clash, Missing."""
    with store.writing() as s:
        kept.shelf.find(s, station_id, workshop_id=workshop_id)
        return kept.shelf.delete(s, station_id, version, now=now)


def restore_station(store: Store, workshop_id: int, station_id: int) -> Station:
    """Raises Missing, and InputProblem where its name or its place was taken meanwhile."""
    with store.writing() as s:
        kept.shelf.find(s, station_id, workshop_id=workshop_id)
        return kept.restore_station(s, station_id)


def next_letter(there: Sequence[Station]) -> str:
    """The first letter that no station is called by."""
    taken = {name_key(station.name) for station in there}
    return next((letter for letter in ascii_uppercase if name_key(letter) not in taken), "")
