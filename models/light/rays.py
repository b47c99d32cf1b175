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
from typing import Final

import numpy as np
from numpy.typing import NDArray

from models.street.scene import Walls

Floats = NDArray[np.floating]
Ints = NDArray[np.int32]

SKY: Final = -1
NEAREST_M: Final = 1e-3  # a ray does not meet the surface it starts from
PAIRS_AT_ONCE: Final = 400_000  # headings x walls looked at together; keeps the work in the processor's cache


@dataclass(frozen=True, slots=True, eq=False)
class Surfaces:
    """All that a ray can meet: n walls, then the ground, then a roof and a soffit for each of m buildings.

    start_m, along_m: (n, 2) where a wall begins and the way to its end. bottom_m, top_m: (n,). building: (n,) 0..m-1.
    normal: (n + 1 + 2 m, 3) of every surface, outwards. reflectance: (n + 1 + 2 m,).
    """

    start_m: Floats
    along_m: Floats
    bottom_m: Floats
    top_m: Floats
    building: Ints
    normal: Floats
    reflectance: Floats

    @property
    def ground(self) -> int:
        return len(self.top_m)


def surfaces_of(walls: Walls, wall_reflectance: float, ground_reflectance: float) -> Surfaces:
    """Walls made ready for casting; roofs and soffits reflect as the walls do."""
    along = walls.end_m - walls.start_m
    length = np.hypot(along[:, 0], along[:, 1])
    kept = (length > 0) & (walls.top_m > np.maximum(walls.bottom_m, 0.0))
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
        along_m=along.astype(np.float32),
        bottom_m=np.maximum(walls.bottom_m[kept], 0.0).astype(np.float32),
        top_m=walls.top_m[kept].astype(np.float32),
        building=building.astype(np.int32),
        normal=normal.astype(np.float32),
        reflectance=reflectance,
    )


def cast(surfaces: Surfaces, origin_m: Floats, heading: Floats, slope: Floats) -> tuple[Ints, Floats]:
    """What each ray of r fans of s rays meets first.

    origin_m: (r, 3). heading: (r, 2) unit vectors in plan. slope: (r, s), metres up for each metre along.
    Returns (r, s) surface numbers, SKY where nothing is met, and (r, s) distances in plan, in metres.
    """
    best = np.where(slope < 0, -origin_m[:, 2:] / np.minimum(slope, -1e-9), np.inf).astype(np.float32)
    met = np.where(slope < 0, surfaces.ground, SKY).astype(np.int32)
    at_once = max(1, PAIRS_AT_ONCE // max(surfaces.ground, 1))
    for first in range(0, len(slope) if surfaces.ground else 0, at_once):
        part = slice(first, first + at_once)
        _meet(surfaces, origin_m[part].astype(np.float32), heading[part], slope[part], met[part], best[part])
    return met, best


def _meet(surfaces: Surfaces, origin_m: Floats, heading: Floats, slope: Floats, met: Ints, best: Floats) -> None:
    """Puts what lies nearer than `best` into `met` and `best`."""
    fan, wall, begins, ends = _chords(surfaces, origin_m, heading)
    if not len(fan):
        return
    surface, distance = _on_chords(surfaces, wall, begins, ends, origin_m[fan, 2], slope[fan])
    starts = np.flatnonzero(np.diff(fan, prepend=-1))
    nearest = np.full_like(best, np.inf)
    nearest[fan[starts]] = np.minimum.reduceat(distance, starts, axis=0)
    hit = np.nonzero((distance == nearest[fan]) & (distance < best[fan]))
    met[fan[hit[0]], hit[1]] = surface[hit]
    np.minimum(best, nearest, out=best)


def _chords(surfaces: Surfaces, origin_m: Floats, heading: Floats) -> tuple[Ints, Ints, Floats, Floats]:
    """(c,) fan, wall of entry, and metres along to where the line enters and leaves a building, ordered by fan."""
    fan, wall, distance, entering = _crossings(surfaces, origin_m, heading)
    block = fan.astype(np.int64) * (int(surfaces.building.max()) + 1) + surfaces.building[wall]
    order = np.lexsort((distance, block))
    fan, wall, distance, entering, block = fan[order], wall[order], distance[order], entering[order], block[order]
    next_leaves = np.zeros(len(fan), bool)
    next_leaves[:-1] = (block[1:] == block[:-1]) & entering[:-1] & ~entering[1:]
    ends = np.where(next_leaves, np.roll(distance, -1), distance)
    begins = np.where(entering, distance, np.float32(0.0))  # a line that only leaves began inside
    kept = entering | ~np.roll(next_leaves, 1)
    return fan[kept], wall[kept], begins[kept], ends[kept]


def _crossings(surfaces: Surfaces, origin_m: Floats, heading: Floats) -> tuple[Ints, Ints, Floats, NDArray[np.bool_]]:
    """(c,) fan, wall, metres along, and whether it is met from outside, of each wall that a line crosses."""
    to_x = surfaces.start_m[:, 0] - origin_m[:, :1]
    to_y = surfaces.start_m[:, 1] - origin_m[:, 1:2]
    along_x, along_y = surfaces.along_m[:, 0], surfaces.along_m[:, 1]
    x, y = heading[:, :1].astype(np.float32), heading[:, 1:].astype(np.float32)
    turn = x * along_y - y * along_x  # negative when the line meets the wall from its outside
    share = to_x * y - to_y * x
    lies_on = (share * turn >= 0) & (np.abs(share) <= np.abs(turn))
    fan, wall = np.nonzero(lies_on)
    turn = turn[fan, wall]
    distance = (to_x[fan, wall] * along_y[wall] - to_y[fan, wall] * along_x[wall]) / np.where(turn == 0, 1, turn)
    ahead = (distance > NEAREST_M) & (turn != 0)
    return fan[ahead].astype(np.int32), wall[ahead].astype(np.int32), distance[ahead], turn[ahead] < 0


def _on_chords(
    surfaces: Surfaces, wall: Ints, begins: Floats, ends: Floats, height_m: Floats, slope: Floats
) -> tuple[Ints, Floats]:
    """(c, s) surface met within each chord and metres to it, infinite where the ray passes over or under."""
    top, bottom = surfaces.top_m[wall, None], surfaces.bottom_m[wall, None]
    height_m, begins, ends = height_m[:, None], begins[:, None], ends[:, None]
    enters_at, leaves_at = height_m + begins * slope, height_m + ends * slope
    through_roof = (enters_at > top) & (leaves_at < top)
    through_soffit = (enters_at < bottom) & (leaves_at > bottom)
    through_wall = (enters_at <= top) & (enters_at >= bottom)
    lid = np.where(through_roof, top, bottom)
    to_lid = (lid - height_m) / np.where(slope == 0, 1, slope)
    distance = np.where(through_wall, begins, np.where(through_roof | through_soffit, to_lid, np.inf))
    roof = surfaces.ground + 1 + surfaces.building[wall, None]
    soffit = roof + int(surfaces.building.max()) + 1
    surface = np.where(through_wall, wall[:, None], np.where(through_roof, roof, soffit))
    return surface.astype(np.int32), distance.astype(np.float32)
