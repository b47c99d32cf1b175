"""What becomes of the sun behind edges, leaves and roofs; one instant and many by the same code."""

import math
from dataclasses import dataclass

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from models.sky.sun import SUN_DEG, refracted_deg
from models.street.disc import SUN_RADIUS_DEG
from models.street.scene import Building, Canopy, SkylinePoint, pack_walls
from models.street.shadows import shadows
from models.street.skyline import MEASURED, NOTHING, ROOF, STATES, Skyline, skyline_of, sun_states
from tests.models.street.towns import box, star_town


@dataclass(frozen=True)
class SunState:
    state: str
    obstacle: int
    too_close: bool
    transmittance: float


def sun_state(skyline, elevation_deg, azimuth_deg, month):
    """One instant of `sun_states`."""
    code, light, close, obstacle = sun_states(skyline, elevation_deg, azimuth_deg, month)
    return SunState(STATES[int(code[0])], int(obstacle[0]), bool(close[0]), float(light[0]))


def flat(elevation_deg=30.0, doubt_deg=0.0, canopies=()):
    """One wall all round."""
    return Skyline(np.full(720, elevation_deg), np.full(720, doubt_deg), np.zeros(720, np.int32), "", tuple(canopies))


def bare(*canopies):
    """Nothing but leaves and roofs."""
    return Skyline(np.zeros(720), np.zeros(720), np.full(720, NOTHING, np.int32), "", canopies)


OPEN = bare()


def geometric(seen_deg):
    """The geometric elevation of a sun that is seen at this one."""
    elevation = seen_deg
    for _ in range(40):
        elevation += seen_deg - refracted_deg(elevation)
    assert refracted_deg(elevation) == pytest.approx(seen_deg, abs=1e-9)
    return elevation


def test_down_is_the_geometric_elevation_of_sunset():
    assert sun_state(OPEN, SUN_DEG - 0.001, 100, 6).state == "down"
    assert sun_state(OPEN, SUN_DEG + 0.001, 100, 6).state == "open"
    assert sun_state(OPEN, -30, 100, 6).transmittance == 0


def test_on_a_bare_horizon_the_disc_sets_without_a_doubt():
    """-0.833 stands for 34' of refraction; ours is 37' down there: a twentieth of the disc is left at sunset."""
    state = sun_state(OPEN, geometric(0.0), 100, 6)
    assert (state.state, state.too_close, state.obstacle) == ("open", False, NOTHING)
    assert state.transmittance == pytest.approx(0.5, abs=0.001)
    assert sun_state(OPEN, SUN_DEG, 100, 6).transmittance < 0.06
    assert sun_state(OPEN, geometric(0.3), 100, 6).transmittance == 1


@pytest.mark.parametrize(
    ("radii_above", "share"),
    [(-1.01, 0.0), (-0.999, 0.0), (-0.5, 0.19550), (0, 0.5), (0.5, 0.80450), (0.999, 1.0), (1.01, 1.0)],
)
def test_the_disc_crosses_an_edge_by_the_segment_of_a_circle(radii_above, share):
    """Area of a circular segment at half the radius: 1/3 - sqrt(3) / (4 pi) = 0.19550 of the circle (handbook)."""
    state = sun_state(flat(30.0), geometric(30.0 + radii_above * SUN_RADIUS_DEG), 200, 6)
    assert state.transmittance == pytest.approx(share, abs=1e-4)
    assert state.state == ("open" if radii_above >= 0 else "behind")
    assert state.too_close == (abs(radii_above) < 1)


def test_comparison_is_with_the_refracted_sun():
    """A wall half a degree high: the sun seen 0.8 degrees high is geometrically below its top."""
    elevation = geometric(0.8)
    assert elevation < 0.5
    assert sun_state(flat(0.5), elevation, 90, 6).state == "open"


@pytest.mark.parametrize(
    ("doubt", "off", "close"), [(0, 0.26, True), (0, 0.28, False), (2, 1.9, True), (2, 2.1, False)]
)
def test_too_close_to_call_is_the_larger_of_disc_and_doubt(doubt, off, close):
    for sign in (-1, 1):
        assert sun_state(flat(30.0, doubt), geometric(30 + sign * off), 200, 6).too_close == close


def test_at_an_upright_edge_the_disc_goes_over_half_a_degree():
    sky = skyline_of(pack_walls([Building((box(100, 100, 200, 10),), top_m=80.0)]))
    edge = math.degrees(math.atan2(0, 95))  # its near corner stands due north
    states = sun_states(sky, 20.0, np.linspace(edge - 1, edge + 1, 81), 6)
    assert states.transmittance[0] == 1
    assert states.transmittance[-1] == 0
    assert (np.diff(states.transmittance) <= 1e-12).all()
    assert STATES[states.code[0]] == "open"
    assert STATES[states.code[-1]] == "behind"
    assert states.too_close.sum() == pytest.approx(20, abs=2)  # half a degree in steps of 1/40
    assert not states.too_close[[0, -1]].any()


