"""Wind on modifiers, held and on stands."""

from __future__ import annotations

from dataclasses import replace
from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.light.accessories import Stand
from models.light.wind import area_m2, bag_kg, wind_on
from models.street.comfort import wind_on_face
from tests.models.light.round_a_model import BOX, UMBRELLA

STAND = Stand("s", "stand", across_m=1.0, weight_kg=2.0)


def test_an_umbrella_is_round_and_a_box_is_not() -> None:
    assert area_m2(UMBRELLA) == pytest.approx(pi / 4)
    assert area_m2(BOX) == pytest.approx(0.16)
    assert wind_on(BOX, 10.0) == wind_on_face(10.0, 0.4 * 0.4)


def test_a_face_nobody_measured_is_not_guessed() -> None:
    unknown = replace(BOX, face_m=None)
    assert (area_m2(unknown), wind_on(unknown, 10.0)) == (None, None)


def test_the_bag_that_keeps_a_stand_up_by_hand() -> None:
    """12 N at 2 m are 24 Nm: over a quarter of a metre they take 9.8 kg; stand, head and box are 3.2 kg."""
    assert bag_kg(STAND, BOX, 2.0, 12.0) == pytest.approx(12 * 2 / (9.80665 * 0.25) - 3.2)
    assert bag_kg(STAND, BOX, 2.0, 1.0) == 0


@given(st.floats(0, 40), st.floats(0, 20), st.floats(1, 3), st.floats(0, 2))
def test_more_push_or_height_never_needs_a_lighter_bag(push_n: float, more: float, height_m: float, up: float) -> None:
    less = bag_kg(STAND, UMBRELLA, height_m, push_n)
    assert bag_kg(STAND, UMBRELLA, height_m, push_n + more) >= less
    assert bag_kg(STAND, UMBRELLA, height_m + up, push_n) >= less


@given(st.floats(1, 40), st.floats(1, 3))
def test_hung_with_its_bag_the_stand_just_stands(push_n: float, height_m: float) -> None:
    bag = bag_kg(STAND, UMBRELLA, height_m, push_n)
    heavier = replace(STAND, weight_kg=STAND.weight_kg + bag)
    assert bag_kg(heavier, UMBRELLA, height_m, push_n) == pytest.approx(0, abs=1e-9)
