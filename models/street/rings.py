"""Rings of footprints laid end to end, so that a whole town can be worked on at once.

points   a b c d | e f g | h i j k      three rings, the second a courtyard of the first
first    0         4       7
size     4         3       4
owner    0         0       1            which of the things given they belong to
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import chain
from typing import Any

import numpy as np
from numpy.typing import NDArray

from models.problems import InputProblem

Point = tuple[float, float]
Floats = NDArray[np.float64]
Whole = NDArray[np.intp]
LEAST_AREA_M2 = 0.01  # a ring round less than a hand's breadth square encloses nothing


@dataclass(frozen=True, eq=False)
class Rings:
    """r rings of n points in all: points (n, 2), unclosed, none repeated; first, size, owner, hole (bool): (r,)."""

    points: Floats
    first: Whole
    size: Whole
    owner: Whole
    hole: NDArray[np.bool_]

    @cached_property
    def following(self) -> Whole:
        """(n,) index of the next point of the same ring."""
        after = np.arange(1, len(self.points) + 1)
        after[self.first + self.size - 1] = self.first
        return after

    @cached_property
    def area_m2(self) -> Floats:
        """(r,) counter-clockwise positive; taken about each ring's first point to keep the digits."""
        near = self.points - self.each(self.points[self.first])
        cross = near[:, 0] * near[self.following, 1] - near[self.following, 0] * near[:, 1]
        areas: Floats = np.add.reduceat(cross, self.first) / 2
        return areas

    @cached_property
    def backward(self) -> NDArray[np.bool_]:
        """(r,) rings with their outside on the left hand: outlines drawn clockwise, courtyards the other way."""
        turned: NDArray[np.bool_] = (self.area_m2 > 0) == self.hole
        return turned

    def each(self, per_ring: NDArray[Any]) -> NDArray[Any]:
        """(r, ...) values of rings as (n, ...) values of points."""
        return np.repeat(per_ring, self.size, axis=0)

    def only(self, keep: NDArray[np.bool_]) -> Rings:
        """The rings chosen by a mask (r,)."""
        return laid_out(self.points[self.each(keep)], self.size[keep], self.owner[keep], self.hole[keep])


def laid_out(points: Floats, size: Whole, owner: Whole, hole: NDArray[np.bool_]) -> Rings:
    return Rings(points, np.cumsum(size) - size, size, owner, hole)


def rings_of(outlines: Sequence[Sequence[Sequence[Point]]]) -> Rings:
    """The rings of each thing given, its outline first, then its courtyards; closed or not, drawn either way.

    Rings that enclose nothing are left out, and courtyards of such outlines.
    Raises InputProblem for a coordinate that is not a number.
    """
    found = [(owner, ring, number > 0) for owner, rings in enumerate(outlines) for number, ring in enumerate(rings)]
    found = [item for item in found if len(item[1]) > 2]
    owner = np.array([owner for owner, _, _ in found], np.intp)
    size = np.array([len(ring) for _, ring, _ in found], np.intp)
    points = np.array(list(chain.from_iterable(ring for _, ring, _ in found)), float).reshape(-1, 2)
    require_numbers(np.repeat(owner, size), points)
    raw = laid_out(points, size, owner, np.array([hole for _, _, hole in found], bool))
    if not len(points):
        return raw
    moves = np.any(points != points[raw.following], axis=1)
    size = np.add.reduceat(moves.astype(np.intp), raw.first)
    real = laid_out(points[moves], size[size > 0], owner[size > 0], raw.hole[size > 0])
    if not len(real.points):
        return real
    wide = np.abs(real.area_m2) > LEAST_AREA_M2
    return real.only(wide & np.isin(real.owner, real.owner[wide & ~real.hole]))


def require_numbers(owner: Whole, values: Floats) -> None:
    """Raises InputProblem naming the owner of the first row of values (m, k) that holds no number."""
    bad = owner[~np.isfinite(values).all(axis=1)]
    if len(bad):
        raise InputProblem(f"building {int(bad[0]) + 1}", "a coordinate or height is not a number.")
