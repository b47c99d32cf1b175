"""What the edges of walls, leaves and roofs leave of the sun's disc.

    ___
  /     \\        edge_deg: how far the disc's centre has passed the edge, up or to the side
 |   o   |  ^
~~\\~~~~~/~~~|~~  an edge: share of the disc beyond it = a circle's segment
"""

from __future__ import annotations

from typing import Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray

from models.street.rings import Floats

State = Literal["down", "open", "leaves", "behind"]
STATES: tuple[State, ...] = ("down", "open", "leaves", "behind")
NOTHING, MEASURED, ROOF = -1, -2, -3  # what stands there, where it is no building
SUN_RADIUS_DEG = 0.27  # half the sun's disc, 16' to three figures (Astronomical Almanac, from memory)
CANOPY_MARGIN_DEG = 5.0  # the disc's half width in bearing stays below it up to 86 degrees high


class SunStates(NamedTuple):
    """(n,) each. code: int8, indexes STATES. transmittance: what arrives of the direct sun. obstacle: what it is behind
    (a building index, MEASURED or ROOF), else NOTHING."""

    code: NDArray[np.int8]
    transmittance: Floats
    too_close: NDArray[np.bool_]
    obstacle: NDArray[np.int32]


class Edges(NamedTuple):
    """A skyline at n bearings: what its bins before and after each show, (2, n), and how far the bearing lies from the
    first to the second, (n,) 0..1."""

    elevation_deg: Floats
    doubt_deg: Floats
    obstacle: NDArray[np.int32]
    place: Floats


class Past(NamedTuple):
    """(n,) each: share of the disc above the skyline, what hides it where less than half shows, whether it is too
    close to call."""

    share: Floats
    blocker: NDArray[np.int32]
    too_close: NDArray[np.bool_]


class Through(NamedTuple):
    """(n,) each: what all canopies let through together, and the share of the disc behind leaves and under a roof."""

    light: Floats
    leaves: Floats
    roof: Floats


def past_edges(seen_deg: Floats, edges: Edges) -> Past:
    """The disc against a skyline: the shares that two neighbouring bins let through blend between them."""
    above = seen_deg - edges.elevation_deg
    parts = _disc_past(above)
    weights = np.stack([1 - edges.place, edges.place])
    share = weights[0] * parts[0] + weights[1] * parts[1]
    hides = weights * (1 - parts)
    blocker = np.where(hides[0] >= hides[1], edges.obstacle[0], edges.obstacle[1])
    solid = (edges.obstacle != NOTHING) | (edges.doubt_deg > 0)  # a bare horizon is no edge to be doubted
    near = np.abs(above) < np.maximum(SUN_RADIUS_DEG, edges.doubt_deg)
    close = ((parts[0] >= 0.5) != (parts[1] >= 0.5)) | (solid & near).any(axis=0)
    return Past(share, np.where(share < 0.5, blocker, np.int32(NOTHING)), close & solid.any(axis=0))


def covered(
    bearing_from_deg: float | Floats,
    width_deg: float | Floats,
    elevation_from_deg: float | Floats,
    elevation_to_deg: float | Floats,
    seen_deg: Floats,
    bearing_deg: Floats,
) -> Floats:
    """(n,) share of the disc inside a canopy's range; edges of a ring all round and of the zenith do not count.

    One canopy for all, or one for each.
    """
    cover = _disc_past(seen_deg - elevation_from_deg)
    below = _disc_past(elevation_to_deg - seen_deg)
    cover *= np.where(np.less(elevation_to_deg, 90), below, 1.0)
    middle = np.add(bearing_from_deg, np.divide(width_deg, 2))
    off = np.abs((bearing_deg - middle + 180) % 360 - 180)
    beside = _disc_past((np.divide(width_deg, 2) - off) * np.cos(np.radians(seen_deg)))
    cover *= np.where(np.less(width_deg, 360), beside, 1.0)
    return cover


def told(shape: tuple[int, ...], up: NDArray[np.intp], past: Past, through: Through) -> SunStates:
    """States of this shape from what is known of the instants at which the sun is up; the rest is "down"."""
    out = SunStates(*(np.zeros(shape, kind) for kind in (np.int8, float, bool, np.int32)))
    behind = past.blocker != NOTHING
    roofed = ~behind & (through.roof >= 0.5)
    out.code[up] = np.select(
        [behind | roofed, through.leaves >= 0.5], [STATES.index("behind"), STATES.index("leaves")], 1
    )
    out.transmittance[up] = past.share * through.light
    out.too_close[up] = past.too_close | (~behind & (through.roof > 0.001) & (through.roof < 0.999))
    out.obstacle[:] = NOTHING
    out.obstacle[up] = np.where(roofed, ROOF, past.blocker)
    return out


def _disc_past(edge_deg: Floats) -> Floats:
    """Share of the sun's disc beyond a straight edge its centre has passed by so many degrees."""
    x = np.clip(edge_deg / SUN_RADIUS_DEG, -1.0, 1.0)
    share: Floats = np.clip(0.5 + (x * np.sqrt(1 - x * x) + np.arcsin(x)) / np.pi, 0.0, 1.0)
    return share
