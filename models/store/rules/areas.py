"""Rule areas: kept, listed, and found by a point, a way or a view.

Boxes narrow in the database, then the shapes themselves decide; only what a box lets through is unpacked.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import Any

import sqlalchemy as sa
from shapely import LineString, MultiPolygon, Point, Polygon, dwithin
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry
from sqlalchemy.orm import Session

from models.rules.areas import Area, AreaDraft, Shape
from models.store.boxes import overlaps
from models.store.rules.tables import areas, enquiries
from models.store.types import name_key
from models.store.versions import Shelf
from models.street.town import Box

ON_THE_EDGE_DEG = 1e-9
"""A tenth of a millimetre: a point on a slanting edge misses it by rounding."""


def _columns(draft: AreaDraft) -> dict[str, Any]:
    points = [point for rings in draft.shape for point in rings[0]]
    longitudes, latitudes = [p[0] for p in points], [p[1] for p in points]
    box = {"south": min(latitudes), "west": min(longitudes), "north": max(latitudes), "east": max(longitudes)}
    return {"name_key": name_key(draft.name)} | box


shelf = Shelf[AreaDraft, Area](
    what="area",
    table=areas,
    kept=Area,
    check=lambda draft: draft,
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
    return _touching(s, Point(longitude_deg, latitude_deg))


def areas_along(s: Session, points: Sequence[tuple[float, float]]) -> tuple[Area, ...]:
    """All that a way of (latitude_deg, longitude_deg) crosses or touches, by name; over 180 degrees it goes the short
    way.
    """
    if len(points) < 2:
        return areas_at(s, *points[0]) if points else ()
    way = LineString(_the_short_way(points))
    ways = [translate(way, turn) for turn in (-360.0, 0.0, 360.0)]
    found = {area.id: area for each in ways if _on_the_map(each) for area in _touching(s, each)}
    return tuple(sorted(found.values(), key=lambda area: (name_key(area.name), area.id)))


def areas_in_view(s: Session, box: Box, limit: int = 2000) -> tuple[Area, ...]:
    """Those whose own box meets this one, by name."""
    return shelf.list(s, *overlaps(areas, box), order_by=BY_NAME, limit=limit)


def _touching(s: Session, place: BaseGeometry) -> tuple[Area, ...]:
    west, south, east, north = place.buffer(ON_THE_EDGE_DEG).bounds if place.geom_type == "Point" else place.bounds
    near = shelf.list(s, *overlaps(areas, Box(south, west, north, east)), order_by=BY_NAME)
    return tuple(area for area in near if dwithin(_shape(area.shape), place, ON_THE_EDGE_DEG))


def _shape(shape: Shape) -> BaseGeometry:
    polygons = [Polygon(rings[0], rings[1:]) for rings in shape]
    return polygons[0] if len(polygons) == 1 else MultiPolygon(polygons)


def _the_short_way(points: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """(longitude, latitude) without jumps, so that longitudes may leave -180 to 180."""
    line: list[tuple[float, float]] = []
    for latitude, longitude in points:
        before = line[-1][0] if line else longitude
        line.append((longitude + 360.0 * round((before - longitude) / 360.0), latitude))
    return line


def _on_the_map(way: BaseGeometry) -> bool:
    west, _, east, _ = way.bounds
    return bool(west <= 180.0 and east >= -180.0)
