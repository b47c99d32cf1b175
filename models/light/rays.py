"""Rays among buildings: what each meets first.

Buildings are prisms on level ground, so a ray is followed in plan first: a fan of rays that share a heading runs along
one line of the map, which cuts each building in chords. Each ray of the fan, rising or falling by its own slope, then
meets a chord in one of three ways:

    side view of one fan                      ____________
                                   roof ---> |            |
        o------------------------------wall->|  building  |
          `-------                           |            |
                   `-- ground                |____________| <--- soffit, if it does not stand on the ground
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from models.street.scene import Walls

Floats = NDArray[np.floating]
Ints = NDArray[np.signedinteger]

SKY: Final = -1
SHORTEST_M: Final = 1e-3  # shorter walls are slips of the pen
NEAREST_M: Final = 1e-3  # a ray does not meet the surface it starts from
PAIRS_AT_ONCE: Final = 1_000_000  # fans x walls looked at together; keeps the work in the processor's cache


@dataclass(frozen=True, slots=True, eq=False)
class Surfaces:
    """All that a ray can meet: n walls, then the ground, then a roof and a soffit for each of m buildings.

    start_m, end_m: (n, 2). bottom_m, top_m: (n,). building: (n,) 0..m-1.
    normal: (n + 1 + 2 m, 3) of every surface, outwards. reflectance: (n + 1 + 2 m,).
    """

    start_m: Floats
    end_m: Floats
    bottom_m: Floats
    top_m: Floats
    building: Ints
    normal: Floats
    reflectance: Floats

    @property
    def ground(self) -> int:
        return len(self.top_m)

    @property
    def level(self) -> NDArray[np.bool_]:
        """(n + 1 + 2 m,) whether it lies level: the ground, roofs and soffits."""
        return np.arange(len(self.normal)) >= self.ground


def surfaces_of(walls: Walls, wall_reflectance: float, ground_reflectance: float) -> Surfaces:
    """Walls made ready for casting, ordered by building; roofs and soffits reflect as the walls do."""
    along = walls.end_m - walls.start_m
    length = np.hypot(along[:, 0], along[:, 1])
    kept = np.flatnonzero((length > SHORTEST_M) & (walls.top_m > np.maximum(walls.bottom_m, 0.0)))
    kept = kept[np.argsort(walls.building[kept], kind="stable")]
    along, length = along[kept], length[kept]
    names, building = np.unique(walls.building[kept], return_inverse=True)
    outwards = np.column_stack([along[:, 1] / length, -along[:, 0] / length, np.zeros(len(length))])
    up = np.array([0.0, 0.0, 1.0])
    level = np.ones((len(names), 1)) * up
    normal = np.vstack([outwards, up, level, -level])
    reflectance = np.full(len(normal), wall_reflectance)
    reflectance[len(length)] = ground_reflectance
    return Surfaces(
        start_m=walls.start_m[kept].astype(np.float32),
        end_m=walls.end_m[kept].astype(np.float32),
        bottom_m=np.maximum(walls.bottom_m[kept], 0.0).astype(np.float32),
        top_m=walls.top_m[kept].astype(np.float32),
        building=building.astype(np.int32),
        normal=normal.astype(np.float32),
        reflectance=reflectance,
    )


def cast(
    surfaces: Surfaces, origin_m: Floats, heading: Floats, slope: Floats, wanted: NDArray[np.bool_]
) -> tuple[Ints, Floats]:
    """What each ray meets first: from each of n origins a fan of s rays along each of h headings.

    origin_m: (n, 3). heading: (h, 2) unit vectors in plan. slope: (n, h, s), metres up for each metre along.
    wanted: (n, h), which fans to follow; the others meet nothing.
    Returns (n, h, s) surface numbers, SKY where nothing is met, and (n, h, s) distances in plan, in metres.
    """
    height = np.broadcast_to(origin_m[:, 2, None, None], slope.shape)
    falls = slope < 0
    met, nearest = np.full(slope.shape, SKY, np.int32), np.full(slope.shape, np.inf, np.float32)
    met[falls], nearest[falls] = surfaces.ground, -height[falls] / slope[falls]
    at_once = max(1, PAIRS_AT_ONCE // max(surfaces.ground * len(heading), 1))
    for first in range(0, len(origin_m) if surfaces.ground else 0, at_once):
        part = slice(first, first + at_once)
        fans, rays = wanted[part].size, slope.shape[2]
        chords = _chords(surfaces, origin_m[part].astype(np.float32), heading.astype(np.float32), wanted[part].ravel())
        height_m = np.repeat(origin_m[part, 2], len(heading)).astype(np.float32)
        found, distance = met[part].reshape(fans, rays), nearest[part].reshape(fans, rays)
        _meet(surfaces, chords, height_m, slope[part].reshape(fans, rays), found, distance)
    return met, nearest


class Chords(NamedTuple):
    """(c,) fan, wall of entry, metres along to where the fan's line enters and leaves a building; ordered by fan."""

    fan: Ints
    wall: Ints
    begins: Floats
    ends: Floats


