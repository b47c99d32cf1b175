"""Clock, paces and compass places of lights."""

from __future__ import annotations

from math import cos, hypot, radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.light.placing import (
    FACE_M,
    axis_deg_of,
    bearing_deg,
    clock_half_hours,
    ground_m,
    paces,
    position_m,
    shines_deg,
)

axes = st.floats(-180, 180)
bearings = st.floats(0, 359)


@pytest.mark.parametrize(
    ("axis_deg", "half_hours"), [(0, 0), (60, 20), (-60, 4), (90, 18), (180, 12), (-180, 12), (45, 21), (-7, 0)]
)
def test_the_models_clock(axis_deg: float, half_hours: int) -> None:
    """The model looks at the camera at 12, so camera right is at 9 to 11: 60 degrees is 10 o'clock."""
    assert clock_half_hours(axis_deg) == half_hours


@given(st.integers(0, 23))
def test_clock_and_back(half_hours: int) -> None:
    assert clock_half_hours(axis_deg_of(half_hours / 2)) == half_hours


def test_a_camera_that_looks_north() -> None:
    """It stands south of the model; its right is east."""
    assert position_m(0, 2, 0) == (pytest.approx(0, abs=1e-12), pytest.approx(-2))
    assert position_m(90, 2, 0) == (pytest.approx(2), pytest.approx(0, abs=1e-12))
    assert position_m(180, 2, 0) == (pytest.approx(0, abs=1e-12), pytest.approx(2))


@given(axes, bearings, st.floats(0.5, 6))
def test_a_light_shines_from_where_it_stands(axis_deg: float, looking_deg: float, metres: float) -> None:
    turned = bearing_deg(axis_deg, looking_deg) + 180 - shines_deg(axis_deg, looking_deg)
    assert cos(radians(turned)) == pytest.approx(1)
    assert hypot(*position_m(axis_deg, metres, looking_deg)) == pytest.approx(metres)


def test_along_the_ground() -> None:
    assert ground_m(2.5, FACE_M + 1.5) == pytest.approx(2.0)
    assert ground_m(2.0, FACE_M) == 2.0
    assert ground_m(0.7, FACE_M + 0.7) == 0


@pytest.mark.parametrize(("metres", "count"), [(1.5, 2), (1.9, 2.5), (0.75, 1), (0, 0.5), (3.0, 4)])
def test_paces(metres: float, count: float) -> None:
    assert paces(metres) == count
