"""Footprints cut along the light into slices, to read the outline of each shadow off its walls.

along ^   4-----3            The corners' places across the light cut the footprint into slices. A wall is asked only
      |  /|     |            about the slices that it spans; in a slice the walls, sorted along the light, lead in,
      | / | 1---2            out, in, out. Between out and in lies a gap: a yard, a notch.
      |5--+-0
      +--|--|---|--> across
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from models.street.rings import Floats, Rings, Whole

FINEST_M = 1e-7  # corners nearer than this across the light cut no slice between them
CROSSING_M = 1e-6  # walls that change places by more than this inside a slice cross


@dataclass(frozen=True, slots=True, eq=False)
class Slices:
    """p meetings of a wall with a slice, sorted by slice, then along the light; slices by owner, then across.

    slice, wall, owner: (p,). across_m, along_m: (p, 2) at the two sides of the slice.
    """

    slice: Whole
    wall: Whole
    owner: Whole
    across_m: Floats
    along_m: Floats

    def only(self, keep: NDArray[Any]) -> Slices:
        """The meetings chosen by a mask (p,), or by indices in the order of these."""
        return Slices(self.slice[keep], self.wall[keep], self.owner[keep], self.across_m[keep], self.along_m[keep])

    @property
    def starts(self) -> Whole:
        """(s,) index of the nearest wall of each slice."""
        return np.flatnonzero(np.diff(self.slice, prepend=-1))

    @property
    def stops(self) -> Whole:
        """(s,) index of the farthest wall of each slice."""
        return np.flatnonzero(np.diff(self.slice, append=-1))


def slices_of(rings: Rings, turned: Floats) -> Slices:
    """Rings, of owners in rising order, with corners turned (n, 2): across the light, along it."""
    owner = rings.each(rings.owner)
    across = np.round(turned[:, 0] / FINEST_M) * FINEST_M
    order = np.lexsort((across, owner))
    cut = np.append(True, (np.diff(across[order]) > FINEST_M / 2) | (np.diff(owner[order]) > 0))
    rank = np.empty(len(order), np.intp)
    rank[order] = np.cumsum(cut) - 1
    ahead = rank <= rank[rings.following]
    left, right = (np.where(way, np.arange(len(rank)), rings.following) for way in (ahead, ~ahead))
    wall, place = places(rank[right] - rank[left])
    found = rank[left][wall] + place
    sides = across[order][cut][np.stack([found, found + 1], axis=1)]
    left, right = left[wall, None], right[wall, None]
    share = (sides - across[left]) / (across[right] - across[left])
    along = turned[left, 1] * (1 - share) + turned[right, 1] * share
    by_slice = found + _below_one(along.sum(axis=1))
    return Slices(found, wall, owner[wall], sides, along).only(np.argsort(by_slice))


def crossed(slices: Slices) -> Whole:
    """Owners whose walls cross inside a slice."""
    out_of_order = np.diff(slices.along_m, axis=0).min(axis=1, initial=np.inf) < -CROSSING_M
    return np.unique(slices.owner[:-1][out_of_order & (np.diff(slices.slice) == 0)])


def envelopes(slices: Slices, near_m: Floats, far_m: Floats) -> tuple[Floats, Whole]:
    """Corners (across, along) of what lies between each owner's nearest walls, thrown by near_m (p,), and its farthest
    walls, thrown by far_m; and whose each corner is, rising."""
    out, out_owner = _path(slices.only(slices.starts), near_m[slices.starts])
    back, back_owner = _path(slices.only(slices.stops), far_m[slices.stops])
    corners, owner = np.concatenate([out, back[::-1]]), np.concatenate([out_owner, back_owner[::-1]])
    order = np.argsort(owner, kind="stable")
    return corners[order], owner[order]


def lit_gaps(slices: Slices, near_m: Floats, far_m: Floats) -> tuple[Floats, Whole]:
    """Corners (g, 4, 2) of what stays in the light between a wall that leads out, thrown by far_m, and the next one in,
    thrown by near_m (p,); and whose gap it is (g,), rising."""
    _, position = places(np.diff(slices.starts, append=len(slices.slice)))
    out = np.flatnonzero((position[:-1] % 2 == 1) & (np.diff(slices.slice) == 0))
    low, high = slices.along_m[out] + far_m[out, None], slices.along_m[out + 1] + near_m[out + 1, None]
    lit = (high - low).max(axis=1, initial=-np.inf) > CROSSING_M
    out, low, high = out[lit], low[lit], high[lit]
    first, last = _runs(slices.wall[out], slices.wall[out + 1], slices.slice[out])
    sides = [np.stack([side[first, 0], side[last, 1]], axis=1) for side in (slices.across_m[out], low, high)]
    return _where_open(*sides), slices.owner[out][first]


def _where_open(across: Floats, low: Floats, high: Floats) -> Floats:
    """Corners (g, 4, 2) between two lines given at two sides (g, 2); where they meet in between, it ends in a point."""
    room = high - low
    meet = room[:, :1] / np.where(room[:, :1] == room[:, 1:], 1.0, room[:, :1] - room[:, 1:])
    ends = np.where(room >= 0, (0.0, 1.0), meet)
    across, low, high = (side[:, :1] * (1 - ends) + side[:, 1:] * ends for side in (across, low, high))
    along = np.concatenate([low, np.maximum(low, high)[:, ::-1]], axis=1)
    return np.stack([np.concatenate([across, across[:, ::-1]], axis=1), along], axis=-1)


def _runs(wall_out: Whole, wall_in: Whole, slice: Whole) -> tuple[Whole, Whole]:
    """First and last of gaps that go on between the same two walls from slice to slice, by rising wall_out."""
    order = np.lexsort((slice, wall_in, wall_out))
    goes_on = np.diff(slice[order]) == 1
    for wall in (wall_out, wall_in):
        goes_on &= np.diff(wall[order]) == 0
    starts, ends = np.append(True, ~goes_on), np.append(~goes_on, True)
    return order[starts[: len(order)]], order[ends[: len(order)]]


def places(size: Whole) -> tuple[Whole, Whole]:
    """Of things of these sizes laid end to end: which thing each element belongs to, and its place in it."""
    which = np.repeat(np.arange(len(size)), size)
    return which, np.arange(len(which)) - np.repeat(np.cumsum(size) - size, size)


def _path(side: Slices, throw_m: Floats) -> tuple[Floats, Whole]:
    """Corners across along one wall of each slice; within a wall there are none."""
    goes_on = (np.diff(side.wall) == 0) & (np.diff(side.owner) == 0)
    keep = ~np.stack([np.append(False, goes_on), np.append(goes_on, False)], axis=1).ravel()
    corners = np.stack([side.across_m, side.along_m + throw_m[:, None]], axis=-1).reshape(-1, 2)[keep]
    owner = np.repeat(side.owner, 2)[keep]
    fresh = np.append(True, np.any(np.diff(corners, axis=0) != 0, axis=1) | (np.diff(owner) > 0))
    return corners[fresh], owner[fresh]


def _below_one(values: Floats) -> Floats:
    low, high = values.min(), values.max()
    scaled: Floats = (values - low) / ((high - low) * (1 + 1e-9) or 1.0)
    return scaled
