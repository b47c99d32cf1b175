"""Heat: a bucket a row, the next flash, how many in a row, ways to fire more."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.light.heat import (
    Fired,
    counted_rows,
    flashes_in_a_row,
    heat_ways,
    level,
    steady_every_s,
    wait_s,
)
from models.light.kit import Flash, HeatRow
from tests.models.light.setups import SMALL

STRONG, WEAK = HeatRow(1, 1 / 2, 15, 600), HeatRow(1 / 4, 1 / 128, 40, 600)
"""A small shoe-mount flash's manual: tests/authorities/data/flash.csv, fl-088."""

FLASH = Flash("f", "flash", ((24, 20),), heat=(STRONG, WEAK))
FULL_ONLY = Flash("f", "flash", ((24, 20),), heat=(HeatRow(1, 1, 20, 600),))
BRIEF = Flash("f", "flash", ((24, 20),), heat=(HeatRow(1, 1 / 2, 6, 240), HeatRow(1 / 4, 1 / 128, 12, 240)))
powers = st.sampled_from([2 ** (-k / 3) for k in range(22)])


def test_the_band_of_a_power() -> None:
    assert counted_rows(FLASH.heat, 1 / 8) == (WEAK,)
    assert counted_rows(FLASH.heat, 1 / 4) == (WEAK,)
    assert counted_rows(FLASH.heat, 1 / 2) == (WEAK, STRONG)
    assert counted_rows(FLASH.heat, 2 ** (-4 / 3)) == (WEAK, STRONG)  # between the bands: with the stronger
    assert counted_rows(FULL_ONLY.heat, 1 / 2) == ()
    assert counted_rows(SMALL.heat, 1) == ()


def test_full_power_as_printed() -> None:
    """Fired at once, the printed number; then the bucket is full and one flash is due after a 15th of the rest."""
    assert flashes_in_a_row(FLASH, 1, 0) == 15
    fired = [Fired(0, 1)] * 15
    assert level(STRONG, FLASH.heat, fired, 0) == 15
    assert wait_s(FLASH, fired, 1, 0) == pytest.approx(40)
    assert wait_s(FLASH, fired, 1, 40) == 0
    assert level(STRONG, FLASH.heat, fired, 300) == pytest.approx(7.5)
    assert level(STRONG, FLASH.heat, fired, 600) == 0
    assert flashes_in_a_row(FLASH, 1, 0, fired, 600) == 15


def test_a_strong_flash_also_counts_as_a_weak_one() -> None:
    fired = [Fired(0, 1)] * 15
    assert level(WEAK, FLASH.heat, fired, 0) == 15
    assert flashes_in_a_row(FLASH, 1 / 4, 0, fired) == 25
    assert flashes_in_a_row(FLASH, 1, 0, [Fired(0, 1 / 4)] * 15) == 15


def test_a_pace_that_never_ends() -> None:
    assert steady_every_s(FLASH, 1) == pytest.approx(40)
    assert flashes_in_a_row(FLASH, 1, 40) is None
    assert flashes_in_a_row(FLASH, 1, 39) is not None
    assert flashes_in_a_row(FULL_ONLY, 1 / 2, 0) is None
    assert steady_every_s(FULL_ONLY, 1 / 2) == 0


def test_no_flash_fits_into_a_full_bucket() -> None:
    assert flashes_in_a_row(FLASH, 1, 5, [Fired(0, 1)] * 15, 10) == 0


@given(powers, st.floats(0, 60), st.integers(0, 6))
def test_in_a_row_is_what_firing_one_by_one_gives(power: float, every_s: float, before: int) -> None:
    fired = [Fired(0.0, power)] * before
    counted = flashes_in_a_row(BRIEF, power, every_s, fired, 0.0)
    if counted is None:
        assert every_s >= steady_every_s(BRIEF, power) - 1e-6
        return
    now_s = 0.0
    for _ in range(counted):
        assert wait_s(BRIEF, fired, power, now_s) <= 1e-6
        fired.append(Fired(now_s, power))
        now_s += every_s
    assert wait_s(BRIEF, fired, power, now_s) > 0


@given(powers, powers, st.floats(0, 60))
def test_more_power_never_allows_more(one: float, other: float, every_s: float) -> None:
    low, high = sorted((one, other))
    strong, weak = flashes_in_a_row(FLASH, high, every_s), flashes_in_a_row(FLASH, low, every_s)
    assert weak is None or (strong is not None and strong <= weak)


@given(st.lists(st.tuples(st.floats(0, 1000), powers), max_size=40), powers)
def test_after_the_wait_the_flash_fits(times: list[tuple[float, float]], power: float) -> None:
    fired = [Fired(at_s, fraction) for at_s, fraction in sorted(times)]
    now_s = 1000.0
    wait = wait_s(FLASH, fired, power, now_s)
    assert wait_s(FLASH, fired, power, now_s + wait) == pytest.approx(0, abs=1e-6)
    for row in counted_rows(FLASH.heat, power):
        assert level(row, FLASH.heat, fired, now_s + wait) + 1 <= row.flashes + 1e-6


def test_ways_out_each_with_its_count() -> None:
    """At a frame every 10 s a quarter of a flash empties each time: 1 + 14/0.75 = 19 at half power. Swapped, each unit
    fires every 20 s: 1 + 14/0.5 = 29 each. Ganged at a quarter, 1 + 39/(1/3) = 118."""
    ways = {way.kind: way for way in heat_ways(FLASH, 1 / 2, 10, 60, sync_power=0.3)}
    assert flashes_in_a_row(FLASH, 1 / 2, 10) == 19
    assert (ways["swap units"].flashes, ways["swap units"].units, ways["swap units"].enough) == (58, 2, False)
    assert (ways["gang two"].flashes, ways["gang two"].power, ways["gang two"].enough) == (118, 1 / 4, True)
    assert "fastest sync" not in ways  # 0.3 of full lies in the same band: nothing gained
    sooner = heat_ways(FLASH, 1 / 2, 10, 60, sync_power=1 / 4)
    assert (sooner[0].kind, sooner[0].flashes, sooner[0].enough) == ("fastest sync", 118, True)


def test_no_ways_where_none_are_needed_or_no_second_unit_is_there() -> None:
    assert heat_ways(FLASH, 1 / 2, 10, 19) == ()
    assert heat_ways(SMALL, 1, 1, 1000) == ()
    assert heat_ways(FLASH, 1 / 2, 10, 60, spare=False) == ()
    only_full = Flash("f", "flash", ((24, 20),), lowest_power=1, heat=(HeatRow(1, 1, 20, 600),))
    assert [way.kind for way in heat_ways(only_full, 1, 5, 60)] == ["swap units"]
