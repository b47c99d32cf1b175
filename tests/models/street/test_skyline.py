"""Skylines that can be worked out by hand, any town against shapely's rays, and the laws skylines keep."""

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from models.problems import InputProblem
from models.street.scene import REACH_M, Building, Canopy, SkylinePoint, lowered, pack_walls
from models.street.skyline import MEASURED, NOTHING, InsideBuilding, Skyline, skyline_of
from tests.models.street.towns import box, changed, redrawn, star_town, turned

EXACT_DEG = 0.1
EYE = 1.5
BEARINGS = (np.arange(720) + 0.5) * 0.5
seeds = st.integers(0, 2**32 - 1)
SLAB = Building((box(0, 15, 400, 10),), top_m=11.5)  # its near wall 10 m north, 10 m above the eye


def skyline(*buildings, **more):
    return skyline_of(pack_walls(buildings), **more)


def at(bearing_deg):
    """The bin whose own bearing is nearest."""
    return int(bearing_deg * 2) % 720


def test_a_long_wall_sinks_with_the_cosine():
    sky = skyline(SLAB)
    off = np.radians(np.minimum(BEARINGS, 360 - BEARINGS))
    expected = np.degrees(np.arctan(np.cos(off)))
    ahead = off < math.atan2(199, 10)
    assert np.allclose(sky.elevation_deg[ahead], expected[ahead], atol=1e-9)
    assert (sky.elevation_deg[(BEARINGS > 90) & (BEARINGS < 270)] == 0).all()
    assert (sky.obstacle[ahead] == 0).all()
    assert sky.obstacle[at(180)] == NOTHING


def test_each_bin_is_exact_at_its_own_bearing_up_to_the_corner():
    """The slab's near corner stands at atan(200 / 10) = 87.14 degrees: one bin still sees it, the next does not."""
    sky = skyline(SLAB)
    last = math.degrees(math.atan(math.cos(math.radians(86.75))))
    assert sky.elevation_deg[at(86.75)] == pytest.approx(last, abs=1e-9)
    assert sky.elevation_deg[at(87.25)] == 0


def test_a_courtyard_is_outside_and_shows_its_own_walls():
    sky = skyline(Building((box(0, 0, 60, 60), box(0, 0, 20, 20)), top_m=11.5))
    nearest = 10 / np.maximum(np.abs(np.sin(np.radians(BEARINGS))), np.abs(np.cos(np.radians(BEARINGS))))
    assert np.allclose(sky.elevation_deg, np.degrees(np.arctan(10 / nearest)), atol=1e-9)


def test_a_multipolygon_counts_each_of_its_parts():
    west, east = (Building((box(side * 20, 0, 20, 20),), top_m=11.5, name="Twin Mills") for side in (-1, 1))
    sky = skyline(west, east)
    assert sky.elevation_deg[[at(89.75), at(269.75)]] == pytest.approx(45, abs=0.001)
    assert set(sky.obstacle[[at(90), at(270)]]) == {0, 1}


def test_from_a_deck_only_what_is_higher_rises():
    deck = Building((box(0, 0, 40, 40),), top_m=9.0)
    tower = Building((box(0, 60, 20, 20),), top_m=9.0 + EYE + 50.0)
    with pytest.raises(InsideBuilding):
        skyline(deck, tower)
    sky = skyline_of(lowered(pack_walls([deck, tower]), 9.0))
    assert sky.elevation_deg[at(0.25)] == pytest.approx(45, abs=0.01)
    assert (sky.elevation_deg[at(90) : at(270)] == 0).all()


def test_inside_a_building_the_answer_is_a_question():
    with pytest.raises(InsideBuilding) as inside:
        skyline(SLAB, Building((box(0, 0, 10, 10),), top_m=4.0))
    assert inside.value.building == 1
    assert isinstance(inside.value, InputProblem)


def test_under_a_roof_noted_by_hand_the_building_above_leaves_the_rest_to_it():
    passage = Building((box(0, 0, 100, 10),), top_m=6.0)
    roof = Canopy(0, 360, 60, 90, 0.0, 0.0, name="underpass")
    sky = skyline(SLAB, passage, canopies=[roof])
    assert sky.roof
    assert sky.elevation_deg[at(0.25)] == pytest.approx(45, abs=0.01)
    assert "inside a building" in sky.source


