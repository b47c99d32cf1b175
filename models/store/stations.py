"""Stations of a workshop, in order of what they are called out as; its model goes by number alone.

A person's data may have to be erased: the number of one who is not there any more means that no model is chosen.
"""

from __future__ import annotations

import sqlalchemy as sa
from sqlalchemy.orm import Session

from models.problems import InputProblem
from models.store.rules.workshops import shelf as workshops
from models.store.setups import shelf as setups
from models.store.types import NestedTuple, UtcDateTime, metadata, name_key
from models.store.versions import Shelf
from models.workshop.station import MOST_STATIONS, Station, StationDraft, checked_station

stations = sa.Table(
    "stations",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True),
    sa.Column("version", sa.Integer, nullable=False),
    sa.Column("workshop_id", sa.Integer, sa.ForeignKey("workshops.id", ondelete="CASCADE"), nullable=False),
    sa.Column("name", sa.Text, nullable=False),
    sa.Column("setup_id", sa.Integer, sa.ForeignKey("setups.id", ondelete="SET NULL")),
    sa.Column("model_id", sa.Integer),
    sa.Column("place", NestedTuple),
    sa.Column("looking_deg", sa.Float),
    sa.Column("depth_m", sa.Float),
    sa.Column("width_m", sa.Float),
    sa.Column("holders", sa.Integer),
    sa.Column("watchers", sa.Integer, nullable=False),
    sa.Column("pose_s", sa.Float),
    sa.Column("lesson", sa.Text, nullable=False),
    sa.Column("notes", sa.Text, nullable=False),
    sa.Column("deleted_at", UtcDateTime),
    sa.Index(None, "workshop_id"),
    sa.Index(None, "setup_id"),
    sqlite_autoincrement=True,
)

shelf = Shelf[StationDraft, Station](
    what="station",
    table=stations,
    kept=Station,
    check=checked_station,
    links={"workshop_id": workshops, "setup_id": setups},
)


def stations_of(s: Session, workshop_id: int) -> tuple[Station, ...]:
    """In the order of their names."""
    found = shelf.list(s, stations.c.workshop_id == workshop_id, order_by=(stations.c.id,))
    return tuple(sorted(found, key=lambda station: (name_key(station.name), station.id)))


def add_station(s: Session, draft: StationDraft) -> Station:
    """Raises InputProblem: also for a name that is taken in its workshop, or one station too many."""
    good = checked_station(draft)
    _must_fit(stations_of(s, good.workshop_id), good)
    return shelf.add(s, good)


def change_station(s: Session, station_id: int, version: int, draft: StationDraft) -> Station:
    """Raises Clash, Missing, InputProblem: also for a name that another station of its workshop has."""
    good = checked_station(draft)
    _must_be_free([each for each in stations_of(s, good.workshop_id) if each.id != station_id], good)
    return shelf.change(s, station_id, version, good)


def restore_station(s: Session, station_id: int) -> Station:
    """Undo a deletion. Raises Missing, and InputProblem where another took its name or its place meanwhile."""
    thing, seen = shelf.find(s, station_id)
    if not seen:
        _must_fit(stations_of(s, thing.workshop_id), thing)
    return shelf.restore(s, station_id)


def _must_fit(there: tuple[Station, ...], draft: StationDraft) -> None:
    _must_be_free(there, draft)
    if len(there) >= MOST_STATIONS:
        raise InputProblem("name", f"a workshop has at most {MOST_STATIONS} stations; take one out first")


def _must_be_free(there: tuple[Station, ...] | list[Station], draft: StationDraft) -> None:
    if any(name_key(each.name) == name_key(draft.name) for each in there):
        raise InputProblem("name", f"there is a station {draft.name} already; give it another letter")
