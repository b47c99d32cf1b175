"""Weather hours: kept by spot, a forecast put in place of the last, what was typed never touched by it."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from models.problems import InputProblem
from models.store.spots import add_spot, delete_spot
from models.store.versions import Clash, Missing
from models.store.weather import (
    HourDraft,
    checked_draft,
    draft_of,
    has_forecast,
    hours_at,
    replace_forecast,
    shelf,
    typed_among,
)
from models.street.spot import SpotDraft
from models.street.weather import WeatherHour

NOW = datetime(2026, 10, 17, 14, tzinfo=UTC)
HOUR = timedelta(hours=1)


@pytest.fixture
def spot(store, foundry_lane):
    with store.writing() as s:
        return add_spot(s, foundry_lane)


def typed(spot, hours=0, **figures):
    return HourDraft(spot_id=spot.id, starts=NOW + hours * HOUR, kept_at=NOW, **({"oktas": 5.0} | figures))


def fetched(spot, hours=0, issued_at=NOW, **figures):
    return replace(typed(spot, hours, **figures), source="a forecast", issued_at=issued_at)


def test_an_hour_comes_back_as_it_was_kept(store, spot):
    figures = {"wind_m_s": 4.5, "gust_m_s": 9.0, "temperature_c": -2.0, "humidity_pct": 80.0, "rain_mm": 0.2}
    draft = typed(spot, source="  the radio ", **figures)
    with store.writing() as s:
        shelf.add(s, draft)
    with store.reading() as s:
        (back,) = hours_at(s, spot.id)
        assert not has_forecast(s, spot.id)
    assert back.hour == WeatherHour(starts=NOW, oktas=5.0, source="the radio", **figures)
    assert (back.version, back.kept_at, back.issued_at) == (1, NOW, None)
    assert draft_of(spot.id, back.hour, NOW) == replace(draft, source="the radio")


def test_a_new_forecast_takes_the_place_of_the_old_from_its_first_hour_on(store, spot):
    with store.writing() as s:
        shelf.add(s, typed(spot, 2))
        replace_forecast(s, spot.id, [fetched(spot, n, oktas=1.0) for n in range(4)])
        replace_forecast(s, spot.id, [fetched(spot, n, NOW + HOUR, oktas=7.0) for n in (2, 3)])
        found = [(hour.starts.hour, hour.oktas, hour.source) for hour in hours_at(s, spot.id)]
        assert has_forecast(s, spot.id)
    assert sorted(found) == [
        (14, 1.0, "a forecast"), (15, 1.0, "a forecast"), (16, 5.0, "by hand"), (16, 7.0, "a forecast"),
        (17, 7.0, "a forecast"),
    ]  # fmt: skip


def test_old_forecasts_go_and_what_was_typed_stays(store, spot):
    with store.writing() as s:
        shelf.add(s, typed(spot, -24 * 40))
        replace_forecast(s, spot.id, [fetched(spot, -24 * 40)])
        replace_forecast(s, spot.id, [fetched(spot, 0)])
        assert [hour.issued_at is None for hour in hours_at(s, spot.id)] == [True, False]


def test_a_forecast_of_which_one_hour_cannot_be_leaves_the_old_one(store, spot):
    with store.writing() as s:
        replace_forecast(s, spot.id, [fetched(spot)])
    with pytest.raises(InputProblem) as problem, store.writing() as s:
        replace_forecast(s, spot.id, [fetched(spot, oktas=1.0), fetched(spot, 1, oktas=9.0)])
    assert problem.value.field == "hour of weather 2: oktas"
    with store.reading() as s:
        assert [hour.oktas for hour in hours_at(s, spot.id)] == [5.0]


def test_hours_are_found_by_span_and_by_their_starts(store, spot):
    with store.writing() as s:
        shelf.add_all(s, [typed(spot, n) for n in range(5)])
        replace_forecast(s, spot.id, [fetched(spot, 9)])
        assert [hour.starts.hour for hour in hours_at(s, spot.id, NOW + HOUR, NOW + 3 * HOUR)] == [15, 16]
        assert [h.starts.hour for h in typed_among(s, spot.id, [NOW, NOW + 4 * HOUR, NOW + 9 * HOUR])] == [14, 18]
        assert hours_at(s, spot.id + 1) == ()


def test_a_change_of_something_older_clashes_and_what_is_deleted_comes_back(store, spot):
    with store.writing() as s:
        kept = shelf.add(s, typed(spot))
        shelf.change(s, kept.id, 1, typed(spot, oktas=6.0))
        with pytest.raises(Clash):
            shelf.change(s, kept.id, 1, typed(spot, oktas=7.0))
        shelf.delete(s, kept.id, 2, now=NOW)
        assert hours_at(s, spot.id) == typed_among(s, spot.id, [NOW]) == ()
        shelf.restore(s, kept.id)
        assert [hour.oktas for hour in hours_at(s, spot.id)] == [6.0]
        with pytest.raises(Missing):
            shelf.get(s, kept.id + 1)


def test_they_go_with_their_spot(store, spot):
    with store.writing() as s:
        shelf.add(s, typed(spot))
        other = add_spot(s, SpotDraft(name="Quay", latitude_deg=52.5, longitude_deg=5.2, zone="UTC"))
        delete_spot(s, spot.id, 1, now=NOW - timedelta(days=40))
        delete_spot(s, other.id, 1, now=NOW)
        assert hours_at(s, spot.id) == ()


@pytest.mark.parametrize(
    ("field", "bad"),
    [("oktas", {"oktas": None}), ("oktas", {"oktas": 8.5}), ("gust_m_s", {"wind_m_s": 9.0, "gust_m_s": 3.0}),
     ("source", {"source": " "}), ("source", {"source": "\x00"}), ("starts", {"starts": NOW.replace(tzinfo=None)}),
     ("kept_at", {"kept_at": NOW.replace(tzinfo=None)}), ("rain_mm", {"rain_mm": float("nan")})],
)  # fmt: skip
def test_what_cannot_be_weather_is_refused_by_name(spot, field, bad):
    with pytest.raises(InputProblem) as problem:
        checked_draft(replace(typed(spot), **bad))
    assert problem.value.field == field


def test_a_spot_that_is_not_there_has_no_weather(store, spot):
    with pytest.raises(InputProblem) as problem, store.writing() as s:
        shelf.add(s, replace(typed(spot), spot_id=99))
    assert problem.value.field == "spot_id"
