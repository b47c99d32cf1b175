"""Spots: kept, listed, found, changed with a version, deleted with a way back."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass, fields
from datetime import datetime
from functools import lru_cache
from math import cos, radians
from typing import Any, Literal

import sqlalchemy as sa
from sqlalchemy.orm import Session

from models.problems import InputProblem
from models.store.boxes import points_in
from models.store.types import TupleAsJson, UtcDateTime, metadata, name_key, read_tuple
from models.store.versions import Clash as Clash
from models.store.versions import Missing, Shelf, drafted
from models.street.scene import Canopy, SkylinePoint
from models.street.spot import LONGEST_NAME, SpotDraft, SpotGround, checked
from models.street.town import Box

OrderBy = Literal["name", "distance"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot(SpotDraft):
    """A spot as kept. `version` grows with every change; hand it back with yours."""

    id: int
    version: int
    deleted_at: datetime | None = None

    @property
    def draft(self) -> SpotDraft:
        return drafted(SpotDraft, self)


@dataclass(frozen=True, slots=True, kw_only=True)
class SpotInView(SpotGround):
    """What a map needs of a spot: all but its notes."""

    id: int


spots = sa.Table(
    "spots",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True),
    sa.Column("version", sa.Integer, nullable=False),
    sa.Column("name", sa.Text, nullable=False),
    sa.Column("name_key", sa.Text, nullable=False),
    sa.Column("latitude_deg", sa.Float, nullable=False),
    sa.Column("longitude_deg", sa.Float, nullable=False),
    sa.Column("zone", sa.Text, nullable=False),
    sa.Column("floor_m", sa.Float, nullable=False),
    sa.Column("roof", sa.Text, nullable=False),
    sa.Column("wall_surface", sa.Text, nullable=False),
    sa.Column("wall_reflectance", sa.Float, nullable=False),
    sa.Column("ground_surface", sa.Text, nullable=False),
    sa.Column("ground_reflectance", sa.Float, nullable=False),
    sa.Column("pavement_width_m", sa.Float),
    sa.Column("footfall_note", sa.Text, nullable=False),
    sa.Column("shade_note", sa.Text, nullable=False),
    sa.Column("surface_note", sa.Text, nullable=False),
    sa.Column("hazards", sa.Text, nullable=False),
    sa.Column("facilities", sa.Text, nullable=False),
    sa.Column("controller", sa.Text, nullable=False),
    sa.Column("notes", sa.Text, nullable=False),
    sa.Column("turbidity", sa.Float, nullable=False),
    sa.Column("lighting_class", sa.Text),
    sa.Column("night_ev100", sa.Float),
    sa.Column("looking_deg", sa.Float),
    sa.Column("canopies", TupleAsJson(Canopy), nullable=False),
    sa.Column("measured", TupleAsJson(SkylinePoint), nullable=False),
    sa.Column("deleted_at", UtcDateTime),
    sa.CheckConstraint("latitude_deg BETWEEN -90 AND 90", name="latitude"),
    sa.CheckConstraint("longitude_deg BETWEEN -180 AND 180", name="longitude"),
    sa.CheckConstraint("version >= 1", name="version"),
    sa.Index(None, "name_key", "id"),
    sa.Index(None, "latitude_deg", "longitude_deg"),
    sqlite_autoincrement=True,  # an old link never leads to another spot
)

_workshops = sa.table("workshops", sa.column("spot_id"), sa.column("fallback_spot_id"))
_enquiries = sa.table("enquiries", sa.column("spot_id"))
shelf = Shelf[SpotDraft, Spot](
    what="spot",
    table=spots,
    kept=Spot,
    check=checked,
    worked_out=lambda draft: {"name_key": name_key(draft.name)},
    spared=sa.or_(
        sa.exists().where(spots.c.id.in_((_workshops.c.spot_id, _workshops.c.fallback_spot_id))),
        sa.exists().where(_enquiries.c.spot_id == spots.c.id),
    ),
)
"""What a workshop or an enquiry names stays on record as long as it (their tables point here; see `rules.tables`)."""
BY_NAME = (spots.c.name_key, spots.c.id)
IN_VIEW_NAMES = tuple(field.name for field in fields(SpotInView) if field.name not in ("canopies", "measured"))
IN_VIEW = [
    *(sa.cast(spots.c[name], sa.Text) for name in ("canopies", "measured")),
    *(spots.c[name] for name in IN_VIEW_NAMES),
]


def list_spots(
    s: Session,
    *,
    box: Box | None = None,
    limit: int = 50,
    offset: int = 0,
    order_by: OrderBy = "name",
    here: tuple[float, float] | None = None,
) -> tuple[Spot, ...]:
    """A page of spots. Ordering by "distance" needs here=(latitude_deg, longitude_deg)."""
    order: tuple[Any, ...] = BY_NAME
    if order_by == "distance":
        if here is None:
            raise ValueError("ordering by distance needs `here`")
        order = (_squared_distance(*here), spots.c.id)
    return shelf.list(s, *points_in(spots, box), order_by=order, limit=limit, offset=offset)


def count_spots(s: Session, *, box: Box | None = None) -> int:
    return shelf.count(s, *points_in(spots, box))


def spots_in_view(s: Session, box: Box | None, limit: int = 5000) -> tuple[SpotInView, ...]:
    """In the order of `list_spots`, a third of its work for each."""
    query = sa.select(*IN_VIEW).where(shelf.seen, *points_in(spots, box)).order_by(*BY_NAME)
    return tuple(_in_view(*row) for row in s.execute(query.limit(limit)).all())


def get_spot(s: Session, spot_id: int) -> Spot:
    return shelf.get(s, spot_id)


def find_spot(s: Session, text: str) -> Spot:
    """By number, else by name, else by a part of a name that only one spot has."""
    if text.strip().isdecimal() and len(text.strip()) <= LONGEST_NAME:
        return get_spot(s, int(text))
    key = name_key(text)
    for like in (spots.c.name_key == key, spots.c.name_key.contains(key, autoescape=True)):
        found = shelf.list(s, like, order_by=BY_NAME, limit=6)
        if len(found) > 1:
            choices = ", ".join(f"{spot.id} {spot.name}" for spot in found)
            raise InputProblem("spot", f"{text!r} could be any of: {choices}. Give the number")
        if found:
            return found[0]
    raise Missing(text)


def add_spot(s: Session, draft: SpotDraft) -> Spot:
    return shelf.add(s, draft)


def add_spots(s: Session, drafts: Sequence[SpotDraft]) -> None:
    """Many at once, all or none; InputProblem names the spot by its place in the row, from 1."""
    shelf.add_all(s, drafts)


def change_spot(s: Session, spot_id: int, version: int, draft: SpotDraft) -> Spot:
    """Raises Clash if the spot is no longer at this version (it may be deleted by now), Missing if there is none."""
    return shelf.change(s, spot_id, version, draft)


def delete_spot(s: Session, spot_id: int, version: int, *, now: datetime | None = None) -> Spot:
    """Put aside; `restore_spot` brings it back until a deletion over 30 days later throws it away, with its rules."""
    return shelf.delete(s, spot_id, version, now=now)


def restore_spot(s: Session, spot_id: int) -> Spot:
    """Undo a deletion; a spot that is not deleted stays as it is."""
    return shelf.restore(s, spot_id)


def _in_view(canopies: str, measured: str, *rest: Any) -> SpotInView:
    named = dict(zip(IN_VIEW_NAMES, rest, strict=True))
    return SpotInView(canopies=_canopies(canopies), measured=_points(measured), **named)


@lru_cache(maxsize=1024)
def _canopies(text: str) -> tuple[Canopy, ...]:
    return read_tuple(Canopy, json.loads(text))


@lru_cache(maxsize=1024)
def _points(text: str) -> tuple[SkylinePoint, ...]:
    return read_tuple(SkylinePoint, json.loads(text))


def _squared_distance(latitude_deg: float, longitude_deg: float) -> sa.ColumnElement[float]:
    """For ordering only: an even map round `here`, going the short way across 180 degrees."""
    up = spots.c.latitude_deg - latitude_deg
    apart = sa.func.abs(spots.c.longitude_deg - longitude_deg)
    across = sa.case((apart > 180.0, 360.0 - apart), else_=apart) * cos(radians(latitude_deg))
    return up * up + across * across
