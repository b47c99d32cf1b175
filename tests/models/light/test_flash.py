"""The whole answer: settings and power that belong together, the sum, what is said at the ends."""

from __future__ import annotations

from dataclasses import replace
from math import log2

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from models.light.battery import BatterySet
from models.light.exposure import START, EvFigure, Settings
from models.light.flash import SHOWN_STOPS, Alternative, Alternatives, Choice, FlashAnswer, answer, sync
from tests.models.light.setups import SLOW_TRIGGER, SMALL, choice, choices, evs


def ask(given: Choice, subject: float, behind: float | None) -> FlashAnswer:
    return answer(given, EvFigure(subject), None if behind is None else EvFigure(behind))


def test_open_shade_before_a_brighter_backdrop() -> None:
    """By hand: backdrop 10.3 + 2/3 = 10.97 keeps the start, 10.94. Guide number 20 at 2 m and ISO 200 gives f/14.1, so
    f/5.6 takes 1/6.38; the face lies 1.44 under, 1 - 2^-1.44 = 0.63 of that is 1/10.1, 3 1/3 stops under full."""
    found = ask(choice(), 9.5, 10.3)
    assert found.kept_start
    assert found.settings == START
    assert found.power_alone.words == "1/6.38 power at 1/125 s, f/5.6, ISO 200"
    under = START.ev100 - 9.5
    assert found.face_under_stops == pytest.approx(under)
    assert found.power_sum is not None
    assert found.power_sum.fraction == pytest.approx(found.power_alone.fraction * (1 - 2**-under))
    assert found.start_at.with_settings == "1/16 + 2/3 stop power at 1/125 s, f/5.6, ISO 200"
    assert not found.too_weak
    assert not found.too_strong
    assert found.ways_out == ()


def test_the_faster_sync_needs_less_power_and_recycles_faster() -> None:
    found = ask(choice(), 9.5, 10.3)
    faster = found.faster_sync
    assert faster is not None
    assert faster.settings == Settings(1 / 250, 4, 200)
    assert faster.settings.ev100 == pytest.approx(found.settings.ev100, abs=0.1)
    assert log2(found.power_alone.fraction / faster.power_alone.fraction) == pytest.approx(1, abs=0.1)
    assert faster.start_at.fraction < found.start_at.fraction
    assert faster.recycle_s < found.recycle_s
    assert faster.words == (
        "Same surroundings at 1/32 + 2/3 stop power at 1/250 s, f/4, ISO 200: less power, ready again in 0.2 s"
    )


def test_full_power_that_does_not_reach_the_start_moves_to_the_sync_speed() -> None:
    given = choice(distance_m=6.9)
    found = ask(given, 9.5, 10.3)
    assert found.reserve.stops > 0
    assert found.settings == Settings(1 / 250, 4, 200)
    assert not found.kept_start
    assert found.start_at.fraction <= 1
    assert found.faster_sync is None
    assert any(note.startswith("At 1/125 s full power falls") for note in found.notes)


def test_a_faster_sync_that_would_be_too_strong_is_not_offered() -> None:
    """About 1/60 of full is needed at 1/60 s; at 1/250 s it would be a quarter of that, under 1/128."""
    found = ask(choice(), 5.5, 6.5)
    assert found.settings.shutter_s == pytest.approx(1 / 60)
    assert not found.too_strong
    assert found.faster_sync is None


def test_too_weak() -> None:
    found = ask(choice(distance_m=4), 14, 14.5)
    assert found.too_weak
    assert found.start_at.words == "1/1"
    assert found.start_at.remainder_stops > 0
    assert [way.kind for way in found.ways_out] == ["closer", "zoomed in", "more units"]


def test_short_by_nothing_one_could_print_is_not_too_weak() -> None:
    level = ask(choice(), 9.5, 10.3).reserve.capacity_ev - 2 / 3
    assert not ask(choice(), 9.5, level + 0.04).too_weak
    assert ask(choice(), 9.5, level + 0.04).ways_out == ()
    assert ask(choice(), 9.5, level + 0.06).too_weak


def test_too_weak_alone_but_the_sum_comes_right() -> None:
    found = ask(choice(distance_m=2.8), 13.2, 13.1)
    assert found.too_weak
    assert found.power_sum is not None
    assert found.power_alone.fraction > 1 > found.power_sum.fraction
    assert any("that light leads" in note for note in found.notes)


def test_too_strong() -> None:
    found = ask(choice(), 0.5, 1.5)
    assert found.too_strong
    assert found.start_at.words == "1/128"
    assert found.start_at.remainder_stops < -1 / 6
    assert found.faster_sync is None
    assert "step back" in [way.kind for way in found.ways_out]


