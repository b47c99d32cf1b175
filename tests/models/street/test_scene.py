"""Packed walls, floors, footprints and crowns."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.problems import InputProblem
from models.street.scene import (
    Building,
    Canopy,
    Tree,
    building_over,
    canopy_of_tree,
    lowered,
    pack_walls,
)

SQUARE = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))
YARD = ((4.0, 4.0), (6.0, 4.0), (6.0, 6.0), (4.0, 6.0))
COURTYARD_HOUSE = Building((SQUARE, YARD), top_m=12.0)


def right_hand_side(walls):
    """A point a centimetre off the middle of each panel, on the right going from start to end."""
    along = walls.end_m - walls.start_m
    right = np.stack([along[:, 1], -along[:, 0]], axis=1) / np.linalg.norm(along, axis=1)[:, None]
    return (walls.start_m + walls.end_m) / 2 + 0.01 * right


@given(st.booleans(), st.booleans())
def test_the_outside_is_on_the_right_whichever_way_rings_were_drawn(turn_outline, turn_yard):
    outline, yard = SQUARE[::-1] if turn_outline else SQUARE, YARD[::-1] if turn_yard else YARD
    walls = pack_walls([Building((outline, yard), top_m=12.0)])
    assert len(walls) == 8
    assert all(building_over(walls, *point) is None for point in right_hand_side(walls))


def test_closed_rings_give_no_wall_of_no_length():
    assert len(pack_walls([Building(((*SQUARE, SQUARE[0]),), top_m=3.0)])) == 4


def test_the_packing_carries_heights_doubts_and_what_was_assumed():
    shed = Building((SQUARE,), top_m=3.0, bottom_m=1.0, height_source="assumed", doubt_m=4.0)
    walls = pack_walls([COURTYARD_HOUSE, shed])
    assert walls.building.tolist() == [0] * 8 + [1] * 4
    assert walls.top_m[-1] == 3.0
    assert walls.bottom_m[-1] == 1.0
    assert walls.doubt_m.tolist() == [0.5] * 8 + [4.0] * 4
    assert walls.assumed is not None
    assert walls.assumed.tolist() == [False] * 8 + [True] * 4


@pytest.mark.parametrize(
    "building",
    [
        Building((SQUARE,), top_m=0.0),
        Building((SQUARE,), top_m=3.0, bottom_m=4.0),
        Building((), top_m=3.0),
        Building((SQUARE[:2],), top_m=3.0),
        Building((((0.0, 0.0), (5.0, 5.0), (9.0, 9.0)),), top_m=3.0),
        Building((((2.0, 2.0),) * 4,), top_m=3.0),
    ],
)
def test_what_is_no_building_gives_no_walls(building):
    assert set(pack_walls([COURTYARD_HOUSE, building]).building.tolist()) == {0}
    assert len(pack_walls([COURTYARD_HOUSE, building])) == 8


def test_no_buildings_no_walls():
    assert len(pack_walls([])) == 0
    assert building_over([]) is None


@pytest.mark.parametrize("bad", [float("nan"), float("inf")])
def test_what_is_not_a_number_is_refused_by_name(bad):
    with pytest.raises(InputProblem, match="building 2"):
        pack_walls([COURTYARD_HOUSE, Building((SQUARE,), top_m=bad)])
    with pytest.raises(InputProblem, match="building 2"):
        pack_walls([COURTYARD_HOUSE, Building((((bad, 0.0), *SQUARE[1:]),), top_m=3.0)])


def test_from_a_deck_what_is_no_higher_vanishes_and_the_rest_is_lower():
    walls = pack_walls([Building((SQUARE,), top_m=9.0), Building((SQUARE,), top_m=21.0)])
    seen = lowered(walls, 9.0)
    assert seen.building.tolist() == [1] * 4
    assert seen.top_m.tolist() == [12.0] * 4
    assert lowered(walls, 0.0) is walls


def test_a_point_is_in_the_building_but_not_in_its_courtyard():
    assert building_over([COURTYARD_HOUSE], 2.0, 5.0) == 0
    assert building_over([COURTYARD_HOUSE], 5.0, 5.0) is None
    assert building_over([COURTYARD_HOUSE], 12.0, 5.0) is None
    assert building_over([COURTYARD_HOUSE], -1.0, 0.0) is None


def test_the_tallest_building_over_a_point_is_named():
    house = Building((SQUARE,), top_m=9.0)
    assert building_over([house, replace(house, top_m=30.0), house], 1.0, 1.0) == 1


def test_a_crown_sphere_is_framed_by_its_tangents():
    """A sphere of radius r at distance d spans asin(r/d) to each side, up, down and across."""
    height, radius = 10.0, 3.5  # (1 - 0.3) * 10 / 2: a round crown, its middle 6.5 m up
    canopy = canopy_of_tree(Tree(0.0, 20.0, height, radius), eye_m=6.5)
    half = math.degrees(math.asin(radius / 20))
    assert (canopy.elevation_from_deg, canopy.elevation_to_deg) == pytest.approx((-half, half))
    assert canopy.bearing_from_deg == pytest.approx(360 - half)
    assert canopy.bearing_to_deg == pytest.approx(half)
    assert canopy.covers([0, 9, 351, 180, 0], [0, 0, 0, 0, 30]).tolist() == [True, True, True, False, False]


def test_under_a_crown_the_leaves_are_all_round_and_overhead():
    canopy = canopy_of_tree(Tree(1.0, 1.0, 10.0, 3.0))
    assert canopy.width_deg == 360
    assert canopy.covers([10, 200], [80, 80]).all()
    assert canopy.elevation_from_deg == pytest.approx(math.degrees(math.atan2(5.0, 3.0)))


def test_a_crown_lets_more_through_when_bare():
    canopy = canopy_of_tree(Tree(0.0, 20.0, 10.0, 3.0))
    assert 0.05 <= canopy.transmittance(7) <= 0.30  # generic street tree crown, urban forestry literature, from memory
    assert 0.50 <= canopy.transmittance(1) <= 0.80  # the same, bare


def test_only_what_never_lets_light_through_is_a_roof():
    assert Canopy(0, 360, 30, 90, 0.0, 0.0, name="arcade").is_roof
    assert not Canopy(0, 360, 30, 90, 0.0, 0.6).is_roof


def test_a_building_of_which_only_the_near_walls_are_known_is_not_over_the_point() -> None:
    """Walls are fetched within a reach, which may cut a far building in two."""
    walls = pack_walls([Building((((490, -20), (530, -20), (530, 20), (490, 20)),), 10)])
    near = walls.only(walls.start_m[:, 0] < 500)
    assert 0 < len(near) < len(walls)
    assert building_over(near) is None
    assert building_over(walls, 510, 0) == 0
