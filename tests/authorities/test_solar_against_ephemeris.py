"""Sun position against two independent libraries: JPL's DE421 through skyfield, and NREL's SPA through pvlib.

0.02 degrees of angular distance (0.04 of the sun's own width) for places all over the globe, 1990 to 2050, sun above
-1. Beyond today skyfield predicts how far the earth's turn will stray from UTC: 2 s, 0.009 degrees, by 2050.
"""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
from pvlib import solarposition

from models.clock import from_unix_s
from models.sky.sun import sun_at, sun_positions
from tests.authorities.solar_ephemeris import altitude_azimuth, angular_distance_deg

YEAR_1990_S, YEAR_2050_S = 631152000, 2524608000


def everywhere(count: int, seed: int):
    """Places spread evenly over the globe and instants over the years; more than `count` of them by day."""
    chance = np.random.default_rng(seed)
    latitude_deg = np.degrees(np.arcsin(chance.uniform(-1, 1, 3 * count)))
    instants_s = np.round(chance.uniform(YEAR_1990_S, YEAR_2050_S, 3 * count), 3)
    return instants_s, latitude_deg, chance.uniform(-180, 180, 3 * count)


def by_day(count: int, seed: int):
    instants_s, latitude_deg, longitude_deg = everywhere(count, seed)
    altitude_deg, azimuth_deg = altitude_azimuth(instants_s, latitude_deg, longitude_deg)
    up = np.flatnonzero(altitude_deg > -1)[:count]
    assert len(up) == count
    return [values[up] for values in (instants_s, latitude_deg, longitude_deg, altitude_deg, azimuth_deg)]


def farthest_deg(count: int, seed: int) -> float:
    instants_s, latitude_deg, longitude_deg, altitude_deg, azimuth_deg = by_day(count, seed)
    ours = sun_positions(instants_s, latitude_deg, longitude_deg)
    return angular_distance_deg(*ours, altitude_deg, azimuth_deg).max()


def test_a_thousand_places_and_instants():
    assert farthest_deg(1000, seed=1990) < 0.02


@pytest.mark.slow
def test_twenty_thousand_places_and_instants():
    assert farthest_deg(20000, seed=2050) < 0.02


def test_single_instants():
    instants_s, latitude_deg, longitude_deg, altitude_deg, azimuth_deg = by_day(1000, seed=7)
    ours = [
        sun_at(from_unix_s(at), north, east)
        for at, north, east in zip(instants_s, latitude_deg, longitude_deg, strict=True)
    ]
    elevations_deg, azimuths_deg = ([getattr(sun, name) for sun in ours] for name in ("elevation_deg", "azimuth_deg"))
    assert angular_distance_deg(elevations_deg, azimuths_deg, altitude_deg, azimuth_deg).max() < 0.02


@pytest.mark.parametrize(
    ("latitude_deg", "longitude_deg"), [(52.53, 5.23), (-33.9, 151.2), (69.65, 18.96), (1.3, 103.8)]
)
def test_a_year_of_places_against_spa(latitude_deg, longitude_deg):
    instants_s = np.arange(35040) * 900.0 + 1767225600  # 2026
    spa = solarposition.spa_python(
        pd.to_datetime(instants_s[::20], unit="s", utc=True), latitude_deg, longitude_deg, delta_t=70.0
    )
    up = spa["elevation"].to_numpy() > -1
    ours = sun_positions(instants_s[::20], latitude_deg, longitude_deg)
    apart = angular_distance_deg(*ours, spa["elevation"].to_numpy(), spa["azimuth"].to_numpy())
    assert up.sum() > 500
    assert apart[up].max() < 0.02


@pytest.mark.parametrize("latitude_deg", [90.0, -90.0, 89.95, -89.95])
def test_the_poles(latitude_deg):
    instants_s = np.linspace(YEAR_1990_S, YEAR_2050_S, 500)
    theirs = altitude_azimuth(instants_s, np.full(500, latitude_deg), np.full(500, 30.0))
    up = theirs[0] > -1
    single = [sun_at(from_unix_s(at), latitude_deg, 30.0).elevation_deg for at in instants_s]
    assert np.abs(np.array(single) - theirs[0])[up].max() < 0.02
    ours = sun_positions(instants_s, latitude_deg, 30.0)
    assert np.abs(ours[0] - theirs[0])[up].max() < 0.02
