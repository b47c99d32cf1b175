"""One instant over many spots against the same spots one after the other."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.street.scene import Canopy, SkylinePoint, Tree, canopy_of_tree, pack_walls
from models.street.skies import sight_of, sun_states_over
from models.street.skyline import NOTHING, Skyline, skyline_of, sun_states
from tests.models.street.towns import box_town

UNDERPASS = Canopy(0, 360, 20, 90, 0.0, 0.0, (), "roof")
ROOF_ON_ONE_SIDE = Canopy(300, 60, 40, 90, 0.0, 0.0, (), "roof")
DENSE = Canopy(170, 190, 5, 60, 0.0, 0.4, tuple(range(1, 13)))
"""Lets nothing through in any month, yet is no roof: leaves are told apart by what they are, not by how dense."""


def some_skies() -> list[Skyline]:
    random = np.random.default_rng(11)
    skies = []
    for seed in range(40):
        trees = [canopy_of_tree(Tree(*random.uniform(-40, 40, 2), 9.0, 2.5)) for _ in range(seed % 7)]
        own = [[], [UNDERPASS], [ROOF_ON_ONE_SIDE, DENSE], [DENSE]][seed % 4]
        measured = [SkylinePoint(bearing, 10 + seed) for bearing in range(90, 260, 30)] if seed % 5 == 0 else ()
        directions = 360 if seed % 9 == 0 else 720
        walls = pack_walls(box_town(seed, 60 if seed % 3 else 0))
        skies.append(skyline_of(walls, [*trees, *own], measured, directions=directions))
    return skies


SKIES = some_skies()
SIGHTS = [sight_of(sky) for sky in SKIES]


@given(st.floats(-3, 89.9), st.floats(0, 360), st.integers(1, 12), st.floats(-1, 1))
@settings(max_examples=60)
def test_all_at_once_is_the_same_as_one_after_the_other(elevation, azimuth, month, spread):
    elevations = elevation + spread * np.linspace(0, 1, len(SKIES))
    azimuths = azimuth + spread * np.linspace(-1, 0, len(SKIES))
    together = sun_states_over(SIGHTS, elevations, azimuths, month)
    for k, sky in enumerate(SKIES):
        alone = sun_states(sky, elevations[k], azimuths[k], month)
        for name in ("code", "too_close", "obstacle"):
            assert getattr(together, name)[k] == getattr(alone, name)[0], name
        assert together.transmittance[k] == pytest.approx(alone.transmittance[0], abs=1e-12)


def test_the_examples_hold_every_state():
    states = {int(code) for sun in (5, 25, 50) for code in sun_states_over(SIGHTS, sun, 180.0, 7).code}
    assert states == {1, 2, 3}


def test_no_spots_and_no_sun_are_answers():
    assert len(sun_states_over([], 10.0, 180.0, 6).code) == 0
    night = sun_states_over(SIGHTS, -10.0, 0.0, 6)
    assert not night.code.any()
    assert (night.obstacle == NOTHING).all()
