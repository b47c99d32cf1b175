"""Roads that a walk crosses."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.street.crossings import CARRIAGEWAYS, roads_crossed
from tests.models.street.ways import at, path


def line(*points):
    return tuple(at(*point)[::-1] for point in points)


def crossed(way, *roads):
    return roads_crossed(line(*way), [path(*points, kind="residential") for points in roads])


EAST = ((0, 0), (100, 0))


def test_a_road_with_an_arm_on_either_side_is_crossed():
    assert crossed(EAST, ((50, -30), (50, 30))) == 1
    assert crossed(EAST, ((50, -30), (50, 0)), ((50, 0), (50, 30))) == 1, "drawn in two pieces that meet on the way"
    assert crossed(EAST, ((30, -30), (30, 30)), ((70, -30), (72, 30))) == 2
    assert crossed(EAST, ((40, -20), (60, 20))) == 1, "on the slant"


def test_a_road_that_ends_at_the_way_or_runs_along_it_is_not():
    assert crossed(EAST, ((50, 0), (50, 30))) == 0
    assert crossed(EAST, ((-50, 0), (150, 0))) == 0
    assert crossed(EAST, ((0, 1), (100, 1))) == 0
    assert crossed(((0, 0), (50, 0), (50, 50)), ((0, 0), (100, 0))) == 0, "left where the way turns off"
    assert crossed(EAST, ((50, 0), (50, 30)), ((70, 0), (70, -30))) == 0, "two side roads, one on either side"


@pytest.mark.parametrize("kind", ["footway", "steps", "pedestrian", "living_street", "cycleway", ""])
def test_only_what_people_drive_on_is_a_road(kind):
    assert kind not in CARRIAGEWAYS
    assert roads_crossed(line(*EAST), [path((50, -30), (50, 30), kind=kind)]) == 0


def test_nothing_to_walk_crosses_nothing():
    road = [path((50, -30), (50, 30), kind="residential"), path((1, 1), kind="residential")]
    assert roads_crossed((), road) == 0
    assert roads_crossed(line((50, 0)), road) == 0
    assert roads_crossed(line((50, 0), (50, 0)), road) == 0
    assert roads_crossed(line(*EAST), []) == 0


@given(st.lists(st.integers(1, 9), unique=True, max_size=6), st.booleans())
def test_as_many_as_there_are_there_as_back(places, back):
    roads = [((10 * place, -20), (10 * place, 20)) for place in places]
    assert crossed(EAST[::-1] if back else EAST, *roads) == len(places)
