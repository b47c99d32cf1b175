"""How much light the open sky gives: clear or clouded, from full day down to starlight.

    sun above 10 degrees    irradiance of Ineichen & Perez 2002 x luminous efficacy of Perez et al. 1990
    10 down to 5            the logarithm of the global light passes over into the twilight cubic
    below 5                 the twilight cubic; below -18 starlight
    direct sun              Ineichen and Perez down to 0, then fading with the disc until it has set
    diffuse                 global less direct x sin(height)
    cloud                   Kasten & Czeplak 1980

Heights are geometric. No step anywhere: the published bins of clearness and of height are joined smoothly here.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from models.sky.sun import SUN_DEG, refracted_deg
from models.sky.tables import (
    PEREZ_CLEARNESS_EDGES,
    PEREZ_DIFFUSE,
    PEREZ_DIRECT,
    PEREZ_GLOBAL,
    TWILIGHT_EDGES_DEG,
    TWILIGHT_LOG10_LX,
)
from models.units import FloatArray

SOLAR_W_M2 = 1361.0
"""Total solar irradiance at 1 au (IAU 2015 Resolution B3, nominal)."""

DEW_POINT_C = 10.0
"""Moisture of the air unless given: a mild day in a temperate town. Common practice, no source."""

TURBIDITY = {"clean": 2.0, "town": 3.0, "town haze": 4.0, "hot summer haze": 5.0}
"""Linke turbidity to choose from. The words are ours; the figures are months of the SoDa world map (Remund et al. 2003,
as in pvlib): Helsinki in winter 2.0, Paris over the year 3.2, Milan over the year 4.2 and in its haziest month 5.4."""

BLEND_DEG = (5.0, 10.0)
"""Where the twilight cubic passes over into the irradiance model."""

DARKEST_DEG = -18.0
"""End of astronomical twilight. From there on starlight, 0.0006 lx (USNO Circular 171: 0.0005 lx; others 0.002 lx)."""

EDGE_DEG = 0.5
"""Half the width over which two of the cubics are joined; they differ by 0.015 stop at most where they meet."""

LEAST_DIRECT_LM_W = 10.0
"""Floor of the direct sun's efficacy, ours: in haze Perez's fit runs below zero at the horizon, and the sun would go
out before it sets. It touches direct light under 100 lx only."""

LEAST_DIFFUSE = 0.05
"""Share of global light that the sky gives at least, ours. Binds at turbidity under 1.5, below 7 degrees only."""

_BIN_MIDDLES = np.log([1.0, *PEREZ_CLEARNESS_EDGES, 9.0])
_BIN_MIDDLES = (_BIN_MIDDLES[:-1] + _BIN_MIDDLES[1:]) / 2
"""Logarithm of clearness in the middle of Perez's bins; the last, open one taken up to 9."""


@dataclass(frozen=True)
class OpenSky:
    """Light in the open, lx, each of the shape of the heights asked for (numpy scalars for one height).

    `global_lx` and `diffuse_lx` fall on level ground, `direct_normal_lx` square to the sun;
    global = diffuse + direct x sin(geometric height) while the sun is up.
    """

    global_lx: FloatArray
    diffuse_lx: FloatArray
    direct_normal_lx: FloatArray


@dataclass(frozen=True)
class Irradiance:
    """Clear-sky irradiance, W/m2, and the air mass (pressure-corrected) it came through."""

    global_w_m2: FloatArray
    direct_normal_w_m2: FloatArray
    diffuse_w_m2: FloatArray
    air_mass: FloatArray


def open_sky(
    elevation_deg: float | FloatArray,
    oktas: float | FloatArray = 0.0,
    turbidity: float = TURBIDITY["town"],
    day_of_year: float | FloatArray | None = None,
) -> OpenSky:
    """Light of the open sky for sun heights -90 to 90 degrees (geometric).

    Cloud after Kasten & Czeplak, Solar Energy 24:177-189, 1980: N oktas leave 1 - 0.75 (N/8)^3.4 of the global light.
    Their diffuse share starts at a fixed 0.30; here at the clear sky's own, so that 0 oktas is the clear sky itself.
    Without a day of the year the earth is at its mean distance. Up to turbidity 5 a higher sun is never darker.
    ValueError for oktas outside 0..8 and for turbidity under 1.
    """
    if not np.all((np.asarray(oktas) >= 0) & (np.asarray(oktas) <= 8)):
        raise ValueError(f"cloud is given in oktas, 0 to 8, not {oktas}")
    if not turbidity >= 1.0:
        raise ValueError(f"turbidity {turbidity} is clearer than clean dry air, which is 1")
    height_deg = np.asarray(elevation_deg, dtype=np.float64)
    global_lx, direct_lx = _clear_sky(height_deg, turbidity, day_of_year)
    through = cloud_leaves(oktas)
    global_lx = global_lx * through
    direct_lx = direct_lx * through * (1.0 - overcast_weight(oktas))
    diffuse_lx = global_lx - direct_lx * _sine(height_deg)
    return OpenSky(global_lx[()], diffuse_lx[()], direct_lx[()])


