"""Shadows on the ground, against shapely sweeping each footprint the long way, and the laws they keep."""

from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity

from models.problems import InputProblem
from models.street.scene import REACH_M, Building
from models.street.shadows import shadows
from tests.models.street.towns import box, redrawn, star_house, star_town, turned

SQUARE = box(0, 0, 10, 10)
BLOCK = Building((SQUARE,), top_m=10.0)
seeds = st.integers(0, 2**32 - 1)
elevations = st.floats(4, 85)  # higher than where the reach cuts a shadow short
azimuths = st.floats(0, 360)


def swept_the_long_way(building, elevation_deg, azimuth_deg):
    """Union of the footprint and of what each of its walls sweeps: shapely only, one wall after the other."""
    away = -np.array([np.sin(np.radians(azimuth_deg)), np.cos(np.radians(azimuth_deg))])
    near, far = np.array([building.bottom_m, building.top_m]) / np.tan(np.radians(elevation_deg))
    foot = shapely.make_valid(shapely.Polygon(building.rings[0], building.rings[1:]))
    parts = [affinity.translate(foot, *(near * away))]
    for ring in building.rings:
        corners = np.array(ring) + near * away
        for a, b in zip(corners, np.roll(corners, -1, axis=0), strict=True):
            push = (far - near) * away
            parts.append(shapely.Polygon([a, b, b + push, a + push]))
    return shapely.union_all([part for part in parts if part.is_valid])


def test_a_square_block_with_the_sun_in_the_south_at_45_degrees():
    """Thrown north by its own height: 10 m wide, 10 m deep and 10 m thrown."""
    shadow = shadows([BLOCK], 45.0, 180.0)
    assert shadow.area == pytest.approx(200.0, abs=1e-4)
    assert shadow.bounds == pytest.approx((-5, -5, 5, 15), abs=1e-6)


def test_light_falls_into_a_yard_that_is_wider_than_the_throw():
    yard_house = Building((box(0, 0, 40, 40), box(0, 0, 20, 20)), top_m=5.0)
    assert shadows([yard_house], 45.0, 180.0).area == pytest.approx(40 * 45 - 20 * 15, abs=1e-4)
    assert shadows([yard_house], 10.0, 180.0).interiors[:] == []


def test_the_shadow_of_a_raised_part_starts_where_its_foot_is_thrown():
    shadow = shadows([replace(BLOCK, bottom_m=4.0, top_m=10.0)], 45.0, 270.0)
    assert shadow.bounds == pytest.approx((-1, -5, 15, 5), abs=1e-6)


@settings(max_examples=40, deadline=None)
@given(seeds, elevations, azimuths, st.integers(5, 14), st.booleans(), st.floats(0, 0.9))
def test_any_footprint_throws_what_its_walls_sweep(seed, elevation, azimuth, corners, yard, raised):
    house = star_house(np.random.default_rng(seed), 30.0, -40.0, corners, yard)
    house = replace(house, bottom_m=raised * house.top_m)
    (ours,) = shadows([house], elevation, azimuth, joined=False)
    theirs = swept_the_long_way(house, elevation, azimuth)
    assert ours.is_valid
    assert ours.symmetric_difference(theirs).area < 1e-3


@settings(max_examples=20, deadline=None)
@given(seeds, elevations, azimuths)
def test_joined_is_the_union_of_the_single_shadows(seed, elevation, azimuth):
    town = star_town(seed, 12, half_m=60.0)
    single = shadows(town, elevation, azimuth, joined=False)
    assert shadows(town, elevation, azimuth).area == pytest.approx(shapely.union_all(single).area, rel=1e-6)


@settings(max_examples=25, deadline=None)
@given(seeds, elevations, azimuths, st.floats(0, 20))
def test_a_taller_building_never_shortens_a_shadow(seed, elevation, azimuth, more_m):
    house = star_house(np.random.default_rng(seed), 0.0, 0.0)
    low = shadows([house], elevation, azimuth)
    high = shadows([replace(house, top_m=house.top_m + more_m)], elevation, azimuth)
    assert low.difference(high).area < 1e-3


@settings(max_examples=25, deadline=None)
@given(seeds, elevations, azimuths, st.floats(-180, 180))
def test_turning_the_scene_turns_the_shadow(seed, elevation, azimuth, degrees):
    house = star_house(np.random.default_rng(seed), 20.0, 0.0)
    still = affinity.rotate(shadows([house], elevation, azimuth), -degrees, origin=(0, 0))
    assert still.symmetric_difference(shadows([turned(house, degrees)], elevation, azimuth + degrees)).area < 1e-3


@settings(max_examples=25, deadline=None)
@given(seeds, elevations, azimuths)
def test_which_way_rings_were_drawn_changes_nothing(seed, elevation, azimuth):
    house = star_house(np.random.default_rng(seed), 0.0, 0.0)
    one, other = shadows([house], elevation, azimuth), shadows([redrawn(house)], elevation, azimuth)
    assert one.symmetric_difference(other).area < 1e-6


def test_a_low_sun_throws_no_further_than_the_reach():
    shadow = shadows([BLOCK], 0.5, 180.0)
    assert shadow.bounds == pytest.approx((-5, -5, 5, 5 + REACH_M), abs=1e-6)


@pytest.mark.parametrize("elevation", [0.0, -5.0])
def test_no_sun_no_shadow(elevation):
    assert shadows([BLOCK], elevation, 180.0).is_empty
    assert [shape.is_empty for shape in shadows([BLOCK, BLOCK], elevation, 180.0, joined=False)] == [True, True]


def test_the_sun_overhead_leaves_the_footprint():
    assert shadows([BLOCK], 90.0, 0.0).area == pytest.approx(100.0, abs=1e-4)


def test_what_is_no_building_throws_none_and_keeps_its_place():
    nothing = [replace(BLOCK, top_m=0.0), Building((SQUARE[:2],), top_m=5.0), Building((), top_m=5.0)]
    shapes = shadows([nothing[0], BLOCK, *nothing[1:]], 45.0, 180.0, joined=False)
    assert [round(shape.area) for shape in shapes] == [0, 200, 0, 0]
    assert shadows(nothing, 45.0, 180.0).is_empty
    assert shadows([], 45.0, 180.0).is_empty


def test_an_outline_that_crosses_itself_still_throws_a_shadow():
    bow_tie = Building((((-5.0, -5.0), (5.0, 5.0), (5.0, -6.0), (-5.0, 5.0)),), top_m=10.0)
    shapes = shadows([BLOCK, bow_tie], 45.0, 170.0, joined=False)
    assert shapes[1].is_valid
    assert shapes[1].symmetric_difference(swept_the_long_way(bow_tie, 45.0, 170.0)).area < 1e-6


def test_heights_that_are_no_number_are_refused():
    with pytest.raises(InputProblem, match="building 2"):
        shadows([BLOCK, replace(BLOCK, top_m=float("nan"))], 45.0, 180.0)
