"""Beams, what they cover, how large a light looks."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.light.beam import apparent_size, beam, beam_diameter_m, covers, zoom_angle_deg
from models.problems import InputProblem

angles, metres = st.floats(1, 170), st.floats(0.3, 20)


@given(angles, metres)
def test_twice_as_far_is_twice_as_wide(angle_deg: float, distance_m: float) -> None:
    assert beam_diameter_m(angle_deg, 2 * distance_m) == pytest.approx(2 * beam_diameter_m(angle_deg, distance_m))


@given(st.floats(14, 200), metres)
def test_a_zoomed_head_lights_the_frame_in_its_shape(zoom_mm: float, distance_m: float) -> None:
    """Plane geometry: what a lens sees at d is d x 36/f by d x 24/f."""
    found = beam(distance_m, zoom_mm=zoom_mm)
    assert found is not None
    assert found.by == "zoom"
    assert found.wide_m == pytest.approx(distance_m * 36 / zoom_mm)
    assert found.tall_m == pytest.approx(distance_m * 24 / zoom_mm)


@given(st.floats(14, 200), st.floats(5, 80))
def test_the_narrower_of_grid_and_zoom_counts(zoom_mm: float, grid_deg: float) -> None:
    found = beam(2.0, zoom_mm=zoom_mm, grid_deg=grid_deg)
    assert found is not None
    assert found.wide_deg == pytest.approx(min(grid_deg, zoom_angle_deg(zoom_mm, "long")))
    assert found.tall_deg == pytest.approx(min(grid_deg, zoom_angle_deg(zoom_mm, "short")))
    assert found.by == ("grid" if grid_deg < zoom_angle_deg(zoom_mm, "long") else "zoom")


def test_behind_a_modifier_its_own_angle_or_the_grid_on_it() -> None:
    assert beam(2.0, zoom_mm=None) is None
    box = beam(2.0, zoom_mm=None, modifier_deg=90.0)
    assert box is not None
    assert (box.by, box.wide_m) == ("modifier", pytest.approx(4.0))
    gridded = beam(2.0, zoom_mm=None, modifier_deg=90.0, grid_deg=40.0)
    assert gridded is not None
    assert (gridded.by, gridded.wide_deg) == ("grid", 40.0)
    only_grid = beam(2.0, zoom_mm=None, grid_deg=40.0)
    assert only_grid is not None
    assert only_grid.by == "grid"


def test_what_a_beam_covers() -> None:
    assert [covers(wide) for wide in (0.3, 0.4, 1.0, 1.9, 5)] == [
        "less than a head", "head", "half figure", "full figure", "full figure",
    ]  # fmt: skip
    twenty = beam(2.0, zoom_mm=24, grid_deg=20)
    assert twenty is not None
    assert twenty.covers == "head"  # 0.71 m across


def test_as_big_as_a_door() -> None:
    door = apparent_size((0.9, 2.0), 2.0)
    assert (door.as_big_as, door.longer_m) == ("a door", 2.0)
    assert door.angle_deg == pytest.approx(53.13, abs=0.01)
    assert apparent_size((0.3, 0.25), 1.5).as_big_as == "a dinner plate"


@given(st.floats(0.03, 3), st.floats(0.03, 3), metres)
def test_nearer_looks_larger(width_m: float, height_m: float, distance_m: float) -> None:
    near, far = (apparent_size((width_m, height_m), metres_off) for metres_off in (distance_m, distance_m * 1.5))
    assert near.angle_deg > far.angle_deg
    assert near.as_big_as == far.as_big_as


@pytest.mark.parametrize("angle_deg", [0, -5, 180, float("nan")])
def test_an_angle_that_cannot_be(angle_deg: float) -> None:
    with pytest.raises(InputProblem, match="angle_deg"):
        beam_diameter_m(angle_deg, 2)


def test_distances_and_zooms_that_cannot_be() -> None:
    with pytest.raises(InputProblem, match="distance_m"):
        beam_diameter_m(20, 0)
    with pytest.raises(InputProblem, match="zoom_mm"):
        zoom_angle_deg(0)
    with pytest.raises(InputProblem, match="face_m"):
        apparent_size((0, 1), 2)
