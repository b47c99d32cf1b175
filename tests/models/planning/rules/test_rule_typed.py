"""What people type about a rule is read, said back, and read again the same."""

from __future__ import annotations

from datetime import date, time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.planning.rules import rule_typed as typed
from models.problems import InputProblem


@pytest.mark.parametrize(
    ("text", "hours"),
    [
        ("8-18", (time(8), time(18))),
        ("08:00 to 18:30", (time(8), time(18, 30))),
        ("8.30 – 18", (time(8, 30), time(18))),
        ("8 am - 6 pm", (time(8), time(18))),
        ("22-6", (time(22), time(6))),
        ("from 18", (time(18), time())),
        ("after 18:00", (time(18), time())),
        ("until 8", (time(), time(8))),
        ("before 8:30", (time(), time(8, 30))),
        ("18-24", (time(18), time())),
        ("", (None, None)),
        ("all day", (None, None)),
    ],
)
def test_hours(text: str, hours: typed.Hours) -> None:
    assert typed.read_hours(text) == hours


@pytest.mark.parametrize("text", ["8", "8-25", "18-18", "24", "noon", "8-18-20", "-", "8-", "from", "until", "0-24"])
def test_hours_that_cannot_be_read(text: str) -> None:
    with pytest.raises(InputProblem) as problem:
        typed.read_hours(text)
    assert problem.value.field == "hours"


def minutes() -> st.SearchStrategy[time]:
    return st.builds(time, st.integers(0, 23), st.integers(0, 59))


@given(minutes(), minutes())
def test_hours_come_back_from_their_text(first: time, last: time) -> None:
    if first != last:
        assert typed.read_hours(typed.hours_text((first, last))) == (first, last)


def test_hours_in_words() -> None:
    assert typed.hours_words((None, None)) == "all day"
    assert typed.hours_words((time(8), time(18))) == "08:00 to 18:00"
    assert typed.hours_words((time(22), time(6))) == "22:00 to 06:00 over midnight"
    assert typed.hours_words((time(18), time())) == "18:00 to 24:00"


@pytest.mark.parametrize(
    ("text", "days"),
    [
        ("Mon-Fri", (0, 1, 2, 3, 4)),
        ("Mon to Fri, Sun", (0, 1, 2, 3, 4, 6)),
        ("Sat, Sun", (5, 6)),
        ("sat and sun", (5, 6)),
        ("Fri - Mon", (0, 4, 5, 6)),
        ("Mondays and Thursdays", (0, 3)),
        ("wed thu", (2, 3)),
        ("weekends", (5, 6)),
        ("weekdays", (0, 1, 2, 3, 4)),
        ("Mon-Sun", ()),
        ("daily", ()),
        ("", ()),
    ],
)
def test_weekdays(text: str, days: tuple[int, ...]) -> None:
    assert typed.read_days(text) == days


@pytest.mark.parametrize("text", ["Mo", "monkey", "-", "Mon-", ",", "Mon-Fri-Sat", "1-5", "every other day"])
def test_weekdays_that_cannot_be_read(text: str) -> None:
    with pytest.raises(InputProblem) as problem:
        typed.read_days(text)
    assert problem.value.field == "days"


@given(st.sets(st.integers(0, 6), max_size=6))
def test_weekdays_come_back_from_their_text(days: set[int]) -> None:
    assert typed.read_days(typed.days_text(tuple(days))) == tuple(sorted(days))


@pytest.mark.parametrize(
    ("text", "lead", "words"),
    [
        ("10 working days", (10, True), "10 clear working days before"),
        ("10 business days", (10, True), "10 clear working days before"),
        ("5 clear working days", (5, True), "5 clear working days before"),
        ("10", (10, True), "10 clear working days before"),
        ("14 days", (14, False), "14 clear days before"),
        ("14 calendar days", (14, False), "14 clear days before"),
        ("2 weeks", (14, False), "14 clear days before"),
        ("1 day", (1, False), "1 clear day before"),
        ("", (None, True), ""),
        ("none", (None, True), ""),
    ],
)
def test_lead_times(text: str, lead: tuple[int | None, bool], words: str) -> None:
    assert typed.read_lead(text) == lead
    assert typed.lead_words(*lead) == words
    assert typed.read_lead(typed.lead_text(*lead)) == lead


@pytest.mark.parametrize("text", ["ten", "1 month", "3 working weeks", "99999", "999 days", "-3 days", "2.5 weeks"])
def test_lead_times_that_cannot_be_read(text: str) -> None:
    with pytest.raises(InputProblem) as problem:
        typed.read_lead(text)
    assert problem.value.field == "lead"


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("1 year", date(2025, 2, 28)),
        ("a year", date(2025, 2, 28)),
        ("6 months", date(2024, 8, 29)),
        ("in 12 months", date(2025, 2, 28)),
        ("2 weeks", date(2024, 3, 14)),
        ("30 days", date(2024, 3, 30)),
        ("2025-03-01", date(2025, 3, 1)),
        ("1.6.2025", date(2025, 6, 1)),
        ("", None),
        ("never", None),
    ],
)
def test_when_to_look_again_counts_from_the_day_it_was_checked(text: str, day: date | None) -> None:
    """From 29 February 2024; a month without that day ends earlier."""
    assert typed.read_again(text, date(2024, 2, 29)) == day


@pytest.mark.parametrize("text", ["soon", "31.2.2025", "1 fortnight", "999 years of it"])
def test_when_to_look_again_that_cannot_be_read(text: str) -> None:
    with pytest.raises(InputProblem) as problem:
        typed.read_again(text, date(2026, 9, 1))
    assert problem.value.field == "check_again"


def test_a_day_that_cannot_be_read_is_named_by_its_field() -> None:
    assert typed.read_day("first_day", " ", date(2026, 9, 1)) is None
    assert typed.read_day("first_day", "1 May", date(2026, 9, 1)) == date(2026, 5, 1)
    with pytest.raises(InputProblem) as problem:
        typed.read_day("last_day", "30.2.", date(2026, 9, 1))
    assert problem.value.field == "last_day"
