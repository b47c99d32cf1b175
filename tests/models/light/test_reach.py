"""Leaving out far walls that show nowhere: what it costs in the real city centre of tests/data/helsinki."""

from __future__ import annotations

import numpy as np
import pytest

from models.exchange.osm import read_osm
from models.light import transport
from models.light.subject import light_over
from models.light.transport import coefficients
from models.sky.daylight import open_sky
from models.street.plane import LocalPlane
from models.street.scene import NO_WALLS, Building, Scene, pack_walls
from tests.models.exchange.test_osm import HELSINKI
from tests.models.light.blocks import block

PLACES = ((60.1690, 24.9413), (60.1715, 24.9440), (60.1665, 24.9430))


def test_no_walls_stay_no_walls():
    assert len(transport.within_reach(NO_WALLS, 1.5)) == 0


def test_near_buildings_stay_whole():
    walls = pack_walls([block(10, -5, 20, 5, 8.0), block(70, 20, 170, 30, 8.0)])
    assert len(transport.within_reach(walls, 1.5)) == len(walls)


def scene_at(drafts, latitude_deg, longitude_deg):
    plane, buildings = LocalPlane(latitude_deg, longitude_deg), []
    for draft in drafts:
        rings = [np.column_stack(plane.to_metres(*np.array(ring)[:, ::-1].T)) for ring in draft.rings]
        if np.hypot(*rings[0].T).min() < 500:
            shape = tuple(tuple(map(tuple, ring.tolist())) for ring in rings)
            buildings.append(Building(shape, draft.top_m, draft.bottom_m))
    return Scene(pack_walls(buildings), 0.3, 0.2)


@pytest.mark.slow
def test_far_walls_left_out_in_helsinki(monkeypatch):
    """Light of all walls within 500 m against that of the walls within reach; rays differ too, by 0.01 stop or so."""
    random = np.random.default_rng(0)
    elevation, azimuth = random.uniform(3, 55, 60), random.uniform(60, 300, 60)
    drafts, planes, behind = read_osm(HELSINKI).town.buildings, [], []
    for place in PLACES:
        scene, both = scene_at(drafts, *place), []
        for reach in (transport.within_reach, lambda walls, eye_m: walls):
            with monkeypatch.context() as patch:
                patch.setattr(transport, "within_reach", reach)
                both.append(light_over(coefficients(scene), elevation, azimuth, open_sky(elevation)))
        planes.append(np.log2(both[0].illuminance_lx / both[1].illuminance_lx))
        behind.append(np.log2(both[0].backdrop_cd_m2 / both[1].backdrop_cd_m2))
    figures = [float(np.sqrt(np.mean(np.square(errors)))) for errors in (planes, behind)]
    print(f"\nfar walls left out: planes RMS {figures[0]:.3f} stop, backdrop {figures[1]:.3f}", end="")
    assert figures[0] <= 0.04
    assert figures[1] <= 0.08
