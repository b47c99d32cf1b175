"""Rule areas as GeoJSON (RFC 7946), in and out.

Properties understood: name, kind (a key or the words of KINDS), authority, contact, web, no_passing (true or false),
holidays, notes. Name, kind and authority may not be missing; others may. The shape is a Polygon, a MultiPolygon or a
collection of them: rings that run the wrong way round are turned, parts that overlap are joined, holes stay.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import fields, replace
from typing import Any

from shapely import MultiPolygon, Polygon, union_all

from models.exchange.features import Feature, Source, of_kind, polygon, read_each, short
from models.exchange.geojson import Rings, rings_of
from models.exchange.geojson_out import closed_ring
from models.rules.areas import KINDS, Area, AreaDraft, Ring, Shape
from models.rules.checking import checked_area

LARGEST_BYTES = 20_000_000
NOTED = tuple(field.name for field in fields(AreaDraft) if field.name != "shape")
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
    return checked_area(AreaDraft(**noted, no_passing=_no_passing(feature), shape=_shape(feature)))


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
    """Rings turned the right way round. Plain polygons that overlap are joined; what is not plain is refused later."""
    found = _polygons(feature)
    polygons = [Polygon(rings[0], rings[1:]) for rings in found]
    if len(polygons) > 1 and all(each.is_valid for each in polygons) and not MultiPolygon(polygons).is_valid:
        found = rings_of(union_all(polygons))
    return tuple(_closed(rings) for rings in found)


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
    return polygon(feature, value, widest_deg=360.0)


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
