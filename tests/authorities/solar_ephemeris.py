"""An independent sun: JPL's DE421 ephemeris through skyfield, from the files of skyfield-data, without a network."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import numpy as np
import skyfield_data
from skyfield.api import Loader, load, wgs84


@cache
def timescale():
    """Skyfield's built-in clock tables."""
    return load.timescale(builtin=True)


@cache
def _earth_and_sun():
    ephemeris = Loader(Path(skyfield_data.__file__).parent / "data", verbose=False)("de421.bsp")
    return ephemeris["earth"], ephemeris["sun"]


def observer(latitude_deg, longitude_deg):
    """A place at sea level, and the sun to be watched from there."""
    earth, sun = _earth_and_sun()
    return earth + wgs84.latlon(latitude_deg, longitude_deg), sun


def skyfield_time(unix_s):
    """Skyfield's instants for seconds since 1970 (UTC, leap seconds not counted)."""
    days, seconds = np.divmod(unix_s, 86400)
    return timescale().utc(1970, 1, 1 + days, 0, 0, seconds)


def altitude_azimuth(unix_s, latitude_deg, longitude_deg):
    """(altitude_deg without refraction, azimuth_deg) of the sun's centre; arrays of one shape."""
    place, sun = observer(latitude_deg, longitude_deg)
    altitude, azimuth, _ = place.at(skyfield_time(unix_s)).observe(sun).apparent().altaz()
    return altitude.degrees, azimuth.degrees


def angular_distance_deg(elevation_a, azimuth_a, elevation_b, azimuth_b):
    """Angle between two directions of the sky, degrees; exact for small ones too."""
    a, b = _unit(elevation_a, azimuth_a), _unit(elevation_b, azimuth_b)
    return np.degrees(2 * np.arcsin(np.clip(np.linalg.norm(a - b, axis=-1) / 2, 0, 1)))


def _unit(elevation_deg, azimuth_deg):
    elevation, azimuth = np.radians(elevation_deg), np.radians(azimuth_deg)
    level = np.cos(elevation)
    return np.stack([level * np.sin(azimuth), level * np.cos(azimuth), np.sin(elevation)], axis=-1)
