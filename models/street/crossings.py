"""Roads that a walk crosses, told from lines alone.

      |              A road is crossed where it has an arm on either side of the way. One that only ends at it, or
------+------ way    that the way runs along, is not: a pavement on the other side may have it all the same.
      | road
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from models.street.plane import LocalPlane
from models.street.town import FootwayDraft, LonLat

CARRIAGEWAYS = frozenset(
    {"residential", "unclassified", "road", "service", "tertiary", "secondary", "primary"}
    | {"tertiary_link", "secondary_link", "primary_link"}
)
"""Kinds of way on which people drive, as OpenStreetMap names them; living streets are walked on."""
NEAR_M, FAR_M = 0.5, 2.0
"""Between these distances from the way its arms are looked for: beside it, before they bend away."""
APART_M = 6.0
"""Arms no further from each other along the way belong to one road: our planning rule."""
LEFT, RIGHT = 1, -1


def roads_crossed(line: Sequence[LonLat], ways: Sequence[FootwayDraft]) -> int:
    """How many roads among `ways` the line from place to place cuts; points are (longitude_deg, latitude_deg)."""
    roads = [way.line for way in ways if way.kind in CARRIAGEWAYS and len(way.line) > 1]
    if len(line) < 2 or not roads:
        return 0
    plane = LocalPlane(line[0][1], line[0][0])
    path = shapely.linestrings(plane.points_to_metres(line))
    if path.length < NEAR_M:
        return 0
    found = sorted(_arms(path, [shapely.linestrings(plane.points_to_metres(road)) for road in roads]))
    crossed, sides, last_m = 0, set[int](), -np.inf
    for along_m, side in found:
        if along_m - last_m > APART_M:
            sides = set()
        before = len(sides)
        sides.add(side)
        crossed += before == 1 and len(sides) == 2
        last_m = along_m
    return crossed


def _arms(path: shapely.LineString, roads: list[shapely.LineString]) -> list[tuple[float, int]]:
    """Where along the path, in metres, and on which side of it a road leads away."""
    beside = path.buffer(FAR_M, cap_style="flat").difference(path.buffer(NEAR_M, cap_style="flat"))
    pieces = shapely.get_parts(shapely.intersection(roads, beside))
    pieces = pieces[shapely.length(pieces) > 0]
    return [_arm(path, piece) for piece in pieces]


def _arm(path: shapely.LineString, piece: shapely.LineString) -> tuple[float, int]:
    tip = min((shapely.Point(point) for point in (piece.coords[0], piece.coords[-1])), key=path.distance)
    along_m = path.project(tip)
    foot = np.array(path.interpolate(along_m).coords[0])
    back, ahead = (np.array(path.interpolate(min(max(m, 0.0), path.length)).coords[0])
                   for m in (along_m - 0.1, along_m + 0.1))  # fmt: skip
    way, out = ahead - back, np.array(tip.coords[0]) - foot
    return along_m, LEFT if way[0] * out[1] - way[1] * out[0] > 0 else RIGHT
