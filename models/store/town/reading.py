"""What is round a place, read from the rows that imports brought."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot
from typing import Any

import numpy as np
import sqlalchemy as sa
from sqlalchemy.orm import Session

from models.store.boxes import overlaps, points_in
from models.store.town.tables import buildings, footways, hints, imports, lamps, trees
from models.store.town.walls import in_metres
from models.street.comforts import COMFORTS
from models.street.footfall import HINTS
from models.street.plane import LocalPlane
from models.street.scene import REACH_M, Tree, building_over
from models.street.town import Box, BuildingDraft, FootwayDraft, box_round

MOST_ROWS = 5000


@dataclass(frozen=True, slots=True, kw_only=True)
class BuildingRow(BuildingDraft):
    id: int
    import_name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FootwayRow(FootwayDraft):
    id: int


@dataclass(frozen=True, slots=True)
class LampNear:
    """A street lamp in metres east and north of the place asked for."""

    east_m: float
    north_m: float


@dataclass(frozen=True, slots=True)
class HintNear:
    """Something that brings people by, of a kind of footfall's HINTS, and how far away it is."""

    kind: str
    name: str
    distance_m: float


@dataclass(frozen=True, slots=True)
class ComfortNear:
    """A place of a kind of COMFORTS, and how far away it is."""

    kind: str
    name: str
    latitude_deg: float
    longitude_deg: float
    distance_m: float


@dataclass(frozen=True, slots=True)
class ImportRow:
    """One import and what it holds; id is another each time it is replaced, in every database."""

    id: int
    name: str
    attribution: str
    buildings: int
    assumed_buildings: int
    trees: int
    footways: int
    lamps: int


@dataclass(frozen=True, slots=True)
class Reaches:
    """The box that each import fills, by its number."""

    imports: tuple[tuple[int, Box], ...]

    def stamp(self, latitude_deg: float, longitude_deg: float, radius_m: float = REACH_M) -> str:
        """Changes whenever an import that reaches near this place is replaced, added or dropped; for cache keys."""
        near = box_round(latitude_deg, longitude_deg, radius_m)
        return ".".join(str(number) for number, box in self.imports if near.meets(box))


def buildings_in(s: Session, box: Box, limit: int = MOST_ROWS) -> tuple[BuildingRow, ...]:
    """Buildings whose own box meets this one, by number."""
    query = _buildings().where(*overlaps(buildings, box)).order_by(buildings.c.id).limit(limit)
    return tuple(_building(row) for row in s.execute(query))


def get_building(s: Session, building_id: int) -> BuildingRow | None:
    row = s.execute(_buildings().where(buildings.c.id == building_id)).one_or_none()
    return None if row is None else _building(row)


def building_covering(
    s: Session, latitude_deg: float, longitude_deg: float, *, floor_m: float = 0.0
) -> BuildingRow | None:
    """The tallest building over this point and higher than floor_m; courtyards are outside."""
    here = Box(latitude_deg, longitude_deg, latitude_deg, longitude_deg)
    standing = [row for row in buildings_in(s, here) if row.top_m > floor_m]
    plane = LocalPlane(latitude_deg, longitude_deg)
    index = building_over([in_metres(row, plane) for row in standing])
    return None if index is None else standing[index]


def footways_in(s: Session, box: Box, limit: int = MOST_ROWS) -> tuple[FootwayRow, ...]:
    columns = (footways.c[name] for name in ("line", "width_m", "surface", "lit", "kind", "id"))
    query = sa.select(*columns).where(*overlaps(footways, box)).order_by(footways.c.id).limit(limit)
    return tuple(FootwayRow(**row._mapping) for row in s.execute(query))


def footway_sources(s: Session, box: Box) -> tuple[str, ...]:
    """The attributions of the imports whose footways meet the box, '' for one that names none."""
    query = sa.select(imports.c.attribution).where(
        sa.exists().where(footways.c.import_id == imports.c.id, *overlaps(footways, box))
    )
    return tuple(s.scalars(query.order_by(imports.c.id)))


