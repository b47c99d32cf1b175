"""One instant and many agree; refraction; bad input. Published positions are in tests/authorities."""

from __future__ import annotations

from datetime import UTC, datetime

import numpy as np
import pytest
from astral import Observer
from astral.sun import zenith_and_azimuth
from hypothesis import given
from hypothesis import strategies as st

from models.clock import from_unix_s
from models.sky.sun import refracted_deg, sun_at, sun_positions
from tests.authorities.solar_ephemeris import angular_distance_deg

LATITUDES, LONGITUDES = st.floats(-90, 90), st.floats(-180, 180)
INSTANTS_S = st.floats(631152000, 2524608000).map(lambda at: round(at, 3))
NOON = datetime(2026, 6, 21, 12, tzinfo=UTC)


@given(INSTANTS_S, LATITUDES, LONGITUDES)
def test_one_instant_is_one_of_many(instant_s, latitude_deg, longitude_deg):
    """astral's formulas and ours; a thousandth of a second apart at most, and rounding in the day number."""
    one = sun_at(from_unix_s(instant_s), latitude_deg, longitude_deg)
    elevation_deg, azimuth_deg = sun_positions(np.array([instant_s]), latitude_deg, longitude_deg)
    assert angular_distance_deg(one.elevation_deg, one.azimuth_deg, elevation_deg[0], azimuth_deg[0]) < 1e-5


@given(INSTANTS_S.map(round), st.floats(-89.7, 89.7), LONGITUDES)
def test_astral_s_own_position_agrees(instant_s, latitude_deg, longitude_deg):
    """0.02 degrees: astral leaves out parallax and takes the equation of time from five terms."""
    theirs = zenith_and_azimuth(Observer(latitude_deg, longitude_deg), from_unix_s(instant_s), with_refraction=False)
    ours = sun_at(from_unix_s(instant_s), latitude_deg, longitude_deg)
    beside_the_zenith = theirs[0] < 0.1 or theirs[0] > 179.9  # there astral takes azimuth 0 or 180
    assert beside_the_zenith or (
        angular_distance_deg(ours.elevation_deg, ours.azimuth_deg, 90 - theirs[0], theirs[1]) < 0.02
    )


def test_morning_is_east_and_noon_is_north_in_the_south():
    assert 80 < sun_at(datetime(2026, 3, 20, 6, 30, tzinfo=UTC), 52.0, 0.0).azimuth_deg < 110
    sydney = sun_at(datetime(2026, 6, 21, 1, 58, tzinfo=UTC), -33.9, 151.2)
    assert min(sydney.azimuth_deg, 360 - sydney.azimuth_deg) < 2
    assert sydney.elevation_deg == pytest.approx(90 - 33.9 - 23.44, abs=0.05)


@given(st.floats(-90, 90), st.floats(0, 5))
def test_a_higher_sun_is_seen_higher_and_never_lower_than_it_is(elevation_deg, more_deg):
    higher_deg = min(elevation_deg + more_deg, 90.0)
    assert refracted_deg(elevation_deg) >= elevation_deg
    assert refracted_deg(higher_deg) >= refracted_deg(elevation_deg)


def test_refraction_has_no_step():
    elevations_deg = np.arange(-90, 90.0001, 0.001)
    assert np.diff(refracted_deg(elevations_deg)).max() < 0.0021
    assert refracted_deg(elevations_deg).shape == elevations_deg.shape


def test_at_rise_and_set_the_upper_limb_is_seen_on_the_horizon():
    """Its centre is then about the semidiameter, 16', under the seen horizon (USNO); 3' for the model of the air."""
    assert refracted_deg(-0.833) == pytest.approx(-16 / 60, abs=0.06)


def test_refracted_is_what_the_position_offers():
    sun = sun_at(NOON, 52.0, 5.0)
    assert sun.refracted_deg == refracted_deg(sun.elevation_deg)


@pytest.mark.parametrize(("latitude_deg", "longitude_deg"), [(95, 0), (-90.1, 0), (0, 181), (float("nan"), 0)])
def test_places_off_the_globe_are_refused(latitude_deg, longitude_deg):
    for ask in (lambda *place: sun_at(NOON, *place), lambda *place: sun_positions(np.zeros(2), *place)):
        with pytest.raises(ValueError, match="is not between"):
            ask(latitude_deg, longitude_deg)


def test_naive_instants_are_refused():
    with pytest.raises(ValueError, match="no time zone"):
        sun_at(NOON.replace(tzinfo=None), 52.0, 5.0)