def test_a_raised_part_overhead_turns_into_its_underside():
    """An arcade 4.5 m high, open 2 m to the south: its edge there stands at atan(3 / 2) on the sector's middle."""
    arcade = Building((box(0, 1, 100, 6),), top_m=18.0, bottom_m=EYE + 3.0)
    sky = skyline(arcade)
    assert (sky.elevation_deg == 0).all()
    south = next(c for c in sky.canopies if c.bearing_from_deg == 180.0)
    assert south.is_roof
    assert south.elevation_from_deg == pytest.approx(
        math.degrees(math.atan2(3.0, 2.0 / math.cos(math.radians(2.5)))), abs=1e-9
    )
    assert "underside" in sky.source


def test_the_sky_below_a_raised_part_is_lost_and_said_so():
    bridge = Building((box(0, 15, 400, 10),), top_m=11.5, bottom_m=6.0)
    sky = skyline(bridge)
    assert sky.elevation_deg[at(0.25)] == pytest.approx(45, abs=0.01)
    assert "the sky below 1 raised part left out" in sky.source


def test_low_flat_and_broken_buildings_leave_the_sky_open():
    sky = skyline(
        Building((box(0, 15, 10, 10),), top_m=0.0),
        Building((box(0, 15, 10, 10),), top_m=1.0, doubt_m=0.2),
        Building((((0.0, 10.0), (10.0, 10.0), (0.0, 10.0)),), top_m=30.0),
    )
    assert (sky.elevation_deg == 0).all()
    assert (sky.obstacle == NOTHING).all()
    assert sky.source == "no building seen within 500 m"


def test_what_stands_beyond_the_reach_is_not_seen():
    assert skyline(Building((box(0, REACH_M + 4, 40, 10),), top_m=80.0)).elevation_deg[0] > 0
    assert (skyline(Building((box(0, REACH_M + 6, 40, 10),), top_m=80.0)).elevation_deg == 0).all()


def test_no_walls_at_all():
    sky = skyline()
    assert (sky.elevation_deg == 0).all()
    assert (sky.doubt_deg == 0).all()


def test_the_doubt_of_a_height_is_the_wider_of_up_and_down():
    """10 m away, 10 m above the eye, give or take 2 m: 38.7 to 50.2 degrees round 45."""
    sky = skyline(replace(SLAB, doubt_m=2.0))
    assert sky.doubt_deg[0] == pytest.approx(45 - math.degrees(math.atan(0.8)), abs=0.01)
    assert skyline(replace(SLAB, doubt_m=0.0)).doubt_deg[0] == 0
    far = skyline(Building((box(0, 105, 400, 10),), top_m=11.5, doubt_m=2.0))
    assert far.doubt_deg[0] == pytest.approx(math.degrees(math.atan(0.12) - math.atan(0.1)), abs=0.01)


def test_a_lower_building_of_doubtful_height_widens_the_doubt():
    behind = Building((box(0, 105, 400, 10),), top_m=61.5, height_source="assumed", doubt_m=100.0)
    sky = skyline(replace(SLAB, doubt_m=0.1), behind)
    assert sky.elevation_deg[0] == pytest.approx(45, abs=0.01)
    assert sky.doubt_deg[0] == pytest.approx(math.degrees(math.atan(1.6)) - 45, abs=0.1)


def test_the_source_counts_buildings_and_assumed_heights():
    assumed = Building((box(0, -15, 40, 10),), top_m=11.5, height_source="assumed", doubt_m=4.0)
    assert skyline(SLAB, assumed).source == "from 2 buildings, 1 height assumed"
    assert skyline(SLAB).source == "from 1 building, no height assumed"


def test_hand_measured_points_replace_the_buildings_between_neighbours():
    points = [SkylinePoint(340, 20), SkylinePoint(20, 30), SkylinePoint(50, 10), SkylinePoint(200, 60)]
    sky = skyline(SLAB, measured=points)
    assert sky.at([340.25, 0.25, 20.25, 49.75]) == pytest.approx([20.0625, 25.0625, 29.8333, 10.1667], abs=1e-3)
    assert (sky.obstacle[at(0) : at(50)] == MEASURED).all()
    assert (sky.doubt_deg[at(0) : at(50)] == 1.0).all()
    assert sky.elevation_deg[at(50.25)] == skyline(SLAB).elevation_deg[at(50.25)]
    assert (sky.elevation_deg[at(190) : at(210)] == 0).all()
    assert sky.source.endswith(
        "hand-measured at 3 bearings; 1 measured bearing with no neighbour within 45 degrees, not used"
    )


def test_points_just_too_far_apart_say_nothing_about_what_lies_between():
    near = skyline(measured=[SkylinePoint(100, 20), SkylinePoint(145, 20)])
    far = skyline(measured=[SkylinePoint(100, 20), SkylinePoint(145.1, 20)])
    assert near.elevation_deg[at(120)] == 20
    assert far.elevation_deg[at(120)] == 0


