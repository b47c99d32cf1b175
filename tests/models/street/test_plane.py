"""The flat plane round a spot, against geodesy and its own inverse."""

import math

import pytest
from geopy.distance import geodesic
from hypothesis import given
from hypothesis import strategies as st

from models.problems import InputProblem
from models.street.plane import LocalPlane


@given(st.floats(-70, 70), st.floats(-180, 180), st.floats(0, 360), st.floats(1, 1000))
def test_distances_agree_with_the_geodesic_within_a_thousandth(latitude, longitude, bearing, metres):
    far = geodesic(meters=metres).destination((latitude, longitude), bearing)
    east, north = LocalPlane(latitude, longitude).to_metres(far.latitude, far.longitude)
    assert math.hypot(east, north) == pytest.approx(metres, rel=1e-3)
    assert east == pytest.approx(metres * math.sin(math.radians(bearing)), abs=1e-3 * metres)
    assert north == pytest.approx(metres * math.cos(math.radians(bearing)), abs=1e-3 * metres)


@given(st.floats(-80, 80), st.floats(-180, 180), st.floats(-2000, 2000), st.floats(-2000, 2000))
def test_there_and_back(latitude, longitude, east_m, north_m):
    plane = LocalPlane(latitude, longitude)
    east, north = plane.to_metres(*plane.to_degrees(east_m, north_m))
    assert (float(east), float(north)) == pytest.approx((east_m, north_m), abs=1e-4)


def test_the_date_line_is_no_wall():
    east, _ = LocalPlane(-16.8, 179.999).to_metres(-16.8, -179.999)
    assert 0 < float(east) < 250


@pytest.mark.parametrize(("latitude", "longitude", "field"), [(95, 0, "latitude"), (0, 181, "longitude")])
def test_places_off_the_earth_are_refused(latitude, longitude, field):
    with pytest.raises(InputProblem) as problem:
        LocalPlane(latitude, longitude)
    assert problem.value.field == field


def test_not_a_number_is_refused():
    with pytest.raises(InputProblem):
        LocalPlane(float("nan"), 0)
