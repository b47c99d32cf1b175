"""Moves of a light: each has its way back, none leaves what can be kept."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.light.placing import FACE_M
from models.planning.setups.keeping import MOVES
from models.store.setups import RANGES, LightDraft

BACK = {"nearer": "further", "more left": "more right", "higher": "lower"}
BACK |= {there: back for back, there in BACK.items()}
moves = st.lists(st.sampled_from(sorted(MOVES)), min_size=1, max_size=60)


@pytest.mark.parametrize("axis_deg", [-135.0, -45.0, 0.0, 75.0, 180.0, -165.0])
@pytest.mark.parametrize("move", sorted(MOVES))
def test_the_opposite_press_takes_it_back(move: str, axis_deg: float) -> None:
    light = LightDraft(role="key", flash="any", axis_deg=axis_deg)
    back = MOVES[BACK[move]](MOVES[move](light))
    assert back.axis_deg % 360 == pytest.approx(axis_deg % 360)
    assert (back.distance_m, back.height_m) == (light.distance_m, light.height_m)


@given(moves)
def test_no_row_of_presses_leaves_what_can_be_kept(row: list[str]) -> None:
    light = LightDraft(role="key", flash="any", distance_m=0.5, height_m=1.6)
    for move in row:
        light = MOVES[move](light)
        for field in ("distance_m", "height_m", "axis_deg"):
            low, high, _ = RANGES[field]
            assert low <= getattr(light, field) <= high
        assert abs(light.height_m - FACE_M) < light.distance_m


@pytest.mark.parametrize(
    ("axis_deg", "left"), [(0.0, -15.0), (180.0, -165.0), (-90.0, -105.0), (90.0, 75.0), (165.0, -180.0)]
)
def test_left_is_left_as_the_camera_sees_it(axis_deg: float, left: float) -> None:
    moved = MOVES["more left"](LightDraft(role="key", flash="any", axis_deg=axis_deg))
    assert moved.axis_deg == pytest.approx(left)
