"""Rule areas: kept, listed, and found by a point, a way or a view.

Boxes narrow in the database, then the shapes themselves decide; only what a box lets through is unpacked.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import asdict
from datetime import datetime
from typing import Any

import numpy as np
import shapely
import sqlalchemy as sa
from shapely import LineString, MultiPolygon, Point, Polygon, STRtree
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry
from sqlalchemy.orm import Session

from models.rules.areas import Area, AreaDraft, Shape
from models.rules.checking import checked_area
from models.store.boxes import overlaps
from models.store.rules.tables import areas, enquiries
from models.store.types import name_key
from models.store.versions import Condition, Shelf
from models.street.town import Box, box_of

ON_THE_EDGE_DEG = 1e-9
"""A tenth of a millimetre: a point on a slanting edge misses it by rounding."""


def _columns(draft: AreaDraft) -> dict[str, Any]:
    outlines = (point for rings in draft.shape for point in rings[0])
    return {"name_key": name_key(draft.name)} | asdict(box_of(outlines))


shelf = Shelf[AreaDraft, Area](
    what="area",
    table=areas,
    kept=Area,
    check=checked_area,
    worked_out=_columns,
    spared=sa.exists().where(enquiries.c.area_id == areas.c.id),
)
BY_NAME = (areas.c.name_key, areas.c.id)


def add_area(s: Session, draft: AreaDraft) -> Area:
    return shelf.add(s, draft)


def add_areas(s: Session, drafts: Sequence[AreaDraft]) -> None:
    """Many at once, all or none; InputProblem names the area by its place in the row, from 1."""
    shelf.add_all(s, drafts)


def get_area(s: Session, area_id: int) -> Area:
    return shelf.get(s, area_id)


def list_areas(s: Session, *, limit: int | None = 50, offset: int = 0) -> tuple[Area, ...]:
    """A page of areas by name; limit None for all."""
    return shelf.list(s, order_by=BY_NAME, limit=limit, offset=offset)


def count_areas(s: Session) -> int:
    return shelf.count(s)


def area_names(s: Session, area_ids: Iterable[int]) -> dict[int, str]:
    """By number, those put aside too: for what still speaks of them."""
    query = sa.select(areas.c.id, areas.c.name).where(areas.c.id.in_(set(area_ids)))
    return {row.id: row.name for row in s.execute(query)}


def change_area(s: Session, area_id: int, version: int, draft: AreaDraft) -> Area:
    return shelf.change(s, area_id, version, draft)


def delete_area(s: Session, area_id: int, version: int, *, now: datetime | None = None) -> Area:
    """Put aside, and its rules with it; `restore_area` brings all back."""
    return shelf.delete(s, area_id, version, now=now)


def restore_area(s: Session, area_id: int) -> Area:
    return shelf.restore(s, area_id)


def areas_at(s: Session, latitude_deg: float, longitude_deg: float) -> tuple[Area, ...]:
    """All that hold the point or have it on their edge, by name."""
    return areas_at_each(s, ((latitude_deg, longitude_deg),))[0]


def areas_at_each(s: Session, points: Sequence[tuple[float, float]]) -> tuple[tuple[Area, ...], ...]:
    """`areas_at` for each of many (latitude_deg, longitude_deg), from two looks at the database."""
    return _touching(s, [Point(longitude, latitude) for latitude, longitude in points])


def areas_along(s: Session, points: Sequence[tuple[float, float]]) -> tuple[Area, ...]:
    """All that a way of (latitude_deg, longitude_deg) crosses or touches, by name; over 180 degrees it goes the short
    way.
    """
    return areas_along_each(s, (points,))[0]


def areas_along_each(
    s: Session, ways: Sequence[Sequence[tuple[float, float]]], *, no_passing: bool = False
) -> tuple[tuple[Area, ...], ...]:
    """`areas_along` for each of many ways, from two looks at the database. no_passing: only those that control it."""
    lines = [(number, line) for number, points in enumerate(ways) for line in _lines(points)]
    found: list[dict[int, Area]] = [{} for _ in ways]
    wanted = (areas.c.no_passing,) if no_passing else ()
    for (number, _), some in zip(lines, _touching(s, [line for _, line in lines], *wanted), strict=True):
        found[number] |= {area.id: area for area in some}
    return tuple(tuple(sorted(each.values(), key=lambda area: (name_key(area.name), area.id))) for each in found)


def areas_in_view(s: Session, box: Box, limit: int = 2000) -> tuple[Area, ...]:
    """Those whose own box meets this one, by name."""
    return shelf.list(s, *overlaps(areas, box), order_by=BY_NAME, limit=limit)


def _touching(s: Session, places: Sequence[BaseGeometry], *wanted: Condition) -> tuple[tuple[Area, ...], ...]:
    """For each place the wanted areas within a hair of it, by name."""
    if not places:
        return ()
    found: list[list[Area]] = [[] for _ in places]
    tree = STRtree(places)
    near = shelf.list(s, areas.c.id.in_(_near(s, tree, *wanted)), order_by=BY_NAME)
    for area, place in _pairs(tree, [_shape(area.shape) for area in near]):
        found[place].append(near[area])
    return tuple(map(tuple, found))


def _near(s: Session, tree: STRtree, *wanted: Condition) -> list[int]:
    """Numbers of the wanted areas whose box is within a hair of any of the tree's places."""
    west, south, east, north = shapely.total_bounds(tree.geometries)
    hair = ON_THE_EDGE_DEG
    columns = [areas.c[name] for name in ("id", "west", "south", "east", "north")]
    all_round = Box(south - hair, west - hair, north + hair, east + hair)
    rows = s.execute(sa.select(*columns).where(shelf.seen, *wanted, *overlaps(areas, all_round))).all()
    if not rows:
        return []
    numbers, *sides = zip(*rows, strict=True)
    return [numbers[area] for area in {area for area, _ in _pairs(tree, shapely.box(*sides))}]


def _pairs(tree: STRtree, shapes: Sequence[BaseGeometry]) -> list[tuple[int, int]]:
    """Which shape, by its place in the row, is within a hair of which of the tree's places."""
    pairs = tree.query(np.asarray(shapes, object), predicate="dwithin", distance=ON_THE_EDGE_DEG)
    return list(zip(*pairs.tolist(), strict=True))


def _shape(shape: Shape) -> BaseGeometry:
    polygons = [Polygon(np.array(outline), [np.array(hole) for hole in holes]) for outline, *holes in shape]
    return polygons[0] if len(polygons) == 1 else MultiPolygon(polygons)


def _lines(points: Sequence[tuple[float, float]]) -> list[BaseGeometry]:
    """The way as lines within 180 degrees either way: where it leaves them, once more on the other side."""
    if not points:
        return []
    line = _the_short_way(points)
    way = LineString(line) if len(line) > 1 else Point(line[0])
    west, _, east, _ = way.bounds
    return [way, *(translate(way, turn) for turn in (-360.0, 360.0) if west + turn <= 180.0 and east + turn >= -180.0)]


def _the_short_way(points: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """(longitude, latitude) without jumps, so that longitudes may leave -180 to 180."""
    line: list[tuple[float, float]] = []
    for latitude, longitude in points:
        before = line[-1][0] if line else longitude
        line.append((longitude + 360.0 * round((before - longitude) / 360.0), latitude))
    return line