def _meet(surfaces: Surfaces, chords: Chords, height_m: Floats, slope: Floats, met: Ints, nearest: Floats) -> None:
    """Puts what lies nearer than `nearest` into `met` and `nearest`; all (fans, rays), height_m: (fans,)."""
    fan = chords.fan
    if not len(fan):
        return
    surface, distance = _on_chords(surfaces, chords, height_m[fan], slope[fan])
    starts = np.flatnonzero(np.diff(fan, prepend=-1))
    best = nearest[fan[starts]]
    np.minimum(best, np.minimum.reduceat(distance, starts, axis=0), out=best)
    nearest[fan[starts]] = best
    hit = np.flatnonzero((distance == nearest[fan]) & np.isfinite(distance))
    chord, ray = np.divmod(hit, distance.shape[1])
    met[fan[chord], ray] = surface.ravel()[hit]


def _chords(surfaces: Surfaces, origin_m: Floats, heading: Floats, wanted: NDArray[np.bool_]) -> Chords:
    fan, wall, distance, entering = _crossings(surfaces, origin_m, heading, wanted)
    block = fan * (int(surfaces.building.max()) + 1) + surfaces.building[wall]  # ascending already
    order = np.argsort(block + distance * 1e-6, kind="stable")  # no wall is 1000 km off
    fan, wall, distance, entering, block = fan[order], wall[order], distance[order], entering[order], block[order]
    next_leaves = np.zeros(len(fan), bool)
    next_leaves[:-1] = (block[1:] == block[:-1]) & entering[:-1] & ~entering[1:]
    ends = np.where(next_leaves, np.roll(distance, -1), distance)
    begins = np.where(entering, distance, np.float32(0.0))  # a line that only leaves began inside
    kept = entering | ~np.roll(next_leaves, 1)
    return Chords(fan[kept], wall[kept], begins[kept], ends[kept])


def _crossings(
    surfaces: Surfaces, origin_m: Floats, heading: Floats, wanted: NDArray[np.bool_]
) -> tuple[Ints, Ints, Floats, NDArray[np.bool_]]:
    """(c,) fan, wall, metres along, and whether it is met from outside, of each wall that a line crosses.

    For each heading the map is turned so that lines run along and walls span stretches of what lies across.
    """
    turn = np.stack([heading, np.column_stack([heading[:, 1], -heading[:, 0]])])  # along, across
    start_along, start_across = turn @ surfaces.start_m.T
    end_along, end_across = turn @ surfaces.end_m.T
    along, across = turn @ origin_m[:, :2].T
    low, high = np.minimum(start_across, end_across), np.maximum(start_across, end_across)
    place = across.T[..., None]
    lies_on = (low <= place) & (place < high) & wanted.reshape(len(origin_m), -1, 1)
    fan, wall = np.divmod(np.flatnonzero(lies_on), surfaces.ground)
    origin, line = np.divmod(fan, len(heading))
    begins, ends = start_across[line, wall], end_across[line, wall]
    share = (across[line, origin] - begins) / (ends - begins)
    meets = start_along[line, wall] + share * (end_along[line, wall] - start_along[line, wall])
    distance = meets - along[line, origin]
    ahead = np.flatnonzero(distance > NEAREST_M)
    return fan[ahead], wall[ahead], distance[ahead], (ends > begins)[ahead]


def _on_chords(surfaces: Surfaces, chords: Chords, height_m: Floats, slope: Floats) -> tuple[Ints, Floats]:
    """(c, s) surface met within each chord and metres to it, infinite where the ray passes over or under."""
    wall = chords.wall[:, None]
    top, bottom, height_m = surfaces.top_m[wall], surfaces.bottom_m[wall], height_m[:, None]
    begins, ends = chords.begins[:, None], chords.ends[:, None]
    enters_at, leaves_at = height_m + begins * slope, height_m + ends * slope
    through_roof = (enters_at > top) & (leaves_at < top)
    through_soffit = (enters_at < bottom) & (leaves_at > bottom)
    through_wall = (enters_at <= top) & (enters_at >= bottom)
    to_lid = (np.where(through_roof, top, bottom) - height_m) / np.where(slope == 0, 1, slope)
    distance = np.where(through_wall, begins, np.where(through_roof | through_soffit, to_lid, np.inf))
    roof = surfaces.ground + 1 + surfaces.building[wall]
    soffit = roof + int(surfaces.building.max()) + 1
    surface = np.where(through_wall, wall, np.where(through_roof, roof, soffit))
    return surface, distance.astype(np.float32)
