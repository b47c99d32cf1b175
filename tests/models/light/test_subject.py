"""Light on the planes and behind the subject: scenes worked by hand, laws, canopies, lamps, instants and the year."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.light.subject import HALF_VIEW_DEG, light_over
from models.light.transport import BEARINGS, UP, coefficients
from models.sky.daylight import OpenSky, open_sky
from models.sky.sun import sun_positions
from tests.models.light.blocks import block, roof, scene_of, sky, street, tree, turned
from tests.models.light.instants import light_at

NORTH, EAST, SOUTH, WEST = 0, 2, 4, 6
TENTH_OF_A_STOP = 2**0.1
DARK = OpenSky(*np.zeros((3,)))
suns = st.tuples(st.floats(2, 85), st.floats(0, 360))


def at(fixed, elevation_deg=40.0, azimuth_deg=180.0, diffuse_lx=10_000.0, direct_lx=60_000.0, **more):
    return light_at(fixed, elevation_deg, azimuth_deg, sky(diffuse_lx, direct_lx, elevation_deg), **more)


def within_a_tenth(value, expected):
    return expected / TENTH_OF_A_STOP <= value <= expected * TENTH_OF_A_STOP


@pytest.mark.parametrize("elevation_deg", [1, 5, 20, 45, 70, 89])
@pytest.mark.parametrize("oktas", [0, 4, 8])
def test_level_ground_in_the_open_gets_diffuse_and_direct(elevation_deg, oktas):
    given_sky = sky(9_000.0, 50_000.0, elevation_deg)
    light = light_at(coefficients(scene_of([])), elevation_deg, 200.0, given_sky, oktas)
    assert light.illuminance_lx[UP] == pytest.approx(float(given_sky.global_lx), rel=0.01)


def test_an_upright_plane_in_the_open_gets_the_sun_half_an_even_ground_and_its_share_of_sky():
    """Overcast: 0.396 of the level light from the sky (Moon & Spencer 1942), half the ground's 20 % from below."""
    light = at(coefficients(scene_of([])), direct_lx=0.0, oktas=8)
    assert light.illuminance_lx[:8] == pytest.approx(np.full(8, 10_000 * (0.3962 + 0.1)), rel=0.01)


def test_a_sunlit_wall_square_to_the_sun():
    """The sun due south, a wall 30 m to the north of reflectance 0.5, black ground, no sky: E cos(h) rho / pi."""
    wall = scene_of([block(-200, 30, 200, 40, 60.0)], wall=0.5, ground=0.0)
    light = at(coefficients(wall), elevation_deg=20.0, diffuse_lx=0.0, direct_lx=50_000.0)
    expected = 50_000 * np.cos(np.radians(20)) * 0.5 / np.pi
    part = light.parts[NORTH]["sunlit wall"]
    assert within_a_tenth(part.luminance_cd_m2, expected)
    foot = np.arctan(1.5 / 30)
    view = np.sin(np.radians([-5, 25]))
    assert part.share == pytest.approx((view[1] + np.sin(foot)) / (view[1] - view[0]), abs=0.03)
    assert within_a_tenth(light.backdrop_cd_m2[NORTH], expected * part.share)


def test_sky_only():
    """Overcast, mean over the view of (1 + 2 sin e) / 3 Lz with Lz = 9 E / (7 pi); the black ground adds nothing."""
    low, high = np.sin(np.radians([0, 25]))
    mean = (high - low + high**2 - low**2) / 3 / (high + np.sin(np.radians(5)))
    light = at(coefficients(scene_of([], ground=0.0)), direct_lx=0.0, oktas=8)
    for bearing in range(8):
        assert within_a_tenth(light.backdrop_cd_m2[bearing], 10_000 * 9 / (7 * np.pi) * mean)
        assert set(light.parts[bearing]) == {"ground", "sky"}


def test_a_shaded_wall():
    """The same wall, black ground, under the southern half of an overcast sky: 0.396 E rho / pi."""
    wall = scene_of([block(-400, 30, 400, 40, 60.0)], wall=0.5, ground=0.0)
    light = at(coefficients(wall), azimuth_deg=0.0, direct_lx=0.0, oktas=8)
    part = light.parts[NORTH]["shaded wall"]
    assert within_a_tenth(part.luminance_cd_m2, 10_000 * 0.3962 * 0.5 / np.pi)
    assert "sunlit wall" not in light.parts[NORTH]


def test_open_shade_before_a_sunlit_wall():
    """The street's trap: the sun from the west leaves the west side in shade and lights the houses opposite."""
    light = at(coefficients(street(width_m=16, top_m=15)), elevation_deg=35.0, azimuth_deg=270.0)
    assert light.illuminance_lx[WEST] < 0.3 * 60_000
    assert light.parts[EAST]["sunlit wall"].share > 0.1
    assert light.backdrop_cd_m2[EAST] > 2 * light.backdrop_cd_m2[WEST]