def test_a_whole_round_measured_by_hand():
    sky = skyline(SLAB, measured=[SkylinePoint(b, 15) for b in range(0, 360, 30)])
    assert (sky.elevation_deg == 15).all()
    assert sky.source == "hand-measured at 12 bearings"


def test_between_two_bins_of_one_wall_the_line_is_straight_and_elsewhere_the_nearer_bin_counts():
    sky = skyline(SLAB)
    assert sky.at(30.5) == pytest.approx((sky.elevation_deg[60] + sky.elevation_deg[61]) / 2)
    step = Skyline(np.array([0.0, 40.0, 0.0, 0.0]), np.zeros(4), np.array([-1, 3, -1, -1], np.int32), "")
    assert step.at([89, 91, 179, 181]).tolist() == [0, 40, 40, 0]
    assert step.at(359.9) == step.at(-0.1) == 0


@settings(max_examples=15, deadline=None)
@given(seeds)
def test_any_town_agrees_with_rays_cast_by_shapely(seed):
    town = star_town(seed, 40, half_m=150.0)
    sky = skyline(*town)
    shapes = np.array([shapely.Polygon(b.rings[0], b.rings[1:]) for b in town])
    rise = np.array([b.top_m - EYE for b in town])
    for k in np.random.default_rng(seed).integers(0, 720, 12):
        bearing = math.radians(BEARINGS[k])
        ray = shapely.LineString([(0, 0), (REACH_M * math.sin(bearing), REACH_M * math.cos(bearing))])
        distance = shapely.distance(shapely.Point(0, 0), shapely.intersection(ray, shapes))
        expected = max(
            (math.degrees(math.atan2(r, d)) for r, d in zip(rise, distance, strict=True) if d == d), default=0
        )
        assert sky.elevation_deg[k] == pytest.approx(expected, abs=EXACT_DEG)


@settings(max_examples=15, deadline=None)
@given(seeds, st.integers(0, 719))
def test_turning_the_scene_turns_the_skyline(seed, bins):
    town = star_town(seed, 30, half_m=150.0)
    still = skyline(*town)
    moved = skyline(*(turned(b, bins * 0.5) for b in town))
    differ = ~np.isclose(np.roll(still.elevation_deg, bins), moved.elevation_deg, atol=1e-6)
    assert differ.sum() <= 2  # a corner that stands on a bin's own bearing may fall to either side


@settings(max_examples=15, deadline=None)
@given(seeds)
def test_which_way_rings_were_drawn_changes_nothing(seed):
    town = star_town(seed, 30, half_m=150.0)
    one, other = skyline(*town), skyline(*map(redrawn, town))
    assert np.allclose(one.elevation_deg, other.elevation_deg, atol=1e-9)
    assert (one.obstacle == other.obstacle).all()


@settings(max_examples=15, deadline=None)
@given(seeds, st.integers(0, 29), st.floats(0, 40))
def test_a_taller_building_never_lowers_the_skyline(seed, index, more_m):
    town = star_town(seed, 30, half_m=150.0)
    before = skyline(*town)
    town[index] = replace(town[index], top_m=town[index].top_m + more_m)
    assert (skyline(*town).elevation_deg >= before.elevation_deg).all()


def test_a_corner_on_a_bins_own_bearing_leaves_no_crack():
    """Two walls meet at bearing 45.25, the middle of bin 90: one of them is hit."""
    corner = (10 * math.sin(math.radians(45.25)), 10 * math.cos(math.radians(45.25)))
    ring = ((0.0, 30.0), (corner[0], corner[1]), (30.0, 0.0), (60.0, 60.0))
    sky = skyline(Building((ring,), top_m=11.5))
    assert sky.elevation_deg[90] == pytest.approx(45, abs=1e-6)


def test_a_wall_seen_edge_on_is_seen_no_nearer_than_it_stands():
    bearing = math.radians(45.25)
    out, side = np.array([math.sin(bearing), math.cos(bearing)]), np.array([math.cos(bearing), -math.sin(bearing)])
    ring = tuple(map(tuple, (20 * out, 60 * out, 60 * out + 5 * side, 20 * out + 5 * side)))
    sky = skyline(changed(Building((ring,), top_m=21.5), lambda r: tuple((float(x), float(y)) for x, y in r)))
    assert sky.elevation_deg[90] <= 45.0 + 1e-9
    assert sky.elevation_deg[91] == pytest.approx(math.degrees(math.atan(math.cos(math.radians(0.5)))), abs=1e-6)
