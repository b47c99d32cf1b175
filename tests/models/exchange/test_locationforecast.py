"""A forecast's JSON: read to the figure, and refused whole where anything in it cannot be."""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.exchange.locationforecast import MOST_STEPS, read_forecast
from models.problems import InputProblem
from tests.models.exchange.forecast_service import NOW, UNITS, answer, step

FIRST = NOW.replace(minute=0)
HOUR = timedelta(hours=1)


def read(tree):
    return read_forecast(tree if isinstance(tree, bytes) else json.dumps(tree).encode(), "a forecast")


def changed(path, value):
    """The usual answer with one member changed; a value of ... takes it out."""
    tree = answer()
    *way, last = path
    part = tree
    for name in way:
        part = part[name]
    if value is ...:
        del part[last]
    else:
        part[last] = value
    return tree


def test_every_figure_in_our_own_units():
    forecast = read(answer(step(FIRST, 62.5, wind_speed_of_gust=9.3)))
    (hour,) = forecast.hours
    assert (hour.starts, hour.issued_at, hour.source) == (FIRST, NOW - 3 * HOUR, "a forecast")
    assert (hour.oktas, hour.wind_m_s, hour.gust_m_s) == (5.0, 4.6, 9.3)
    assert (hour.temperature_c, hour.humidity_pct, hour.rain_mm) == (11.4, 81.0, 0.2)


def test_six_hours_of_rain_are_an_even_sixth_an_hour():
    last = read(answer()).hours[-1]
    assert (last.oktas, last.rain_mm) == (8.0, 0.5)


def test_what_is_missing_is_not_given():
    tree = answer({"time": "2026-10-17T14:00:00Z", "data": {"instant": {"details": {"wind_speed": 3}}}},
                  {"time": "2026-10-17T15:00:00Z", "data": {}})  # fmt: skip
    (hour,) = read(tree).hours
    assert (hour.wind_m_s, hour.gust_m_s, hour.oktas, hour.rain_mm) == (3.0, None, None, None)


def test_a_gust_is_never_under_the_wind():
    assert read(answer(step(FIRST, wind_speed_of_gust=3.0))).hours[0].gust_m_s == 4.6


STEPS = ("properties", "timeseries")
DETAILS = (*STEPS, 0, "data", "instant", "details")


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("properties",), ...), (("properties",), []), (("properties", "meta"), ...), (("properties", "meta"), None),
        (("properties", "meta", "updated_at"), ...), (("properties", "meta", "updated_at"), 7),
        (("properties", "meta", "updated_at"), "2026-10-17T11:40:00"), (("properties", "meta", "updated_at"), "today"),
        (("properties", "meta", "updated_at"), "0001-01-01T00:00:00+14:00"), (("properties", "meta", "units"), "m/s"),
        (("properties", "meta", "units"), UNITS | {"wind_speed": "knots"}), (STEPS, ...), (STEPS, {}), (STEPS, []),
        (STEPS, [None]), (STEPS, [step(FIRST)] * 2), (STEPS, [step(FIRST), step(FIRST - HOUR)]),
        (STEPS, [step(FIRST + timedelta(days=31))]), (STEPS, [step(FIRST)] * (MOST_STEPS + 1)),
        (STEPS, [{"time": "2026-10-17T14:00:00Z", "data": {}}]), ((*STEPS, 0, "time"), ...),
        ((*STEPS, 0, "time"), "9999-12-31T23:00:00Z"), ((*STEPS, 0, "data"), "x"),
        ((*STEPS, 0, "data", "instant"), []), (DETAILS, 3), ((*DETAILS, "wind_speed"), "4.6"),
        ((*DETAILS, "wind_speed"), True), ((*DETAILS, "wind_speed"), -1), ((*DETAILS, "wind_speed"), 10**400),
        ((*DETAILS, "air_temperature"), 1e9), ((*DETAILS, "cloud_area_fraction"), 101), ((*DETAILS, "wind_speed"), []),
        ((*DETAILS, "cloud_area_fraction"), float("nan")), ((*DETAILS, "air_temperature"), float("inf")),
        ((*STEPS, 0, "data", "next_1_hours"), 5), ((*STEPS, 0, "data", "next_1_hours", "details"), [1]),
        ((*STEPS, 0, "data", "next_1_hours", "details", "precipitation_amount"), "0.2"),
        ((*STEPS, 0, "data", "next_1_hours", "details", "precipitation_amount"), -0.5),
    ],
)  # fmt: skip
def test_what_is_no_forecast_is_refused_whole(path, value):
    with pytest.raises(InputProblem) as problem:
        read(changed(path, value))
    assert problem.value.field == "forecast"
    assert "no forecast: " in problem.value.message
    assert len(problem.value.message) < 300


@pytest.mark.parametrize(
    "data",
    [b"", b"{", b"null", b"[]", b"7", b"<html>busy</html>", b"\xff\xfe", b"[" * 200_000, b'{"a":' * 20_000,
     b'{"properties": 1' + b"0" * 6000 + b"}"],
)  # fmt: skip
def test_what_is_no_json_is_refused(data):
    with pytest.raises(InputProblem):
        read(data)


@given(st.lists(st.floats(0, 100), min_size=1, max_size=40))
def test_every_cloud_becomes_eighths(clouds):
    hours = read(answer(*(step(FIRST + n * HOUR, cloud) for n, cloud in enumerate(clouds)))).hours
    assert [hour.oktas for hour in hours] == pytest.approx([cloud * 8 / 100 for cloud in clouds], abs=5e-4)
    assert all(hour.starts.tzinfo is UTC and isinstance(hour.starts, datetime) for hour in hours)
