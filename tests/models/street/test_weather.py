"""The weather of an hour, and what it means for people and for a face in the wind."""

from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.problems import InputProblem
from models.street.comfort import CHILLS, HEATS, chill, heat, heat_index_c, wind_chill_c, wind_on_face
from models.street.weather import WeatherHour, beaufort, checked_weather, drag_n

NOON = datetime(2026, 10, 17, 12, tzinfo=UTC)
winds = st.floats(0, 40)


def test_an_hour_is_kept_in_utc_with_what_was_given():
    local = NOON.astimezone(timezone(timedelta(hours=2)))
    kept = checked_weather(WeatherHour(starts=local, oktas=3, wind_m_s=5, source="  by hand ", issued_at=local))
    assert (kept.starts, kept.issued_at, kept.source) == (NOON, NOON, "by hand")
    assert kept.starts.tzinfo is UTC
    assert (kept.rain_mm, kept.temperature_c) == (None, None)


def test_the_strongest_wind_is_the_gust():
    assert WeatherHour(starts=NOON, wind_m_s=5, gust_m_s=9).strongest_m_s == 9
    assert WeatherHour(starts=NOON, wind_m_s=5).strongest_m_s == 5
    assert WeatherHour(starts=NOON, gust_m_s=9).strongest_m_s == 9
    assert WeatherHour(starts=NOON).strongest_m_s is None


@pytest.mark.parametrize(
    ("field", "bad"),
    [
        ("oktas", {"oktas": 9}),
        ("wind_m_s", {"wind_m_s": -1}),
        ("gust_m_s", {"gust_m_s": math.inf}),
        ("gust_m_s", {"wind_m_s": 8, "gust_m_s": 7}),
        ("temperature_c", {"temperature_c": 212}),
        ("humidity_pct", {"humidity_pct": 101}),
        ("rain_mm", {"rain_mm": math.nan}),
        ("source", {"source": "  "}),
        ("source", {"source": "x" * 121}),
        ("starts", {"starts": NOON.replace(tzinfo=None)}),
        ("issued_at", {"issued_at": NOON.replace(tzinfo=None)}),
    ],
)
def test_what_cannot_be_weather_is_refused_by_name(field, bad):
    with pytest.raises(InputProblem) as problem:
        checked_weather(WeatherHour(**({"starts": NOON} | bad)))
    assert problem.value.field == field


@given(winds, winds, st.floats(0.01, 3))
def test_more_wind_never_asks_for_less_care(wind, more, face_m2):
    order = ("weight", "hold", "down", "no stands")
    weaker, stronger = wind_on_face(wind, face_m2), wind_on_face(wind + more, face_m2)
    assert order.index(stronger.advice) >= order.index(weaker.advice)
    assert stronger.drag_n >= weaker.drag_n
    assert stronger.force == beaufort(wind + more) >= weaker.force


@given(winds, st.floats(0.01, 3), st.floats(0, 3))
def test_a_larger_face_never_asks_for_less_care(wind, face_m2, more_m2):
    order = ("weight", "hold", "down", "no stands")
    small, large = (wind_on_face(wind, face) for face in (face_m2, face_m2 + more_m2))
    assert order.index(large.advice) >= order.index(small.advice)


def test_a_bare_flash_stands_where_a_box_is_taken_down():
    assert wind_on_face(9, 0.02).advice == "weight"
    assert wind_on_face(9, 0.8).advice == "down"
    assert wind_on_face(11, 0.02).advice == "no stands"


def test_drag_grows_with_the_square_of_the_wind():
    assert drag_n(10, 0.5) == pytest.approx(4 * drag_n(5, 0.5))


@given(st.floats(-40, 10), st.floats(1.4, 30), st.floats(0, 10))
def test_more_wind_never_feels_warmer(temperature_c, wind_m_s, more):
    calmer, windier = (wind_chill_c(temperature_c, wind) for wind in (wind_m_s, wind_m_s + more))
    assert calmer is not None
    assert windier is not None
    assert windier <= calmer + 1e-9


def test_bands_of_cold():
    """Environment Canada's bounds, from memory: 0, -10, -28, -40, -48."""
    indices = (None, 0.6, 0.4, -9.4, -9.6, -27.4, -27.6, -39.6, -47.6, -60)
    words = ("none", "none", "low", "low", "moderate", "moderate", "high", "very high", "severe", "severe")
    assert [chill(index) for index in indices] == list(words)
    assert set(words) == set(CHILLS)


def test_below_the_first_band_there_is_no_heat_index():
    assert heat_index_c(20, 60) is None
    assert heat(None) == heat(None, in_sun=True) == "none"
    assert heat_index_c(35, 50) == pytest.approx(41, abs=0.7)  # the chart: 95 F at 50 % is 105 F
    assert set(HEATS) >= {heat(heat_index_c(t, 50)) for t in (20.0, 28.0, 33.0, 38.0, 45.0)}