@pytest.mark.parametrize("scene", [street(), street(canopies=[tree()]), scene_of([])])
def test_parts_add_up_to_the_whole(scene):
    light = at(coefficients(scene), elevation_deg=55.0, azimuth_deg=160.0, lamps_lx=5.0)
    for whole, parts in zip(light.backdrop_cd_m2, light.parts, strict=True):
        assert sum(part.share for part in parts.values()) == pytest.approx(1.0)
        assert sum(part.share * part.luminance_cd_m2 for part in parts.values()) == pytest.approx(whole, rel=0.01)


def test_one_instant_is_the_year_looked_at_once():
    """The largest difference over 200 instants is the last digit of 32-bit sums."""
    fixed = coefficients(street(canopies=[tree(first=100, last=200)]))
    elevation, azimuth = sun_positions(1_767_225_600 + 900.0 * np.arange(35_040), 52.5, 5.2)
    year_sky = open_sky(elevation)
    year = light_over(fixed, elevation, azimuth, year_sky)
    picked = np.random.default_rng(3).integers(0, 35_040, 200)
    for k in picked:
        here = OpenSky(year_sky.global_lx[k], year_sky.diffuse_lx[k], year_sky.direct_normal_lx[k])
        one = light_at(fixed, elevation[k], azimuth[k], here)
        np.testing.assert_allclose(one.illuminance_lx, year.illuminance_lx[k], rtol=1e-4, atol=1e-9)
        np.testing.assert_allclose(one.backdrop_cd_m2, year.backdrop_cd_m2[k], rtol=1e-4, atol=1e-9)


def test_a_bearing_between_the_eight():
    fixed = coefficients(street())
    given_sky = sky()
    eight = light_at(fixed, 40, 200, given_sky).backdrop_cd_m2
    bearings = (45, 60.0, 67.5, 90)
    along = light_over(fixed, 40, 200, given_sky, looking_deg=bearings).backdrop_cd_m2[0].tolist()
    assert along[0] == pytest.approx(eight[1])
    assert along[3] == pytest.approx(eight[2])
    assert min(along[0], along[3]) * 0.8 <= along[1] <= max(along[0], along[3]) * 1.25
    assert HALF_VIEW_DEG == 20


@given(suns, st.floats(0, 8))
@settings(max_examples=30, deadline=None)
def test_black_walls_never_make_level_ground_brighter_than_the_open(sun, oktas):
    light = light_at(BLACK, *sun, sky(elevation_deg=sun[0]), oktas)
    assert light.illuminance_lx[UP] <= float(sky(elevation_deg=sun[0]).global_lx) * 1.01


@given(suns, st.floats(0.1, 9))
@settings(max_examples=30, deadline=None)
def test_light_goes_with_the_sky(sun, factor):
    once, more = (light_at(STREET, *sun, sky(10_000 * f, 60_000 * f, sun[0])).illuminance_lx for f in (1.0, factor))
    assert more == pytest.approx(once * factor, rel=1e-4)


@given(suns, st.integers(1, 3))
@settings(max_examples=20, deadline=None)
def test_a_quarter_turn_turns_the_planes(sun, quarters):
    """Within a tenth of a stop: the rays do not turn with the scene."""
    elevation, azimuth = sun
    straight, turn = (coefficients(scene_of(turned(ROWS, q))) for q in (0, quarters))
    first = at(straight, elevation, azimuth, direct_transmittance=1.0).illuminance_lx
    second = at(turn, elevation, azimuth + 90 * quarters, direct_transmittance=1.0).illuminance_lx
    assert np.roll(first[:8], 2 * quarters) == pytest.approx(second[:8], rel=TENTH_OF_A_STOP - 1)
    assert first[UP] == pytest.approx(second[UP], rel=TENTH_OF_A_STOP - 1)


@given(suns)
@settings(max_examples=20, deadline=None)
def test_brighter_walls_never_darken(sun):
    dark, bright = (at(fixed, *sun).illuminance_lx for fixed in (BLACK, STREET))
    assert (bright >= dark * 0.999).all()


def test_leaves_weaken_what_is_seen_through_them():
    bare, under = coefficients(scene_of([])), coefficients(scene_of([], canopies=[tree(10, 90, 0.3)]))
    open_light, shaded = (at(fixed, direct_lx=0.0).illuminance_lx for fixed in (bare, under))
    assert shaded[UP] < 0.5 * open_light[UP]
    assert (shaded < open_light).all()


def test_leaves_let_their_share_of_the_sun_through():
    under = coefficients(scene_of([], ground=0.0, canopies=[tree(30, 50, 0.25)]))
    light = at(under, elevation_deg=40.0, diffuse_lx=0.0)
    assert light.illuminance_lx[UP] == pytest.approx(0.25 * 60_000 * np.sin(np.radians(40)), rel=0.06)


def test_bare_trees_let_more_through():
    scene = scene_of([], canopies=[tree(10, 90, 0.2)])
    in_leaf, bare = (at(coefficients(scene, in_leaf=season), direct_lx=0.0).illuminance_lx for season in (True, False))
    assert (bare > in_leaf).all()