def trees_near(s: Session, latitude_deg: float, longitude_deg: float, radius_m: float = REACH_M) -> tuple[Tree, ...]:
    """Trees whose trunk stands within radius_m, nearest first, in metres from the point."""
    near = _near(s, trees, ("height_m", "crown_radius_m", "assumed"), latitude_deg, longitude_deg, radius_m)
    return tuple(Tree(east, north, *row) for east, north, row in near)


def lamps_near(
    s: Session, latitude_deg: float, longitude_deg: float, radius_m: float = REACH_M
) -> tuple[LampNear, ...]:
    """Street lamps within radius_m, nearest first."""
    return tuple(LampNear(east, north) for east, north, _ in _near(s, lamps, (), latitude_deg, longitude_deg, radius_m))


def hints_near(s: Session, latitude_deg: float, longitude_deg: float, radius_m: float) -> tuple[HintNear, ...]:
    """What brings people by within radius_m, nearest first; the same thing of two imports comes twice."""
    near = _near(s, hints, ("kind", "name"), latitude_deg, longitude_deg, radius_m)
    return tuple(HintNear(kind, name, hypot(east, north)) for east, north, (kind, name) in near if kind in HINTS)


def comforts_near(s: Session, latitude_deg: float, longitude_deg: float, radius_m: float) -> tuple[ComfortNear, ...]:
    """Toilets, shelter and coffee within radius_m, nearest first."""
    near = _near(s, hints, ("kind", "name", "latitude_deg", "longitude_deg"), latitude_deg, longitude_deg, radius_m)
    return tuple(
        ComfortNear(kind, name, latitude, longitude, hypot(east, north))
        for east, north, (kind, name, latitude, longitude) in near
        if kind in COMFORTS
    )


def reaches(s: Session) -> Reaches:
    """How far every import reaches, for the stamps of many places from one query."""
    columns = (imports.c[name] for name in ("id", "south", "west", "north", "east"))
    rows = s.execute(sa.select(*columns).where(imports.c.south.is_not(None)).order_by(imports.c.id))
    return Reaches(tuple((number, Box(*box)) for number, *box in rows))


def list_imports(s: Session) -> tuple[ImportRow, ...]:
    return tuple(ImportRow(**row._mapping) for row in s.execute(_imports().order_by(imports.c.name)))


def get_import(s: Session, import_id: int) -> ImportRow:
    return ImportRow(**s.execute(_imports().where(imports.c.id == import_id)).one()._mapping)


def _imports() -> sa.Select[Any]:
    return sa.select(*(imports.c[name] for name in ImportRow.__dataclass_fields__))


def _buildings() -> sa.Select[Any]:
    names = ("rings", "top_m", "bottom_m", "height_source", "doubt_m", "name", "id")
    return sa.select(*(buildings.c[name] for name in names), imports.c.name.label("import_name")).join_from(
        buildings, imports
    )


def _building(row: sa.Row[Any]) -> BuildingRow:
    return BuildingRow(**row._mapping)


def _near(
    s: Session, table: sa.Table, names: Sequence[str], latitude_deg: float, longitude_deg: float, radius_m: float
) -> list[tuple[float, float, tuple[Any, ...]]]:
    """(east_m, north_m, the named columns) of the rows within reach, nearest first."""
    columns = [table.c[name] for name in ("latitude_deg", "longitude_deg", *names)]
    box = box_round(latitude_deg, longitude_deg, radius_m)
    rows = s.execute(sa.select(*columns).where(*points_in(table, box)).order_by(table.c.id)).all()
    if not rows:
        return []
    points = np.array([row[:2] for row in rows], float).reshape(-1, 2)
    east, north = LocalPlane(latitude_deg, longitude_deg).to_metres(points[:, 0], points[:, 1])
    distance = np.hypot(east, north)
    order = [int(k) for k in np.argsort(distance, kind="stable") if distance[k] <= radius_m]
    return [(float(east[k]), float(north[k]), tuple(rows[k][2:])) for k in order]