def cloud_leaves(oktas: float | FloatArray) -> FloatArray:
    """The share of the global light that N oktas leave: 1 - 0.75 (N/8)^3.4 (Kasten & Czeplak 1980)."""
    return np.asarray(1.0 - 0.75 * (np.asarray(oktas) / 8.0) ** 3.4)


def overcast_weight(oktas: float | FloatArray) -> FloatArray:
    """How far the sky of N oktas is an overcast one, 0 to 1: (N/8)^2, as the diffuse share of Kasten & Czeplak 1980."""
    return np.square(np.asarray(oktas) / 8.0)


def clear_irradiance(
    elevation_deg: float | FloatArray,
    turbidity: float = TURBIDITY["town"],
    altitude_m: float = 0.0,
) -> Irradiance:
    """Irradiance under a clear sky for geometric heights of 0 and more.

    Ineichen & Perez, Solar Energy 73:151-157, 2002. Air mass by Kasten & Young, Applied Optics 28:4735-4738, 1989, of
    the refracted height, reduced by the pressure of the ICAO standard atmosphere.
    """
    seen_deg = np.asarray(refracted_deg(np.asarray(elevation_deg, dtype=np.float64)))
    sine = np.sin(np.radians(seen_deg))
    air_mass = (1 - 2.25577e-5 * altitude_m) ** 5.25588 / (sine + 0.50572 * (seen_deg + 6.07995) ** -1.6364)
    low, high = np.exp(-altitude_m / 8000), np.exp(-altitude_m / 1250)
    fade = np.exp(-(3.92e-5 * altitude_m + 0.0387) * air_mass * (low + high * (turbidity - 1)))
    square_on = (5.09e-5 * altitude_m + 0.868) * SOLAR_W_M2 * fade
    direct = (0.664 + 0.163 / low) * SOLAR_W_M2 * np.exp(-0.09 * air_mass * (turbidity - 1))
    direct = np.minimum(direct, square_on * (1 - (0.1 - 0.2 * np.exp(-turbidity)) / (0.1 + 0.882 / low)))
    return Irradiance(square_on * sine, direct, (square_on - direct) * sine, air_mass)


