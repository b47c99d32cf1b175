"""Walls and ground gathered into facets, finer the nearer they are to the subject.

           top view                          A wall is cut into cells of equal asinh(s / d) along and
wall ______________________________          asinh(z / r) up: near by as wide as a fixed share of the
     |      |   |  | | | |  |   |      |     distance, far off likewise. Level ground is cut into rings
                  s| /                       of equal ratio and sectors.
                  d|/ r
                   o subject                 What the subject does not see lights what it sees: roofs and
                                             walls round the corner make facets too, in coarser cells.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from models.light.rays import Surfaces

Floats = NDArray[np.floating]
Ints = NDArray[np.intp]

SEEN_CELL: Final = 0.3  # of the distance: some 17 degrees, seen square on
SEEN_CELL_IN_LANES: Final = 0.25  # between close walls light goes to and fro so often that small errors add up
LANE_M: Final = 6.0  # a lane is where half of all walls in sight lie nearer
UNSEEN_CELL: Final = 0.6
NEAREST_M: Final = 0.3  # cells grow no finer below this distance
OFF_SURFACE_M: Final = 0.02  # rays start just off the surface, lest they meet it
TURNED_AWAY_M: Final = 60.0  # in search of the nearest, a facet that faces elsewhere counts as so much further off


class Spot(NamedTuple):
    """Points on surfaces. surface: (h,) numbers, point_m: (h, 3)."""

    surface: Ints
    point_m: Floats

    def only(self, keep: NDArray[np.bool_] | Ints) -> Spot:
        return Spot(self.surface[keep], self.point_m[keep])


@dataclass(frozen=True, slots=True, eq=False)
class Facets:
    """key: (q,) ascending, of cells of this size. surface: (q,). centre_m: (q, 3), just off it. normal: (q, 3)."""

    cell: float
    key: NDArray[np.int64]
    surface: Ints
    centre_m: Floats
    normal: Floats


def cell_for(distance_m: Floats) -> float:
    """The cell for what the subject sees, by the distances of the walls in its sight."""
    return SEEN_CELL_IN_LANES if len(distance_m) and np.median(distance_m) < LANE_M else SEEN_CELL


def gather(surfaces: Surfaces, eye_m: Floats, hits: Spot, weight: Floats, cell: float) -> tuple[Facets, Ints]:
    """Facets at the mean places of the points in each cell, and (h,) the facet of each point."""
    key, facet = np.unique(_key(surfaces, eye_m, hits, cell), return_inverse=True)
    total = np.bincount(facet, weight)
    mean = np.stack([np.bincount(facet, weight * hits.point_m[:, axis]) / total for axis in range(3)], axis=1)
    surface = (key // _CELLS).astype(np.intp)
    normal = surfaces.normal[surface]
    return Facets(cell, key, surface, mean + OFF_SURFACE_M * normal, normal), facet


def find(facets: Facets, surfaces: Surfaces, eye_m: Floats, hits: Spot) -> Ints:
    """(h,) the facet in whose cell each point lies, -1 where there is none."""
    key = _key(surfaces, eye_m, hits, facets.cell)
    place = np.minimum(np.searchsorted(facets.key, key), len(facets.key) - 1)
    if not len(facets.key):
        return np.full(len(key), -1)
    return np.where(facets.key[place] == key, place, -1)


def nearest(groups: Sequence[Facets], point_m: Floats, facing: Floats) -> Ints:
    """(h,) of all facets of the groups, counted through, the one nearest to each point and turned like it (h, 3)."""
    theirs = np.concatenate([np.concatenate([f.centre_m, TURNED_AWAY_M * f.normal], axis=1) for f in groups])
    mine = np.concatenate([point_m, TURNED_AWAY_M * facing], axis=1).astype(np.float32)
    half_square = (0.5 * np.square(theirs).sum(axis=1)).astype(np.float32)
    chosen = np.empty(len(mine), np.intp)
    for first in range(0, len(mine), 1000):
        part = slice(first, first + 1000)
        chosen[part] = (half_square - mine[part] @ theirs.T.astype(np.float32)).argmin(axis=1)
    return chosen


_CELLS: Final = 1_000_000


def _key(surfaces: Surfaces, eye_m: Floats, hits: Spot, cell: float) -> NDArray[np.int64]:
    """Surface and cell in one number."""
    x, y, z = (hits.point_m - eye_m).T.astype(np.float32)
    away = np.maximum(np.hypot(x, y), np.float32(NEAREST_M))
    place = np.empty(len(x), np.int64)
    for lies, cell_of in ((True, _cell_of_ground), (False, _cell_of_wall)):
        chosen = np.flatnonzero(surfaces.level[hits.surface] == lies)
        normal = surfaces.normal[hits.surface[chosen], :2]
        column, row = cell_of(x[chosen], y[chosen], z[chosen], away[chosen], normal)
        place[chosen] = np.floor(column / cell).astype(np.int64) * 1000 + np.floor(row / cell).astype(np.int64)
    key: NDArray[np.int64] = hits.surface.astype(np.int64) * _CELLS + place + _CELLS // 2
    return key


def _cell_of_ground(x: Floats, y: Floats, z: Floats, away: Floats, normal: Floats) -> tuple[Floats, Floats]:
    return np.arctan2(x, y), np.log(np.hypot(away, z))


def _cell_of_wall(x: Floats, y: Floats, z: Floats, away: Floats, normal: Floats) -> tuple[Floats, Floats]:
    normal_x, normal_y = normal.T
    square_on = np.maximum(np.abs(x * normal_x + y * normal_y), np.float32(NEAREST_M))
    return np.arcsinh((y * normal_x - x * normal_y) / square_on), np.arcsinh(z / away)
