"""The skyline of one spot from packed walls, how it grows with them, and a year of the sun behind it."""

from __future__ import annotations

import numpy as np
import pytest

from models.street.scene import Tree, Walls, canopy_of_tree, pack_walls
from models.street.skyline import skyline_of, sun_states
from tests.bench.timing import best_of
from tests.models.street.towns import box_town, star_town

SKYLINE_S = 0.05
YEAR = 35_040


@pytest.mark.bench
@pytest.mark.parametrize("shape", ["boxes", "twelve corners"])
def test_skyline_of_10_000_buildings(shape: str) -> None:
    walls = pack_walls(box_town(3, 10_000) if shape == "boxes" else star_town(3, 10_000))
    seconds = best_of(lambda: skyline_of(walls))
    print(f"\nskyline from 10,000 {shape}, {len(walls)} walls: {seconds * 1000:.1f} ms", end="")
    assert seconds < SKYLINE_S


@pytest.mark.bench
def test_growth_with_the_number_of_walls_is_at_most_linear() -> None:
    """Time for each wall, with up to 16 times the walls, against the smallest town; 25 % for noise."""
    towns: list[Walls] = [pack_walls(box_town(4, count)) for count in (2_500, 5_000, 10_000, 20_000, 40_000)]
    each = [best_of(lambda walls=walls: skyline_of(walls)) / len(walls) for walls in towns]
    figures = ", ".join(f"{len(w)} walls {s * len(w) * 1000:.1f} ms" for w, s in zip(towns, each, strict=True))
    print(f"\nskyline grows: {figures}", end="")
    assert max(each[1:]) < 1.25 * each[0]


@pytest.mark.bench
def test_a_year_of_sun_states_behind_fifty_trees() -> None:
    random = np.random.default_rng(5)
    trees = [canopy_of_tree(Tree(*random.uniform(-60, 60, 2), 10.0, 3.0)) for _ in range(50)]
    sky = skyline_of(pack_walls(box_town(5, 1_000)), trees)
    elevation, azimuth = random.uniform(-60, 60, YEAR), random.uniform(0, 360, YEAR)
    months = random.integers(1, 13, YEAR)
    seconds = best_of(lambda: sun_states(sky, elevation, azimuth, months))
    print(f"\n35,040 sun states, 50 trees: {seconds * 1000:.1f} ms", end="")
    assert seconds < 0.03
