from __future__ import annotations

import pytest
from geopy.distance import geodesic
from hypothesis import given
from hypothesis import strategies as st

from models.street.town import Box, box_round


def holds(box: Box, latitude_deg: float, longitude_deg: float) -> bool:
    east_west = (box.west <= longitude_deg, longitude_deg <= box.east)
    return box.south <= latitude_deg <= box.north and (all if box.west <= box.east else any)(east_west)


@given(st.floats(-89.9, 89.9), st.floats(-180, 180), st.floats(1, 5000), st.floats(0, 360))
def test_what_is_within_reach_on_the_ellipsoid_lies_in_the_box(
    latitude_deg: float, longitude_deg: float, radius_m: float, bearing_deg: float
) -> None:
    """Authority: geodesic on WGS84 (geographiclib, by way of geopy)."""
    reached = geodesic(meters=radius_m).destination((latitude_deg, longitude_deg), bearing_deg)
    assert holds(box_round(latitude_deg, longitude_deg, radius_m), reached.latitude, reached.longitude)


@pytest.mark.parametrize("latitude_deg", [0.0, 52.5, -70.0])
def test_the_box_is_not_much_larger_than_the_reach(latitude_deg: float) -> None:
    box = box_round(latitude_deg, 5.0, 500.0)
    high = geodesic((box.south, 5.0), (box.north, 5.0)).meters
    wide = geodesic((latitude_deg, box.west), (latitude_deg, box.east)).meters
    assert 1000 <= high < 1000 * 1.015
    assert 1000 <= wide < 1000 * 1.015


def test_a_box_at_180_degrees_crosses_it() -> None:
    box = box_round(-17.0, 179.999, 500.0)
    assert box.west > box.east


def test_a_box_at_a_pole_goes_all_round() -> None:
    box = box_round(89.9999, 20.0, 500.0)
    assert (box.west, box.north, box.east) == (-180.0, 90.0, 180.0)
