"""Walls of 10,000 buildings within reach: from the packed arrays against from the buildings' rows, in one run."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from models.store.engine import open_store, upgrade
from models.store.town import buildings_in, in_metres, packed_walls_near, replace_import
from models.street.plane import LocalPlane
from models.street.scene import Walls, pack_walls
from models.street.town import Box, BuildingDraft, TownDraft
from tests.bench.timing import best_of

HERE = (52.53, 5.23)
PLANE = LocalPlane(*HERE)
ACROSS = 100
SPACING_M = 7.0


def block(k: int) -> BuildingDraft:
    east, north = SPACING_M * (k % ACROSS - ACROSS / 2), SPACING_M * (k // ACROSS - ACROSS / 2)
    latitudes, longitudes = PLANE.to_degrees(
        east + np.array([0, 5, 5, 3, 3, 1, 1, 0]), north + np.array([0, 0, 5, 5, 4, 4, 5, 5])
    )
    return BuildingDraft((tuple(zip(longitudes.tolist(), latitudes.tolist(), strict=True)),), 5.0 + k % 20)


@pytest.mark.bench
def test_packed_walls_against_rows(tmp_path: Path) -> None:
    store = open_store(f"sqlite:///{tmp_path / 'bench.sqlite3'}")
    upgrade(store)
    town = TownDraft(tuple(block(k) for k in range(ACROSS**2)))

    def bring() -> None:
        with store.writing() as s:
            replace_import(s, "grid", town)

    def from_rows() -> Walls:
        rows = buildings_in(s, Box(52, 5, 53, 6), limit=ACROSS**2)
        return pack_walls([in_metres(row, PLANE) for row in rows])

    imported = best_of(bring, 1)
    with store.reading() as s:
        assert len(packed_walls_near(s, *HERE).walls) == len(from_rows().top_m) == 8 * ACROSS**2
        packed, rows = best_of(lambda: packed_walls_near(s, *HERE)), best_of(from_rows, 2)
    store.close()
    print(f"\n10,000 buildings, 80,000 walls: packed {packed * 1000:.1f} ms, from rows {rows * 1000:.0f} ms, ", end="")
    print(f"ratio {rows / packed:.0f}; imported in {imported:.2f} s")
    assert rows / packed > 10
