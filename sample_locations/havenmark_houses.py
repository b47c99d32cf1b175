"""Turns the plan of Havenmark into houses: streets leave blocks, blocks are lined with terraces.

street ------------------------------
  |__|__|___|__|__|__|  plots of about one width, `depth_m` deep, cut square to the street;
     |_|     |_|        some with a wing behind, a few left empty
"""

from __future__ import annotations

import math
import random
from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

from shapely import LineString, MultiPolygon, Point, Polygon, unary_union
from shapely.geometry.base import BaseGeometry

from sample_locations import havenmark_plan as plan

CORNER_DEG = 35.0  # a side that turns more than this starts a new row
SMALLEST_M2 = 20.0
NARROWEST_M = 4.0
SPIKE_M, SLIT_M = 0.4, 0.1
FULLEST_SHARE = 0.6  # of the smallest rectangle round it, so that no wedges are left standing
WING_CHANCE = 0.4
UNNOTED_CHANCE = 0.05  # houses whose height nobody noted
STOREYS_ONLY_CHANCE = 0.08  # houses of which only the storeys were counted


class House(NamedTuple):
    """A footprint in local metres; height_m None where nobody measured, storeys None where nobody counted."""

    shape: Polygon
    height_m: float | None
    storeys: int | None = None
    name: str = ""
    bottom_m: float = 0.0
    use: str = "house"


def strip(line: plan.Line, width_m: float) -> Polygon:
    """The ground within half the width of a bent line, ends square."""
    return LineString(line).buffer(width_m / 2, cap_style="flat", join_style="mitre")


def drawn() -> list[House]:
    """The buildings drawn by hand, and the railway's viaduct with its bridge."""
    houses = [
        House(Polygon(b.rings[0], b.rings[1:]), b.height_m, b.storeys, b.name, b.bottom_m, b.use) for b in plan.DRAWN
    ]
    first, last = plan.BRIDGE
    pieces = (
        (plan.RAILWAY[: first + 1], 0.0),
        (plan.RAILWAY[first : last + 1], plan.BRIDGE_CLEAR_M),
        (plan.RAILWAY[last:], 0.0),
    )
    for line, bottom_m in pieces:
        name = "Railway bridge" if bottom_m else "Railway viaduct"
        houses.append(House(strip(line, plan.RAILWAY_WIDTH_M), plan.RAILWAY_TOP_M, None, name, bottom_m, "bridge"))
    return houses


def terraces() -> Iterator[House]:
    """Houses round every block, clear of the drawn buildings and of the ground kept open."""
    kept_open = [Polygon(clearing) for clearing in plan.CLEARINGS]
    taken = unary_union([*(house.shape.buffer(2.5, join_style="mitre") for house in drawn()), *kept_open])
    for number, block in enumerate(blocks()):
        near = taken.intersection(block.buffer(1))
        yield from terrace(block, quarter_of(block), near, random.Random(number))  # noqa: S311  (the same every time)


def blocks() -> list[Polygon]:
    """What streets, water, square, park and railway leave between the two wall streets, west to east."""
    north, south = (line_of(name) for name in ("Wall Walk", "South Wall"))
    rest = Polygon([*south, *north[::-1]]).difference(open_ground())
    rest = rest.buffer(-2, join_style="mitre").buffer(2, join_style="mitre").simplify(0.6)
    parts = rest.geoms if isinstance(rest, MultiPolygon) else [rest]
    return sorted((part for part in parts if part.area > 150), key=lambda part: part.centroid.x)


def line_of(name: str) -> plan.Line:
    return next(street.line for street in plan.STREETS if street.name == name)


def open_ground() -> BaseGeometry:
    """Where no terrace may stand."""
    streets = [strip(street.line, street.width_m) for street in plan.STREETS]
    water = [strip(plan.CANAL, plan.CANAL_CORRIDOR_M), Polygon(plan.BASIN).buffer(9, join_style="mitre")]
    railway = strip(plan.RAILWAY, plan.RAILWAY_WIDTH_M + 6)
    return unary_union([*streets, *water, railway, Polygon(plan.SQUARE), Polygon(plan.PARK)])


def quarter_of(block: Polygon) -> plan.Quarter:
    return next((quarter for quarter in plan.QUARTERS if block.contains(Point(quarter.at))), plan.ORDINARY)


