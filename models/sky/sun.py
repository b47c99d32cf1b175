"""Where the sun is: elevation and azimuth, for one instant or for a whole year.

Both ways use the low-precision solar coordinates of Meeus, Astronomical Algorithms, 2nd ed. 1998, ch. 25, in the form
of the NOAA solar calculator: astral's for one instant, the same in numpy for many. Each is a test of the other. The
hour angle comes from apparent sidereal time (Meeus ch. 12) rather than from NOAA's five-term equation of time, whose
own error would double ours. UTC stands for UT1 (0.9 s apart at most) and for dynamical time (0.0008 degrees).

Elevations are geometric (no refraction) for an observer at sea level, azimuths clockwise from true north.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any

import numpy as np
from astral.julian import julianday_to_juliancentury
from astral.sidereal import lmst
from astral.sun import obliquity_correction, sun_declination, sun_rt_ascension

from models.clock import require_aware, unix_s
from models.units import FloatArray, Numbers, like

SUN_DEG = -0.833
"""Centre of the sun at rise and set: 34' refraction, 16' semidiameter (USNO, Rise, Set and Twilight Definitions)."""

PARALLAX_DEG = 8.794 / 3600
"""Equatorial horizontal parallax of the sun at 1 au (IAU 1976; Reda & Andreas, NREL/TP-560-34302, eq. 38)."""

NUTATION_DEG = -0.00478
"""Nutation in longitude is this times the sine of the moon's node (Meeus 1998, ch. 25)."""

SIDEREAL_DEG_PER_S = 360.98564736629 / 86400
"""Turn of the earth against the stars (Meeus 1998, eq. 12.4)."""


@dataclass(frozen=True)
class SunPosition:
    """Geometric elevation and azimuth from true north, degrees."""

    elevation_deg: float
    azimuth_deg: float

    @property
    def refracted_deg(self) -> float:
        """Elevation at which the sun is seen through the air."""
        return refracted_deg(self.elevation_deg)


def sun_at(instant: datetime, latitude_deg: float, longitude_deg: float) -> SunPosition:
    """Position at one aware instant. ValueError for a naive instant or for a place off the globe."""
    _require_place(latitude_deg, longitude_deg)
    utc = require_aware(instant)
    century = julianday_to_juliancentury(unix_s(utc) / 86400 + 2440587.5)
    sidereal_deg = lmst(utc, longitude_deg) + utc.microsecond * 1e-6 * SIDEREAL_DEG_PER_S  # astral drops fractions
    node = np.radians(125.04 - 1934.136 * century)
    equinoxes_deg = NUTATION_DEG * np.sin(node) * np.cos(np.radians(obliquity_correction(century)))
    hour_angle = np.radians(sidereal_deg + equinoxes_deg - sun_rt_ascension(century))
    declination = np.radians(sun_declination(century))
    west, south = np.cos(declination) * np.sin(hour_angle), np.cos(declination) * np.cos(hour_angle)
    elevation_deg, azimuth_deg = _horizontal(west, south, np.sin(declination), latitude_deg)
    return SunPosition(float(elevation_deg), float(azimuth_deg))


def sun_positions(
    unix_s: FloatArray, latitude_deg: float | FloatArray, longitude_deg: float | FloatArray
) -> tuple[FloatArray, FloatArray]:
    """(elevation_deg, azimuth_deg) at many instants, of the shape of `unix_s`; places may be arrays of it too.

    Off by 0.012 degrees at most, 1990 to 2050 (tests/authorities/test_sun_against_skyfield.py).
    """
    _require_place(latitude_deg, longitude_deg)
    days = np.asarray(unix_s, dtype=np.float64) / 86400 - 10957.5  # since J2000.0, 2000-01-01T12:00
    t = days / 36525
    node = np.radians(125.04 - 1934.136 * t)
    nutation_deg = NUTATION_DEG * np.sin(node)
    obliquity = np.radians(23.43929111 - t * (0.01300417 + t * (1.64e-7 - t * 5.04e-7)) + 0.00256 * np.cos(node))
    longitude = np.radians(_true_longitude_deg(t) - 0.00569 + nutation_deg)
    x = np.cos(longitude)
    y, z = np.sin(longitude) * np.cos(obliquity), np.sin(longitude) * np.sin(obliquity)
    sidereal = np.radians(
        280.46061837 + 360.98564736629 * days + 0.000387933 * t * t + nutation_deg * np.cos(obliquity) + longitude_deg
    )
    cos_turn, sin_turn = np.cos(sidereal), np.sin(sidereal)
    return _horizontal(x * sin_turn - y * cos_turn, x * cos_turn + y * sin_turn, z, latitude_deg)


def refracted_deg(elevation_deg: Numbers) -> Numbers:
    """Apparent from geometric elevation, at 1010 hPa and 10 degrees C. Rises steadily with it, everywhere.

    Saemundsson's formula (Meeus 1998, eq. 16.4) down to -1 degree. Further down nothing is seen and the formula breaks;
    there the bend fades with the cotangent of the depression, as in the NOAA solar calculator.
    """
    elevation = np.asarray(elevation_deg, dtype=np.float64)
    seen = np.maximum(elevation, -1.0)
    bend_deg = 1.02 / 60 / np.tan(np.radians(seen + 10.3 / (seen + 5.11)))
    fade = np.tan(np.radians(1.0)) / np.tan(np.radians(np.clip(-elevation, 1.0, 89.999)))
    return like(elevation_deg, elevation + np.maximum(bend_deg, 0.0) * fade)


def _true_longitude_deg(t: FloatArray) -> FloatArray:
    """Geometric longitude of the sun (Meeus 1998, ch. 25); `t` in Julian centuries from J2000.0."""
    anomaly = np.radians(357.52911 + t * (35999.05029 - 0.0001537 * t))
    sine, cosine = np.sin(anomaly), np.cos(anomaly)
    centre_deg = (
        sine * (1.914602 - t * (0.004817 + 0.000014 * t))
        + 2 * sine * cosine * (0.019993 - 0.000101 * t)
        + sine * (3 - 4 * sine * sine) * 0.000289
    )
    longitude_deg: FloatArray = 280.46646 + t * (36000.76983 + 0.0003032 * t) + centre_deg
    return longitude_deg


def _horizontal(west: Any, south: Any, pole: Any, latitude_deg: float | FloatArray) -> tuple[FloatArray, FloatArray]:
    """Elevation and azimuth of the equatorial unit vector (to the west point, to the meridian, to the pole)."""
    latitude = np.radians(latitude_deg)
    sine, cosine = np.sin(latitude), np.cos(latitude)
    up = sine * pole + cosine * south
    north = cosine * pole - sine * south
    level = np.hypot(west, north)
    elevation_deg = np.degrees(np.arctan2(up, level)) - PARALLAX_DEG * level
    return elevation_deg, np.degrees(np.arctan2(-west, north)) % 360.0


def _require_place(latitude_deg: float | FloatArray, longitude_deg: float | FloatArray) -> None:
    if not np.all(np.abs(latitude_deg) <= 90.0):
        raise ValueError(f"latitude {latitude_deg} is not between -90 and 90 degrees")
    if not np.all(np.abs(longitude_deg) <= 180.0):
        raise ValueError(f"longitude {longitude_deg} is not between -180 and 180 degrees")