def test_the_ambient_alone_exposes() -> None:
    found = ask(choice(face_under=-1, surroundings_under=-1), 10, 10)
    assert found.ambient_exposes
    assert found.power_sum is None
    assert found.start_at.words == "off"
    assert found.flashes_per_set is None
    assert not found.too_strong
    assert any("exposes it alone" in note for note in found.notes)


def test_too_bright_for_the_camera() -> None:
    found = ask(choice(), 17.5, 17.5)
    assert found.settings == Settings(1 / 250, 22, 100)
    assert found.off_stops < -1
    assert found.too_weak
    (note,) = [note for note in found.notes if note.startswith("Too bright")]
    assert "sync speed, smallest aperture, base ISO" in note
    assert "leaves the reserve as it is" in note


def test_too_dark_for_the_camera() -> None:
    found = ask(choice(), -4, -4)
    assert found.settings == Settings(1 / 60, 1.8, 6400)
    (note,) = [note for note in found.notes if note.startswith("Too dark")]
    assert "hand-held limit, widest aperture, highest ISO" in note


def test_a_start_faster_than_the_sync_speed_is_said() -> None:
    found = ask(choice(trigger=SLOW_TRIGGER, start=Settings(1 / 250, 4, 200)), 9.5, 10.3)
    assert found.settings.shutter_s == pytest.approx(1 / 125)
    assert "Your start's 1/250 s is faster than the trigger syncs: 1/125 s." in found.notes


def test_cells() -> None:
    cells = BatterySet("aa", "four cells", "AA", 150)
    found = ask(choice(battery=cells), 9.5, 10.3)
    assert found.recycle_s == pytest.approx(SMALL.recycle_full_s * found.start_at.fraction)
    assert found.recycle_tired_s > found.recycle_s
    assert found.flashes_per_set == 1500
    nearer_full = ask(choice(battery=cells, distance_m=4), 9.5, 10.3)
    assert nearer_full.start_at.words == "1/4 + 2/3 stop"
    assert nearer_full.flashes_per_set == 377
    slower = ask(choice(battery=replace(cells, recycle_factor=2)), 9.5, 10.3)
    assert slower.recycle_s == pytest.approx(2 * found.recycle_s)
    assert ask(choice(), 9.5, 10.3).flashes_per_set is None


def test_alternatives_of_the_place_come_last() -> None:
    elsewhere = Alternatives(Alternative("After 17:05, in shade", 1.5), None, Alternative("Looking west", -0.5))
    found = answer(choice(), EvFigure(14), EvFigure(14.5), elsewhere=elsewhere)
    later, bearing = found.ways_out[-2:]
    assert (later.kind, later.words, later.enough) == ("later hour", "After 17:05, in shade", True)
    assert later.gain_stops == pytest.approx(1.5 - found.reserve.stops)
    assert (bearing.kind, bearing.enough) == ("another bearing", False)


@given(choices, evs, st.none() | evs)
def test_at_the_sync_speed_flash_alone_is_two_to_the_minus_reserve(
    given: Choice, subject: float, behind: float | None
) -> None:
    found = ask(given, subject, behind)
    assume(found.settings.shutter_s == pytest.approx(sync(given).shutter_s))
    expected = -found.reserve.stops + found.off_stops
    assert log2(found.power_alone.fraction) == pytest.approx(expected, abs=1e-6)


@given(choices, evs, st.none() | evs)
def test_every_power_carries_the_settings_of_the_answer(given: Choice, subject: float, behind: float | None) -> None:
    found = ask(given, subject, behind)
    assert found.power_alone.settings == found.start_at.settings == found.settings
    assert found.power_sum is None or found.power_sum.settings == found.settings
    assert found.ambient_exposes == (found.settings.ev100 <= subject)
    assert found.too_weak == (found.reserve.stops <= -SHOWN_STOPS)
    assert not found.too_strong or found.start_at.fraction == pytest.approx(given.flash.lowest_power)


@given(st.floats(2.5, 5), st.floats(9, 10.5), st.floats(0.5, 2))
def test_the_faster_sync_never_changes_the_surroundings_or_asks_more(
    distance_m: float, behind: float, darker: float
) -> None:
    found = ask(choice(distance_m=distance_m), behind - darker, behind)
    assert found.faster_sync is not None
    assert found.faster_sync.settings.ev100 == pytest.approx(found.settings.ev100, abs=1 / 3)
    assert found.faster_sync.settings.shutter_s < found.settings.shutter_s
    assert found.faster_sync.power_alone.fraction < found.power_alone.fraction
