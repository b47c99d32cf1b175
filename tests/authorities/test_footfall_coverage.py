"""The interval of a rate against simulated counts, whose true rate is known; the quantiles behind it against scipy.

An 80 % interval is to hold 75 to 85 % of true rates. It does where an hour was counted alone, where hours differ as
much as the prior takes them to, and over the profile of a day. Where all hours of a spot are truly alike it holds more,
up to 93 %, since the prior then knows more than it says.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from scipy.stats import gamma

from models.street.footfall import Count, footfall
from models.street.gamma import gamma_quantile

MONDAY = datetime(2026, 3, 2, tzinfo=UTC)
DAY_PROFILE = np.array([0.1, 0.2, 0.4, 0.8, 1.5, 2.0, 2.5, 3.0, 3.5, 3.0, 2.0, 1.0])
"""People a minute through the hours of a shopping street's day, made up."""

Drawn = Callable[[np.random.Generator], tuple[np.ndarray, np.ndarray]]


def held(draw_spot: Drawn, spots: int, seed: int) -> float:
    """Share of true rates (people a minute) inside their intervals, over so many spots drawn and counted."""
    draw = np.random.default_rng(seed)
    inside = []
    for _ in range(spots):
        rates, minutes = draw_spot(draw)
        counts = [
            Count(starts=MONDAY + timedelta(hours=hour), minutes=float(m), number=int(draw.poisson(rate * m)))
            for hour, (rate, m) in enumerate(zip(rates, minutes, strict=True))
        ]
        found = footfall(counts)
        for hour, rate in enumerate(rates):
            at = found.at("weekday", hour)
            assert at is not None
            inside.append(at.low_per_h <= 60 * rate <= at.high_per_h)
    return float(np.mean(inside))


def one_hour(minutes: float) -> Drawn:
    return lambda draw: (np.exp(draw.uniform(np.log(0.2), np.log(20), 1)), np.array([minutes]))


def hours_as_the_prior_has_them(hours: int, minutes: float) -> Drawn:
    return lambda draw: (draw.gamma(10 * draw.uniform(0.3, 5), 1 / 10, hours), np.full(hours, minutes))


def a_day(minutes: float) -> Drawn:
    return lambda draw: (DAY_PROFILE * draw.uniform(0.5, 4), np.full(len(DAY_PROFILE), minutes))


def some_hours_of_a_day(draw: np.random.Generator) -> tuple[np.ndarray, np.ndarray]:
    return draw.permutation(DAY_PROFILE)[:6] * draw.uniform(0.5, 4), draw.choice([10.0, 15.0, 30.0, 60.0], 6)


SPOTS: dict[str, tuple[Drawn, int]] = {
    "one hour, 5 minutes": (one_hour(5), 500),
    "one hour, 10 minutes": (one_hour(10), 500),
    "one hour, 45 minutes": (one_hour(45), 500),
    "3 hours as the prior has them": (hours_as_the_prior_has_them(3, 15), 400),
    "10 hours as the prior has them": (hours_as_the_prior_has_them(10, 10), 200),
    "a day, 10 minutes an hour": (a_day(10), 150),
    "a day, 30 minutes an hour": (a_day(30), 150),
    "some hours of a day, mixed minutes": (some_hours_of_a_day, 300),
}


@pytest.mark.parametrize("name", SPOTS)
def test_80_percent_intervals_hold_75_to_85_percent_of_true_rates(name):
    spot, spots = SPOTS[name]
    assert 0.75 <= held(spot, spots, seed=len(name)) <= 0.85


def test_where_all_hours_are_alike_they_hold_more_and_never_less():
    alike: Drawn = lambda draw: (np.full(12, draw.uniform(0.5, 5)), np.full(12, 10.0))  # noqa: E731  as those above
    assert 0.85 <= held(alike, 150, seed=3) <= 0.95


@pytest.mark.parametrize("share", [0.05, 0.1, 0.5, 0.9, 0.95])
def test_gamma_quantiles(share):
    """2e-5: Wilson and Hilferty's cube root from shape 100 on; the halving before it is exact to eleven digits."""
    shape = np.concatenate([np.geomspace(0.5, 99.9, 60), np.geomspace(100, 1e6, 60)])
    expected = gamma.ppf(share, shape)
    found = gamma_quantile(share, shape)
    assert found[:60] == pytest.approx(expected[:60], rel=1e-10)
    assert found[60:] == pytest.approx(expected[60:], rel=5e-5)
