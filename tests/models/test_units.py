"""Exposure values and lux: definitions of ISO 2720:1974 with C = 250 and K = 12.5, and laws."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.units import (
    METRES_PER_FOOT,
    NIGHT_FLOOR_EV,
    compass_words,
    ev100_from_illuminance,
    ev100_from_luminance,
    illuminance_from_ev100,
    luminance_from_ev100,
    stops_between,
)

EVS = st.floats(NIGHT_FLOOR_EV, 20)


def test_ev_zero_is_two_and_a_half_lux():
    assert illuminance_from_ev100(0.0) == 2.5
    assert luminance_from_ev100(0.0) == 0.125


@pytest.mark.parametrize(("lx", "ev"), [(1000.0, 8.644), (100000.0, 15.288), (400.0, 7.322), (20.0, 3.0)])
def test_ev_of_an_illuminance(lx, ev):
    """Arithmetic on ISO 2720 with C = 250; 0.001 is the rounding of the figures."""
    assert ev100_from_illuminance(lx) == pytest.approx(ev, abs=0.001)


@pytest.mark.parametrize(("ev", "lx", "cd_m2"), [(-2.0, 0.625, 0.03125), (8.0, 640.0, 32.0), (15.0, 81920.0, 4096.0)])
def test_light_of_an_ev(ev, lx, cd_m2):
    assert illuminance_from_ev100(ev) == pytest.approx(lx)
    assert luminance_from_ev100(ev) == pytest.approx(cd_m2)


@given(EVS)
def test_there_and_back(ev):
    assert ev100_from_illuminance(illuminance_from_ev100(ev)) == pytest.approx(ev, abs=1e-9)
    assert ev100_from_luminance(luminance_from_ev100(ev)) == pytest.approx(ev, abs=1e-9)


@given(EVS)
def test_a_stop_is_a_factor_of_two(ev):
    assert illuminance_from_ev100(ev + 1) == pytest.approx(2 * illuminance_from_ev100(ev))
    assert stops_between(illuminance_from_ev100(ev + 1), illuminance_from_ev100(ev)) == pytest.approx(1)


@pytest.mark.parametrize("dark", [0.0, -1.0, 1e-9])
def test_no_light_is_the_night_floor(dark):
    assert ev100_from_illuminance(dark) == NIGHT_FLOOR_EV
    assert ev100_from_luminance(dark) == NIGHT_FLOOR_EV


def test_scalars_stay_scalars_and_arrays_arrays():
    assert type(ev100_from_illuminance(2560.0)) is float
    assert ev100_from_illuminance(np.array([[2.5, 2560.0]])).tolist() == [[0.0, 10.0]]


def test_the_foot():
    assert METRES_PER_FOOT == 0.3048


@pytest.mark.parametrize(("bearing", "word"), [(0, "north"), (22.4, "north"), (23, "north-east"), (350, "north")])
def test_compass_words(bearing, word):
    assert compass_words(bearing) == word
