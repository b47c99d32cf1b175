"""Buildings, footways, trees, lamps, what brings people by and where they warm up, from GeoJSON.

Positions are [longitude, latitude], lengths metres.

Properties understood (all but the geometry may be missing):
    buildings  name, height or building:levels, min_height or building:min_level, roof:levels; in our own files also
               height_source and height_doubt
    footways   highway, width, surface, lit
    trees      height, diameter_crown
    hints      name; railway, highway or amenity, as OpenStreetMap says station entrance, stop, school, market,
               toilets, shelter, cafe
Everything wrong with a file is raised at once, as FileProblems naming the features; nothing comes half read.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import get_args

from shapely import Polygon, make_valid
from shapely.geometry.base import BaseGeometry

from models.exchange import tags
from models.exchange.features import Feature, Source, line, of_kind, polygon, position, read_each, short
from models.exchange.heights import USUAL_RULE, HeightRule, Reading, Settled, metres, reading, settle
from models.street.comforts import COMFORTS
from models.street.footfall import HINTS
from models.street.scene import HeightSource
from models.street.town import BuildingDraft, FootwayDraft, HintDraft, LampDraft, LonLat, TreeDraft

Rings = tuple[tuple[LonLat, ...], ...]


@dataclass(frozen=True, slots=True)
class BuildingsRead:
    buildings: tuple[BuildingDraft, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FootwaysRead:
    footways: tuple[FootwayDraft, ...]
    notes: tuple[str, ...]


def read_buildings(source: Source, rule: HeightRule = USUAL_RULE) -> BuildingsRead:
    """Every building of a file; a MultiPolygon gives one building for each of its parts."""
    footprints = read_each(source, lambda feature: _footprint(feature, rule))
    heights, notes = settle([one.reading for one in footprints], rule)
    buildings = [
        _building(one, rings, height) for one, height in zip(footprints, heights, strict=True) for rings in one.parts
    ]
    untangled = [one.label for one in footprints if one.untangled]
    if untangled:
        notes = (*notes, f"Outlines that crossed themselves, untangled: {len(untangled)}, such as {untangled[0]}.")
    return BuildingsRead(tuple(buildings), notes)


def read_footways(source: Source) -> FootwaysRead:
    """Every way of a file; a MultiLineString gives one for each of its parts."""
    ways = [way for some in read_each(source, _footways) for way in some]
    unknown = sum(way.width_m is None for way in ways)
    note = f"Footways: {len(ways)}, of which {unknown} without a width."
    return FootwaysRead(tuple(ways), (note,))


def read_trees(source: Source) -> tuple[TreeDraft, ...]:
    return tuple(tree for some in read_each(source, _trees) for tree in some)


def read_lamps(source: Source) -> tuple[LampDraft, ...]:
    places = [place for some in read_each(source, lambda each: of_kind(each, "Point", position)) for place in some]
    return tuple(LampDraft(latitude_deg=latitude, longitude_deg=longitude) for longitude, latitude in places)


def read_hints(source: Source) -> tuple[HintDraft, ...]:
    """What brings people by; a feature that is nothing of the kind is refused."""
    return tuple(hint for some in read_each(source, _hints) for hint in some)


@dataclass(frozen=True, slots=True)
class _Footprint:
    label: str
    name: str
    parts: tuple[Rings, ...]
    reading: Reading
    untangled: bool


def _footprint(feature: Feature, rule: HeightRule) -> _Footprint:
    parts, untangled = _parts(feature, of_kind(feature, "Polygon", polygon))
    name = feature.properties.get("name")
    return _Footprint(feature.label, name if isinstance(name, str) else "", parts, _height(feature, rule), untangled)


def _building(footprint: _Footprint, rings: Rings, height: Settled) -> BuildingDraft:
    return BuildingDraft(rings, height.top_m, height.bottom_m, height.source, height.doubt_m, footprint.name)


def _parts(feature: Feature, polygons: list[Rings]) -> tuple[tuple[Rings, ...], bool]:
    """The polygons as they are, or taken apart where an outline crosses itself; and whether that was needed."""
    parts: list[Rings] = []
    for rings in polygons:
        shape = Polygon(rings[0], rings[1:])
        parts += [rings] if shape.is_valid else rings_of(make_valid(shape))
    if not parts or any(Polygon(rings[0]).area == 0 for rings in parts):
        feature.refuse("its outline encloses nothing")
    return tuple(parts), parts != polygons


def rings_of(shape: BaseGeometry) -> list[Rings]:
    """The polygons in a geometry as unclosed rings, outline first; lines and points in it are dropped."""
    if isinstance(shape, Polygon):
        rings = (shape.exterior, *shape.interiors)
        return [] if shape.is_empty else [tuple(tuple((p[0], p[1]) for p in r.coords[:-1]) for r in rings)]
    return [rings for part in getattr(shape, "geoms", ()) for rings in rings_of(part)]


def _height(feature: Feature, rule: HeightRule) -> Reading:
    """The height; text that makes no sense is refused here, where a person can put it right."""
    found = reading(feature.properties, rule)
    if found.misread:
        feature.refuse(f"{found.misread[0]} is not understood: write metres like 12.5, or feet like “40 ft”")
    source, doubt = (feature.properties.get(key) for key in ("height_source", "height_doubt"))
    if source is not None:
        if source not in get_args(HeightSource):
            feature.refuse(f"height_source {short(source)} is none of {', '.join(get_args(HeightSource))}")
        found = replace(found, source=source)
    if doubt is not None:
        doubt_m = metres(doubt)
        if doubt_m is None or doubt_m > 1000:
            feature.refuse(f"height_doubt {short(doubt)} is not a length in metres")
        found = replace(found, doubt_m=doubt_m)
    return found


def _footways(feature: Feature) -> list[FootwayDraft]:
    noted = feature.properties
    width = tags.width_m(noted)
    if width is None and noted.get("width") not in (None, ""):
        feature.refuse(f"width {short(noted['width'])} is not understood: write metres like 2.5, or feet like “8 ft”")
    kind = noted.get("highway")
    kind = kind if isinstance(kind, str) and kind else "footway"
    lines = of_kind(feature, "LineString", line)
    return [FootwayDraft(each, width, tags.surface(noted), tags.lit(noted), kind) for each in lines]


def _trees(feature: Feature) -> list[TreeDraft]:
    height_m, radius_m, assumed = tags.crown(feature.properties)
    places = of_kind(feature, "Point", position)
    return [TreeDraft(latitude, longitude, height_m, radius_m, assumed) for longitude, latitude in places]


def _hints(feature: Feature) -> list[HintDraft]:
    kind = tags.hint(feature.properties) or tags.comfort(feature.properties)
    if kind is None:
        feature.refuse(f"is none of {', '.join((*HINTS.values(), *COMFORTS.values()))}")
    places = of_kind(feature, "Point", position)
    return [HintDraft(latitude, longitude, kind, tags.name(feature.properties)) for longitude, latitude in places]