def terrace(block: Polygon, quarter: plan.Quarter, taken: BaseGeometry, chance: random.Random) -> Iterator[House]:
    for plot, wing in plots(block, quarter, chance):
        front = largest(plot.intersection(block).difference(taken))
        taken = unary_union([taken, plot])
        if (
            front is None
            or front.area < FULLEST_SHARE * front.minimum_rotated_rectangle.area
            or chance.random() < quarter.gaps
        ):
            continue
        shape = front
        if chance.random() < WING_CHANCE:
            shape = largest(unary_union([front, wing.intersection(block).difference(taken)])) or front
            taken = unary_union([taken, wing])
        yield house(shape, chance.randint(*quarter.storeys), chance)


def house(shape: Polygon, storeys: int, chance: random.Random) -> House:
    height_m = round(plan.PLINTH_M + storeys * plan.STOREY_M + chance.uniform(0.0, 1.8), 1)
    luck = chance.random()
    if luck < UNNOTED_CHANCE:
        return House(shape, None)
    return House(shape, None if luck < UNNOTED_CHANCE + STOREYS_ONLY_CHANCE else height_m, storeys)


def plots(block: Polygon, quarter: plan.Quarter, chance: random.Random) -> Iterator[tuple[Polygon, Polygon]]:
    """Plot by plot round the block: the front house, and the wing that may stand behind it."""
    points = list(block.exterior.coords)[:-1]
    if not block.exterior.is_ccw:
        points.reverse()
    turns = [turn_deg(points[i - 1], points[i], points[(i + 1) % len(points)]) for i in range(len(points))]
    for i, start in enumerate(points):
        j = (i + 1) % len(points)
        yield from row(start, points[j], (lean(turns[i]), lean(turns[j])), quarter, chance)


def row(
    start: plan.Point, end: plan.Point, leans: tuple[float, float], quarter: plan.Quarter, chance: random.Random
) -> Iterator[tuple[Polygon, Polygon]]:
    """The plots along one side; its first and last cut lean so that they meet those of the next side."""
    length = math.dist(start, end)
    along = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)

    def shape(*corners: tuple[float, float]) -> Polygon:
        x, y = along
        return Polygon([(start[0] + u * x - v * y, start[1] + u * y + v * x) for u, v in corners]).buffer(0)

    count = max(1, round(length / quarter.plot_m))
    inner = [(k + chance.uniform(-0.12, 0.12)) * length / count for k in range(1, count)]
    cuts = [0.0, *inner, length]
    for k, (a, b) in enumerate(pairwise(cuts)):
        depth = quarter.depth_m + chance.choice((-0.8, 0.0, 0.0, 0.6))
        back_a, back_b = a + leans[0] * depth * (k == 0), b - leans[1] * depth * (k == count - 1)
        half, rear = (back_a + back_b) / 2, depth + chance.uniform(3.5, 6.5)
        yield (
            shape((a, 0), (b, 0), (back_b, depth), (back_a, depth)),
            shape((back_a, depth), (half, depth), (half, rear), (back_a, rear)),
        )


def turn_deg(before: plan.Point, here: plan.Point, after: plan.Point) -> float:
    """How far the way round turns at a point, left positive."""
    first = math.atan2(here[1] - before[1], here[0] - before[0])
    second = math.atan2(after[1] - here[1], after[0] - here[0])
    return (math.degrees(second - first) + 180) % 360 - 180


def lean(turned_deg: float) -> float:
    """Metres along for a metre of depth, at a cut of half the turn; at a real corner rows overlap and are cut later."""
    return math.tan(math.radians(turned_deg / 2)) if abs(turned_deg) < CORNER_DEG else 0.0


def largest(shape: BaseGeometry) -> Polygon | None:
    """The biggest part without slits and spikes, if it is more than a sliver."""
    whole = shape.buffer(SLIT_M, join_style="bevel").buffer(-SLIT_M - SPIKE_M, join_style="mitre")
    blunt = whole.buffer(SPIKE_M, join_style="mitre").simplify(2 * SLIT_M)
    parts = blunt.geoms if hasattr(blunt, "geoms") else [blunt]
    solid = [part for part in parts if isinstance(part, Polygon) and not part.buffer(-NARROWEST_M / 2).is_empty]
    best = max(solid, key=lambda part: part.area, default=None)
    return Polygon(best.exterior) if best is not None and best.area >= SMALLEST_M2 else None
