"""The hazards sheet: prefilled from spot and hour, follows the weather where nobody edited it, loses no edit."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from models.planning.street.hazards import bring_back, keep_sheet, start_again
from models.planning.street.hazards_form import read_sheet_form, sheet_form_of
from models.planning.street.hazards_page import hazards_page
from models.problems import InputProblems
from models.store import rules
from models.store.hazards import Looked, SheetDraft, TypedHour
from models.store.versions import Clash, Missing
from models.store.weather import HourDraft, replace_forecast
from tests.models.planning.grounds import HOSTILE
from tests.models.planning.street.sheeted import ENDS, NOW, STARTS, form_of, kept, keys, planned


@pytest.fixture
def workshop(plans):
    return planned(plans, STARTS, ENDS)


def test_it_is_prefilled_from_spot_and_hour_and_nothing_is_kept(plans, workshop):
    page = hazards_page(plans, workshop, NOW)
    assert page.version == 0
    assert keys(page.sheet.lines)[:2] == ["noted", "dark"]
    assert page.sheet.lines[0].what == "Open water without a rail"
    assert {"vehicles", "water", "railway", "lightning", "flashing", "heads", "cells"} <= set(keys(page.sheet.lines))
    assert len(page.emergency) == 3
    assert "Local codes and licensed practice decide" in page.note
    assert "No weather typed" in page.weather


def test_noon_is_not_dark(plans):
    noon = planned(plans, datetime(2026, 6, 20, 10, 0, tzinfo=UTC), datetime(2026, 6, 20, 11, 0, tzinfo=UTC))
    found = keys(hazards_page(plans, noon, NOW).sheet.lines)
    assert "dark" not in found
    assert "sun" in found


def test_the_weather_typed_and_what_was_looked_at_change_what_nobody_edited(plans, workshop):
    kept(plans, workshop)
    again = kept(plans, workshop, 1, wind_m_s="36 km/h", gust_m_s="14", temperature_c="−2", rain_mm="1,5", railway="no",
                 water="yes")  # fmt: skip
    assert again.hour == TypedHour(wind_m_s=10.0, gust_m_s=14.0, temperature_c=-2.0, rain_mm=1.5)
    lines = {line.key: line for line in again.lines}
    assert "railway" not in lines
    assert lines["water"].rests == "here"
    assert "gusts of 14.0 m/s" in lines["wind"].what
    assert "cold" in lines
    assert "temperature" not in lines
    assert "ind 10 m/s, gusts 14 m/s" in hazards_page(plans, workshop, NOW).weather


def test_what_was_edited_stays_whatever_the_weather(plans, workshop):
    first = kept(plans, workshop)
    number = keys(first.lines).index("wind") + 1
    kept(plans, workshop, 1, **{f"done_{number}": "Two people hold it", f"tick_{number}": "yes", "wind_m_s": "9"})
    line = next(line for line in hazards_page(plans, workshop, NOW).sheet.lines if line.key == "wind")
    assert (line.done, line.is_done) == ("Two people hold it", True)


def test_a_tick_does_not_outlive_its_words(plans, workshop):
    first = kept(plans, workshop)
    number = keys(first.lines).index("wind") + 1
    ticked = kept(plans, workshop, 1, **{f"tick_{number}": "yes"})
    assert next(line for line in ticked.lines if line.key == "wind").is_done
    later = kept(plans, workshop, 2, wind_m_s="12")
    assert not next(line for line in later.lines if line.key == "wind").is_done


def test_what_is_taken_out_is_named_and_can_be_put_back(plans, workshop):
    first = kept(plans, workshop)
    number = keys(first.lines).index("lightning") + 1
    kept(plans, workshop, 1, **{f"cut_{number}": "yes"})
    page = hazards_page(plans, workshop, NOW)
    assert keys(page.left_out) == ["lightning"]
    assert "1 that this hour brings is left out" in page.answer.text
    form = {name: text for name, text in page.form.items() if not name.startswith("cut_")}
    keep_sheet(plans, read_sheet_form(form, workshop), 2)
    assert hazards_page(plans, workshop, NOW).left_out == ()


def test_a_line_of_ones_own_is_kept(plans, workshop):
    number = int(form_of(plans, workshop)["count"]) + 1
    again = kept(plans, workshop, **{f"what_{number}": HOSTILE, f"who_{number}": "Ida"})
    assert (again.lines[-1].what, again.lines[-1].who, again.lines[-1].key) == (HOSTILE, "Ida", "")
    assert read_sheet_form(sheet_form_of(again), workshop).lines == again.lines


def test_two_who_keep_it_clash_and_starting_again_has_a_way_back(plans, workshop):
    first = kept(plans, workshop, first_aider="Ida")
    for version in (0, 7):
        with pytest.raises(Clash):
            kept(plans, workshop, version)
    start_again(plans, workshop, 1, now=NOW)
    assert hazards_page(plans, workshop, NOW).version == 0
    with pytest.raises(Missing):
        kept(plans, workshop, 1)
    with pytest.raises(Missing):
        bring_back(plans, workshop + 1, first.id)
    bring_back(plans, workshop, first.id)
    assert hazards_page(plans, workshop, NOW).sheet.first_aider == "Ida"
    start_again(plans, workshop, 3, now=NOW)
    kept(plans, workshop)
    with pytest.raises(Clash):
        bring_back(plans, workshop, first.id)


@pytest.mark.parametrize(
    ("field", "text"),
    [("oktas", "9"), ("wind_m_s", "windy"), ("wind_m_s", "-1"), ("gust_m_s", "200"), ("temperature_c", "80"),
     ("temperature_c", "54 k"), ("humidity_pct", "101"), ("rain_mm", "wet"), ("railway", "maybe"), ("water", "x"),
     ("emergency_number", "1" * 200), ("first_aider", "\x00"), ("ambulance_address", "x" * 5000), ("what_1", ""),
     ("who_2", "x" * 200), ("rests_1", "somewhere")],
)  # fmt: skip
def test_each_field_that_cannot_be_read_is_named(plans, workshop, field, text):
    with pytest.raises(InputProblems) as problems:
        read_sheet_form(form_of(plans, workshop, **{field: text}), workshop)
    number = field.partition("_")[2]
    assert set(problems.value.by_field) == {f"what_{number}" if number.isdecimal() else field}


def test_gusts_under_the_wind_are_refused(plans, workshop):
    with pytest.raises(InputProblems) as problems:
        read_sheet_form(form_of(plans, workshop, wind_m_s="8", gust_m_s="4"), workshop)
    assert set(problems.value.by_field) == {"gust_m_s"}


def test_no_sheet_without_a_workshop(plans):
    with pytest.raises(Missing):
        hazards_page(plans, 99, NOW)
    with pytest.raises(Missing):
        keep_sheet(plans, SheetDraft(workshop_id=99, lines=()), 0)


def test_a_sheet_goes_with_everything_it_holds(plans, workshop):
    draft = SheetDraft(workshop_id=workshop, lines=(), looked=Looked(water=True), hour=TypedHour(oktas=3))
    again = keep_sheet(plans, draft, 0)
    assert (again.looked, again.hour) == (draft.looked, draft.hour)
    assert replace(again.hour, oktas=None) == TypedHour()


def forecast(plans, workshop, **figures):
    """A forecast for the hour the workshop starts, in place of the last."""
    with plans.writing() as s:
        spot_id = rules.get_workshop(s, workshop).spot_id
        told = {"source": "MET Norway forecast", "issued_at": NOW, "kept_at": NOW}
        replace_forecast(s, spot_id, [HourDraft(spot_id=spot_id, starts=STARTS, **told, **figures)])


def wind_line(plans, workshop):
    return next(line for line in hazards_page(plans, workshop, NOW).sheet.lines if line.key == "wind")


def test_where_nothing_was_typed_it_takes_the_weather_kept_for_the_spot(plans, workshop):
    forecast(plans, workshop, wind_m_s=9.0, gust_m_s=14.0, temperature_c=-2.0, oktas=7.0)
    page = hazards_page(plans, workshop, NOW)
    assert "gusts 14 m/s" in page.weather
    assert "MET Norway forecast, under an hour old" in page.weather
    assert "gusts of 14.0 m/s" in wind_line(plans, workshop).what
    assert "cold" in keys(page.sheet.lines)
    assert "temperature" not in keys(page.sheet.lines)
    assert page.form["wind_m_s"] == ""
    assert page.changed == ""
    assert "sky" not in page.light


def test_what_is_typed_in_the_sheet_wins(plans, workshop):
    forecast(plans, workshop, wind_m_s=9.0, gust_m_s=14.0)
    kept(plans, workshop, wind_m_s="3 bft")
    page = hazards_page(plans, workshop, NOW)
    assert "By hand" in page.weather
    assert "14" not in wind_line(plans, workshop).what
    forecast(plans, workshop, wind_m_s=20.0)
    assert hazards_page(plans, workshop, NOW).changed == ""
    assert hazards_page(plans, workshop, NOW).form["wind_m_s"] == "3 bft"


def test_lines_left_alone_follow_a_new_forecast_once_it_is_kept_again(plans, workshop):
    forecast(plans, workshop, wind_m_s=9.0, gust_m_s=14.0)
    first = kept(plans, workshop)
    assert hazards_page(plans, workshop, NOW).changed == ""
    number = keys(first.lines).index("lightning") + 1
    kept(plans, workshop, 1, **{f"done_{number}": "Into the arcade"})
    forecast(plans, workshop, wind_m_s=2.0, gust_m_s=3.0)
    page = hazards_page(plans, workshop, NOW)
    assert "has changed since this sheet was kept" in page.changed
    assert "gusts of 14.0 m/s" in wind_line(plans, workshop).what
    again = kept(plans, workshop, 2)
    assert "3.0 m/s" in next(line.what for line in again.lines if line.key == "wind")
    assert next(line.done for line in again.lines if line.key == "lightning") == "Into the arcade"
    assert hazards_page(plans, workshop, NOW).changed == ""


def test_a_sheet_kept_before_any_weather_says_that_there_is_some_now(plans, workshop):
    kept(plans, workshop)
    forecast(plans, workshop, wind_m_s=9.0)
    assert hazards_page(plans, workshop, NOW).changed
    kept(plans, workshop, 1)
    assert "9.0 m/s" in wind_line(plans, workshop).what
    assert hazards_page(plans, workshop, NOW).changed == ""


def test_typing_and_untyping_weather_goes_back_to_what_is_kept_for_the_spot(plans, workshop):
    forecast(plans, workshop, wind_m_s=9.0)
    kept(plans, workshop, wind_m_s="2")
    assert "2.0 m/s" in wind_line(plans, workshop).what
    kept(plans, workshop, 1, wind_m_s="")
    assert "9.0 m/s" in wind_line(plans, workshop).what
