"""How high the sun must stand, in each direction, to reach points on walls and on the ground.

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
Ints = NDArray[np.signedinteger]

DIRECTIONS: Final = 144  # of 2.5 degrees; many points together turn far more smoothly than one
PAIRS_AT_ONCE: Final = 400_000  # points x walls looked at together; keeps the work in the processor's cache


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
        _raise(tangent[part], surfaces, point_m[part].astype(np.float32), normal[part].astype(np.float32))
    return np.degrees(np.arctan(tangent))


def _raise(tangent: Floats, surfaces: Surfaces, point_m: Floats, normal: Floats) -> None:
    """Lifts the tangents to the walls before each point, in the directions that each wall spans."""
    directions = tangent.shape[1]
    point, wall = _facing(surfaces, point_m, normal)
    east, north = point_m[:, 0][point], point_m[:, 1][point]
    x, y = surfaces.start_m[:, 0][wall] - east, surfaces.start_m[:, 1][wall] - north
    end_x, end_y = surfaces.end_m[:, 0][wall] - east, surfaces.end_m[:, 1][wall] - north
    first, count = _span(x, y, end_x, end_y, directions)
    step = np.arange(count.sum(), dtype=np.int32) - np.repeat((np.cumsum(count) - count).astype(np.int32), count)
    direction = np.repeat(first, count) + step
    direction -= np.where(direction >= directions, np.int32(directions), np.int32(0))
    towards = np.radians(direction_deg(directions)).astype(np.float32)
    rise = (surfaces.top_m[wall] - point_m[:, 2][point]) / np.minimum(x * end_y - y * end_x, -1e-9)
    tangents = np.repeat(rise * (end_y - y), count) * np.sin(towards)[direction]
    tangents -= np.repeat(rise * (end_x - x), count) * np.cos(towards)[direction]
    np.maximum.at(tangent.reshape(-1), np.repeat(point * directions, count) + direction, tangents)


def _span(x: Floats, y: Floats, end_x: Floats, end_y: Floats, directions: int) -> tuple[Ints, Ints]:
    """(p,) the first direction whose own bearing meets each wall, clockwise from its start, and how many do."""
    steps = np.float32(directions / (2 * np.pi))
    begins, ends = np.arctan2(x, y) * steps, np.arctan2(end_x, end_y) * steps
    width = np.where(ends < begins, ends + np.float32(directions), ends) - begins
    first = np.ceil(begins - 0.5).astype(np.int32)
    count = np.floor(begins + width - 0.5).astype(np.int32) - first + 1
    seen_from_outside = (count > 0) & (width <= directions / 2)
    return first % directions, np.where(seen_from_outside, count, 0)


def _facing(surfaces: Surfaces, point_m: Floats, normal: Floats) -> tuple[Ints, Ints]:
    """(p,) point and wall of every pair where the wall shows its outside, rises higher, and lies in front."""
    outwards = surfaces.normal[: surfaces.ground, :2]
    outside = point_m[:, :2] @ outwards.T > (surfaces.start_m * outwards).sum(axis=1) + NEAREST_M
    plane = (point_m[:, :2] * normal[:, :2]).sum(axis=1, keepdims=True)
    before = (normal[:, :2] @ surfaces.start_m.T > plane) | (normal[:, :2] @ surfaces.end_m.T > plane)
    before |= np.abs(normal[:, 2:]) > 0.5
    higher = surfaces.top_m > point_m[:, 2:]
    point, wall = np.divmod(np.flatnonzero(outside & higher & before).astype(np.int32), np.int32(surfaces.ground))
    return point, wall
