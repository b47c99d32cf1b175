"""Which hour holds at an instant, and how far a forecast's cloud may lie off."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from math import hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.street.forecast import MOST_OKTAS, cloud_at, holding, spread_oktas
from models.street.weather import WeatherHour

NOON = datetime(2026, 10, 17, 12, tzinfo=UTC)
HOUR = timedelta(hours=1)
oktas = st.floats(0, 8)


def row(*steps, issued_at=NOON):
    """Hours of a forecast, (hours after noon, oktas) each."""
    return [
        WeatherHour(starts=NOON + n * HOUR, oktas=cloud, source="a forecast", issued_at=issued_at) for n, cloud in steps
    ]


def test_an_hour_holds_until_the_next_and_the_last_for_an_hour():
    hours = row((0, 1), (1, 2), (2, 3))
    found = [holding(hours, NOON + HOUR * at) for at in (-0.01, 0, 0.99, 1, 2.99, 3)]
    assert found == [None, 0, 0, 1, 2, None]
    assert holding([], NOON) is None


def test_steps_of_six_hours_hold_and_wider_gaps_are_not_filled():
    hours = row((0, 1), (6, 2), (20, 3))
    assert [holding(hours, NOON + HOUR * at) for at in (5.9, 6, 6.9, 7.1, 19.9, 20)] == [0, 1, 1, None, None, 2]


def test_a_typed_hour_is_an_hour_and_taken_at_its_word():
    hours = [WeatherHour(starts=NOON + n * HOUR, oktas=5) for n in (0, 2)]
    found = cloud_at(hours, NOON + HOUR / 2)
    assert (found.oktas, found.spread_oktas) == (5, 0)
    assert cloud_at(hours, NOON + 1.5 * HOUR) is None


def test_no_cloud_given_is_none_and_not_clear():
    assert cloud_at(row((0, None), (1, 3)), NOON) is None


def test_the_spread_is_half_the_step_beside_it_and_grows_by_half_an_okta_a_day():
    assert spread_oktas(row((0, 4)), 0) == 1.0
    assert spread_oktas(row((0, 4), (1, 7)), 0) == pytest.approx(hypot(1.5, 1.0))
    hours = row((47, 2), (48, 4), (49, 5))
    assert spread_oktas(hours, 1) == pytest.approx(hypot(1.0, 2.0))
    assert spread_oktas(row((0, 4), (7, 8)), 0) == 1.0
    assert spread_oktas(row((0, 4), (1, None)), 0) == 1.0
    assert spread_oktas(row((24 * 9, 0), (24 * 9 + 6, 8)), 0) == MOST_OKTAS


@given(oktas, oktas, st.floats(0, 300), st.floats(0, 300))
def test_more_lead_never_narrows_it(own, beside, lead_h, more_h):
    soon, late = (row((0, own), (1, beside), issued_at=NOON - hours * HOUR) for hours in (lead_h, lead_h + more_h))
    assert 1.0 <= spread_oktas(soon, 0) <= spread_oktas(late, 0) <= MOST_OKTAS


@given(oktas, oktas, oktas)
def test_a_larger_step_beside_it_never_narrows_it(own, one, other):
    near, far = sorted((one, other), key=lambda beside: abs(beside - own))
    assert spread_oktas(row((0, own), (1, near)), 0) <= spread_oktas(row((0, own), (1, far)), 0)


def test_a_forecast_made_after_its_hour_is_as_sure_as_one_made_in_it():
    assert spread_oktas(row((0, 4), issued_at=NOON + 5 * HOUR), 0) == 1.0
