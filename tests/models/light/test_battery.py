"""Recycle time and flashes per set."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.light.battery import (
    ALKALINE_FACTOR,
    FLOOR_S,
    IDLE_CAP,
    BatterySet,
    flashes_per_set,
    recycle_s,
    slowest_recycle_s,
)

RECHARGEABLE = BatterySet("aa", "four rechargeable AA", "rechargeable", 150)
ALKALINE = BatterySet("alk", "four alkaline AA", "alkaline", 100, ALKALINE_FACTOR)
powers = st.floats(1 / 128, 1)


def test_full_power_as_published() -> None:
    """One unit measured on a public page on flash batteries: 2.9 s rechargeable, 5.0 s alkaline."""
    assert recycle_s(2.9, 1, RECHARGEABLE) == pytest.approx(2.9)
    assert recycle_s(2.9, 1, ALKALINE) == pytest.approx(5.0)
    assert recycle_s(2.9, 1 / 2) == pytest.approx(1.45)
    assert recycle_s(2.9, 1 / 128) == FLOOR_S


@given(powers, powers)
def test_more_power_never_recycles_faster_nor_gives_more_flashes(a: float, b: float) -> None:
    low, high = sorted((a, b))
    assert recycle_s(2.9, low, ALKALINE) <= recycle_s(2.9, high, ALKALINE)
    assert flashes_per_set(ALKALINE, low) >= flashes_per_set(ALKALINE, high)


@given(powers)
def test_tired_cells_are_slower_down_to_the_floor(power: float) -> None:
    fresh, tired = recycle_s(2.9, power, ALKALINE), recycle_s(2.9, power, ALKALINE, tired=True)
    assert tired > fresh or tired == FLOOR_S


def test_everyone_waits_for_the_slowest_light() -> None:
    lights = [(2.9, 1 / 4, RECHARGEABLE), (2.9, 1 / 4, ALKALINE), (1.5, 1 / 2, None)]
    assert slowest_recycle_s(lights) == pytest.approx(5.0 / 4)
    assert slowest_recycle_s(lights, tired=True) == pytest.approx(1.5 * 5.0 / 4)


def test_flashes_per_set() -> None:
    assert [flashes_per_set(RECHARGEABLE, power) for power in (1, 1 / 2, 1 / 8)] == [150, 300, 1200]
    assert flashes_per_set(RECHARGEABLE, 1 / 128) == 150 * IDLE_CAP
