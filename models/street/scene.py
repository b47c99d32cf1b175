"""What stands round a subject, in metres east, north and up from the ground it stands on.

A building is a prism over its footprint; packed, it is a row of upright panels, the outside on the right hand:

        start ---> end            c---<---b
    north |                       |  _    |      outline counter-clockwise, courtyards clockwise,
          | outside               v |v|   ^      whichever way they were drawn
          +-----> east            d--->---a
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from models.street.rings import Floats, require_numbers, rings_of

HeightSource = Literal["surveyed", "levels", "assumed"]

EYE_M = 1.5
REACH_M = 500.0
# Of a generic deciduous street tree, in leaf and bare: inside the ranges 0.05..0.30 and 0.50..0.80 (urban forestry
# literature, from memory); crowns measured by Gardner & Sydnor 1984 pass 0.25 to 0.44 in leaf, 0.57 to 0.79 bare.
CROWN_IN_LEAF = 0.30
CROWN_BARE = 0.67
ROOF_SECTOR_DEG = 5.0
CROWN_BASE_SHARE = 0.3  # of a street tree's height, bare trunk below it: common practice, no source


@dataclass(frozen=True, slots=True)
class Building:
    """A prism: rings of (east_m, north_m), the first the outline, the rest courtyards; unclosed."""

    rings: tuple[tuple[tuple[float, float], ...], ...]
    top_m: float
    bottom_m: float = 0.0
    height_source: HeightSource = "surveyed"
    doubt_m: float = 0.5
    name: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class Walls:
    """n upright panels as packed arrays; the outside lies on the right hand going from start to end.

    start_m, end_m: (n, 2) east, north. bottom_m, top_m, doubt_m: (n,) metres. building: (n,) int32.
    assumed: (n,) bool, the panels whose height was assumed; None where that is not known.
    """

    start_m: Floats
    end_m: Floats
    bottom_m: Floats
    top_m: Floats
    doubt_m: Floats
    building: NDArray[np.int32]
    assumed: NDArray[np.bool_] | None = None

    def __len__(self) -> int:
        return len(self.top_m)

    def only(self, keep: NDArray[np.bool_] | slice) -> Walls:
        """The panels chosen by a mask (n,) or a slice."""
        assumed = None if self.assumed is None else self.assumed[keep]
        return Walls(
            self.start_m[keep],
            self.end_m[keep],
            self.bottom_m[keep],
            self.top_m[keep],
            self.doubt_m[keep],
            self.building[keep],
            assumed,
        )


def clockwise_deg(from_deg: float, to_deg: float) -> float:
    """How far it is from one bearing clockwise to another; 0 to 360 is all round."""
    width = to_deg - from_deg
    return 360.0 if abs(width) >= 360 else width % 360


@dataclass(frozen=True, slots=True)
class Canopy:
    """Leaves or a roof seen from the subject: a range of bearings (clockwise from-to) and elevations.

    Transmittances are 0..1; a roof overhead has both at 0. leaf_months: months (1..12) in leaf.
    """

    bearing_from_deg: float
    bearing_to_deg: float
    elevation_from_deg: float
    elevation_to_deg: float
    transmittance_leaf: float
    transmittance_bare: float
    leaf_months: tuple[int, ...] = (5, 6, 7, 8, 9, 10)
    name: str = "trees"

    def transmittance(self, month: int) -> float:
        return self.transmittance_leaf if month in self.leaf_months else self.transmittance_bare

    @property
    def is_roof(self) -> bool:
        return self.transmittance_leaf == 0 and self.transmittance_bare == 0

    @property
    def width_deg(self) -> float:
        return clockwise_deg(self.bearing_from_deg, self.bearing_to_deg)

    def covers(self, bearing_deg: ArrayLike, elevation_deg: ArrayLike) -> NDArray[np.bool_]:
        """Whether it stands in front of these directions; shapes broadcast."""
        turn = (np.asarray(bearing_deg, float) - self.bearing_from_deg) % 360
        elevation = np.asarray(elevation_deg, float)
        inside: NDArray[np.bool_] = (
            (turn <= self.width_deg) & (elevation >= self.elevation_from_deg) & (elevation <= self.elevation_to_deg)
        )
        return inside


@dataclass(frozen=True, slots=True)
class SkylinePoint:
    """One hand-measured point of the skyline."""

    bearing_deg: float
    elevation_deg: float


@dataclass(frozen=True, slots=True)
class Tree:
    """A tree as a crown: metres east and north of the origin, height and crown radius."""

    east_m: float
    north_m: float
    height_m: float
    crown_radius_m: float
    assumed: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Scene:
    """All that bears on the light at one subject. z = 0 is the ground under the subject."""

    walls: Walls
    wall_reflectance: float
    ground_reflectance: float
    canopies: tuple[Canopy, ...] = ()
    eye_m: float = EYE_M


NO_WALLS = Walls(
    np.zeros((0, 2)), np.zeros((0, 2)), np.zeros(0), np.zeros(0), np.zeros(0), np.zeros(0, np.int32), np.zeros(0, bool)
)


def pack_walls(buildings: Sequence[Building]) -> Walls:
    """All upright panels of the buildings, in their order; Walls.building counts from 0 along the sequence.

    Buildings no higher than their bottom and rings that enclose nothing give no panels.
    Raises InputProblem for a coordinate or height that is not a number.
    """
    if not buildings:
        return NO_WALLS
    heights = np.array([(b.bottom_m, b.top_m, b.doubt_m) for b in buildings], float)
    require_numbers(np.arange(len(buildings)), heights)
    rings = rings_of([b.rings for b in buildings])
    rings = rings.only(heights[rings.owner, 1] > heights[rings.owner, 0])
    if not len(rings.points):
        return NO_WALLS
    swap = rings.each(rings.backward)[:, None]
    ahead = rings.points[rings.following]
    owner = rings.each(rings.owner)
    bottom, top, doubt = heights[owner].T
    assumed = np.array([b.height_source == "assumed" for b in buildings])[owner]
    start, end = np.where(swap, ahead, rings.points), np.where(swap, rings.points, ahead)
    return Walls(start, end, bottom, top, doubt, owner.astype(np.int32), assumed)


def lowered(walls: Walls, floor_m: float) -> Walls:
    """The walls as seen from a floor above the street: heights from the floor, what is no higher than it gone.

    Bottoms turn negative where a wall starts below the floor.
    """
    if floor_m == 0:
        return walls
    above = walls.only(walls.top_m > floor_m)
    return replace(above, bottom_m=above.bottom_m - floor_m, top_m=above.top_m - floor_m)


def building_over(standing: Walls | Sequence[Building], east_m: float = 0.0, north_m: float = 0.0) -> int | None:
    """Index of the tallest building whose footprint holds the point, None if none does.

    Even-odd: lines east and west from the point both cross its walls an odd number of times, so courtyards are outside,
    and so is a building of which only the nearer walls are within reach. Where the building's bottom lies above the eye
    the point is under it, not in it.
    """
    walls = standing if isinstance(standing, Walls) else pack_walls(standing)
    if not len(walls):
        return None
    a, b = walls.start_m - (east_m, north_m), walls.end_m - (east_m, north_m)
    spans = (a[:, 1] > 0) != (b[:, 1] > 0)
    a, b = a[spans], b[spans]
    east_of_point = a[:, 0] - a[:, 1] * (b[:, 0] - a[:, 0]) / (b[:, 1] - a[:, 1]) > 0
    count = int(walls.building.max()) + 1
    east, west = (np.bincount(walls.building[spans], side, minlength=count) for side in (east_of_point, ~east_of_point))
    inside = np.flatnonzero((east % 2 == 1) & (west % 2 == 1))
    if not len(inside):
        return None
    tops = [float(walls.top_m[walls.building == index].max()) for index in inside]
    return int(inside[np.argmax(tops)])


def roof_overhead(walls: Walls, building: int, eye_m: float = EYE_M) -> tuple[Walls, tuple[Canopy, ...]]:
    """The walls without a raised building that stands over the origin, and its underside as roof canopies.

     ______________
    |______________|        each sector of 5 degrees is closed from the edge of the underside,
         `.    |            on the sector's middle bearing, up to the zenith
           `.o
    """
    own = walls.only(walls.building == building)
    rise = float(own.bottom_m.min()) - eye_m
    middles = np.radians(np.arange(0.0, 360.0, ROOF_SECTOR_DEG) + ROOF_SECTOR_DEG / 2)
    low = np.degrees(np.arctan2(rise, _way_out_m(own, middles)))
    return walls.only(walls.building != building), tuple(
        Canopy(index * ROOF_SECTOR_DEG, (index + 1) * ROOF_SECTOR_DEG, float(edge), 90.0, 0.0, 0.0, name="roof")
        for index, edge in enumerate(low)
    )


def _way_out_m(own: Walls, bearings: Floats) -> Floats:
    """Distance from the origin, inside, to the first wall on each bearing (radians)."""
    east, north = np.sin(bearings)[:, None], np.cos(bearings)[:, None]
    (ax, ay), (sx, sy) = own.start_m.T, (own.end_m - own.start_m).T
    across = sx * north - sy * east
    parallel = across == 0
    across = np.where(parallel, 1.0, across)
    share, distance = (ay * east - ax * north) / across, (ay * sx - ax * sy) / across
    meets = ~parallel & (share >= 0) & (share <= 1) & (distance > 0)
    nearest: Floats = np.where(meets, distance, np.inf).min(axis=1)
    return nearest


def canopy_of_tree(tree: Tree, eye_m: float = EYE_M) -> Canopy:
    """The crown as the eye over the origin sees it: the bearings and elevations that frame an ellipsoid.

    The crown reaches from CROWN_BASE_SHARE of the height to the top. From under it, all bearings up to the zenith,
    from the elevation of its widest ring. Heights and eye are above the same ground, in metres.
    """
    distance, radius = math.hypot(tree.east_m, tree.north_m), tree.crown_radius_m
    half_height = tree.height_m * (1 - CROWN_BASE_SHARE) / 2
    middle = tree.height_m - half_height - eye_m
    if distance <= radius:
        low = math.degrees(math.atan2(max(middle, 0.0), radius))
        return Canopy(0.0, 360.0, low, 90.0, CROWN_IN_LEAF, CROWN_BARE)
    bearing = math.degrees(math.atan2(tree.east_m, tree.north_m))
    half_width = math.degrees(math.asin(radius / distance))
    low, high = _crown_elevations_deg(distance, middle, radius, half_height)
    return Canopy((bearing - half_width) % 360, (bearing + half_width) % 360, low, high, CROWN_IN_LEAF, CROWN_BARE)


def _crown_elevations_deg(distance: float, middle: float, radius: float, half_height: float) -> tuple[float, float]:
    """Of the two lines of slope m that touch the ellipse: (middle - m d)^2 = half_height^2 + m^2 radius^2."""
    square = distance**2 - radius**2
    root = math.sqrt(max((middle * radius) ** 2 + half_height**2 * square, 0.0))
    low, high = ((middle * distance + sign * root) / square for sign in (-1, 1))
    return math.degrees(math.atan(low)), math.degrees(math.atan(high))
