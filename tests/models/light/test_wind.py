"""Wind on modifiers, held and on stands."""

from __future__ import annotations

from dataclasses import replace
from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.light.accessories import Stand
from models.light.wind import HEAD_KG, bag_kg, hold_n, push_on_n
from models.problems import InputProblem
from tests.models.light.round_a_model import BOX, UMBRELLA

STAND = Stand("s", "stand", across_m=1.0, weight_kg=2.0)


@given(st.floats(0.1, 30))
def test_twice_the_wind_pushes_four_times(wind_m_s: float) -> None:
    one, two = push_on_n(BOX, wind_m_s), push_on_n(BOX, 2 * wind_m_s)
    assert one is not None
    assert two == pytest.approx(4 * one)


def test_a_round_umbrella_is_a_cup_and_a_box_a_plate() -> None:
    assert push_on_n(UMBRELLA, 10.0) == pytest.approx(0.5 * 1.225 * 1.4 * pi / 4 * 100)
    assert push_on_n(BOX, 10.0) == pytest.approx(0.5 * 1.225 * 1.2 * 0.16 * 100)


def test_in_still_air_only_the_weight_is_held() -> None:
    assert hold_n(BOX, 0.0) == pytest.approx((HEAD_KG + 0.5) * 9.80665)


def test_the_bag_that_keeps_a_stand_up_by_hand() -> None:
    """The box in 10 m/s pushes 11.8 N at 2 m: 23.5 Nm over a quarter of a metre take 9.6 kg; 3.2 kg stand there."""
    assert bag_kg(STAND, BOX, 2.0, 10.0) == pytest.approx(11.76 * 2 / (9.80665 * 0.25) - 3.2, abs=0.01)
    assert bag_kg(STAND, BOX, 2.0, 1.0) == 0


@given(st.floats(0, 15), st.floats(0, 5), st.floats(1, 3))
def test_more_wind_or_height_never_needs_a_lighter_bag(wind_m_s: float, more: float, height_m: float) -> None:
    less = bag_kg(STAND, UMBRELLA, height_m, wind_m_s)
    assert less is not None
    for weight in (
        bag_kg(STAND, UMBRELLA, height_m, wind_m_s + more),
        bag_kg(STAND, UMBRELLA, height_m + more, wind_m_s),
    ):
        assert weight is not None
        assert weight >= less


def test_a_face_nobody_measured_is_not_guessed() -> None:
    unknown = replace(BOX, face_m=None)
    assert (push_on_n(unknown, 10.0), hold_n(unknown, 10.0), bag_kg(STAND, unknown, 2.0, 10.0)) == (None, None, None)


@pytest.mark.parametrize("wind_m_s", [-1, float("nan"), 100])
def test_a_wind_that_cannot_be(wind_m_s: float) -> None:
    with pytest.raises(InputProblem, match="wind_m_s"):
        push_on_n(BOX, wind_m_s)
