"""Walks: how long they take, and the shortest way along footways."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.problems import InputProblem
from models.street.footways import REACH_M, Way, shortest_way
from models.street.town import FootwayDraft
from models.street.walking import DETOUR, GROUP_PACE_M_S, Walk, shown, straight_walk
from tests.models.street.ways import at, path


def way(footways: list[FootwayDraft], start: tuple[float, float], goal: tuple[float, float], **how: bool) -> Way | None:
    return shortest_way(footways, at(*start), at(*goal), **how)


def length(footways: list[FootwayDraft], start: tuple[float, float], goal: tuple[float, float], **how: bool) -> float:
    found = way(footways, start, goal, **how)
    assert found is not None
    return found.distance_m


BLOCK = [path((0, 0), (0, 100), (100, 100)), path((0, 0), (50, 0), (100, 0)), path((100, 0), (100, 100))]
"""Round a block of 100 m, the last side a way of its own."""


def test_a_straight_walk_is_the_distance_with_a_detour_at_group_pace():
    walk = straight_walk(400, stairs=2, crossings=1)
    assert walk.distance_m == 400 * DETOUR
    assert walk.time_s == pytest.approx(400 * DETOUR / GROUP_PACE_M_S)
    assert (walk.stairs, walk.crossings) == (2, 1)


def test_both_walks_are_shown_where_they_differ_by_more_than_a_third():
    straight = straight_walk(300, detour=1.0)
    near, far, short = (Walk("footways", metres) for metres in (400.0, 401.0, 224.0))
    assert shown(straight, None) == (straight,)
    assert shown(straight, near) == (near,)
    assert shown(straight, far) == (far, straight)
    assert shown(straight, short) == (straight, short)


@pytest.mark.parametrize(
    ("field", "asked"),
    [
        ("geodesic_m", (-1, 1.0, 1.3)),
        ("geodesic_m", (math.nan, 1.0, 1.3)),
        ("pace_m_s", (100, 0.0, 1.3)),
        ("pace_m_s", (100, 9.0, 1.3)),
        ("detour", (100, 1.0, 0.9)),
    ],
)
def test_what_cannot_be_meant_is_refused_by_name(field, asked):
    with pytest.raises(InputProblem) as problem:
        straight_walk(*asked)
    assert problem.value.field == field


def test_the_shorter_way_round_the_block():
    assert length(BLOCK, (0, 0), (100, 100)) == pytest.approx(200, abs=0.2)
    assert length(BLOCK, (0, 30), (100, 20)) == pytest.approx(150, abs=0.2)
    assert length(BLOCK, (20, 0), (80, 0)) == pytest.approx(60, abs=0.2), "both on one stretch"


def test_the_way_to_the_first_footway_is_part_of_it():
    found = way(BLOCK, (-7, 40), (60, -5))
    assert found is not None
    assert found.off_m == pytest.approx(12, abs=0.1)
    assert found.distance_m == pytest.approx(7 + 40 + 60 + 5, abs=0.3)
    assert found.line[0][::-1] == pytest.approx(at(-7, 40), abs=2e-6)
    assert found.line[-1][::-1] == pytest.approx(at(60, -5), abs=2e-6)


def test_from_a_place_to_itself():
    found = way(BLOCK, (10, 10), (10, 10))
    assert found == Way(0, 0, 0, found.line) if found else False
    assert found is not None
    assert len(found.line) == 1


def test_no_way_known():
    assert way([], (0, 0), (1, 1)) is None
    assert way([path((0, 0))], (0, 0), (1, 1)) is None
    assert way([*BLOCK, path((300, 0), (300, 100))], (0, 0), (300, 50)) is None, "two parts of town"
    assert way(BLOCK, (-REACH_M - 1, 0), (50, 0)) is None
    assert way(BLOCK, (-REACH_M + 1, 0), (50, 0)) is not None


def test_ways_that_only_cross_meet_where_they_were_drawn_by_hand():
    bridge = [path((0, 0), (100, 0)), path((50, -50), (50, 50))]
    assert way(bridge, (0, 0), (50, 50)) is None
    assert length(bridge, (0, 0), (50, 50), by_hand=True) == pytest.approx(100, abs=0.2)


def test_ways_drawn_by_hand_that_almost_meet():
    almost = [path((0, 0), (100, 0)), path((50, 2), (50, 80)), path((20, 10), (20, 80))]
    assert way(almost, (0, 0), (50, 80)) is None
    assert length(almost, (0, 0), (50, 80), by_hand=True) == pytest.approx(130, abs=4)
    assert way(almost, (0, 0), (20, 80), by_hand=True) is None


def test_flights_of_stairs_are_counted():
    stairs = [path((0, 0), (10, 0)), path((10, 0), (15, 0), (20, 0), kind="steps"), path((20, 0), (30, 0)),
              path((30, 0), (40, 0), kind="steps")]  # fmt: skip
    found = way(stairs, (0, 0), (40, 0))
    assert found is not None
    assert found.stairs == 2
    level = way(stairs, (0, 0), (10, 0))
    assert level is not None
    assert level.stairs == 0


@given(st.lists(st.tuples(st.integers(0, 6), st.integers(0, 6)), min_size=2, max_size=2, unique=True))
def test_on_a_grid_of_streets_a_way_is_as_long_as_its_blocks(ends):
    """Ways drawn by hand from end to end, all crossing: the distance goes round the corners, there as back."""
    grid = [path((50 * k, -10), (50 * k, 310)) for k in range(7)] + [
        path((-10, 50 * k), (310, 50 * k)) for k in range(7)
    ]
    (a, b), (c, d) = ends
    start, goal = (50 * a, 50 * b), (50 * c, 50 * d)
    there, back = length(grid, start, goal, by_hand=True), length(grid, goal, start, by_hand=True)
    assert there == pytest.approx(50 * (abs(a - c) + abs(b - d)), abs=1)
    assert back == pytest.approx(there, abs=0.5)
