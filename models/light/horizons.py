"""How high the sun must stand, in each direction, to reach a point on a wall or on the ground.

        sun \\   |\\  top of the wall opposite
             \\  |  \\
              \\ |    \\  height asked for
     __________\\|______x_______________
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from models.light.rays import NEAREST_M, Surfaces

Floats = NDArray[np.floating]
Ints = NDArray[np.intp]

DIRECTIONS: Final = 180  # of 2 degrees; the lit shares of many points together turn far more smoothly than one point's
PAIRS_AT_ONCE: Final = 200_000  # points x walls looked at together; keeps the work in the processor's cache


def direction_deg(directions: int = DIRECTIONS) -> Floats:
    """(directions,) the bearing in the middle of each."""
    return (np.arange(directions) + 0.5) * (360.0 / directions)


def horizons(surfaces: Surfaces, point_m: Floats, normal: Floats, directions: int = DIRECTIONS) -> Floats:
    """(k, directions) elevation in degrees of what stands before each point.

    point_m, normal: (k, 3). Buildings count from the ground up. Behind a wall's own plane the answer means nothing.
    """
    tangent = np.zeros((len(point_m), directions), np.float32)
    at_once = max(1, PAIRS_AT_ONCE // max(surfaces.ground, 1))
    for first in range(0, len(point_m) if surfaces.ground else 0, at_once):
        part = slice(first, first + at_once)
        _raise(tangent[part], surfaces, point_m[part].astype(np.float32), normal[part])
    return np.degrees(np.arctan(tangent))


def _raise(tangent: Floats, surfaces: Surfaces, point_m: Floats, normal: Floats) -> None:
    """Lifts the tangents to the walls before each point, in the directions that each wall spans."""
    directions = tangent.shape[1]
    point, wall = _facing(surfaces, point_m, normal)
    x, y = (surfaces.start_m[wall] - point_m[point, :2]).T
    along_x, along_y = surfaces.along_m[wall].T
    steps = np.float32(directions / (2 * np.pi))
    begins, ends = np.arctan2(x, y) * steps, np.arctan2(x + along_x, y + along_y) * steps
    first = np.ceil(begins - 0.5).astype(np.int32)
    last = np.floor(begins + (ends - begins) % directions - 0.5).astype(np.int32)  # clockwise, seen from outside
    count = np.where(last - first > directions / 2, 0, np.maximum(last - first + 1, 0))
    pair = np.repeat(np.arange(len(count)), count)
    direction = (first[pair] + np.arange(len(pair)) - np.repeat(np.cumsum(count) - count, count)) % directions
    towards = np.radians(direction_deg(directions)).astype(np.float32)
    turn = np.sin(towards)[direction] * along_y[pair] - np.cos(towards)[direction] * along_x[pair]
    rise = (surfaces.top_m[wall] - point_m[point, 2]) / (x * along_y - y * along_x)
    np.maximum.at(tangent.reshape(-1), point[pair] * directions + direction, rise[pair] * turn)


def _facing(surfaces: Surfaces, point_m: Floats, normal: Floats) -> tuple[Ints, Ints]:
    """(p,) point and wall of every pair where the wall shows its outside, rises higher, and lies in front."""
    x = surfaces.start_m[:, 0] - point_m[:, :1]
    y = surfaces.start_m[:, 1] - point_m[:, 1:2]
    along_x, along_y = surfaces.along_m[:, 0], surfaces.along_m[:, 1]
    outside = x * along_y - y * along_x < -NEAREST_M
    higher = surfaces.top_m > point_m[:, 2:]
    begins = x * normal[:, :1] + y * normal[:, 1:2]
    ends = begins + along_x * normal[:, :1] + along_y * normal[:, 1:2]
    before = (np.maximum(begins, ends) > 0) | (np.abs(normal[:, 2:]) > 0.5)
    point, wall = np.nonzero(outside & higher & before)
    return point, wall
