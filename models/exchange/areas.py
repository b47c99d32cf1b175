"""Rule areas as GeoJSON (RFC 7946), in and out.

Properties understood: name, kind (a key or the words of KINDS), authority, contact, web, no_passing (true or false),
holidays, notes. Name, kind and authority may not be missing; others may. The shape is a Polygon, a MultiPolygon or a
collection of them: rings that run the wrong way round are turned, parts that overlap are joined, holes stay.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import fields, replace
from typing import Any

from shapely import MultiPolygon, Polygon, is_valid_reason, union_all
from shapely.geometry.base import BaseGeometry

from models.exchange.features import Feature, Source, of_kind, read_each, ring, short
from models.exchange.geojson import Rings, rings_of
from models.exchange.geojson_out import closed_ring
from models.rules.areas import KINDS, Area, AreaDraft, Ring, Shape

LARGEST_BYTES = 20_000_000
WIDEST_DEG = 30.0
"""Of one outline: wider than most countries. One that goes over 180 degrees of longitude seems to be 360 wide."""
MOST_POINTS = 20_000
NOTED = tuple(field.name for field in fields(AreaDraft) if field.name != "shape")
_WHERE = re.compile(r"(?P<why>[^\[]+)\[(?P<longitude>\S+) (?P<latitude>[^\]]+)\]")
_YES = {"true": True, "yes": True, "1": True, "false": False, "no": False, "0": False, "": False}


def read_areas(source: Source, *, kind: str = "", authority: str = "") -> tuple[AreaDraft, ...]:
    """Every area of a file, checked. kind, authority: for those that name none of their own.

    Raises InputProblem, or FileProblems with all that was wrong with the features; nothing comes half read.
    """
    otherwise = {"kind": kind, "authority": authority}
    return tuple(read_each(source, lambda feature: _area(feature, otherwise), LARGEST_BYTES))


def areas_collection(areas: Iterable[AreaDraft]) -> dict[str, Any]:
    """A FeatureCollection that `read_areas` reads back the same; an area that is kept has its number as `id`."""
    return {"type": "FeatureCollection", "features": [_feature(area) for area in areas]}


def _area(feature: Feature, otherwise: dict[str, str]) -> AreaDraft:
    noted = {name: _text(feature, name) for name in NOTED if name != "no_passing"}
    noted |= {name: value for name, value in otherwise.items() if not noted[name]}
    for name in ("name", "kind", "authority"):
        if not noted[name]:
            feature.refuse(f"has no {name}")
    noted["kind"] = _kind(feature, noted["kind"])
    return AreaDraft(**noted, no_passing=_no_passing(feature), shape=_shape(feature))


def _text(feature: Feature, name: str) -> str:
    value = feature.properties.get(name)
    if isinstance(value, int | float) and not isinstance(value, bool):
        return str(value)
    if value is not None and not isinstance(value, str):
        feature.refuse(f"its {name} {short(value)} is not text")
    return (value or "").strip()


def _kind(feature: Feature, text: str) -> str:
    for key, words in KINDS.items():
        if text.casefold() in (key, words.casefold()):
            return key
    feature.refuse(f"kind {short(text)} is not known; choose {', '.join(KINDS)}")


def _no_passing(feature: Feature) -> bool:
    value = feature.properties.get("no_passing")
    known = _YES.get(str("" if value is None else value).strip().casefold())
    if known is None:
        feature.refuse(f"no_passing {short(value)} is neither true nor false")
    return known


def _shape(feature: Feature) -> Shape:
    polygons = [_polygon(feature, rings) for rings in _polygons(feature)]
    shape = polygons[0] if len(polygons) == 1 else MultiPolygon(polygons)
    if not shape.is_valid:
        shape = union_all(polygons)
    found = tuple(_closed(rings) for rings in rings_of(shape))
    points = sum(len(ring) for rings in found for ring in rings)
    if points > MOST_POINTS:
        feature.refuse(f"its outline has {points} points; at most {MOST_POINTS}: simplify it")
    return found


def _polygons(feature: Feature) -> list[Rings]:
    """Of the geometry, or of all in a collection."""
    if feature.kind != "GeometryCollection":
        return of_kind(feature, "Polygon", _rings)
    inside = feature.coordinates
    if not isinstance(inside, list) or not inside:
        feature.refuse("its GeometryCollection is empty")
    if not all(isinstance(geometry, dict) for geometry in inside):
        feature.refuse("its GeometryCollection holds something that is no geometry")
    parts = [replace(feature, kind=str(part.get("type")), coordinates=part.get("coordinates")) for part in inside]
    return [rings for part in parts for rings in of_kind(part, "Polygon", _rings)]


def _rings(feature: Feature, value: Any) -> Rings:
    if not isinstance(value, list) or not value:
        feature.refuse("a polygon needs at least one ring of positions")
    return tuple(_ring(feature, each) for each in value)


def _ring(feature: Feature, value: Any) -> Ring:
    points = ring(feature, value, 360.0)
    longitudes, latitudes = [p[0] for p in points], [p[1] for p in points]
    span = max(max(longitudes) - min(longitudes), max(latitudes) - min(latitudes))
    if span > WIDEST_DEG:
        crossing = min(longitudes) < -90.0 and max(longitudes) > 90.0
        cut = "if it goes over 180 degrees of longitude, cut it there; else " if crossing else ""
        feature.refuse(f"reaches over {span:.3g} degrees: {cut}one of its positions is wrong or swapped")
    return points


def _polygon(feature: Feature, rings: Rings) -> BaseGeometry:
    polygon = Polygon(rings[0], rings[1:])
    if polygon.is_valid and polygon.area > 0:
        return polygon
    found = _WHERE.match(is_valid_reason(polygon))
    if found is None or polygon.convex_hull.area == 0:
        feature.refuse("its outline encloses nothing")
    why = "crosses or touches itself" if "elf-inter" in found["why"] else f"is not plain ({found['why'].lower()})"
    where = f"latitude {float(found['latitude']):.7g}, longitude {float(found['longitude']):.7g}"
    feature.refuse(f"its outline {why} near {where}")


def _closed(rings: Rings) -> tuple[Ring, ...]:
    closed = [closed_ring(ring, hole=number > 0) for number, ring in enumerate(rings)]
    return tuple(tuple((longitude, latitude) for longitude, latitude in ring) for ring in closed)


def _feature(area: AreaDraft) -> dict[str, Any]:
    polygons = [[closed_ring(ring[:-1], hole=k > 0) for k, ring in enumerate(rings)] for rings in area.shape]
    single = len(polygons) == 1
    geometry = {"type": "Polygon" if single else "MultiPolygon", "coordinates": polygons[0] if single else polygons}
    number = {"id": area.id} if isinstance(area, Area) else {}
    noted = {name: getattr(area, name) for name in NOTED}
    return {"type": "Feature", **number, "properties": noted, "geometry": geometry}