def perez_efficacy(
    irradiance: Irradiance,
    zenith_deg: float | FloatArray,
    dew_point_c: float = DEW_POINT_C,
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Luminous efficacy, lm/W, of global, direct normal and diffuse irradiance, by the eight bins as published.

    Perez, Ineichen, Seals, Michalsky & Stewart, Solar Energy 44(5):271-289, 1990, eqs 1-3, 6-8 and Table 4.
    """
    air = _air(irradiance, zenith_deg, dew_point_c)
    bins = np.searchsorted(PEREZ_CLEARNESS_EDGES, air.clearness, side="right")
    return (
        _scattered_efficacy(PEREZ_GLOBAL.T[:, bins], air),
        np.maximum(_direct_efficacy(PEREZ_DIRECT.T[:, bins], air), 0.0),
        _scattered_efficacy(PEREZ_DIFFUSE.T[:, bins], air),
    )


def twilight_lx(elevation_deg: float | FloatArray) -> FloatArray:
    """Global illuminance of a clear moonless sky by the six-bin cubic, its bins joined smoothly; starlight below -18.

    Within 1 % of the published bins, which differ by as much where they meet.
    """
    height_deg = np.maximum(np.asarray(elevation_deg, dtype=np.float64), DARKEST_DEG)
    x = height_deg / 90.0
    cubics = [l0 + x * (l1 + x * (l2 + x * l3)) for l0, l1, l2, l3 in TWILIGHT_LOG10_LX]
    log_lx = cubics[0]
    for edge_deg, below, above in zip(TWILIGHT_EDGES_DEG, cubics, cubics[1:], strict=False):
        log_lx = log_lx + _ramp(height_deg, edge_deg - EDGE_DEG, edge_deg + EDGE_DEG) * (above - below)
    answer: FloatArray = 10.0**log_lx
    return answer


def _clear_sky(
    height_deg: FloatArray, turbidity: float, day_of_year: float | FloatArray | None
) -> tuple[FloatArray, FloatArray]:
    """(global, direct normal) illuminance, lx, under a clear sky."""
    flat_deg = height_deg.ravel()
    global_lx, direct_lx = twilight_lx(flat_deg), np.zeros_like(flat_deg)
    up = np.flatnonzero(flat_deg > SUN_DEG)
    up_deg = flat_deg[up]
    nearness = np.broadcast_to(_nearness(day_of_year), height_deg.shape).ravel()[up]
    day_lx, sun_lx = _from_irradiance(np.maximum(up_deg, 0.0), turbidity)
    day = _ramp(up_deg, *BLEND_DEG)
    up_lx = global_lx[up] ** (1 - day) * (day_lx * nearness) ** day
    most_lx = (1 - LEAST_DIFFUSE) * up_lx / np.maximum(_sine(up_deg), 1e-9)
    global_lx[up] = up_lx
    direct_lx[up] = np.minimum(sun_lx * nearness * _ramp(up_deg, SUN_DEG, 0.0), most_lx)
    return global_lx.reshape(height_deg.shape), direct_lx.reshape(height_deg.shape)


def _from_irradiance(height_deg: FloatArray, turbidity: float) -> tuple[FloatArray, FloatArray]:
    """(global, direct normal) illuminance at the earth's mean distance for heights of 0 and more, free of steps.

    Between the middles of the bins of clearness the published coefficients are interpolated.
    """
    irradiance = clear_irradiance(height_deg, turbidity)
    air = _air(irradiance, 90.0 - refracted_deg(height_deg), DEW_POINT_C)
    place = np.interp(np.log(air.clearness), _BIN_MIDDLES, np.arange(len(_BIN_MIDDLES)))
    lower = np.minimum(place.astype(int), len(_BIN_MIDDLES) - 2)
    upper_share = place - lower
    of_global, of_direct = (
        np.take(table.T, lower, axis=1) + np.take(np.diff(table.T), lower, axis=1) * upper_share
        for table in (PEREZ_GLOBAL, PEREZ_DIRECT)
    )
    global_lx = irradiance.global_w_m2 * _scattered_efficacy(of_global, air)
    efficacy = np.maximum(_direct_efficacy(of_direct, air), LEAST_DIRECT_LM_W)
    return global_lx, irradiance.direct_normal_w_m2 * efficacy


@dataclass(frozen=True)
class _Air:
    """What Perez's efficacies depend on: zenith distance of the sun, clearness, brightness, water vapour."""

    zenith_rad: FloatArray
    clearness: FloatArray
    brightness: FloatArray
    water_cm: float


def _air(irradiance: Irradiance, zenith_deg: float | FloatArray, dew_point_c: float) -> _Air:
    zenith_rad = np.radians(zenith_deg)
    bend = 1.041 * zenith_rad**3
    clearness = (1 + irradiance.direct_normal_w_m2 / irradiance.diffuse_w_m2 + bend) / (1 + bend)
    brightness = irradiance.diffuse_w_m2 * irradiance.air_mass / SOLAR_W_M2
    return _Air(zenith_rad, clearness, brightness, float(np.exp(0.07 * dew_point_c - 0.075)))


def _scattered_efficacy(coefficients: FloatArray, air: _Air) -> FloatArray:
    a, b, c, d = coefficients
    efficacy: FloatArray = a + b * air.water_cm + c * np.cos(air.zenith_rad) + d * np.log(air.brightness)
    return efficacy


def _direct_efficacy(coefficients: FloatArray, air: _Air) -> FloatArray:
    a, b, c, d = coefficients
    efficacy: FloatArray = a + b * air.water_cm + c * np.exp(5.73 * air.zenith_rad - 5) + d * air.brightness
    return efficacy


def _nearness(day_of_year: float | FloatArray | None) -> FloatArray:
    """Irradiance for the earth's distance that day, against the mean (Duffie & Beckman 1991, eq. 1.4.1)."""
    if day_of_year is None:
        return np.ones(())
    return np.asarray(1 + 0.033 * np.cos(2 * np.pi * np.asarray(day_of_year) / 365))


def _sine(height_deg: FloatArray) -> FloatArray:
    return np.maximum(np.sin(np.radians(height_deg)), 0.0)


def _ramp(value: FloatArray, low: float, high: float) -> FloatArray:
    """0 below `low`, 1 above `high`, without a kink."""
    t: FloatArray = np.minimum(np.maximum((value - low) * (1 / (high - low)), 0.0), 1.0)
    return t * t * (3 - 2 * t)
