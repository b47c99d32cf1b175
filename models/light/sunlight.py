"""What the sun adds by way of walls and ground, for many places of the sun at once.

In one direction each point lights up when the sun rises over the point's own horizon. So for each direction the points
are laid out by that height and added up from below: at any height, the table holds all the points that the sun reaches.

      share lit        ______
                ______|             one step for each point, as high as the point counts
            ___|
        ___|__________________ height of the sun

A wall's light goes with the cosine of the sun's height and the ground's with the sine, so the two are added up apart.
"""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from models.light.horizons import DIRECTIONS, direction_deg
from models.light.transport import HORIZON_STEP_DEG, Coefficients

Floats = NDArray[np.floating]
Ints = NDArray[np.intp]

LEVELS: Final = int(90 / HORIZON_STEP_DEG) + 2


class Between(NamedTuple):
    """n suns in the table: direction: (n, 2) and level: (n, 2) whose neighbours they lie between, and how far along."""

    direction: Ints
    level: Ints
    turn: Floats
    rise: Floats


def sunlight(
    fixed: Coefficients, weight: Floats, lit: Floats, elevation_deg: Floats, azimuth_deg: Floats
) -> tuple[Floats, Floats]:
    """(n, o) answers to each lx of direct sun (square to it), and (n, m) shares of walls that are lit.

    weight: (k, o) what each lx of the sun on a point does to each answer. lit: (k, m) share of a view that each wall
    point fills. Suns at or below the horizon count as on it.
    """
    used, between = _between(elevation_deg, azimuth_deg)
    heading = np.radians(direction_deg()[used])
    normal = fixed.facet_normal[fixed.point_facet]
    facing = np.maximum(normal[:, :1] * np.sin(heading) + normal[:, 1:2] * np.cos(heading), 0.0)
    facing[np.abs(normal[:, 2]) > 0.5] = 0.0
    lying = np.broadcast_to(np.maximum(normal[:, 2:], 0.0), facing.shape)
    on_walls = _look_up(_table(fixed, used, facing, weight), between)
    on_ground = _look_up(_table(fixed, used, lying, weight), between)
    share = _look_up(_table(fixed, used, (facing > 0).astype(float), lit, shade=False), between)
    height = np.radians(np.clip(elevation_deg, 0.0, 90.0))[:, None]
    return on_walls * np.cos(height) + on_ground * np.sin(height), share


def _between(elevation_deg: Floats, azimuth_deg: Floats) -> tuple[Ints, Between]:
    """The directions the suns need, ascending, and where in those each sun stands."""
    place = azimuth_deg * (DIRECTIONS / 360.0) - 0.5
    left = np.floor(place).astype(np.intp)
    pair = np.stack([left, left + 1], axis=1) % DIRECTIONS
    needed = np.zeros(DIRECTIONS, bool)
    needed[pair] = True
    height = np.clip(elevation_deg, 0.0, 90.0) / HORIZON_STEP_DEG
    low = np.floor(height).astype(np.intp)
    levels = np.stack([low, low + 1], axis=1)
    return np.flatnonzero(needed), Between((np.cumsum(needed) - 1)[pair], levels, place - left, height - low)


def _table(fixed: Coefficients, used: Ints, factor: Floats, weight: Floats, shade: bool = True) -> Floats:
    """(directions, LEVELS, o) sums of factor (k, directions) x weight (k, o) over the points the sun reaches."""
    near = fixed.facet_near[fixed.point_facet] if shade else np.zeros(len(factor), bool)
    table = _risen(fixed, used, factor * ~near[:, None], weight)
    if near.any():
        through = fixed.leaves.lets_through(direction_deg()[used, None], np.arange(LEVELS) * HORIZON_STEP_DEG)
        table += through[..., None] * _risen(fixed, used, factor * near[:, None], weight)
    return table


def _risen(fixed: Coefficients, used: Ints, factor: Floats, weight: Floats) -> Floats:
    point, direction = np.nonzero(factor)
    counts = factor[point, direction]
    cell = direction * LEVELS + fixed.point_horizon[point, used[direction]]
    table = np.empty((len(used), LEVELS, weight.shape[1]), np.float32)
    for column in range(weight.shape[1]):
        steps = np.bincount(cell, counts * weight[point, column], len(used) * LEVELS)
        table[..., column] = np.cumsum(steps.reshape(len(used), LEVELS), axis=1)
    return table


def _look_up(table: Floats, between: Between) -> Floats:
    """(n, o) the table at each sun, in straight lines between its entries."""
    answer = np.zeros((len(between.turn), table.shape[2]), np.float32)
    for side in (0, 1):
        across = between.turn if side else 1.0 - between.turn
        for step in (0, 1):
            up = between.rise if step else 1.0 - between.rise
            share = (across * up).astype(np.float32)[:, None]
            answer += share * table[between.direction[:, side], between.level[:, step]]
    return answer
