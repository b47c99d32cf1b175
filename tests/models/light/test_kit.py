"""Kit that cannot be is refused, naming the field."""

from __future__ import annotations

from typing import Any

import pytest

from models.light.battery import BatterySet
from models.light.flash import Camera, Flash, Modifier, Trigger
from models.problems import InputProblem
from tests.models.light.setups import BOX, GRID, choice

FLASH = {"id": "f", "name": "flash", "guide_numbers": ((24, 20),)}
NAMED = {"id": "x", "name": "x"}


@pytest.mark.parametrize(
    ("make", "field", "value"),
    [
        (Flash, "guide_numbers", ()),
        (Flash, "guide_numbers", ((50, 20), (24, 28))),
        (Flash, "guide_numbers", ((24, 20), (24, 28))),
        (Flash, "guide_numbers", ((24, -20),)),
        (Flash, "guide_numbers", ((24, float("inf")),)),
        (Flash, "lowest_power", 0),
        (Flash, "lowest_power", 2),
        (Flash, "recycle_full_s", 0),
        (Flash, "clean_sync_s", -1),
        (Flash, "hss_loss_stops", -1),
        (Modifier, "loss_stops", -0.5),
        (Modifier, "loss_stops", float("nan")),
        (Modifier, "measured_zoom_mm", 0),
        (Camera, "sync_s", 0),
        (Camera, "base_iso", 0),
        (Camera, "widest_aperture", -2),
        (Camera, "smallest_aperture", 1.4),
        (Camera, "highest_iso", 50),
        (Camera, "min_shutter_s", 1),
        (Trigger, "sync_s", float("nan")),
        (BatterySet, "full_flashes", 0),
        (BatterySet, "recycle_factor", 0),
    ],
)
def test_kit_that_cannot_be(make: Any, field: str, value: object) -> None:
    given = FLASH if make is Flash else NAMED | {"kind": "box"} if make in (Modifier, BatterySet) else NAMED
    given = given | ({"loss_stops": 1} if make is Modifier else {})
    assert make(**given).name
    with pytest.raises(InputProblem) as problem:
        make(**given | {field: value})
    assert problem.value.field == field


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("units", 0),
        ("distance_m", 0),
        ("distance_m", float("nan")),
        ("zoom_mm", -24),
        ("hand_held_s", 0),
        ("surroundings_under", 11),
        ("face_under", -6),
    ],
)
def test_a_choice_that_cannot_be(field: str, value: float) -> None:
    with pytest.raises(InputProblem) as problem:
        choice(**{field: value})
    assert problem.value.field == field


def test_only_bare_heads_and_grids_zoom() -> None:
    assert GRID.zooms
    assert not BOX.zooms
