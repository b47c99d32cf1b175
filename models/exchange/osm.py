"""OpenStreetMap files (.osm.pbf, .osm): buildings with their parts and courtyards, trees, footways, street lamps.

Needs the optional package `osmium` (pip install 'kerbstand[osm]'). Heights by the rules in heights.py.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from statistics import fmean
from typing import Any

from models.exchange import tags as said
from models.exchange.heights import USUAL_RULE, HeightRule, Reading, reading, settle
from models.exchange.osm_words import notes_of
from models.exchange.parts import with_parts
from models.problems import InputProblem
from models.street.town import (
    Box,
    BuildingDraft,
    FootwayDraft,
    HintDraft,
    LampDraft,
    LonLat,
    TownDraft,
    TreeDraft,
    box_of,
)

ATTRIBUTION = "© OpenStreetMap contributors (ODbL)"
OBJECTS_A_STEP = 20_000
BUILT = ("building", "building:part")
READ = (*BUILT, "highway", "natural", "railway", "amenity")
WALKABLE = re.compile(
    r"(footway|pedestrian|path|steps|living_street|residential|unclassified|service|track|cycleway|road"
    r"|(tertiary|secondary|primary)(_link)?)$"
)
Progress = Callable[[str], None]
Tags = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class TownRead:
    """What a file holds. counts: what was met and what was made of it, by name; notes: the same in sentences."""

    town: TownDraft
    counts: Mapping[str, int]
    notes: tuple[str, ...]


def read_osm(
    path: str | Path,
    bbox: Box | None = None,
    *,
    rule: HeightRule = USUAL_RULE,
    progress: Progress = lambda words: None,
) -> TownRead:
    """The town in a file, or in a box of it. Raises InputProblem for what is no such file or holds nothing of use."""
    found = _Found(bbox)
    try:
        for number, thing in enumerate(_objects(path), start=1):
            found.take(thing)
            if number % OBJECTS_A_STEP == 0:
                progress(f"{number:,} objects read, {len(found.areas):,} buildings among them")
    except RuntimeError as problem:
        raise InputProblem("file", f"is no OpenStreetMap file that can be read: {problem}") from None
    progress(f"{len(found.areas):,} buildings read; fitting parts to their outlines")
    buildings, height_notes = _buildings(found, rule)
    town = TownDraft(
        tuple(buildings), tuple(found.trees), tuple(found.footways), tuple(found.lamps), ATTRIBUTION, tuple(found.hints)
    )
    if not (town.buildings or town.trees or town.footways or town.lamps):
        where = "in that box" if bbox else "in it"
        raise InputProblem("file", f"there is no building, tree, footway or street lamp {where}")
    return TownRead(town, dict(found.counts), (*height_notes, *notes_of(found.counts)))


def _objects(path: str | Path) -> Iterator[Any]:
    try:
        import osmium
    except ImportError:
        raise InputProblem("file", "reading OpenStreetMap files needs: pip install 'kerbstand[osm]'") from None
    wanted = osmium.filter.KeyFilter(*READ)
    return iter(osmium.FileProcessor(str(path)).with_areas(osmium.filter.KeyFilter(*BUILT)).with_filter(wanted))


@dataclass(frozen=True, slots=True)
class _Area:
    polygons: tuple[tuple[tuple[LonLat, ...], ...], ...]
    tags: Tags

    @property
    def is_part(self) -> bool:
        return self.tags.get("building:part", "no") != "no"


@dataclass(slots=True)
class _Found:
    """What has been met so far."""

    bbox: Box | None
    areas: list[_Area] = field(default_factory=list)
    trees: list[TreeDraft] = field(default_factory=list)
    footways: list[FootwayDraft] = field(default_factory=list)
    lamps: list[LampDraft] = field(default_factory=list)
    hints: list[HintDraft] = field(default_factory=list)
    counts: Counter[str] = field(default_factory=Counter)

    def take(self, thing: Any) -> None:
        tags = dict(thing.tags)
        if thing.is_node():
            self._take_node(thing, tags)
        elif thing.is_area():
            if any(key in tags for key in BUILT):
                self._take_area(thing, tags)
        elif thing.is_way():
            self.counts["outlines"] += any(key in tags for key in BUILT)
            self.counts["tree rows"] += tags.get("natural") == "tree_row"
            if WALKABLE.match(tags.get("highway", "")):
                self._take_way(thing, tags)
            elif said.hint(tags) or said.comfort(tags):
                self._take_hint(_middle(_lines(thing)), tags)
        else:
            self.counts["outlines"] += any(key in tags for key in BUILT) and tags.get("type") == "multipolygon"

    def _take_node(self, node: Any, tags: Tags) -> None:
        if not node.location.valid():
            return
        place = (node.location.lon, node.location.lat)
        if not self._inside([place]):
            return
        if tags.get("natural") == "tree":
            height_m, radius_m, assumed = said.crown(tags)
            self.trees.append(TreeDraft(place[1], place[0], height_m, radius_m, assumed))
            self.counts.update({"trees": 1, "trees assumed": int(assumed)})
        elif tags.get("highway") == "street_lamp":
            self.lamps.append(LampDraft(place[1], place[0]))
            self.counts["lamps"] += 1
        self._take_hint(place, tags)

    def _take_hint(self, place: LonLat | None, tags: Tags) -> None:
        kind, comfort = said.hint(tags), said.comfort(tags)
        if place is None or (kind or comfort) is None or not self._inside([place]):
            return
        self.hints.append(HintDraft(place[1], place[0], kind or comfort or "", said.name(tags)))
        self.counts["hints" if kind else "comforts"] += 1

    def _take_area(self, area: Any, tags: Tags) -> None:
        polygons = tuple(
            (_ring(outer), *(_ring(inner) for inner in area.inner_rings(outer))) for outer in area.outer_rings()
        )
        self.counts["areas"] += 1
        if not self._inside(point for rings in polygons for point in rings[0]):
            self.counts["areas outside"] += 1
            return
        self.counts.update(_kinds(polygons, tags))
        if tags.get("building", "no") == "no" and tags.get("building:part", "no") == "no":
            self.counts["not built"] += 1
        elif "roof" in (tags.get("building"), tags.get("building:part")):
            self.counts["roofs"] += 1
        elif _underground(tags):
            self.counts["underground"] += 1
        else:
            self.areas.append(_Area(polygons, tags))

    def _take_way(self, way: Any, tags: Tags) -> None:
        hidden = tags.get("tunnel") == "yes" or tags.get("indoor") == "yes" or _underground(tags)
        if hidden or tags.get("foot") == "no":
            self.counts["ways hidden"] += hidden
            return
        for line in _lines(way):
            if self._inside(line):
                self.footways.append(
                    FootwayDraft(line, said.width_m(tags), said.surface(tags), said.lit(tags), tags["highway"])
                )
                self.counts["footways"] += 1
                self.counts["footways without width"] += self.footways[-1].width_m is None
                self.counts["passages"] += tags.get("tunnel") == "building_passage" or tags.get("covered", "no") != "no"

    def _inside(self, points: Iterable[LonLat]) -> bool:
        """Whether the box round the points meets the box asked for."""
        return self.bbox is None or self.bbox.meets(box_of(points))


def _buildings(found: _Found, rule: HeightRule) -> tuple[list[BuildingDraft], tuple[str, ...]]:
    readings: list[Reading] = [reading(area.tags, rule) for area in found.areas]
    heights, notes = settle(readings, rule)
    outlines: list[BuildingDraft] = []
    parts: list[BuildingDraft] = []
    for area, height in zip(found.areas, heights, strict=True):
        kind = parts if area.is_part else outlines
        for rings in area.polygons:
            name = area.tags.get("name", "")
            kind.append(BuildingDraft(rings, height.top_m, height.bottom_m, height.source, height.doubt_m, name))
    buildings, cut = with_parts(outlines, parts)
    found.counts.update({"outlines with parts": cut, "parts": len(parts), "buildings": len(buildings)})
    return buildings, notes


def _kinds(polygons: tuple[tuple[Any, ...], ...], tags: Tags) -> Iterator[str]:
    yield "height" if "height" in tags else "levels" if "building:levels" in tags else "neither"
    if any(len(rings) > 1 for rings in polygons):
        yield "courtyards"


def _underground(tags: Tags) -> bool:
    layer = tags.get("layer", "0")
    return tags.get("location") == "underground" or (layer.startswith("-") and layer != "-0")


def _ring(ring: Any) -> tuple[LonLat, ...]:
    return tuple((node.lon, node.lat) for node in ring)[:-1]


def _middle(lines: Iterable[Sequence[LonLat]]) -> LonLat | None:
    """The middle of the corners of a ground that is drawn as a way; the last corner of a closed one is its first."""
    corners = list(dict.fromkeys(point for line in lines for point in line))
    if not corners:
        return None
    return fmean(longitude for longitude, _ in corners), fmean(latitude for _, latitude in corners)


def _lines(way: Any) -> Iterator[tuple[LonLat, ...]]:
    """The stretches of a way whose points are in the file; an extract ends ways at its edge."""
    line: list[LonLat] = []
    for node in way.nodes:
        if node.location.valid():
            line.append((node.location.lon, node.location.lat))
            continue
        if len(line) > 1:
            yield tuple(line)
        line = []
    if len(line) > 1:
        yield tuple(line)
