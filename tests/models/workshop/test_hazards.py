"""The hazards sheet: what belongs on it, what may be left out, what it says."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.problems import InputProblem
from models.street.weather import WeatherHour
from models.words.hazards import EMERGENCY_WORDS, HAZARDS, SHEET_NOTE, prefilled
from models.words.never import forbidden_in
from models.workshop.hazards import (
    ALWAYS,
    EMERGENCY,
    STANDING_THERE,
    HazardLine,
    HazardSheet,
    Situation,
    checked_sheet,
    hazards_of,
)

NOON = datetime(2026, 10, 17, 12, tzinfo=UTC)
NOTHING_THERE = dict.fromkeys(STANDING_THERE.values(), False)

maybe = st.none() | st.booleans()
hours = st.builds(
    WeatherHour,
    starts=st.just(NOON),
    wind_m_s=st.none() | st.floats(0, 30),
    temperature_c=st.none() | st.floats(-30, 45),
    humidity_pct=st.none() | st.floats(0, 100),
    rain_mm=st.none() | st.floats(0, 20),
)
situations = st.builds(
    Situation,
    noted=st.sampled_from(["", "Delivery vans before 11."]),
    **dict.fromkeys(STANDING_THERE.values(), maybe),
    weather=st.none() | hours,
    face_m2=st.none() | st.floats(0.01, 2),
    in_sun=st.booleans(),
    sun_up=st.booleans(),
    sun_near_lens=st.booleans(),
    dark=st.booleans(),
    crowd=st.sampled_from([None, "room to pass", "tight", "blocked"]),
)


def keys(situation: Situation) -> list[str]:
    return [hazard.key for hazard in hazards_of(situation)]


def said(key: str, situation: Situation) -> HazardLine:
    (line,) = (line for line in prefilled(situation) if line.key == key)
    return line


def weather(**given: float) -> Situation:
    return Situation(weather=WeatherHour(starts=NOON, **given))  # type: ignore[arg-type]


def test_what_nobody_looked_at_is_on_the_sheet_and_says_so():
    lines = {line.key: line for line in prefilled(Situation())}
    assert {*STANDING_THERE, "wind", "temperature"} == {
        key for key, one in lines.items() if one.rests == "not looked at"
    }
    assert lines["water"].what == "Not looked at yet: water's edge"
    assert "no wind given" in lines["wind"].what


def test_only_what_somebody_said_is_not_there_is_left_out():
    assert not {*STANDING_THERE} & {*keys(Situation(**NOTHING_THERE))}
    assert {*STANDING_THERE} <= {*keys(Situation())}
    assert said("railway", Situation(railway=True)).rests == "here"


def test_what_is_known_of_the_hour_comes_first():
    rests = [line.rests for line in prefilled(Situation(noted="Vans.", water=True, dark=True))]
    assert rests == sorted(rests, key=["here", "not looked at", "always"].index)
    assert prefilled(Situation(noted="Vans."))[0].what == "Vans."


def test_wind_goes_by_gusts_and_by_the_face():
    gusty = Situation(weather=WeatherHour(starts=NOON, wind_m_s=4, gust_m_s=9.5), face_m2=0.5)
    assert said("wind", gusty).what == (
        "Wind: gusts of 9.5 m/s, force 5 (fresh breeze), push with 39 N on a face of 0.5 m²"
    )
    assert "held by a person" in said("wind", gusty).done
    assert "an umbrella 1 m across" in said("wind", weather(wind_m_s=4)).what
    assert "No stands at all" in said("wind", weather(wind_m_s=11)).done


def test_heat_and_cold_go_by_their_indices():
    assert "temperature" in keys(weather(wind_m_s=3))
    assert {"heat", "cold", "temperature"}.isdisjoint(keys(weather(temperature_c=18, humidity_pct=60, wind_m_s=3)))
    assert said("cold", weather(temperature_c=-10, wind_m_s=20 / 3.6)).what == (
        "Cold: −10 °C, wind chill −18: moderate risk to bare skin (Environment Canada)"
    )
    assert said("cold", weather(temperature_c=8, wind_m_s=0)).what == "Cold: 8 °C, and people stand about"
    assert said("cold", weather(temperature_c=8)).what == "Cold: 8 °C, wind not given"
    assert "feels like 41 °C in the shade: danger" in said("heat", weather(temperature_c=35, humidity_pct=50)).what
    assert said("heat", weather(temperature_c=30)).what == "Heat: 30 °C, humidity not given, so no heat index"
    sunny = Situation(weather=WeatherHour(starts=NOON, temperature_c=31, humidity_pct=50), in_sun=True)
    assert "direct sun can add 8 °C to it: danger" in said("heat", sunny).what


def test_sun_and_dark_belong_to_their_hours():
    assert "sun" not in keys(Situation(sun_up=False))
    assert said("sun", Situation(sun_near_lens=True)).rests == "here"
    assert "dark" not in keys(Situation())
    assert "Nobody alone" in said("dark", Situation(dark=True)).done


def test_rain_and_crowds():
    assert said("wet", weather(rain_mm=1.5)).what == "Wet: rain of 1.5 mm in the hour"
    assert said("wet", Situation()).rests == "always"
    assert said("crowd", Situation(crowd="tight")).what.endswith("; the way past the station is tight")
    assert said("crowd", Situation(crowd="room to pass")).rests == "always"


def test_lightning_by_the_published_rule():
    done = said("lightning", Situation()).done
    assert "At the first thunder" in done
    assert "30 seconds" in done
    assert "30 minutes after the last thunder" in done


@given(situations)
def test_every_sheet_is_whole(situation):
    lines = prefilled(situation)
    assert {*ALWAYS, "wind", "wet", "crowd"} <= {line.key for line in lines}
    assert len({line.key for line in lines}) == len(lines)
    for line in lines:
        assert line.what
        assert line.done or line.key == "noted"
        assert line.who
        assert not line.is_done
    assert checked_sheet(HazardSheet(lines=lines)).lines == lines


@given(situations)
def test_nothing_is_worded_as_permission(situation):
    for line in prefilled(situation):
        assert forbidden_in(f"{line.what}. {line.done}") == []


def test_the_notes_defer_to_local_codes_and_promise_nothing():
    assert "Local codes and licensed practice decide" in SHEET_NOTE
    assert forbidden_in(SHEET_NOTE + " ".join(EMERGENCY_WORDS.values())) == []
    assert set(EMERGENCY_WORDS) == set(EMERGENCY)


def test_every_hazard_of_the_list_can_come_up():
    everything = [
        Situation(noted="x", dark=True),
        weather(temperature_c=40, humidity_pct=40),
        weather(temperature_c=0),
    ]
    assert {key for one in everything for key in keys(one)} == set(HAZARDS)


def test_a_sheet_says_what_is_open_and_what_is_missing():
    lines = (HazardLine(what="Ice", done="Salt", who="Ines", is_done=True), HazardLine(what="Vans", done="", who=""))
    sheet = checked_sheet(HazardSheet(lines=lines, first_aider="  Ines "))
    assert sheet.open == lines[1:]
    assert sheet.missing == ("emergency_number", "ambulance_address")
    assert sheet.first_aider == "Ines"


@pytest.mark.parametrize(
    ("field", "sheet"),
    [
        ("lines 2", HazardSheet(lines=(HazardLine(what="a", done="", who=""), HazardLine(what=" ", done="x", who="")))),
        ("lines 1", HazardSheet(lines=(HazardLine(what="a", done="x" * 4001, who=""),))),
        ("lines 1", HazardSheet(lines=(HazardLine(what="a\x00", done="", who=""),))),
        ("lines", HazardSheet(lines=(HazardLine(what="a", done="", who=""),) * 61)),
        ("emergency_number", HazardSheet(lines=(), emergency_number="1" * 121)),
        ("ambulance_address", HazardSheet(lines=(), ambulance_address="x" * 4001)),
    ],
)
def test_a_bad_sheet_is_refused_by_name(field, sheet):
    with pytest.raises(InputProblem) as problem:
        checked_sheet(sheet)
    assert problem.value.field == field