def test_the_obstacle_is_named():
    town = [Building((box(0, 50, 20, 10),), top_m=40.0), Building((box(50, 0, 10, 20),), top_m=40.0)]
    sky = skyline_of(pack_walls(town), measured=[SkylinePoint(170, 50), SkylinePoint(190, 50)])
    assert [sun_state(sky, 10, azimuth, 6).obstacle for azimuth in (0, 90, 180, 270)] == [0, 1, MEASURED, NOTHING]


def test_leaves_let_through_what_the_month_allows():
    limes = Canopy(80, 120, 10, 60, 0.2, 0.6, leaf_months=(5, 6, 7, 8, 9, 10), name="limes")
    sky = bare(limes)
    summer, winter = sun_state(sky, 30, 100, 7), sun_state(sky, 30, 100, 1)
    assert (summer.state, summer.transmittance) == ("leaves", pytest.approx(0.2))
    assert (winter.state, winter.transmittance) == ("leaves", pytest.approx(0.6))
    for elevation, azimuth in ((30, 70), (30, 130), (5, 100), (70, 100)):
        assert sun_state(sky, elevation, azimuth, 7) == sun_state(OPEN, elevation, azimuth, 7)


def test_two_crowns_one_behind_the_other_multiply():
    crowns = [Canopy(350, 20, 10, 60, 0.3, 0.7), Canopy(0, 40, 10, 60, 0.5, 0.8)]
    sky = bare(*crowns)
    assert sun_states(sky, 30, [355, 10, 30], 7).transmittance == pytest.approx([0.3, 0.15, 0.5])


def test_behind_a_wall_leaves_do_not_matter():
    sky = flat(30.0, canopies=[Canopy(0, 360, 10, 60, 0.3, 0.7)])
    assert sun_state(sky, 20, 100, 7).state == "behind"
    assert sun_state(sky, 20, 100, 7).obstacle == 0


def test_a_roof_is_something_to_be_behind():
    sky = bare(Canopy(0, 360, 40, 90, 0, 0))
    high, low, edge = (sun_state(sky, geometric(e), 100, 7) for e in (60, 20, 40.1))
    assert (high.state, high.obstacle, high.transmittance) == ("behind", ROOF, 0)
    assert (low.state, low.transmittance) == ("open", 1)
    assert edge.too_close
    assert not high.too_close


def test_the_sectors_of_a_roof_leave_no_light_between_them():
    arcade = Building((box(0, 1, 100, 6),), top_m=18.0, bottom_m=4.5)
    states = sun_states(skyline_of(pack_walls([arcade])), 70.0, np.linspace(0, 360, 1001), 6)
    assert (states.transmittance < 1e-9).all()
    assert (states.code == STATES.index("behind")).all()
    low_south = sun_state(skyline_of(pack_walls([arcade])), 30, 180, 6)  # its edge stands at 56 degrees
    assert low_south.state == "open"


def test_leaves_in_every_direction_have_no_seam():
    sky = Skyline(
        np.zeros(720), np.zeros(720), np.full(720, NOTHING, np.int32), "", (Canopy(0, 360, 20, 90, 0.3, 0.7),)
    )
    assert sun_states(sky, 50, np.linspace(0, 360, 721), 7).transmittance == pytest.approx(0.3)


def test_an_instant_that_is_none_is_down():
    states = sun_states(flat(), [np.nan, 50], [np.nan, 100], 7)
    assert states.code.tolist() == [STATES.index("down"), STATES.index("open")]


@settings(max_examples=10, deadline=None)
@given(st.integers(0, 2**32 - 1))
def test_one_instant_and_many_agree_and_stay_in_bounds(seed):
    random = np.random.default_rng(seed)
    sky = skyline_of(pack_walls(star_town(seed, 30, half_m=120.0)), [Canopy(300, 40, 20, 70, 0.2, 0.7)])
    elevation, azimuth = random.uniform(-3, 70, 60), random.uniform(0, 360, 60)
    months = random.integers(1, 13, 60)
    many = sun_states(sky, elevation, azimuth, months)
    assert ((many.transmittance >= 0) & (many.transmittance <= 1)).all()
    for k in range(60):
        one = sun_state(sky, elevation[k], azimuth[k], int(months[k]))
        assert one.state == STATES[many.code[k]]
        assert one.transmittance == many.transmittance[k]
        assert (one.too_close, one.obstacle) == (many.too_close[k], many.obstacle[k])


@settings(max_examples=10, deadline=None)
@given(st.integers(0, 2**32 - 1))
def test_the_sun_is_behind_where_the_ground_lies_in_shadow(seed):
    """The other way to the same answer: a point in the union of shadows sees the sun behind a building."""
    random = np.random.default_rng(seed)
    town = star_town(seed, 40, half_m=120.0)
    sky = skyline_of(pack_walls(town), eye_m=0.0)
    for seen, azimuth in zip(random.uniform(5, 60, 8), random.uniform(0, 360, 8), strict=True):
        state = sun_state(sky, geometric(seen), azimuth, 6)
        if not state.too_close:
            shadow = shadows(town, seen, azimuth)
            assert shapely.contains_xy(shadow, 0.0, 0.0) == (state.state == "behind")
