"""Light's fixed part: what no sky and no sun can change, and the laws it keeps."""

from __future__ import annotations

import numpy as np
import pytest

from models.light.exchange import exchange
from models.light.facets import SEEN_CELL, Spot, gather
from models.light.leaves import leaves_of
from models.light.patches import PATCHES, clear_luminance, overcast_luminance, patch_of, places
from models.light.rays import SKY, cast, surfaces_of
from models.light.reach import within_reach
from models.light.transport import Coefficients, coefficients
from models.light.view import STRIPS, look_round
from models.sky.dome import mixed_dome, unit_vectors
from models.street.scene import pack_walls
from tests.models.light.blocks import block, scene_of, street, tree

EYE = np.array([0.0, 0.0, 1.5])


def surfaces(*buildings):
    return surfaces_of(pack_walls(buildings), 0.3, 0.2)


def one_ray(found, bearing_deg, elevation_deg, origin=EYE):
    """Surface number and metres in plan of one ray."""
    heading = unit_vectors(bearing_deg, 0.0)[None, :2]
    slope = np.array([[[np.tan(np.radians(elevation_deg))]]])
    met, distance = cast(found, np.array(origin, float)[None], heading, slope, np.ones((1, 1), bool))
    return int(met[0, 0, 0]), float(distance[0, 0, 0])


def test_a_ray_meets_the_nearest_wall_the_ground_or_nothing():
    found = surfaces(block(10, -5, 20, 5, 8.0), block(30, -5, 40, 5, 30.0))
    wall, distance = one_ray(found, 90, 10)
    assert found.normal[wall] == pytest.approx([-1, 0, 0])
    assert distance == pytest.approx(10)
    behind, distance = one_ray(found, 90, 40)
    assert distance == pytest.approx(30)
    assert behind != wall
    assert one_ray(found, 90, 60)[0] == SKY
    assert one_ray(found, 90, -45) == (found.ground, pytest.approx(1.5))
    assert one_ray(found, 270, 5)[0] == SKY


def test_a_ray_from_above_lands_on_a_roof_and_one_from_below_on_a_soffit():
    found = surfaces(block(10, -5, 20, 5, 8.0, bottom_m=4.0))
    roof, distance = one_ray(found, 90, -45, origin=(0, 0, 20))
    assert found.normal[roof] == pytest.approx([0, 0, 1])
    assert distance == pytest.approx(12)
    soffit, distance = one_ray(found, 90, 14, origin=(0, 0, 1.5))
    assert found.normal[soffit] == pytest.approx([0, 0, -1])
    assert distance == pytest.approx(2.5 / np.tan(np.radians(14)))
    assert one_ray(found, 90, 5, origin=(0, 0, 1.5))[0] == SKY


def test_a_steep_ray_onto_a_deep_building_does_not_slip_through_to_the_ground():
    found = surfaces(block(1, -50, 101, 50, 8.0))
    roof, _ = one_ray(found, 90, -80, origin=(0, 0, 20))
    assert found.normal[roof] == pytest.approx([0, 0, 1])


def test_no_ray_leaks_between_the_walls_of_a_closed_court():
    ring = [(10 * np.sin(a), 10 * np.cos(a)) for a in np.radians(np.arange(0, 360, 7.5))]
    outer = ((-30.0, -30.0), (30.0, -30.0), (30.0, 30.0), (-30.0, 30.0))
    court = type(block(0, 0, 1, 1, 1))((outer, tuple(ring)), 20.0)
    bearing = np.arange(0, 360, 0.5)
    heading = unit_vectors(bearing, 0.0)[:, :2]
    slope = np.full((1, len(bearing), 1), 0.5)
    met, distance = cast(surfaces(court), EYE[None], heading, slope, np.ones((1, len(bearing)), bool))
    assert (met >= 0).all()
    assert distance.max() <= 10.0 + 1e-4


