"""How brightness is spread over the sky: the CIE general sky and the traditional overcast sky.

The general sky (ISO 15469:2004 / CIE S 011/E:2003) gives the luminance of a patch against that of the zenith,

    L / Lz = phi(Z) f(chi) / (phi(0) f(Zs)),    phi(Z) = 1 + a exp(b / cos Z),    phi(90°) = 1,
    f(chi) = 1 + c (exp(d chi) - exp(d pi / 2)) + e cos² chi,

Z being the patch's and Zs the sun's angle from the zenith, chi the angle between patch and sun, all in radians.
"""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from models.sky.daylight import overcast_weight

Floats = NDArray[np.float64]


class SkyShape(NamedTuple):
    """The five parameters of a general sky; none has a unit."""

    a: float
    b: float
    c: float
    d: float
    e: float


# ISO 15469:2004 / CIE S 011/E:2003, table 1.
GENERAL_SKIES: Final[dict[int, SkyShape]] = {
    1: SkyShape(4.0, -0.70, 0.0, -1.0, 0.00),  # overcast, steep gradation, the same all round
    2: SkyShape(4.0, -0.70, 2.0, -1.5, 0.15),  # overcast, steep gradation, slightly brighter to the sun
    3: SkyShape(1.1, -0.80, 0.0, -1.0, 0.00),  # overcast, moderate gradation, the same all round
    4: SkyShape(1.1, -0.80, 2.0, -1.5, 0.15),  # overcast, moderate gradation, slightly brighter to the sun
    5: SkyShape(0.0, -1.00, 0.0, -1.0, 0.00),  # uniform
    6: SkyShape(0.0, -1.00, 2.0, -1.5, 0.15),  # partly cloudy, no gradation, slightly brighter to the sun
    7: SkyShape(0.0, -1.00, 5.0, -2.5, 0.30),  # partly cloudy, no gradation, brighter round the sun
    8: SkyShape(0.0, -1.00, 10.0, -3.0, 0.45),  # partly cloudy, no gradation, distinct corona
    9: SkyShape(-1.0, -0.55, 2.0, -1.5, 0.15),  # partly cloudy, sun hidden
    10: SkyShape(-1.0, -0.55, 5.0, -2.5, 0.30),  # partly cloudy, brighter round the sun
    11: SkyShape(-1.0, -0.55, 10.0, -3.0, 0.45),  # white-blue, distinct corona
    12: SkyShape(-1.0, -0.32, 10.0, -3.0, 0.45),  # clear, low turbidity
    13: SkyShape(-1.0, -0.32, 16.0, -3.0, 0.30),  # clear, polluted
    14: SkyShape(-1.0, -0.15, 16.0, -3.0, 0.30),  # cloudless, turbid, broad corona
    15: SkyShape(-1.0, -0.15, 24.0, -2.8, 0.15),  # white-blue, turbid, broad corona
}
CLEAR: Final = GENERAL_SKIES[12]


def unit_vectors(azimuth_deg: ArrayLike, elevation_deg: ArrayLike) -> Floats:
    """(..., 3) east, north, up of directions given in degrees, azimuth clockwise from north."""
    azimuth, elevation = np.radians(azimuth_deg), np.radians(elevation_deg)
    level = np.cos(elevation)
    east, north, up = np.broadcast_arrays(np.sin(azimuth) * level, np.cos(azimuth) * level, np.sin(elevation))
    return np.stack([east, north, up], axis=-1)


def general_sky(sky: int | SkyShape, sin_elevation: ArrayLike, cos_from_sun: ArrayLike) -> Floats:
    """phi(Z) f(chi): a sky's luminance up to a factor that depends on the sun's height alone.

    sin_elevation: of the patch, taken as 0 below the horizon. cos_from_sun: cosine of chi.
    """
    shape = GENERAL_SKIES[sky] if isinstance(sky, int) else sky
    gradation = _gradation(shape, np.asarray(sin_elevation, float))
    luminance: Floats = gradation * _indicatrix(shape, np.asarray(cos_from_sun, float))
    return luminance


def relative_luminance(sky: int | SkyShape, direction: ArrayLike, sun: ArrayLike) -> Floats:
    """(...,) luminance against the zenith's, L / Lz, towards unit vectors (..., 3), the sun at (3,)."""
    towards, to_sun = np.asarray(direction, float), np.asarray(sun, float)
    patch = general_sky(sky, towards[..., 2], towards @ to_sun)
    luminance: Floats = patch / general_sky(sky, 1.0, to_sun[..., 2])
    return luminance


def traditional_overcast(sin_elevation: ArrayLike) -> Floats:
    """L / Lz of the traditional overcast sky, (1 + 2 sin) / 3 (Moon & Spencer 1942)."""
    luminance: Floats = (1.0 + 2.0 * np.clip(np.asarray(sin_elevation, float), 0.0, 1.0)) / 3.0
    return luminance


def mixed_dome(direction: Floats, projected_sr: Floats, sun: Floats, oktas: float) -> Floats:
    """(n,) luminance in cd/m² of sky patches that together give 1 lx on open level ground.

    direction: (n, 3) unit vectors. projected_sr: (n,) solid angle of each patch times the sine of its elevation.
    sun: (3,) unit vector. Clear sky and traditional overcast, each of 1 lx, mixed with the weight `overcast_weight`.
    """
    clear = general_sky(CLEAR, direction[:, 2], direction @ sun)
    cloud = traditional_overcast(direction[:, 2])
    share = overcast_weight(oktas)
    mixed: Floats = (1.0 - share) * clear / (clear @ projected_sr) + share * cloud / (cloud @ projected_sr)
    return mixed


def _gradation(shape: SkyShape, sin_elevation: Floats) -> Floats:
    height = np.maximum(sin_elevation, 1e-3)  # b / cos Z runs off to minus infinity at the horizon, where phi is 1
    gradation: Floats = 1.0 + shape.a * np.exp(shape.b / height)
    return gradation


def _indicatrix(shape: SkyShape, cos_from_sun: Floats) -> Floats:
    chi = np.arccos(np.clip(cos_from_sun, -1.0, 1.0))
    corona = shape.c * (np.exp(shape.d * chi) - np.exp(shape.d * np.pi / 2))
    indicatrix: Floats = 1.0 + corona + shape.e * np.square(cos_from_sun)
    return indicatrix
