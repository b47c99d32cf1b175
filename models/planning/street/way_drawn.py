"""The sketch of a walk: its way in metres, with the walls that stand near it."""

from __future__ import annotations

import shapely

from models.drawing.ground import Metres
from models.drawing.way_sketch import WaySketch, draw_way_sketch
from models.planning.spot_answers import Drawing
from models.planning.street.walk import WalkAnswer
from models.store.engine import Store
from models.store.town import buildings_in
from models.street.plane import LocalPlane
from models.street.town import Box, LonLat, box_of, box_round
from models.words.walk import sketch_caption

WALLS_M = 60.0
"""Houses so near the way are drawn, so that one finds it between them: our planning rule."""
MOST_HOUSES = 1500


def way_drawn(store: Store, walk: WalkAnswer, start: str, goal: str) -> Drawing:
    """The way along footways, or the straight line where there is none."""
    line = walk.line or (walk.start[::-1], walk.goal[::-1])
    plane = LocalPlane(*walk.start)
    way = _in_metres(plane, line)
    sketch = WaySketch(
        title=f"The walk from {start} to {goal}",
        desc=walk.said.text,
        way=way,
        known=bool(walk.line),
        start=start,
        goal=goal,
        outlines=_outlines(store, plane, line, way),
    )
    wide, narrow = (draw_way_sketch(sketch, width) for width in ("wide", "narrow"))
    return Drawing(wide, narrow, sketch_caption(known=bool(walk.line)))


def _outlines(
    store: Store, plane: LocalPlane, line: tuple[LonLat, ...], way: tuple[Metres, ...]
) -> tuple[tuple[Metres, ...], ...]:
    """Rings of the houses near the way; none where there are too many to look through."""
    with store.reading() as s:
        found = buildings_in(s, _round(line), limit=MOST_HOUSES + 1)
    if len(found) > MOST_HOUSES:
        return ()
    path = shapely.linestrings(way)
    rings = (_in_metres(plane, ring) for house in found for ring in house.rings)
    return tuple(ring for ring in rings if path.distance(shapely.LinearRing(ring)) <= WALLS_M)


def _round(line: tuple[LonLat, ...]) -> Box:
    """A box round the way with room for houses; over 180 degrees only that of its start."""
    box = box_of(line)
    if box.east - box.west > 180:
        return box_round(line[0][1], line[0][0], WALLS_M)
    low, high = box_round(box.south, box.west, WALLS_M), box_round(box.north, box.east, WALLS_M)
    return Box(low.south, low.west, high.north, high.east)


def _in_metres(plane: LocalPlane, points: tuple[LonLat, ...]) -> tuple[Metres, ...]:
    return tuple((float(east), float(north)) for east, north in plane.points_to_metres(points))
