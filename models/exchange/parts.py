"""Building parts: where they cover their building's outline they stand in its place.

      outline, 18 m          parts: a tower, 30 m, and upper floors from 4 m on
      +-----------------+        +-----------+-----+
      |                 |        | rest of   |tower|
      |                 |   ->   | outline   +-----+
      |                 |        +-----------------+
      +-----------------+        | upper floors    |   below them: nothing, an arcade
                                 +-----------------+

People draw raised parts in two ways. Where the outline is said to be higher than the part's foot, the outline speaks of
the whole building and the part replaces it down to the ground: it is open below. Where the outline ends at the part's
foot, or nobody noted its height, the outline is the lower floors and stays, up to the part.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from shapely import Polygon, STRtree, union_all
from shapely.geometry.base import BaseGeometry

from models.exchange.geojson import Rings, rings_of
from models.street.plane import LocalPlane
from models.street.town import BuildingDraft

BELONGS_SHARE = 0.5  # a part belongs to the outline that holds more than half of it
SLIVER_M = 0.4  # parts drawn by hand miss their outline by so much without meaning it: common practice, no source
FOOT_TOLERANCE_M = 1.0


def with_parts(outlines: Sequence[BuildingDraft], parts: Sequence[BuildingDraft]) -> tuple[list[BuildingDraft], int]:
    """The outlines less what their parts replace, then the parts; and how many outlines have parts."""
    if not outlines or not parts:
        return [*outlines, *parts], 0
    longitude, latitude = outlines[0].rings[0][0]
    plane = LocalPlane(latitude, longitude)
    shapes = [_shape(part, plane) for part in parts]
    tree = STRtree(shapes)
    left: list[BuildingDraft] = []
    cut = 0
    for outline in outlines:
        shape = _shape(outline, plane)
        near = [(parts[index], shapes[index]) for index in tree.query(shape, predicate="intersects").tolist()]
        own = [(part, area) for part, area in near if area.intersection(shape).area > BELONGS_SHARE * area.area]
        left += _outline_left(outline, shape, own, plane) if own else [outline]
        cut += bool(own)
    return [*left, *parts], cut


def _outline_left(
    outline: BuildingDraft, shape: BaseGeometry, own: list[tuple[BuildingDraft, BaseGeometry]], plane: LocalPlane
) -> Iterator[BuildingDraft]:
    """What is left of an outline: its lower floors under raised parts, then what no part touches."""
    replacing = [area for part, area in own if _replaces(part, outline)]
    rest = shape.difference(union_all(replacing)) if replacing else shape
    lower = [(part, area) for part, area in own if not _replaces(part, outline) and part.bottom_m < outline.top_m]
    for part, area in sorted(lower, key=lambda each: each[0].bottom_m):
        below = replace(
            outline, top_m=part.bottom_m, height_source=part.height_source, doubt_m=min(part.doubt_m, part.bottom_m)
        )
        yield from _cut(below, rest.intersection(area), plane)
        rest = rest.difference(area)
    yield from _cut(outline, rest, plane) if rest is not shape else [outline]


def _replaces(part: BuildingDraft, outline: BuildingDraft) -> bool:
    """Whether nothing of the outline stays under the part."""
    if part.bottom_m <= outline.bottom_m + FOOT_TOLERANCE_M:
        return True
    return outline.height_source != "assumed" and outline.top_m > part.bottom_m + FOOT_TOLERANCE_M


def _cut(outline: BuildingDraft, left: BaseGeometry, plane: LocalPlane) -> Iterator[BuildingDraft]:
    whole = left.buffer(-SLIVER_M, join_style="mitre").buffer(SLIVER_M, join_style="mitre").intersection(left)
    for rings in rings_of(whole):
        yield replace(outline, rings=_degrees(rings, plane))


def _shape(building: BuildingDraft, plane: LocalPlane) -> BaseGeometry:
    """The footprint in metres; what crosses itself is untangled."""
    outline, *courtyards = map(plane.points_to_metres, building.rings)
    shape = Polygon(outline, courtyards)
    return shape if shape.is_valid else shape.buffer(0)


def _degrees(rings: Rings, plane: LocalPlane) -> Rings:
    return tuple(tuple(map(tuple, plane.points_to_degrees(ring).tolist())) for ring in rings)
