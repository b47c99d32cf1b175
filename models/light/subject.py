"""From what is fixed about a place, and a sky, to the light on the subject and behind it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from models.light.lamps import upright_share
from models.light.patches import clear_luminance, overcast_luminance, places
from models.light.sunlight import sunlight
from models.light.transport import BEARINGS, OWN_DIRECTIONS, PLANES, UP, Coefficients
from models.light.view import GROUND, OPEN, STRIP_DEG, STRIPS, WALL
from models.sky.daylight import OpenSky, overcast_weight
from models.sky.dome import unit_vectors
from models.sky.sun import SUN_DEG

Floats = NDArray[np.floating]
Bools = NDArray[np.bool_]

HALF_VIEW_DEG: Final = 20.0
PARTS: Final = ("sunlit wall", "shaded wall", "ground", "sky", "leaves")


class Part(NamedTuple):
    """A part of the backdrop: its share of the view, 0..1, and its mean luminance."""

    share: float
    luminance_cd_m2: float


@dataclass(frozen=True, slots=True, eq=False)
class LightSeries:
    """Light at n instants, for m camera bearings.

    illuminance_lx: (n, 9), planes facing BEARINGS and up. looking_deg: (m,). backdrop_cd_m2: (n, m), mean luminance
    20 degrees to each side and from 5 below to 25 above the eye, the sun's disc left out. part_share, part_cd_m2:
    (n, m, 5), share of the view and mean luminance of PARTS; shares times means add up to the backdrop.
    """

    illuminance_lx: Floats
    backdrop_cd_m2: Floats
    looking_deg: tuple[float, ...]
    part_share: Floats
    part_cd_m2: Floats

    def among(self, chosen: Bools, other: LightSeries) -> LightSeries:
        """The other series at the chosen instants (n,), this one at the rest; each as long as its own instants."""
        whole = []
        for name in _ARRAYS:
            mine, theirs = getattr(self, name), getattr(other, name)
            whole.append(np.empty((len(chosen), *mine.shape[1:]), mine.dtype))
            whole[-1][chosen], whole[-1][~chosen] = theirs, mine
        return LightSeries(whole[0], whole[1], self.looking_deg, whole[2], whole[3])

    def parts(self, instant: int, looking_deg: float) -> dict[str, Part]:
        """What the backdrop along one of the bearings is made of, by name; parts not in sight left out."""
        shares, means = (
            array[instant, self.looking_deg.index(looking_deg)] for array in (self.part_share, self.part_cd_m2)
        )
        return {
            name: Part(float(share), float(mean))
            for name, share, mean in zip(PARTS, shares, means, strict=True)
            if share > 0
        }


_ARRAYS: Final = ("illuminance_lx", "backdrop_cd_m2", "part_share", "part_cd_m2")


def light_over(
    fixed: Coefficients,
    elevation_deg: ArrayLike,
    azimuth_deg: ArrayLike,
    sky: OpenSky,
    oktas: ArrayLike = 0.0,
    direct_transmittance: ArrayLike | None = None,
    lamps_lx: ArrayLike = 0.0,
    looking_deg: Sequence[float] = BEARINGS,
) -> LightSeries:
    """Light at each of n instants. Elevations geometric; sky: what falls on open level ground and square to the sun.

    direct_transmittance: share of the direct sun that reaches the subject itself; None: from the scene's own walls and
    canopies. Lamps: the average on level ground, added; see `_from_lamps`.
    """
    elevation = np.nan_to_num(np.atleast_1d(np.asarray(elevation_deg, float)), nan=-90.0)
    azimuth = np.nan_to_num(np.atleast_1d(np.asarray(azimuth_deg, float))) % 360.0
    diffuse, direct, lamps, cloud = (
        np.broadcast_to(np.asarray(value, float), elevation.shape)
        for value in (sky.diffuse_lx, sky.direct_normal_lx, lamps_lx, overcast_weight(np.asarray(oktas, float)))
    )
    outlook = _outlook(looking_deg)
    direct = np.where(elevation > SUN_DEG, direct, 0.0)
    reflected, own, lit = _from_sun(fixed, outlook, elevation, azimuth, direct)
    answers = _from_sky(fixed, outlook, elevation, azimuth, cloud) * diffuse[:, None]
    answers += _from_lamps(fixed, outlook) * lamps[:, None]
    answers[:, : reflected.shape[1]] += reflected
    through = direct_transmittance
    if through is None:
        through = own_transmittance(fixed, elevation, azimuth)
    square_on = np.maximum(unit_vectors(azimuth, elevation) @ PLANES.T, 0.0)
    answers[:, : UP + 1] += square_on * (direct * np.asarray(through, float))[:, None]
    return _series(fixed, outlook, tuple(looking_deg), answers, own, lit)


def own_transmittance(fixed: Coefficients, elevation_deg: Floats, azimuth_deg: Floats) -> Floats:
    """(n,) share of the direct sun that walls and canopies let through to the subject; no refraction, no disc."""
    direction = (azimuth_deg * (OWN_DIRECTIONS / 360.0)).astype(np.intp) % OWN_DIRECTIONS
    free = elevation_deg > fixed.own_horizon_deg[direction]
    return free * fixed.leaves.lets_through(azimuth_deg, elevation_deg)


def _outlook(looking_deg: Sequence[float]) -> Floats:
    """(m, STRIPS) how much of each camera's view each strip fills."""
    middle = (np.arange(STRIPS) + 0.5) * STRIP_DEG
    off = np.abs((middle - np.array(looking_deg, float)[:, None] + 180.0) % 360.0 - 180.0)
    inside = np.clip((HALF_VIEW_DEG - off) / STRIP_DEG + 0.5, 0.0, 1.0)
    share: Floats = inside * STRIP_DEG / (2 * HALF_VIEW_DEG)
    return share


