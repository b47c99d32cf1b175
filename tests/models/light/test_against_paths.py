"""Light in random streets against brute-force path tracing: lanes, low suns, bright walls, few and many houses.

The tracer follows every reflection, where the renderer of tests/authorities stops after five: in a lane with walls of
reflectance 0.65 and more, five leave out 0.1 to 0.5 stop. Tolerances: the limits set for the renderer's scenes, 0.06
stop root mean square and 0.25 at worst; the tracer's own noise at this number of paths is about 0.03.
"""

from __future__ import annotations

import numpy as np
import pytest

from models.light.transport import coefficients
from models.sky.daylight import OpenSky
from models.street.scene import Building, Scene, pack_walls
from tests.models.light.instants import light_at
from tests.models.light.path_tracer import Street, illuminance_lx, luminance

PATHS = 6_000
PLANES, LOOKING = [8, 0, 2, 4, 6], [0, 2, 4, 6]


def house(east, north, wide, deep, turn, top_m):
    corner = np.array([(-wide, -deep), (wide, -deep), (wide, deep), (-wide, deep)]) / 2
    ring = corner @ np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]]) + (east, north)
    return Building((tuple(map(tuple, ring.tolist())),), top_m)


def rows(random, width_m, low_m, high_m):
    """Two rows of houses along a street whose middle lies a little to one side of the subject."""
    turn, aside, houses = random.uniform(0, np.pi), random.uniform(-0.3, 0.3) * width_m, []
    along, across = np.array([np.cos(turn), np.sin(turn)]), np.array([-np.sin(turn), np.cos(turn)])
    for side in (-1, 1):
        begins = -100.0
        while begins < 100:
            wide = random.uniform(18, 45)
            east, north = along * (begins + wide / 2) + across * (side * (width_m / 2 + 10) + aside)
            houses.append(house(east, north, wide, 20, turn, random.uniform(low_m, high_m)))
            begins += wide
    return tuple(houses)


def places(random):
    yield "street", rows(random, random.uniform(10, 35), 6, 40), random.uniform(0.15, 0.5)
    yield "lane", rows(random, random.uniform(3, 7), 6, 25), random.uniform(0.15, 0.5)
    yield "bright lane", rows(random, random.uniform(3, 7), 6, 25), random.uniform(0.5, 0.75)
    yield "one house", (house(-15, 2, 20, 140, random.uniform(-0.3, 0.3), 30.0),), 0.35
    corner = [house(x * 40, y * 30, 50, 40, 0.1, random.uniform(8, 40)) for x in (-1, 1) for y in (-1, 1)]
    yield "crossing", tuple(corner), 0.4


def streets():
    random = np.random.default_rng(11)
    for overcast, height in ((False, 45), (False, 20), (False, 6), (True, 30)):
        for name, houses, wall in places(random):
            sun = random.uniform(height * 0.7, height * 1.3), random.uniform(60, 300)
            direct = 0.0 if overcast else 70_000 * (1 - np.exp(-sun[0] / 15))
            yield f"{name}, sun {height}", Street(houses, wall, 0.25, *sun, 9_000.0, direct, overcast)


def by_paths(street):
    random = np.random.default_rng(5)
    behind = []
    for bearing in (0, 90, 180, 270):
        azimuth = bearing - 20 + 40 * random.random(PATHS)
        low, high = np.sin(np.radians([-5, 25]))
        up = low + (high - low) * (np.arange(PATHS) + random.random(PATHS)) / PATHS
        level = np.sqrt(1 - up**2)
        towards = np.column_stack([np.sin(np.radians(azimuth)) * level, np.cos(np.radians(azimuth)) * level, up])
        behind.append(luminance(street, np.tile([0.0, 0.0, 1.5], (PATHS, 1)), towards, random).mean())
    return illuminance_lx(street, 1.5, PATHS), np.array(behind)


def by_model(street):
    scene = Scene(pack_walls(street.buildings), street.wall_reflectance, street.ground_reflectance)
    level = street.direct_lx * np.sin(np.radians(street.sun_elevation_deg))
    sky = OpenSky(*(np.float64(lux) for lux in (street.diffuse_lx + level, street.diffuse_lx, street.direct_lx)))
    oktas = 8 if street.overcast else 0
    light = light_at(coefficients(scene), street.sun_elevation_deg, street.sun_azimuth_deg, sky, oktas)
    return light.illuminance_lx[PLANES], light.backdrop_cd_m2[LOOKING]


@pytest.mark.slow
def test_twenty_random_streets():
    planes, behind, names = [], [], []
    for name, street in streets():
        (lux, luminances), (traced_lux, traced_luminances) = by_model(street), by_paths(street)
        planes.append(np.log2(lux / traced_lux))
        behind.append(np.log2(luminances / traced_luminances))
        names.append(name)
    for what, errors in (("planes", np.array(planes)), ("backdrop", np.array(behind))):
        worst = names[int(np.abs(errors).max(axis=1).argmax())]
        print(f"\n{what}: RMS {np.sqrt((errors**2).mean()):.3f}, worst {np.abs(errors).max():.3f} in {worst}", end="")
    assert np.sqrt(np.mean(np.square(planes))) <= 0.06
    assert np.abs(planes).max() <= 0.25
    assert np.sqrt(np.mean(np.square(behind))) <= 0.15
    assert np.abs(behind).max() <= 0.5
