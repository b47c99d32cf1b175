"""One instant over many spots: what becomes of the sun behind each one's own skyline and canopies, all in one go."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from models.sky.sun import SUN_DEG, refracted_deg
from models.street.disc import CANOPY_MARGIN_DEG, Edges, SunStates, Through, covered, past_edges, told
from models.street.rings import Floats
from models.street.scene import Canopy
from models.street.skyline import Skyline

FROM, WIDTH, _LOW, HIGH, IS_ROOF, JANUARY = range(6)  # columns of packed canopies; twelve months from JANUARY on
COLUMNS = JANUARY + 12


@dataclass(frozen=True, slots=True, eq=False)
class Sight:
    """A skyline with its canopies packed, one row each: see `sight_of`."""

    skyline: Skyline
    canopies: Floats


def sight_of(skyline: Skyline) -> Sight:
    return Sight(skyline, np.array([_row(canopy) for canopy in skyline.canopies]).reshape(-1, COLUMNS))


def sun_states_over(
    sights: Sequence[Sight], elevation_deg: ArrayLike, azimuth_deg: ArrayLike, months: ArrayLike
) -> SunStates:
    """The sun at each of n spots, (n,): the same as `sun_states` for one after the other."""
    shape = (len(sights),)
    elevation, azimuth, month = (np.broadcast_to(np.asarray(v), shape) for v in (elevation_deg, azimuth_deg, months))
    up = np.flatnonzero(elevation >= SUN_DEG)
    seen, bearing = np.asarray(refracted_deg(elevation[up].astype(float))), azimuth[up]
    above = [sights[k] for k in up.tolist()]
    return told(shape, up, past_edges(seen, _edges(above, bearing)), _through(above, seen, bearing, month[up]))


def _edges(sights: Sequence[Sight], bearing_deg: Floats) -> Edges:
    """What each skyline shows on the two bins beside the sun."""
    skylines = [sight.skyline for sight in sights]
    bins = np.array([len(skyline.elevation_deg) for skyline in skylines], np.intp)
    place = bearing_deg * (bins / 360) - 0.5
    low = np.floor(place).astype(np.intp)
    beside = (low % bins, (low + 1) % bins)
    pairs = [list(zip(skylines, bin.tolist(), strict=True)) for bin in beside]
    return Edges(
        np.array([[skyline.elevation_deg[k] for skyline, k in pair] for pair in pairs], float),
        np.array([[skyline.doubt_deg[k] for skyline, k in pair] for pair in pairs], float),
        np.array([[skyline.obstacle[k] for skyline, k in pair] for pair in pairs], np.int32),
        place - low,
    )


def _through(sights: Sequence[Sight], seen_deg: Floats, bearing_deg: Floats, month: NDArray[np.int_]) -> Through:
    """Every canopy of every spot is one row; those the sun is near are worked out and gathered by their spot."""
    n = len(sights)
    rows = np.concatenate([sight.canopies for sight in sights] or [np.zeros((0, COLUMNS))])
    spot = np.repeat(np.arange(n), [len(sight.canopies) for sight in sights])
    turn = (bearing_deg[spot] - rows[:, FROM] + CANOPY_MARGIN_DEG) % 360
    near = turn <= rows[:, WIDTH] + 2 * CANOPY_MARGIN_DEG
    rows, spot = rows[near], spot[near]
    start, width, low, high = rows[:, FROM : HIGH + 1].T
    cover = covered(start, width, low, high, seen_deg[spot], bearing_deg[spot])
    lets = rows[np.arange(len(rows)), JANUARY + month[spot] - 1]
    is_roof = rows[:, IS_ROOF] > 0
    light, leaves, roof = np.ones(n), np.zeros(n), np.zeros(n)
    np.add.at(roof, spot[is_roof], cover[is_roof])
    np.multiply.at(light, spot[~is_roof], (1 - cover * (1 - lets))[~is_roof])
    np.maximum.at(leaves, spot[~is_roof], cover[~is_roof])
    roof = np.minimum(roof, 1.0)
    return Through(light * (1 - roof), leaves, roof)


def _row(canopy: Canopy) -> list[float]:
    shape = (canopy.bearing_from_deg, canopy.width_deg, canopy.elevation_from_deg, canopy.elevation_to_deg)
    return [*shape, canopy.is_roof, *(canopy.transmittance(month) for month in range(1, 13))]
