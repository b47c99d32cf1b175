"""What people type about a workshop: understood, said back so that it reads the same again, or refused by name."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.clock import local_day
from models.planning.rules import typed
from models.problems import InputProblem
from tests.models.planning.grounds import stand

ZONE = "Europe/Amsterdam"
START = datetime(2026, 10, 17, 15, 0, tzinfo=UTC)  # 17:00 there
AUTUMN, SPRING = date(2026, 10, 25), date(2026, 3, 29)


@pytest.mark.parametrize(
    ("text", "count"),
    [("3", 3), ("3 stands", 3), (" three people ", 3), ("none", 0), ("no tripods", 0), ("12", 12), ("twelve", 12)],
)
def test_numbers_are_read_as_people_type_them(text, count):
    assert typed.read_count("tripod", text, 0, 99) == count


@pytest.mark.parametrize("text", ["", "  ", "many", "-1", "1.5", "3 or 4", "²", "9" * 400, "<b>3</b>", "100"])
def test_what_is_no_number_is_refused_by_name(text):
    with pytest.raises(InputProblem) as refused:
        typed.read_count("tripod", text, 0, 99)
    assert refused.value.field == "tripod"


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("100", "100 is out of reach: give 0 to 99."),
        ("99999999", "99999999 is out of reach: give 0 to 99."),
        ("-3", "-3 is out of reach: give 0 to 99."),
        ("-3 tripods", "-3 tripods is out of reach: give 0 to 99."),
        ("12.5", "12.5 is not a whole number: give 0 to 99."),
        ("3 or 4", "“3 or 4” is not a number. Type it like 3."),
        ("many", "“many” is not a number. Type it like 3."),
    ],
)
def test_a_number_that_will_not_do_is_not_called_no_number(text, message):
    with pytest.raises(InputProblem) as refused:
        typed.read_count("tripod", text, 0, 99)
    assert refused.value.message == message


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("18:30", 90), ("18.30", 90), ("1830", 90), ("6:30 pm", 90), ("18:30 CEST", 90), ("90min", 90),
        ("90 minutes", 90), ("1.5 h", 90), ("1,5h", 90), ("1 h 30 min", 90), ("2 hours", 120), ("18", 60),
        ("00:30", 450), ("14 h", 840),
    ],
)  # fmt: skip
def test_the_end_is_a_clock_time_or_a_length(text, minutes):
    assert typed.read_ends("lasts", text, START, ZONE) == START + timedelta(minutes=minutes)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("16:00", "over before it starts"), ("soon", "is not a time"), ("25:00", "Hours run to 23"),
        ("0min", "5 minutes"), ("25 h", "24 hours"), ("9999 h", "is not a time"), ("18:30 EST", "show CEST"),
    ],
)  # fmt: skip
def test_an_end_that_cannot_be_is_refused(text, said):
    with pytest.raises(InputProblem, match=said) as refused:
        typed.read_ends("lasts", text, START, ZONE)
    assert refused.value.field == "lasts"


def test_a_time_the_clocks_skip_is_refused():
    with pytest.raises(InputProblem, match="02:30 does not exist on Sunday 29 March 2026"):
        typed.read_instant("from_time", SPRING, "02:30", ZONE)


def test_a_time_that_comes_twice_is_asked_about_and_then_told_apart():
    with pytest.raises(InputProblem, match=r"comes twice .* Type 02:30 CEST or 02:30 CET"):
        typed.read_instant("from_time", AUTUMN, "2.30", ZONE)
    first = typed.read_instant("from_time", AUTUMN, "02:30 cest", ZONE)
    second = typed.read_instant("from_time", AUTUMN, "2:30 CET", ZONE)
    assert second - first == timedelta(hours=1)
    assert typed.clock_text(second, ZONE) == "02:30 CET"


def test_a_zone_without_letters_is_told_apart_by_its_offset():
    """Lord Howe goes back by half an hour: 01:45 comes twice on 5 April 2026 (tz database)."""
    zone, day = "Australia/Lord_Howe", date(2026, 4, 5)
    with pytest.raises(InputProblem, match=r"01:45 UTC\+11 or 01:45 UTC\+1030"):
        typed.read_instant("from_time", day, "01:45", zone)
    assert typed.clock_text(typed.read_instant("from_time", day, "01:45 UTC+1030", zone), zone) == "01:45 UTC+1030"


@given(
    start=st.integers(0, 25 * 12).map(lambda k: local_day(AUTUMN, ZONE)[0] + timedelta(minutes=5 * k)),
    lasts=st.integers(1, 24 * 12).map(lambda k: timedelta(minutes=5 * k)),
)
def test_what_is_shown_reads_back_as_the_same_round_a_clock_change(start, lasts):
    ends = start + lasts
    assert (
        typed.read_instant("x", AUTUMN, typed.clock_text(start, ZONE), ZONE) == start
        or start >= local_day(AUTUMN, ZONE)[1]
    )
    assert typed.read_ends("x", typed.ends_text(start, ends, ZONE), start, ZONE) == ends
    assert typed.read_ends("x", typed.lasts_text(start, ends), start, ZONE) == ends


@pytest.mark.parametrize(
    ("text", "width"),
    [("1.8", 1.8), ("1.8 m", 1.8), ("180 cm", 1.8), ("6 ft", 1.8288), ("0", 0.0), ("", None), ("not measured", None)],
)
def test_a_width_may_be_typed_in_any_unit(text, width):
    assert typed.read_width("width", text) == (width if width is None else pytest.approx(width))


@pytest.mark.parametrize("text", ["wide", "-1", "1e9", "40 m"])
def test_a_width_that_cannot_be_is_refused(text):
    with pytest.raises(InputProblem) as refused:
        typed.read_width("width", text)
    assert refused.value.field == "width"


@given(st.floats(0.3, 30.0).map(lambda width: round(width, 2)))
def test_a_width_reads_back(width):
    assert typed.read_width("width", typed.width_text(width)) == pytest.approx(width)


def test_a_day_must_be_said():
    today = date(2026, 10, 17)
    assert typed.read_day("day", "24.10.", today) == date(2026, 10, 24)
    for text in ("", " ", "someday", "31.2.2026"):
        with pytest.raises(InputProblem) as refused:
            typed.read_day("day", text, today)
        assert refused.value.field == "day"


def test_spots_of_one_name_are_told_apart_by_number(plans):
    corner, other, number = (stand(plans, name) for name in ("Corner", "corner", "7"))
    alone = stand(plans, "Corner of the quay")
    for spot in (corner, other, number, alone):
        assert typed.read_spot("spot", typed.spot_text(spot, plans), plans).id == spot.id
    assert typed.spot_text(alone, plans) == "Corner of the quay"
    with pytest.raises(InputProblem, match="could be any of") as refused:
        typed.read_spot("spot", "Corner", plans)
    assert refused.value.field == "spot"


def test_a_meeting_point_is_a_place_or_a_spot(plans):
    quay = stand(plans, "Quay", latitude_deg=52.5288, longitude_deg=5.2275)
    assert typed.read_meeting_point("meet", "52.5301, 5.2312", plans) == (52.5301, 5.2312)
    assert typed.read_meeting_point("meet", " ", plans) is None
    point = typed.read_meeting_point("meet", "quay", plans)
    assert point == (quay.latitude_deg, quay.longitude_deg)
    assert typed.meeting_words(point, plans) == "Quay"
    assert typed.meeting_words((52.0, 5.0), plans) == "52.000000, 5.000000"
    for text in ("nowhere", "99, 5", "52.5, 500", "<script>"):
        with pytest.raises(InputProblem) as refused:
            typed.read_meeting_point("meet", text, plans)
        assert refused.value.field == "meet"
