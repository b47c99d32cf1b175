"""Power for flash alone, the sum with the ambient, and the ladder."""

from __future__ import annotations

from dataclasses import replace
from math import log2

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from models.light.exposure import START, EvFigure, Settings
from models.light.flash import Choice, answer, too_strong_series
from models.light.power import Power, fraction_words, no_flash, power_alone, power_sum, rung, too_strong_stops
from tests.models.light.setups import SMALL, choice, choices, evs

powers = st.floats(1e-4, 20).map(lambda fraction: Power(fraction, START))


def test_every_power_says_the_settings_it_belongs_to() -> None:
    assert Power(0.25, START).words == "1/4 power at 1/125 s, f/5.6, ISO 200"
    assert rung(Power(0.3, START)).with_settings == "1/4 + 1/3 stop power at 1/125 s, f/5.6, ISO 200"
    assert no_flash(START).with_settings == "flash off at 1/125 s, f/5.6, ISO 200"
    assert fraction_words(1.4) == "1.4 ×"
    assert fraction_words(1 / 1437) == "1/1437"
    assert fraction_words(1 / 5.34) == "1/5.34"


def test_a_power_on_a_rung_is_written_as_the_rung_is() -> None:
    """1/32 + 2/3 stop is 2^(-5 + 2/3), 1/20.16."""
    assert fraction_words(1 / 20.2) == "1/32 + 2/3 stop"
    for step in range(22):
        assert fraction_words(2 ** (-step / 3)) == rung(Power(2 ** (-step / 3), START)).words


def test_flash_alone_by_hand() -> None:
    """Guide number 20 at 2 m and ISO 200 gives f/14.1; f/5.6 needs (5.6/14.1)^2 of it."""
    assert power_alone(choice(), START).fraction == pytest.approx((5.6 / (20 * 2**0.5 / 2)) ** 2)


@pytest.mark.parametrize(("under", "share"), [(1, 1 / 2), (2, 3 / 4), (2 / 3, 0.370), (5, 31 / 32)])
def test_the_sum_by_hand(under: float, share: float) -> None:
    """Ambient a stops under gives 2^-a of the exposure; the flash gives the rest."""
    together = power_sum(Power(0.5, START), START.ev100 - under)
    assert together is not None
    assert together.fraction == pytest.approx(0.5 * share, rel=1e-3)
    assert together.settings == START


@pytest.mark.parametrize("over", [0, 0.5, 3])
def test_ambient_that_exposes_alone_leaves_nothing_to_the_flash(over: float) -> None:
    assert power_sum(Power(0.5, START), START.ev100 + over) is None


@given(powers, st.floats(0.01, 20))
def test_flash_and_ambient_sum_to_the_whole_exposure(alone: Power, under: float) -> None:
    together = power_sum(alone, START.ev100 - under)
    assert together is not None
    assert together.fraction / alone.fraction + 2**-under == pytest.approx(1)


@given(powers)
def test_the_rung_is_the_nearest_third_and_the_remainder_makes_it_whole(needed: Power) -> None:
    found = rung(needed)
    assert log2(found.fraction) + found.remainder_stops == pytest.approx(log2(needed.fraction))
    assert 1 / 128 <= found.fraction <= 1
    if 1 / 128 < needed.fraction < 1:
        assert abs(found.remainder_stops) <= 1 / 6 + 1e-9


def test_rung_words() -> None:
    words = [rung(Power(2 ** (-k / 3), START)).words for k in (0, 1, 2, 3, 4, 20, 21)]
    assert words == [
        "1/1", "1/2 + 2/3 stop", "1/2 + 1/3 stop", "1/2", "1/4 + 2/3 stop", "1/128 + 1/3 stop", "1/128"
    ]  # fmt: skip


def test_the_ladder_ends_where_the_flash_ends() -> None:
    needed = Power(1 / 512, START)
    assert rung(needed, lowest=1 / 64).words == "1/64"
    assert too_strong_stops(rung(needed, 1 / 64), 1 / 64) == pytest.approx(3)
    assert too_strong_stops(rung(needed, 1 / 128), 1 / 128) == pytest.approx(2)
    assert too_strong_stops(rung(Power(1 / 60, START), 1 / 64), 1 / 64) == 0
    assert too_strong_stops(no_flash(START), 1 / 64) == 0
    assert too_strong_stops(rung(Power(3, START)), 1 / 128) == 0


@given(st.floats(1e-4, 1), st.floats(0.5, 4))
def test_a_stop_more_distance_needs_a_stop_more_power(distance_factor: float, metres: float) -> None:
    near, far = choice(distance_m=metres), choice(distance_m=metres * (1 + distance_factor))
    ratio = power_alone(far, START).fraction / power_alone(near, START).fraction
    assert ratio == pytest.approx((1 + distance_factor) ** 2)


def test_iso_and_aperture_that_cancel_need_the_same_power() -> None:
    fast, slow = Settings(1 / 125, 8, 400), Settings(1 / 125, 4, 100)
    assert power_alone(choice(), fast).fraction == pytest.approx(power_alone(choice(), slow).fraction)


@settings(suppress_health_check=[HealthCheck.filter_too_much])  # by most skies the flash is not near too strong
@given(choices, evs, evs)
def test_too_strong_over_a_series_agrees_with_one_instant(given: Choice, subject: float, behind: float) -> None:
    """The dials of one instant turn in thirds, so the two may part within a stop of the lowest rung."""
    found = answer(given, EvFigure(subject), EvFigure(behind))
    assume(found.power_sum is not None and found.face_under_stops > 1 and abs(found.off_stops) <= 1 / 3)
    assert found.power_sum is not None
    assume(abs(log2(found.power_sum.fraction / given.flash.lowest_power)) > 1)
    series = too_strong_series(given, np.array([subject]), np.array([behind]))
    assert series.tolist() == [found.too_strong]


def test_too_strong_at_dusk_and_not_by_day() -> None:
    """By hand at EV100 6: 2^6.67 / 60 = 1.69 against f/10 squared at 2 m, times the sum's 0.37: 1/160."""
    evs_100 = np.array([12.0, 9, 6, 3, 0, -3])
    dusk = [False, False, True, True, True, True]
    assert too_strong_series(choice(), evs_100, evs_100).tolist() == dusk
    assert too_strong_series(choice(), evs_100, None).tolist() == dusk
    assert too_strong_series(choice(distance_m=4), evs_100, evs_100).tolist() == [False, False, False, *dusk[3:]]


def test_just_under_the_lowest_rung_is_not_too_strong() -> None:
    """The nearest rung still serves a sixth of a stop under it. At EV100 6 by hand 1/160 of full is needed at 2 m."""
    needed = 2 ** (6 + 2 / 3) / 60 / 10**2 * (1 - 2 ** (-2 / 3))
    for stops_under, too_strong in ((0.15, False), (0.18, True)):
        lowest = replace(SMALL, lowest_power=needed * 2**stops_under)
        assert too_strong_series(choice(flash=lowest), np.array([6.0]), None).tolist() == [too_strong]


def test_nothing_is_too_strong_where_the_ambient_alone_exposes() -> None:
    evs_100 = np.array([12.0, 0])
    assert too_strong_series(choice(face_under=0, surroundings_under=0), evs_100, evs_100).tolist() == [False, False]