def test_a_roof_overhead_darkens_strongly():
    open_light = at(coefficients(scene_of([])), elevation_deg=60.0).illuminance_lx
    roofed = at(coefficients(scene_of([], canopies=[roof(30)])), elevation_deg=60.0).illuminance_lx
    assert roofed[UP] < 0.12 * open_light[UP]
    assert (roofed > 0).all()


def test_the_ground_under_a_roof_is_dark_too():
    """The roof hangs over the ground within 5 m, whence comes nearly two thirds of the light from below."""
    open_light, roofed = (
        at(coefficients(scene_of([], wall=0.0, ground=0.5, canopies=canopies)), 60.0, diffuse_lx=0.0).illuminance_lx
        for canopies in ((), [roof(30)])
    )
    assert roofed[NORTH] < 0.5 * open_light[NORTH]


def test_leaves_behind_the_subject_are_named():
    light = at(coefficients(scene_of([], canopies=[tree(0, 60, 0.1, 350, 10)])))
    assert light.parts[NORTH]["leaves"].share == pytest.approx(0.9 * 0.5 * np.sin(np.radians(25)) / 0.5098, rel=0.1)
    assert "leaves" not in light.parts[SOUTH]


def test_lamps_add_to_every_plane_and_to_walls_and_ground_behind():
    fixed = coefficients(street(wall=0.4, ground=0.2))
    night = light_at(fixed, -20, 0, DARK, lamps_lx=10.0)
    assert night.illuminance_lx[UP] == pytest.approx(10.0)
    assert night.illuminance_lx[:8] == pytest.approx(np.full(8, 6.0))
    assert night.parts[EAST]["shaded wall"].luminance_cd_m2 == pytest.approx(6.0 * 0.4 / np.pi, rel=0.01)
    assert night.parts[NORTH]["ground"].luminance_cd_m2 == pytest.approx(10.0 * 0.2 / np.pi, rel=0.01)
    day = at(fixed)
    assert at(fixed, lamps_lx=10.0).illuminance_lx == pytest.approx(day.illuminance_lx + night.illuminance_lx, rel=1e-6)


@pytest.mark.parametrize("elevation_deg", [0.0, -0.5, -5.0, -90.0, float("nan")])
def test_a_sun_on_or_under_the_horizon(elevation_deg):
    light = light_at(STREET, elevation_deg, 250.0, OpenSky(*np.array([5.0, 5.0, 0.0])))
    assert np.isfinite(light.illuminance_lx).all()
    assert (light.illuminance_lx > 0).all()
    assert np.isfinite(light.backdrop_cd_m2).all()


def test_hard_against_a_wall_half_the_sky_is_left():
    light = at(coefficients(scene_of([block(0.3, -50, 10, 50, 20)], wall=0.0, ground=0.0)), direct_lx=0.0, oktas=8)
    assert 0.5 < light.illuminance_lx[UP] / 10_000 < 0.62
    assert light.illuminance_lx[EAST] < 0.02 * light.illuminance_lx[WEST]


def test_the_sun_does_not_reach_a_subject_behind_a_wall():
    fixed = coefficients(scene_of([block(-50, -20, 50, -10, 20)]))
    assert at(fixed, 30.0, 180.0).illuminance_lx[SOUTH] < 20_000
    assert (
        at(fixed, 75.0, 180.0).illuminance_lx[SOUTH]
        > at(fixed, 75.0, 180.0, direct_transmittance=0.0).illuminance_lx[SOUTH]
    )


def test_series_keep_one_camera_or_none():
    none = light_over(STREET, [30, 40], [180, 190], sky(), 0, None, 0.0, ())
    assert none.backdrop_cd_m2.shape == (2, 0)
    one = light_over(STREET, [30, 40], [180, 190], sky(), 0, None, 0.0, (123.0,))
    assert one.backdrop_cd_m2.shape == (2, 1)
    np.testing.assert_allclose(one.illuminance_lx, none.illuminance_lx, rtol=1e-5)
    assert set(one.parts(1, 123.0)) <= {"sunlit wall", "shaded wall", "ground", "sky"}


def test_one_series_among_another():
    heights, chosen = np.array([10, 20, 30, 40]), np.array([False, True, True, False])
    first = light_over(STREET, heights[~chosen], [180, 190], sky(1_000))
    second = light_over(STREET, heights[chosen], [200, 210], sky(9_000))
    mixed = first.among(chosen, second)
    for k, (series, own) in enumerate([(first, 0), (second, 0), (second, 1), (first, 1)]):
        assert mixed.illuminance_lx[k] == pytest.approx(series.illuminance_lx[own])
        assert mixed.part_cd_m2[k] == pytest.approx(series.part_cd_m2[own])
    assert mixed.looking_deg == BEARINGS


ROWS = [block(5, -60, 17, 70, 14.0), block(-19, -80, -7, 20, 9.0), block(-19, 30, -7, 90, 22.0)]
STREET = coefficients(street())
BLACK = coefficients(street(wall=0.0, ground=0.0))
