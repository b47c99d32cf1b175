"""Hot, cold or neither for people who stand about; published indices by hand, what is not known stays not known."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from models.street.weather import WeatherHour
from models.workshop.feels import feels_of

AT = datetime(2026, 10, 17, 15, tzinfo=UTC)


def hour(**figures: float) -> WeatherHour:
    return WeatherHour(starts=AT, **figures)


@pytest.mark.parametrize(
    ("figures", "which", "index_c"),
    [
        ({}, "not known", None),
        ({"wind_m_s": 9.0}, "not known", None),
        ({"temperature_c": 10.0}, "cold", None),
        ({"temperature_c": 10.1}, "neither", None),
        # 20 km/h at 5 C: 13.12 + 3.1075 - 11.37 x 1.6148 + 0.3965 x 5 x 1.6148 = 1.07
        ({"temperature_c": 5.0, "wind_m_s": 20 / 3.6}, "cold", 1.07),
        ({"temperature_c": 5.0, "wind_m_s": 1.0}, "cold", None),
        ({"temperature_c": 26.6}, "neither", None),
        ({"temperature_c": 26.7}, "heat", None),
        # 90 F at 70 %: 106 F in the National Weather Service's chart
        ({"temperature_c": 32.2, "humidity_pct": 70.0}, "heat", 41.1),
        ({"temperature_c": 26.8, "humidity_pct": 5.0}, "neither", None),
    ],
)
def test_what_an_hour_is_like(figures: dict[str, float], which: str, index_c: float | None) -> None:
    found = feels_of(hour(**figures))
    assert (found.which, found.heat_or_cold) == (which, which in ("heat", "cold"))
    assert found.index_c == (None if index_c is None else pytest.approx(index_c, abs=0.4))


def test_no_hour_is_not_known() -> None:
    assert feels_of(None).which == "not known"
