"""The weather of a spot: typed as people type it, kept hour by hour, shown with its source and age."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.planning.answers import Moment
from models.planning.street.weather import add_hours, change_hour, delete_hour, get_hour, restore_hour
from models.planning.street.weather_form import (
    FIELDS,
    hour_form_of,
    new_hour_form,
    read_hours_form,
    understood_hours,
)
from models.planning.street.weather_page import MOST_DAYS, weather_page
from models.planning.street.weather_typed import figure_text, read_figure, understood_figures
from models.problems import InputProblem, InputProblems
from models.store.versions import Clash, Missing
from models.store.weather import FIGURES, HourDraft, hours_at, replace_forecast
from models.street.weather import RANGES, beaufort
from tests.models.planning.grounds import HOSTILE, ZONE, stand

NOW = datetime(2026, 10, 17, 14, 40, tzinfo=UTC)
HOUR = timedelta(hours=1)
MOMENT = Moment(NOW, ZONE, 2, "assumed")
TYPED = {"day": "2026-10-17", "clock": "16:40", "hours": "1", "oktas": "5/8", "wind_m_s": "18 km/h"}


@pytest.fixture
def lane(plans):
    return stand(plans, "Lane")


def typed(plans, lane, **changes):
    drafts = read_hours_form(TYPED | changes, lane, NOW)
    add_hours(plans, drafts)
    with plans.reading() as s:
        return hours_at(s, lane.id)


def problems_of(lane, **changes):
    with pytest.raises(InputProblems) as problems:
        read_hours_form(TYPED | changes, lane, NOW)
    return problems.value.by_field


@pytest.mark.parametrize(
    ("name", "text", "value"),
    [
        ("wind_m_s", "5 m/s", 5.0), ("wind_m_s", "18 km/h", 5.0), ("wind_m_s", "18km/h", 5.0), ("wind_m_s", "5", 5.0),
        ("wind_m_s", "10 kn", 5.144), ("wind_m_s", "10 mph", 4.47), ("wind_m_s", "4 bft", 6.75),
        ("gust_m_s", "4 Beaufort", 6.75), ("wind_m_s", "0 bft", 0.15), ("wind_m_s", "12 bft", 32.7),
        ("temperature_c", "20 C", 20.0), ("temperature_c", "68 F", 20.0), ("temperature_c", "−4,5°", -4.5),
        ("temperature_c", "14°F", -10.0), ("temperature_c", "-40 f", -40.0), ("humidity_pct", "60 %", 60.0),
        ("rain_mm", "0,4 mm", 0.4), ("rain_mm", "0.1 in", 2.54), ("oktas", "5", 5.0), ("oktas", "5/8", 5.0),
        ("oktas", "5 / 8", 5.0), ("oktas", "5 of 8", 5.0), ("oktas", "50 %", 4.0), ("oktas", "Overcast", 8.0),
        ("oktas", "half  covered", 4.0), ("oktas", "", None), ("wind_m_s", "  ", None),
    ],
)  # fmt: skip
def test_units_as_people_type_them(name, text, value):
    assert read_figure(name, text) == value


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("wind_m_s", "windy"), ("wind_m_s", "13 bft"), ("wind_m_s", "4.5 bft"), ("wind_m_s", "-1 bft"),
        ("wind_m_s", "-1"), ("wind_m_s", "9999"), ("wind_m_s", "5 C"), ("wind_m_s", "1e3"), ("wind_m_s", "nan"),
        ("wind_m_s", "5 m/s 6"), ("temperature_c", "20 m/s"), ("temperature_c", "500 F"), ("temperature_c", "54 k"),
        ("humidity_pct", "101"), ("humidity_pct", "-1 %"), ("rain_mm", "wet"), ("rain_mm", "400"), ("oktas", "9"),
        ("oktas", "5/9"), ("oktas", "110 %"), ("oktas", "cloudy-ish"), ("oktas", "٣"), ("gust_m_s", HOSTILE),
        ("oktas", "\x00"), ("rain_mm", "9" * 5000),
    ],
)  # fmt: skip
def test_what_is_no_figure_is_refused_under_its_name(name, text):
    with pytest.raises(InputProblem) as problem:
        read_figure(name, text)
    assert problem.value.field == name
    assert len(problem.value.message) < 200


@pytest.mark.parametrize("name", FIGURES)
@given(share=st.floats(0, 1))
def test_a_figure_is_read_back_as_it_is_shown(name, share):
    lowest, highest, _ = RANGES[name]
    value = round(lowest + share * (highest - lowest), 3)
    assert read_figure(name, figure_text(name, value)) == pytest.approx(value, abs=1e-9)


@pytest.mark.parametrize(
    ("name", "text"),
    [("wind_m_s", "50 km/h"), ("gust_m_s", "20 mph"), ("wind_m_s", "17 kn"), ("wind_m_s", "4 bft"), ("wind_m_s", "5.5"),
     ("temperature_c", "70 F"), ("temperature_c", "−3.5"), ("rain_mm", "0.1 in"), ("oktas", "4.8")],
)  # fmt: skip
def test_a_figure_in_another_unit_is_shown_as_it_was_typed(name, text):
    assert figure_text(name, read_figure(name, text)) == text


@given(st.integers(0, 12))
def test_a_force_is_a_wind_of_that_force(force):
    assert beaufort(read_figure("wind_m_s", f"{force} bft")) == force


def test_what_was_understood_is_said():
    said = understood_figures({"wind_m_s": "4 bft", "temperature_c": "68 F", "oktas": "60 %", "rain_mm": "soaked"})
    assert said == {
        "oktas": "4.8 of 8 covered, half covered", "wind_m_s": "6.75 m/s, force 4, moderate breeze",
        "temperature_c": "20.0 °C",
    }  # fmt: skip
    assert understood_figures({"oktas": ""}) == {}


def test_the_full_hour_is_meant_whatever_minute_is_typed(plans, lane):
    (hour,) = typed(plans, lane)
    assert (hour.starts, hour.oktas, hour.wind_m_s, hour.source) == (NOW.replace(minute=0), 5.0, 5.0, "by hand")
    said = understood_hours(TYPED, lane, NOW)
    assert (said["day"], said["clock"]) == ("Saturday 17 October 2026", "16:00 to 17:00 CEST")


def test_several_hours_are_alike_and_go_over_a_change_of_clocks(plans, lane):
    found = typed(plans, lane, day="25.10.2026", clock="1", hours="4 h")
    assert [hour.starts for hour in found] == [datetime(2026, 10, 24, 23, tzinfo=UTC) + n * HOUR for n in range(4)]
    said = understood_hours(TYPED | {"day": "25.10.2026", "clock": "1", "hours": "4 h"}, lane, NOW)
    assert said["clock"] == "01:00 to 04:00 CEST, then CET"
    late = understood_hours(TYPED | {"clock": "23", "hours": "3"}, lane, NOW)["clock"]
    assert late == "23:00 to 02:00 Sunday CEST"


@pytest.mark.parametrize(
    ("field", "text"),
    [("day", ""), ("day", "someday"), ("day", "31.2."), ("day", HOSTILE), ("clock", ""), ("clock", "25:00"),
     ("clock", HOSTILE), ("hours", "0"), ("hours", "49"), ("hours", "-1"), ("hours", "many"), ("hours", "1.5"),
     ("oktas", "9"), ("wind_m_s", "windy"), ("gust_m_s", "1 m/s"), ("temperature_c", "99"), ("humidity_pct", "x"),
     ("rain_mm", "-1"), ("whence", "x" * 121), ("whence", "\x00")],
)  # fmt: skip
def test_each_field_that_cannot_be_read_is_named(lane, field, text):
    assert set(problems_of(lane, **{field: text})) == {field}


def test_every_problem_is_named_at_once(lane):
    assert set(problems_of(lane, day="x", hours="x", oktas="x", rain_mm="x")) == {"day", "hours", "oktas", "rain_mm"}
    assert set(problems_of(lane, oktas="", wind_m_s="")) == {"oktas"}


def test_a_skipped_hour_is_refused_and_a_repeated_one_needs_its_zone(plans, lane):
    assert "does not exist" in problems_of(lane, day="29.3.2026", clock="02:30")["clock"]
    assert "comes twice" in problems_of(lane, day="25.10.2026", clock="02:30")["clock"]
    (hour,) = typed(plans, lane, day="25.10.2026", clock="02:30 CET")
    assert hour.starts == datetime(2026, 10, 25, 1, tzinfo=UTC)
    assert hour_form_of(hour, ZONE)["clock"] == "02:00 CET"


def test_an_hour_is_read_back_from_its_own_form(plans, lane):
    figures = {"gust_m_s": "9", "temperature_c": "−2,5", "humidity_pct": "80", "rain_mm": "0,2", "whence": "radio"}
    (hour,) = typed(plans, lane, **figures)
    form = hour_form_of(hour, ZONE)
    assert set(form) == set(FIELDS) == set(new_hour_form(MOMENT))
    (again,) = read_hours_form(form, lane, NOW)
    assert again == HourDraft(**{name: getattr(hour, name) for name in HourDraft.__dataclass_fields__})
    assert new_hour_form(MOMENT)["clock"] == "16:00"


def test_an_hour_typed_already_is_not_typed_over(plans, lane):
    typed(plans, lane, hours="3")
    with pytest.raises(InputProblems) as problems:
        typed(plans, lane, clock="15", hours="3")
    assert problems.value.by_field["clock"].startswith("16:00 to 17:00 CEST and 1 more is typed already")
    with plans.reading() as s:
        assert len(hours_at(s, lane.id)) == 3


def test_changed_deleted_and_brought_back(plans, lane):
    (hour,) = typed(plans, lane)
    (draft,) = read_hours_form(TYPED | {"oktas": "8"}, lane, NOW)
    assert change_hour(plans, lane.id, hour.id, 1, draft).oktas == 8.0
    with pytest.raises(Clash):
        change_hour(plans, lane.id, hour.id, 1, draft)
    delete_hour(plans, lane.id, hour.id, 2, now=NOW)
    with pytest.raises(Missing):
        get_hour(plans, lane.id, hour.id)
    assert restore_hour(plans, lane.id, hour.id).oktas == 8.0
    delete_hour(plans, lane.id, hour.id, 4, now=NOW)
    typed(plans, lane)
    with pytest.raises(InputProblems):
        restore_hour(plans, lane.id, hour.id)


def test_hours_of_another_spot_and_of_a_forecast_are_not_ones_own(plans, lane):
    (hour,) = typed(plans, lane)
    other = stand(plans, "Quay")
    forecast = HourDraft(spot_id=lane.id, starts=NOW, kept_at=NOW, oktas=1.0, source="a forecast", issued_at=NOW)
    with plans.writing() as s:
        replace_forecast(s, lane.id, [forecast])
        fetched = next(each for each in hours_at(s, lane.id) if each.issued_at)
    for spot_id, hour_id in ((other.id, hour.id), (lane.id, fetched.id), (lane.id, 99)):
        with pytest.raises(Missing):
            get_hour(plans, spot_id, hour_id)
        with pytest.raises(Missing):
            delete_hour(plans, spot_id, hour_id, 1, now=NOW)
        with pytest.raises(Missing):
            restore_hour(plans, spot_id, hour_id)


def test_a_page_of_nothing_says_so_and_what_the_light_takes(plans, lane):
    page = weather_page(plans, lane.id, MOMENT, NOW)
    assert page.answer.text == (
        "Saturday 17 October 2026, 16:40 CEST, Lane. No weather is kept for this hour. "
        "The light here goes by 2 of 8 covered (a few clouds), assumed."
    )
    assert (page.hour, page.days, page.earlier, page.working) == (None, (), (), ())
    assert page.fetched == "None is kept yet."
    with pytest.raises(Missing):
        weather_page(plans, 99, MOMENT, NOW)


def test_a_page_shows_typed_and_fetched_by_day_with_source_and_age(plans, lane):
    typed(plans, lane, oktas="1", wind_m_s="", temperature_c="-12")
    typed(plans, lane, day="16.10.2026", whence="the radio")
    told = {"source": "a forecast", "issued_at": NOW - 3 * HOUR, "spot_id": lane.id, "kept_at": NOW}
    drafts = [
        HourDraft(starts=NOW.replace(minute=0) + n * HOUR, oktas=5.0, wind_m_s=9.0, **told) for n in (0, 1, 2, 14)
    ]
    with plans.writing() as s:
        replace_forecast(s, lane.id, drafts)
    page = weather_page(plans, lane.id, replace(MOMENT, oktas=0, oktas_by="you set it"), NOW + 2 * HOUR)
    both = "by hand, the rest from a forecast, 5 h old."
    assert f"1 of 8 covered, wind 9 m/s (force 5, fresh breeze), −12 °C: {both}" in page.answer.text
    assert (
        "goes by 1 of 8 covered (clear), typed 2 h ago. This address sets the sky to 0 of 8 instead."
        in page.answer.text
    )
    assert [day.words for day in page.days] == ["Saturday 17 October 2026", "Sunday 18 October 2026"]
    assert [(row.kind, row.span[:14], row.over) for row in page.days[0].rows] == [
        ("typed", "16:00 to 17:00", False), ("forecast", "16:00 to 17:00", True), ("forecast", "17:00 to 18:00", False),
        ("forecast", "18:00 to 19:00", False),
    ]  # fmt: skip
    assert [row.source for row in page.days[0].rows][:2] == ["by hand, typed 2 h ago", "a forecast, 5 h old"]
    assert page.earlier[0].rows[0].source == "the radio, typed 2 h ago"
    assert page.fetched == "Kept is the a forecast, 5 h old; it reaches to Sunday 18 October 2026, 06:00."
    assert any("risk to bare skin" in caution for caution in page.cautions)


def test_the_working_shows_how_the_spread_comes_about(plans, lane):
    told = {"source": "a forecast", "issued_at": NOW - 24 * HOUR, "spot_id": lane.id, "kept_at": NOW}
    with plans.writing() as s:
        replace_forecast(s, lane.id, [
            HourDraft(starts=NOW.replace(minute=0) + n * HOUR, oktas=4.0 + 2 * n, **told) for n in (0, 1)
        ])  # fmt: skip
    first, second = weather_page(plans, lane.id, MOMENT, NOW).working
    assert "1 + 0.5 × 23 h / 24 h = 1.5 eighths; hours beside it: half of 2.0 = 1.0 eighths" in first
    assert "at most 4 = 1.8 eighths either way" in second


def test_many_days_are_not_all_shown_and_that_is_said(plans, lane):
    drafts = [HourDraft(spot_id=lane.id, starts=NOW.replace(minute=0) - n * 24 * HOUR, kept_at=NOW, oktas=3.0)
              for n in range(MOST_DAYS + 5)]  # fmt: skip
    add_hours(plans, drafts)
    page = weather_page(plans, lane.id, MOMENT, NOW)
    assert (len(page.days), len(page.earlier), page.left_out) == (1, MOST_DAYS, 4)
    assert page.earlier[0].day > page.earlier[-1].day
