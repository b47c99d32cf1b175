"""Flashes counted, sets changed in time, what to charge."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.light.battery import BatterySet, flashes_per_set
from models.light.kit import Flash
from models.light.setup import Light
from models.workshop.batteries import GROUP_PICTURES, TIRED_SHARE, USED_SHARE, UnitUse, batteries
from models.workshop.schedule import scheduled
from tests.models.workshop.rotas import PLAN, pace, rota_of

FLASH = Flash("f", "small flash", ((24, 20.0),))
CELLS = BatterySet("aa", "rechargeables", "AA")


def use(power: float, frames: int, groups: tuple[int, ...] = (3, 3, 3), **changes: object) -> UnitUse:
    light = Light(**{"role": "key", "flash": FLASH, "power": power, "battery": CELLS} | changes)  # type: ignore[arg-type]
    paces = {1: pace(1, lights=(light,))}
    (one,) = batteries(scheduled(rota_of(groups, [1]), paces, PLAN, frames=frames), paces, PLAN).units
    return one


def test_the_example_by_hand() -> None:
    half, full = use(1 / 2, 10), use(1, 10)
    assert (half.fired, half.a_set, half.sets, half.sets_with_spare) == (122, 300, 1, 2)
    assert (full.fired, full.a_set, full.sets, full.changes, full.before_picture) == (122, 150, 1, (), False)
    more = use(1, 12)
    assert (more.fired, more.sets, more.sets_with_spare) == (140, 2, 3)
    assert [(each.round, each.turn, each.flashes) for each in more.changes] == [(3, 3, 124)]


def test_a_tired_set_is_ready_later() -> None:
    """Over 120 of 150 after 20 tests and 8 turns of 13; 2.9 s at full power become 4.35 s."""
    assert [(one.round, one.turn, pytest.approx(one.recycle_s)) for one in use(1, 12).slow] == [(3, 2, 4.35)]
    assert use(1 / 2, 10).slow == ()


def test_ganged_units_each_need_their_sets() -> None:
    two = use(1, 12, units=2)
    assert (two.fired, two.sets, two.sets_with_spare) == (140, 2, 6)


def test_a_turn_that_takes_more_than_a_set_says_so() -> None:
    small = BatterySet("s", "small", "AAA", full_flashes=10)
    one = use(1, 12, (1,), battery=small)
    assert one.over_set
    assert one.sets == 5  # 9 usable of each: 20 tests take two and two flashes; 13 take two more; the picture fits


def test_what_is_not_known_is_told() -> None:
    no_cells = Light(role="fill", flash=FLASH, power=1 / 4)
    paces = {1: pace(1, lights=(no_cells,)), 2: pace(2)}
    found = batteries(scheduled(rota_of([2, 2], [1, 2]), paces, PLAN), paces, PLAN)
    assert (found.unknown, found.without_setup, found.to_charge) == (((1, 0),), (2,), ())
    assert (found.units[0].fired, found.units[0].sets_with_spare) == (4 * 11 + 20 + 3, None)


def test_what_to_charge_adds_up_over_stations() -> None:
    other = BatterySet("pack", "packs", "Li-ion", full_flashes=400)
    lights = Light(role="key", flash=FLASH, power=1, battery=CELLS), Light(role="edge", flash=FLASH, battery=other)
    paces = {1: pace(1, lights=lights), 2: pace(2, lights=lights[:1])}
    found = batteries(scheduled(rota_of([3, 3], [1, 2]), paces, PLAN), paces, PLAN)
    assert [(cells.id, sets) for cells, sets in found.to_charge] == [("aa", 4), ("pack", 2)]


@settings(max_examples=80, deadline=None)
@given(
    st.sampled_from([2 ** (-k / 3) for k in range(22)]),
    st.integers(1, 40),
    st.lists(st.integers(1, 5), min_size=1, max_size=6),
    st.integers(1, 300),
)
def test_no_set_gives_more_than_it_has(power, frames, sizes, full_flashes) -> None:
    cells = BatterySet("c", "cells", "AA", full_flashes=full_flashes)
    one = use(power, frames, tuple(sizes), battery=cells)
    turns, usable = sum(sizes), max(int(flashes_per_set(cells, power) * USED_SHARE), 1)
    assert one.fired == turns * (frames + 1) + 20 + GROUP_PICTURES
    assert one.sets is not None
    assert one.sets * usable >= one.fired
    assert all(0 < change.flashes <= usable for change in one.changes)
    if not one.over_set and usable >= 20:
        assert one.sets == 1 + len(one.changes) + one.before_picture
    assert (one.sets > 1) >= bool(one.changes)
    assert TIRED_SHARE < USED_SHARE
