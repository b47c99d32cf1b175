"""Days and hours of a record against set-up to packed up."""

from __future__ import annotations

import itertools
from dataclasses import replace
from datetime import date, datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.rules.footprint import Footprint
from models.rules.hours import OPEN, Span, edges, fills, touches
from tests.models.rules.making import DAY, HOURS, ZONE, footprint


@pytest.mark.parametrize(
    ("hours", "starts", "ends", "touched", "filled"),
    [
        (("08:00", "18:00"), "17:00", "19:00", True, False),
        (("08:00", "18:00"), "16:00", "18:00", True, True),
        (("08:00", "18:00"), "18:00", "19:00", False, False),  # the hour it ends is outside
        (("18:00", "22:00"), "17:00", "18:00", False, False),
        (("18:00", "22:00"), "17:00", "18:01", True, False),
        (("18:00", "00:00"), "22:00", "00:00", True, True),
        (("22:00", "06:00"), "23:00", "01:00", True, True),
        (("22:00", "06:00"), "01:00", "02:00", True, True),  # the night that began the day before
        (("22:00", "06:00"), "05:00", "07:00", True, False),
        (("22:00", "06:00"), "06:00", "22:00", False, False),
        (("10:00", "10:00"), "09:00", "11:00", True, True),  # round the clock
    ],
)
def test_hours_and_over_midnight(hours, starts, ends, touched, filled):
    span = Span(from_time=time.fromisoformat(hours[0]), to_time=time.fromisoformat(hours[1]))
    visit = footprint(starts=starts, ends=ends)
    assert (touches(span, visit), fills(span, visit)) == (touched, filled)


@pytest.mark.parametrize(
    ("hours", "starts", "ends", "found"),
    [
        (("08:00", "18:00"), "17:00", "19:00", [("18:00", False)]),
        (("17:30", "18:00"), "17:00", "19:00", [("17:30", True), ("18:00", False)]),
        (("17:00", "19:00"), "17:00", "19:00", []),  # no edge within it
        ((None, "18:00"), "17:00", "19:00", [("18:00", False)]),
        (("18:00", None), "17:00", "19:00", [("18:00", True)]),
        (("22:00", "00:30"), "21:00", "01:00", [("22:00", True), ("00:30", False)]),
        (("10:00", "10:00"), "09:00", "11:00", []),  # round the clock
        ((None, None), "17:00", "19:00", []),
    ],
)
def test_hours_begin_and_end_within_a_visit(hours, starts, ends, found):
    from_time, to_time = (None if text is None else time.fromisoformat(text) for text in hours)
    visit = footprint(starts=starts, ends=ends)
    told = edges(Span(from_time=from_time, to_time=to_time), visit)
    assert [(f"{at.astimezone(visit.starts.tzinfo):%H:%M}", begins) for at, begins in told] == found


@given(st.times(), st.times())
def test_edges_lie_where_touching_changes(from_time, to_time):
    """Between two edges that follow one another the hours hold throughout or not at all."""
    span, visit = Span(from_time=from_time, to_time=to_time), footprint(starts="06:00", ends="22:00")
    cuts = [visit.starts, *(at for at, _ in edges(span, visit)), visit.ends]
    for starts, ends in itertools.pairwise(cuts):
        part = replace(visit, starts=starts.astimezone(visit.starts.tzinfo), ends=ends.astimezone(visit.starts.tzinfo))
        assert touches(span, part) == fills(span, part)


@pytest.mark.parametrize(
    ("weekday", "starts", "ends", "touched", "filled"),
    [
        (5, "17:00", "19:00", True, True),
        (4, "17:00", "19:00", False, False),
        (5, "23:00", "01:00", True, False),  # Sunday's part is not in it
        (6, "23:00", "01:00", True, False),
    ],
)
def test_weekdays_of_all_day_end_at_midnight(weekday, starts, ends, touched, filled):
    visit = footprint(starts=starts, ends=ends)
    assert (touches(Span(weekdays=(weekday,)), visit), fills(Span(weekdays=(weekday,)), visit)) == (touched, filled)


def test_a_night_belongs_to_the_day_it_begins_on():
    friday_night = Span(weekdays=(4,), from_time=time(22), to_time=time(2))
    assert touches(friday_night, footprint(starts="00:30", ends="01:30"))
    assert not touches(friday_night, footprint(starts="22:30", ends="23:30"))


@pytest.mark.parametrize(("first", "last", "inside"), [(-1, -1, False), (-1, 0, True), (0, 1, True), (1, 2, False)])
def test_first_and_last_day_are_in_it(first, last, inside):
    span = Span(first_day=DAY + timedelta(days=first), last_day=DAY + timedelta(days=last))
    assert touches(span, footprint()) == fills(span, footprint()) == span.has_day(DAY) == inside


def test_days_next_to_one_another_are_filled_together():
    visit = footprint(starts="22:00", ends="02:00")
    assert fills(Span(first_day=DAY, last_day=DAY + timedelta(days=1)), visit)
    assert not fills(Span(first_day=DAY, last_day=DAY), visit)
    assert fills(OPEN, visit)


def test_a_night_on_which_the_clocks_go_back_is_longer_than_it_looks():
    """2026-10-25 in Amsterdam: 02:00 to 03:00 comes twice, so 02:30 CEST to 02:15 CET lasts 45 minutes."""
    visit = Footprint(
        starts=datetime(2026, 10, 25, 2, 30, tzinfo=ZONE), ends=datetime(2026, 10, 25, 2, 15, tzinfo=ZONE, fold=1)
    )
    assert fills(Span(from_time=time(1), to_time=time(4)), visit)
    assert touches(Span(from_time=time(2, 40), to_time=time(2, 45)), visit)


def test_a_footprint_without_a_zone_is_an_error():
    naive = Footprint(starts=datetime(2026, 7, 18, 17), ends=datetime(2026, 7, 18, 19))  # noqa: DTZ001  what is tested
    with pytest.raises(ValueError, match="has no time zone"):
        touches(Span(weekdays=(5,)), naive)


SPANS = st.builds(
    lambda hours, weekdays, days: Span(
        from_time=hours[0], to_time=hours[1], weekdays=weekdays, first_day=days[0], last_day=days[1]
    ),
    HOURS,
    st.sampled_from([(), (5,), (4, 6), (0, 1, 2)]),
    st.sampled_from([(None, None), (DAY, DAY), (None, DAY), (DAY - timedelta(days=1), date(2026, 7, 19))]),
)
MINUTES = st.integers(-1440, 2880)


@given(SPANS, MINUTES, st.integers(1, 600))
def test_minute_by_minute(span, begins, lasts):
    """Held against the plain meaning: is each minute of the visit in a window of its own day or of the day before?"""
    starts = datetime.combine(DAY, time(), ZONE) + timedelta(minutes=begins)
    visit = Footprint(starts=starts, ends=starts + timedelta(minutes=lasts))

    def within(minute: datetime) -> bool:
        opens, closes = span.from_time or time(), span.to_time or time()
        if closes <= opens:
            tonight = span.has_day(minute.date()) and minute.time() >= opens
            return tonight or (span.has_day(minute.date() - timedelta(days=1)) and minute.time() < closes)
        return span.has_day(minute.date()) and opens <= minute.time() < closes

    inside = [within(starts + timedelta(minutes=minute)) for minute in range(lasts)]
    assert touches(span, visit) == any(inside)
    assert fills(span, visit) == all(inside)