def _of_strips(rows: Floats, kind: int) -> Floats:
    """The rows of one kind, WALL, GROUND or OPEN, of an array that begins with the planes'."""
    return rows[UP + 1 + kind * STRIPS : UP + 1 + (kind + 1) * STRIPS]


def _from_sky(
    fixed: Coefficients, outlook: Floats, elevation_deg: Floats, azimuth_deg: Floats, cloud: Floats
) -> Floats:
    """(n, 9 + 3 m) planes, walls, ground and sky for each lx of diffuse light on open level ground."""
    kinds = [outlook @ _of_strips(fixed.sky, kind) for kind in (WALL, GROUND, OPEN)]
    rows = np.concatenate([fixed.sky[: UP + 1], *kinds]).astype(np.float32)
    sun = places(azimuth_deg, elevation_deg)
    table = clear_luminance(sun.cells) @ rows.T
    answer = cloud[:, None] * (rows @ overcast_luminance())
    for corner in range(4):
        answer += (sun.share[:, corner] * (1.0 - cloud))[:, None] * table[sun.corner[:, corner]]
    return answer


def _from_sun(
    fixed: Coefficients, outlook: Floats, elevation_deg: Floats, azimuth_deg: Floats, direct_lx: Floats
) -> tuple[Floats, Floats, Floats]:
    """What the sun on walls and ground adds: (n, 9 + 2 m) planes, walls, ground; and (n, m) walls at first return.

    Besides, (n, m) the share of each view that is sunlit wall.
    """
    weight, fills = _weights(fixed, outlook)
    added, lit = np.zeros((len(direct_lx), weight.shape[1])), np.zeros((len(direct_lx), len(outlook)))
    up = np.flatnonzero(direct_lx > 0)
    if len(up):
        for_each_lx, lit[up] = sunlight(fixed, weight, fills, elevation_deg[up], azimuth_deg[up])
        added[up] = for_each_lx * direct_lx[up, None]
    first_return = UP + 1 + 2 * len(outlook)
    return added[:, :first_return], added[:, first_return:], lit


def _weights(fixed: Coefficients, outlook: Floats) -> tuple[Floats, Floats]:
    """What each lx of the sun on a point does, (k, 9 + 3 m), and how much of each view the point fills, (k, m).

    Planes; walls as lit by way of other facets; ground, its own first return with it; and walls at first return.
    """
    kinds = [outlook @ _of_strips(fixed.bounced, kind) for kind in (WALL, GROUND)]
    rows = np.concatenate([fixed.bounced[: UP + 1], *kinds])
    weight = rows.T[fixed.point_facet] * fixed.point_share[:, None]
    fills = outlook.T[fixed.point_strip] * fixed.point_weight[:, None]
    first_return = fills * (fixed.facet_reflectance / np.pi)[fixed.point_facet, None]
    lies = np.abs(fixed.facet_normal[fixed.point_facet, 2:]) > 0.5
    weight[:, weight.shape[1] - len(outlook) :] += first_return * lies
    return np.concatenate([weight, first_return * ~lies], axis=1), fills


def _from_lamps(fixed: Coefficients, outlook: Floats) -> Floats:
    """(9 + 3 m,) planes, walls, ground and sky for each lx that the lamps give on level ground, on the average."""
    of_wall, of_ground = fixed.reflectance
    upright = upright_share(of_ground)
    share = outlook @ fixed.made_of[:OPEN].T
    walls, ground = share[:, WALL] * of_wall * upright / np.pi, share[:, GROUND] * of_ground / np.pi
    return np.concatenate([np.full(UP, upright), [1.0], walls, ground, np.zeros(len(outlook))])


def _series(
    fixed: Coefficients, outlook: Floats, looking_deg: tuple[float, ...], answers: Floats, own: Floats, lit: Floats
) -> LightSeries:
    """Adds what canopies send down, and parts the walls into sunlit and shaded. own: (n, m) the sun's first return."""
    cameras = len(outlook)
    planes, seen = answers[:, : UP + 1], answers[:, UP + 1 :].reshape(len(answers), 3, cameras)
    behind_leaves = planes @ (outlook @ fixed.leaf_strips).T
    share = np.broadcast_to((outlook @ fixed.made_of.T).T, (len(answers), 4, cameras))
    walls, ground, open_sky, leaves = (share[:, kind] for kind in range(4))
    lit = np.clip(lit, 0.0, walls)
    shaded_mean = _mean(seen[:, WALL], walls)
    shares = np.stack([lit, walls - lit, ground, open_sky, leaves], axis=2)
    means = np.stack(
        [
            np.where(lit > 0, shaded_mean + _mean(own, lit), 0.0),
            shaded_mean,
            _mean(seen[:, GROUND], ground),
            _mean(seen[:, OPEN], open_sky),
            _mean(behind_leaves, leaves),
        ],
        axis=2,
    )
    backdrop = seen.sum(axis=1) + own + behind_leaves
    return LightSeries(planes + planes @ fixed.leaf_planes.T, backdrop, looking_deg, shares, means)


def _mean(total: Floats, share: Floats) -> Floats:
    return np.divide(total, share, out=np.zeros_like(total), where=share > 1e-9)