def test_patches_are_the_dome_of_the_sky_package():
    """The turned table gives what the dome's own formula gives, patch by patch, for a sun on its grid."""
    azimuth, elevation = np.meshgrid(np.arange(5, 360, 10.0), np.arange(3, 90, 6.0), indexing="ij")
    towards = unit_vectors(azimuth.ravel(), elevation.ravel())
    assert patch_of(azimuth.ravel(), elevation.ravel()) == pytest.approx(np.arange(PATCHES))
    edge = np.sin(np.radians(np.arange(0, 91, 6.0))) ** 2
    projected = np.tile(np.diff(edge) * np.pi / 36, 36)
    at = places(np.array([140.0]), np.array([33.0]))
    found = (clear_luminance(at.cells)[at.corner[0]] * at.share[0][:, None]).sum(axis=0)
    assert found == pytest.approx(mixed_dome(towards, projected, unit_vectors(140.0, 33.0), 0), rel=1e-4)
    assert overcast_luminance() == pytest.approx(mixed_dome(towards, projected, unit_vectors(0.0, 9.0), 8), rel=1e-9)


def test_an_open_sky_gives_one_lux_to_level_ground_and_half_of_it_upright():
    fixed = coefficients(scene_of([], ground=0.0))
    even = np.full(PATCHES, 1 / np.pi)
    answer = fixed.sky[:9] @ even
    assert answer[8] == pytest.approx(1.0, abs=0.005)
    assert answer[:8] == pytest.approx(np.full(8, 0.5), abs=0.005)


def test_every_strip_is_made_of_something():
    for scene in (scene_of([]), street(), street(canopies=[tree()])):
        assert coefficients(scene).made_of.sum(axis=0) == pytest.approx(np.ones(STRIPS))


def test_what_a_facet_gets_from_facets_and_an_even_sky_adds_up():
    """Energy: under a sky of luminance 1/pi and walls that bright, every facet gets 1 lx."""
    found = surfaces_of(street().walls, 0.3, 0.2)
    leaves = leaves_of((), True)
    view = look_round(found, EYE, leaves)
    hits = Spot(view.surface[view.hit], view.point_m[view.hit])
    seen, _ = gather(found, EYE, hits, view.solid_angle_sr[view.hit], SEEN_CELL)
    links = exchange(found, EYE, seen, leaves)
    total = links.between.sum(axis=1) + links.sky.sum(axis=1) / np.pi
    assert total == pytest.approx(np.ones(len(total)), abs=1e-5)


def test_kept_and_read_again_it_is_the_same():
    fixed = coefficients(street(canopies=[tree()]))
    again = Coefficients.from_bytes(fixed.to_bytes())
    for name in Coefficients.__dataclass_fields__:
        np.testing.assert_array_equal(getattr(again, name), getattr(fixed, name))


def test_the_same_scene_gives_the_same_light():
    np.testing.assert_array_equal(coefficients(street()).sky, coefficients(street()).sky)


def test_far_walls_count_only_where_they_show():
    low, tall, hidden = block(100, -5, 110, 5, 6), block(200, -5, 210, 5, 60), block(300, -5, 310, 5, 8)
    near = block(20, -30, 30, 30, 12)
    kept = within_reach(pack_walls([near, low, tall, hidden]), 1.5)
    assert set(kept.building.tolist()) == {0, 2}
    assert (kept.building == 0).sum() == 4
    assert (kept.building == 2).sum() == 1


ODD = {
    "nothing at all": scene_of([]),
    "hard against a wall": scene_of([block(0.3, -20, 10, 20, 12)]),
    "a wall a hand high": scene_of([block(3, -1, 4, 1, 0.1)]),
    "a wall a millimetre long": scene_of([block(3, 0, 3.0005, 0.0005, 5)]),
    "a post": scene_of([block(2, 0, 2.05, 0.05, 3)]),
    "inside a house": scene_of([block(-5, -5, 5, 5, 8)]),
    "under a raised house": scene_of([block(-5, -5, 5, 5, 8, bottom_m=3)]),
    "black": street(wall=0.0, ground=0.0),
    "white": street(width_m=3, wall=0.95, ground=0.95),
    "on a deck, walls from below": scene_of([block(10, -5, 20, 5, 8, bottom_m=-6)]),
}


@pytest.mark.parametrize("name", ODD)
def test_odd_places_give_finite_sensible_numbers(name):
    fixed = coefficients(ODD[name])
    for field in (fixed.sky, fixed.bounced, fixed.made_of, fixed.point_share, fixed.point_weight):
        assert np.isfinite(field).all()
        assert field.min() >= -1e-5
    assert fixed.made_of.sum(axis=0) == pytest.approx(np.ones(STRIPS))
