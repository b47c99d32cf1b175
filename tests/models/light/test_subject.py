"""Light at the subject: scenes worked out by hand, and laws that hold in every street."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.light.subject import backdrop_along, light_at, light_over
from models.light.transport import UP, Coefficients, coefficients
from models.sky.daylight import OpenSky, open_sky
from models.street.scene import NO_WALLS, Building, Canopy, Scene, pack_walls

TENTH = 0.1  # stop, as asked of backdrops worked out by hand
NO_SKY = 1e-6


def sky_of(diffuse_lx: float, direct_lx: float, sun_elevation_deg: float) -> OpenSky:
    level = diffuse_lx + direct_lx * math.sin(math.radians(sun_elevation_deg))
    return OpenSky(*(np.array([lux]) for lux in (level, diffuse_lx, direct_lx)))


def block(west: float, south: float, east: float, north: float, top: float) -> Building:
    return Building((((west, south), (east, south), (east, north), (west, north)),), top)


def scene_of(*buildings: Building, walls: float = 0.3, ground: float = 0.2, canopies: tuple[Canopy, ...] = ()) -> Scene:
    return Scene(pack_walls(buildings), walls, ground, canopies)


def stops(a: float, b: float) -> float:
    return abs(math.log2(a / b))


@pytest.mark.parametrize("oktas", [0, 4, 8])
def test_open_level_ground_gets_the_whole_sky_and_the_sun(oktas):
    light = light_at(coefficients(scene_of(ground=0.0)), 35.0, 150.0, sky_of(12_000, 70_000, 35), oktas)
    assert light.illuminance_lx[UP] == pytest.approx(12_000 + 70_000 * math.sin(math.radians(35)), rel=0.01)


def test_an_upright_plane_under_the_overcast_sky_gets_the_handbook_share():
    """0.396 of the level, Moon & Spencer 1942, (2/3)(pi/4 + 2/3)/(7 pi/9); and half the ground's light back."""
    black = light_at(coefficients(scene_of(ground=0.0)), 30.0, 180.0, sky_of(10_000, 0, 30), 8)
    grey = light_at(coefficients(scene_of(ground=0.2)), 30.0, 180.0, sky_of(10_000, 0, 30), 8)
    assert black.illuminance_lx[:8] == pytest.approx(3962, rel=0.01)
    assert grey.illuminance_lx[:8] - black.illuminance_lx[:8] == pytest.approx(0.2 * 10_000 / 2, rel=0.02)


def test_a_sunlit_wall_square_to_the_sun_shines_with_its_reflectance():
    """Long high wall in the north, sun low in the south: E r / pi, and hardly any sky."""
    scene = scene_of(block(-400, 12, 400, 20, 60), walls=0.4, ground=0.0)
    direct, elevation = 60_000, 10.0
    light = light_at(coefficients(scene), elevation, 180.0, sky_of(NO_SKY, direct, elevation))
    expected = direct * math.cos(math.radians(elevation)) * 0.4 / math.pi
    part = light.parts[0]["sunlit wall"]
    assert stops(part.luminance_cd_m2, expected) <= TENTH
    assert stops(light.backdrop_cd_m2[0], part.share * expected) <= TENTH
    assert part.share > 0.8


def test_the_sky_alone_behind_the_subject_has_the_skys_own_luminance():
    """Overcast, no walls: the mean of (1 + 2 sin h)/3 Lz from 0 to 25 degrees, Lz = 9 E / (7 pi); black ground."""
    light = light_at(coefficients(scene_of(ground=0.0)), 30.0, 90.0, sky_of(10_000, 0, 30), 8)
    zenith = 9 * 10_000 / (7 * math.pi)
    sines = np.linspace(0, math.sin(math.radians(25)), 2001)
    sky = zenith * ((1 + 2 * sines) / 3).mean()
    share = math.sin(math.radians(25)) / (math.sin(math.radians(25)) + math.sin(math.radians(5)))
    assert [stops(seen, share * sky) <= TENTH for seen in light.backdrop_cd_m2] == [True] * 8
    assert light.parts[0]["sky"].share == pytest.approx(share, abs=0.01)


def test_a_shaded_wall_shines_by_the_sky_it_sees():
    """A long wall towards black ground under the overcast sky gets 0.396 of the level and sends r / pi of it back."""
    scene = scene_of(block(-600, 12, 600, 20, 60), walls=0.3, ground=0.0)
    light = light_at(coefficients(scene), 30.0, 180.0, sky_of(10_000, 0, 30), 8)
    part = light.parts[0]["shaded wall"]
    assert stops(part.luminance_cd_m2, 0.396 * 10_000 * 0.3 / math.pi) <= TENTH
    assert "sunlit wall" not in light.parts[0]


def test_lamps_add_to_daylight_and_are_never_a_switch():
    fixed = coefficients(scene_of(block(-40, 8, 40, 20, 15)))
    dusk = sky_of(20.0, 0.0, -4.0)
    without, with_lamps = light_at(fixed, -4.0, 270.0, dusk), light_at(fixed, -4.0, 270.0, dusk, lamps_lx=10.0)
    assert with_lamps.illuminance_lx[UP] == pytest.approx(without.illuminance_lx[UP] + 10.0, rel=0.05)
    assert (with_lamps.illuminance_lx > without.illuminance_lx).all()
    assert (with_lamps.backdrop_cd_m2 >= without.backdrop_cd_m2).all()


