"""Dates, times and skies as people type them."""

from datetime import UTC, date, datetime, time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.planning.moments import moment_words, read_clock, read_date, read_moment, read_sky, sky_words
from models.problems import InputProblem

ZONE = "Europe/Amsterdam"
NOW = datetime(2026, 10, 17, 14, 42, 31, tzinfo=UTC)
TODAY = date(2026, 10, 17)


@pytest.mark.parametrize(
    "typed",
    ["2026-12-05", "5.12.", "5.12.2026", "05. 12. 2026", "5 Dec", "5 december 2026", "Sat 5 Dec 2026", "5. Dec"],
)
def test_a_date_is_read_as_people_type_it(typed):
    assert read_date(typed, TODAY) == date(2026, 12, 5)


def test_no_date_is_today():
    assert read_date("", TODAY) == read_date("today", TODAY) == TODAY
    assert read_date("Tomorrow", TODAY) == date(2026, 10, 18)
    assert read_date("yesterday", TODAY) == date(2026, 10, 16)


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("Saturday", 17), ("this saturday", 17), ("next Saturday", 24), ("Sunday", 18), ("next  sunday", 18),
        ("Fri", 23), ("next fri", 23), ("tues", 20), ("Wednesday", 21), ("thurs.", 22), ("on Monday", 19),
    ],
)  # fmt: skip
def test_a_day_of_the_week_is_the_next_one_to_come(typed, meant):
    assert TODAY.strftime("%A") == "Saturday"
    assert read_date(typed, TODAY) == date(2026, 10, meant)


@pytest.mark.parametrize(
    "typed",
    [
        "31.2.",
        "2026-13-01",
        "soon",
        "0.0.",
        "5 Smarch",
        "1800-01-01",
        "2100-01-01",
        "1" * 50,
        "last saturday",
        "satday",
        "moday",
        "mons",
    ],
)
def test_a_bad_date_names_the_field_and_a_good_example(typed):
    with pytest.raises(InputProblem) as problem:
        read_date(typed, TODAY)
    assert problem.value.field == "date"


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("16:40", time(16, 40)),
        ("1640", time(16, 40)),
        ("16.40", time(16, 40)),
        ("16h40", time(16, 40)),
        ("9", time(9)),
        ("4:40 pm", time(16, 40)),
        ("12 am", time(0)),
        ("12:05 p.m.", time(12, 5)),
    ],
)
def test_a_clock_time_is_read_as_people_type_it(typed, meant):
    assert read_clock(typed) == meant


@pytest.mark.parametrize("typed", ["25:00", "12:60", "noon-ish", "13 pm", "-1:00", "12:3", "١٢:٠٠x"])
def test_a_bad_time_names_the_field(typed):
    with pytest.raises(InputProblem) as problem:
        read_clock(typed)
    assert problem.value.field == "time"


@given(st.integers(0, 23), st.integers(0, 59))
def test_every_minute_of_the_day_reads_back(hour, minute):
    assert read_clock(f"{hour:02d}:{minute:02d}") == time(hour, minute)


def test_nothing_typed_is_now_to_five_minutes_under_an_assumed_sky():
    moment = read_moment(None, None, None, ZONE, NOW)
    assert moment.instant == datetime(2026, 10, 17, 14, 40, tzinfo=UTC)
    assert (moment.oktas, moment.oktas_by) == (2, "assumed")
    assert moment_words(moment) == "Saturday 17 October 2026, 16:40 CEST"


def test_a_time_the_clocks_skip_is_an_error_to_show():
    with pytest.raises(InputProblem, match="does not exist on Sunday 29 March 2026"):
        read_moment("2026-03-29", "02:30", None, ZONE, NOW)


def test_a_time_that_comes_twice_is_a_question_and_fold_answers_it():
    with pytest.raises(InputProblem, match="comes twice"):
        read_moment("2026-10-25", "02:30", None, ZONE, NOW)
    first = read_moment("2026-10-25", "02:30", None, ZONE, NOW, fold="0")
    second = read_moment("2026-10-25", "02:30", None, ZONE, NOW, fold="1")
    assert (first.instant.hour, second.instant.hour) == (0, 1)


def test_an_untyped_time_never_falls_into_the_gap():
    in_the_gap = datetime(2026, 3, 28, 1, 30, tzinfo=UTC)
    assert read_moment("2026-03-29", None, None, ZONE, in_the_gap).instant == datetime(2026, 3, 29, 1, 30, tzinfo=UTC)


def test_a_typed_sky_says_who_set_it_and_a_bad_one_is_refused():
    assert read_sky("8") == (8, "you set it")
    for typed in ("9", "-1", "cloudy", "2.5"):
        with pytest.raises(InputProblem) as problem:
            read_sky(typed)
        assert problem.value.field == "sky"


def test_every_okta_has_words():
    assert [sky_words(oktas) for oktas in (0, 1, 2, 3, 5, 8)] == [
        "clear", "clear", "a few clouds", "a few clouds", "half covered", "overcast",
    ]  # fmt: skip
