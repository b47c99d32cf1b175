"""One look round over a row of walls: which wall stands in which direction, and how far off.

                  bin k, bearing (k + 0.5) * 360 / n
                  |   /
        start ----x--+---- end     a wall seen from outside runs clockwise from start to end, so it fills the bins
          \\       | /      /        from the bearing of its start to that of its end: only those are looked at
           \\      |/    /
            \\     o  /             o the eye; x the point of the wall on the bin's own bearing

A wall is asked only about the bins that it spans: far walls span few, so the work grows with the number of walls.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from models.street.rings import Floats, Whole
from models.street.scene import REACH_M, Walls


@dataclass(frozen=True, slots=True, eq=False)
class Hits:
    """m meetings of a bearing with a wall: which bin, which wall, distance_m along the bearing; all (m,)."""

    bin: Whole
    wall: Whole
    distance_m: Floats


def look_round(walls: Walls, directions: int, candidates: NDArray[np.bool_]) -> Hits:
    """Every wall among the candidates (n,) that shows its outside to the origin, on every bearing it spans.

    Walls seen from behind are skipped: from outside a building a nearer wall of it always hides them.
    """
    a, b = walls.start_m, walls.end_m
    shows = a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0] < 0
    near = np.all((np.minimum(a, b) < REACH_M) & (np.maximum(a, b) > -REACH_M), axis=1)
    chosen = np.flatnonzero(shows & near & candidates)
    a, b = a[chosen], b[chosen]
    first, count = _bins_spanned(a, b, directions)
    which = np.repeat(np.arange(len(chosen)), count)
    bins = np.arange(len(which)) + np.repeat(first - (np.cumsum(count) - count), count)
    distance = _distance_m(a, b, which, bins % directions, directions)
    within = distance <= REACH_M
    return Hits(bins[within] % directions, chosen[which[within]], distance[within])


def _bins_spanned(a: Floats, b: Floats, directions: int) -> tuple[Whole, Whole]:
    """First bin and number of bins whose own bearing lies from a to b, both ends in."""
    per_radian = directions / (2 * np.pi)
    low = np.arctan2(a[:, 0], a[:, 1]) * per_radian
    high = np.arctan2(b[:, 0], b[:, 1]) * per_radian
    high = np.where(high < low, high + directions, high)
    first = np.ceil(low - 0.5).astype(np.intp)
    return first, np.floor(high - 0.5).astype(np.intp) - first + 1


def _distance_m(a: Floats, b: Floats, which: Whole, bins: Whole, directions: int) -> Floats:
    """Distance to the point where each bearing meets its wall; a wall seen edge-on keeps to its own length."""
    bearing = (np.arange(directions) + 0.5) * (2 * np.pi / directions)
    east, north = np.sin(bearing)[bins], np.cos(bearing)[bins]
    ax, ay = a[:, 0][which], a[:, 1][which]
    sx, sy = (b - a)[:, 0][which], (b - a)[:, 1][which]
    across = sx * north - sy * east
    share = np.clip((ay * east - ax * north) / np.where(across == 0, 1.0, across), 0.0, 1.0)
    distance: Floats = np.hypot(ax + share * sx, ay + share * sy)
    return distance