def test_a_roof_overhead_darkens_and_leaves_lie_between():
    sky, sun = sky_of(12_000, 0.0, 40), (40.0, 180.0)
    roof = Canopy(0, 360, 30, 90, 0.0, 0.0, (), "roof")
    leaves = Canopy(0, 360, 30, 90, 0.3, 0.67)
    lux = {
        "open": light_at(coefficients(scene_of()), *sun, sky, 8).illuminance_lx[UP],
        "bare": light_at(coefficients(scene_of(canopies=(leaves,)), in_leaf=False), *sun, sky, 8).illuminance_lx[UP],
        "leaf": light_at(coefficients(scene_of(canopies=(leaves,))), *sun, sky, 8).illuminance_lx[UP],
        "roof": light_at(coefficients(scene_of(canopies=(roof,))), *sun, sky, 8).illuminance_lx[UP],
    }
    assert lux["open"] > lux["bare"] > lux["leaf"] > lux["roof"]
    assert lux["roof"] < 0.35 * lux["open"]


def test_one_instant_is_a_series_of_one_and_any_bearing_can_be_asked_for():
    fixed = coefficients(scene_of(block(-40, 6, 40, 20, 15), block(-40, -20, 40, -5, 12)))
    elevation, azimuth = np.array([5.0, 25.0, 50.0]), np.array([100.0, 170.0, 250.0])
    sky = open_sky(elevation, 2.0)
    series = light_over(fixed, elevation, azimuth, sky, 2.0)
    for k in range(3):
        one_sky = OpenSky(*(np.array([lux[k]]) for lux in (sky.global_lx, sky.diffuse_lx, sky.direct_normal_lx)))
        one = light_at(fixed, elevation[k], azimuth[k], one_sky, 2.0)
        assert one.illuminance_lx == pytest.approx(series.illuminance_lx[k], rel=1e-6)
        assert one.backdrop_cd_m2 == pytest.approx(series.backdrop_cd_m2[k], rel=1e-6)
    along = backdrop_along(fixed, 90.0, elevation, azimuth, sky, 2.0)
    assert along == pytest.approx(series.backdrop_cd_m2[:, 2], rel=1e-6)


def test_coefficients_come_back_from_bytes():
    fixed = coefficients(scene_of(block(-40, 6, 40, 20, 15)))
    back = Coefficients.from_bytes(fixed.to_bytes())
    sky = sky_of(9_000, 40_000, 20)
    assert light_at(back, 20, 200, sky).illuminance_lx == pytest.approx(light_at(fixed, 20, 200, sky).illuminance_lx)


@pytest.mark.parametrize(
    "scene",
    [
        Scene(NO_WALLS, 0.3, 0.2),
        scene_of(block(-50, 0.3, 50, 10, 30)),
        scene_of(block(5, 5, 5.05, 5.05, 2)),
        scene_of(block(-2, 1, 2, 9, 40), block(-2, -9, 2, -1, 40), walls=0.9),
    ],
    ids=["nothing", "hard against a wall", "a post", "a slit between bright towers"],
)
@pytest.mark.parametrize("elevation", [-30.0, -0.5, 0.0, 0.5, 45.0, 90.0])
def test_every_place_and_sun_gives_finite_light(scene, elevation):
    light = light_over(coefficients(scene), [elevation], [123.0], open_sky(np.array([elevation])))
    assert np.isfinite(light.illuminance_lx).all()
    assert np.isfinite(light.backdrop_cd_m2).all()
    assert (light.illuminance_lx >= 0).all()


boxes = st.tuples(st.floats(4, 30), st.floats(8, 60), st.floats(3, 30))


def street(parts: list[tuple[float, float, float]], walls: float, ground: float) -> Scene:
    """A row in the north and one in the south of the subject, of random distance, length and height."""
    sides = [(1, *part) if k % 2 else (-1, *part) for k, part in enumerate(parts)]
    return scene_of(
        *(
            block(-length / 2, near if side > 0 else -near - 10, length / 2, near + 10 if side > 0 else -near, top)
            for side, near, length, top in sides
        ),
        walls=walls,
        ground=ground,
    )


@settings(max_examples=15)
@given(st.lists(boxes, min_size=1, max_size=2), st.floats(5, 60), st.floats(0, 359))
def test_black_streets_never_give_level_ground_more_than_the_open(parts, elevation, azimuth):
    light = light_at(coefficients(street(parts, 0.0, 0.0)), elevation, azimuth, sky_of(9_000, 50_000, elevation))
    assert light.illuminance_lx[UP] <= (9_000 + 50_000 * math.sin(math.radians(elevation))) * 1.01


@settings(max_examples=15)
@given(st.lists(boxes, min_size=1, max_size=2), st.floats(5, 60), st.floats(0, 359), st.floats(1.1, 5))
def test_twice_the_sky_is_twice_the_light(parts, elevation, azimuth, factor):
    fixed = coefficients(street(parts, 0.3, 0.2))
    once = light_at(fixed, elevation, azimuth, sky_of(9_000, 50_000, elevation))
    more = light_at(fixed, elevation, azimuth, sky_of(9_000 * factor, 50_000 * factor, elevation))
    assert more.illuminance_lx == pytest.approx(factor * once.illuminance_lx, rel=1e-6)
    assert more.backdrop_cd_m2 == pytest.approx(factor * once.backdrop_cd_m2, rel=1e-6)


@settings(max_examples=15)
@given(st.lists(boxes, min_size=1, max_size=2), st.floats(5, 60), st.floats(0, 359))
def test_brighter_walls_and_ground_never_darken(parts, elevation, azimuth):
    sky = sky_of(9_000, 50_000, elevation)
    dark = light_at(coefficients(street(parts, 0.1, 0.1)), elevation, azimuth, sky)
    bright = light_at(coefficients(street(parts, 0.5, 0.4)), elevation, azimuth, sky)
    assert (bright.illuminance_lx >= dark.illuminance_lx * 0.999).all()
