"""What a day says about itself. Times are held to an ephemeris in tests/authorities."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from models.clock import to_local
from models.problems import InputProblem
from models.sky.events import Limits, crossings, day_events, events_of_days
from models.sky.sun import sun_at

TROMSO = "Europe/Oslo", 69.65, 18.96
PLACES = (
    ("Europe/Amsterdam", 52.53, 5.23),
    ("Pacific/Auckland", -36.85, 174.76),
    ("Asia/Tokyo", 35.68, 139.69),
    ("Pacific/Kiritimati", 1.87, -157.4),
    ("Pacific/Honolulu", 21.31, -157.86),
    TROMSO,
    ("Antarctica/McMurdo", -90.0, 0.0),
    ("UTC", 90.0, 0.0),
)
BANDS = ("golden", "blue", "civil", "nautical", "astronomical")
days_and_places = given(st.dates(date(1990, 1, 1), date(2050, 12, 31)), st.sampled_from(PLACES))


def bands_of(day):
    return [band for name in BANDS for band in getattr(day, name)]


@example(on=date(2018, 9, 30), place=("Antarctica/McMurdo", -90.0, 0.0))  # an hour short, and the sun climbs all day
@settings(max_examples=60, deadline=None)
@days_and_places
def test_every_event_lies_in_its_local_day(on, place):
    day = day_events(on, *place)
    inside = [day.noon, *day.sunrises, *day.sunsets, *(band.start for band in bands_of(day))]
    assert all(day.start <= instant < day.end for instant in inside)
    assert all(to_local(instant, day.zone).date() == on for instant in inside)
    assert all(band.start < band.end <= day.end for band in bands_of(day))


@settings(max_examples=60, deadline=None)
@days_and_places
def test_the_sun_is_where_the_event_says(on, place):
    """0.001 degrees: the search ends within a millisecond, the sun moves 0.004 degrees a second."""
    day = day_events(on, *place)
    for instant in (*day.sunrises, *day.sunsets):
        assert sun_at(instant, *place[1:]).elevation_deg == pytest.approx(-0.833, abs=0.001)
    for band in bands_of(day):
        low, high = Limits().bands[band.name]
        middle = sun_at(band.start + (band.end - band.start) / 2, *place[1:]).elevation_deg
        assert low - 0.001 <= middle <= high + 0.001
        assert band.began_before == (band.start == day.start)
        assert band.goes_on == (band.end == day.end)
    noon_deg = sun_at(day.noon, *place[1:]).elevation_deg
    assert day.lowest_deg - 0.001 <= noon_deg <= day.highest_deg + 0.001


@settings(max_examples=40, deadline=None)
@days_and_places
def test_always_up_or_down_exactly_when_nothing_rises_or_sets(on, place):
    day = day_events(on, *place)
    assert (day.always is None) == bool(day.sunrises or day.sunsets)
    if day.always == "up":
        assert day.lowest_deg >= -0.833
    if day.always == "down":
        assert day.highest_deg <= -0.833


@settings(max_examples=40, deadline=None)
@days_and_places
def test_one_day_is_a_day_of_many(on, place):
    together = events_of_days([on, on + timedelta(days=1), on + timedelta(days=180)], *place)
    alone = day_events(on, *place)
    assert [day.day for day in together] == [on, on + timedelta(days=1), on + timedelta(days=180)]
    assert together[0].noon - alone.noon < timedelta(milliseconds=2)
    assert len(bands_of(together[0])) == len(bands_of(alone))


def test_tromso_in_june_never_sets():
    day = day_events(date(2026, 6, 21), *TROMSO)
    assert day.always == "up"
    assert (day.sunrise, day.sunset) == (None, None)
    assert [(band.began_before, band.goes_on) for band in day.golden] == [(True, False), (False, True)]
    assert day.blue == day.civil == day.nautical == day.astronomical == ()


def test_tromso_in_december_never_rises():
    day = day_events(date(2026, 12, 21), *TROMSO)
    assert day.always == "down"
    assert (day.sunrise, day.sunset) == (None, None)
    assert len(day.golden) == 1  # up to -3 at noon
    assert len(day.blue) == 2


def test_a_day_may_have_two_sunsets():
    """Each evening later than the last, until one falls after midnight: that date has an early and a late one."""
    days = events_of_days([date(2026, 7, 20) + timedelta(days=n) for n in range(20)], *TROMSO)
    twice = [day for day in days if len(day.sunsets) == 2]
    assert len(twice) == 1
    assert to_local(twice[0].sunsets[0], "Europe/Oslo").hour == 0
    assert to_local(twice[0].sunset, "Europe/Oslo").hour == 23


@pytest.mark.parametrize("place", PLACES[:5])
def test_a_year_of_days_each_with_its_own_events(place):
    days = events_of_days([date(2026, 1, 1) + timedelta(days=n) for n in range(365)], *place)
    assert all(len(day.sunrises) == len(day.sunsets) == 1 for day in days)
    assert all(len(day.golden) == len(day.blue) == 2 for day in days)
    assert all(day.sunrise < day.noon < day.sunset for day in days)
    assert all(one.end == other.start for one, other in pairwise(days))


def test_golden_hour_over_midnight_is_cut_there():
    before, after = events_of_days([date(2026, 7, 1), date(2026, 7, 2)], *TROMSO)
    assert before.golden[-1].goes_on
    assert after.golden[0].began_before
    assert before.golden[-1].end == after.golden[0].start == after.start


@pytest.mark.parametrize(("on", "hours"), [(date(2026, 3, 29), 23), (date(2026, 10, 25), 25)])
def test_clock_change_days(on, hours):
    zone, *place = PLACES[0]
    day_before, day, day_after = events_of_days([on + timedelta(days=n) for n in (-1, 0, 1)], zone, *place)
    assert day.end - day.start == timedelta(hours=hours)
    for one, other in pairwise((day_before, day, day_after)):
        assert timedelta(hours=23, minutes=55) < other.sunrise - one.sunrise < timedelta(hours=24, minutes=5)


def test_limits_are_settings():
    zone, *place = PLACES[0]
    usual = day_events(date(2026, 6, 1), zone, *place)
    wide = day_events(date(2026, 6, 1), zone, *place, limits=Limits(golden=(-6.0, 10.0)))
    assert wide.golden[0].start == usual.civil[0].start
    assert wide.golden[0].end > usual.golden[0].end
    assert wide.sunrise == usual.sunrise


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"golden": (6.0, -4.0)}, "golden"),
        ({"golden": (6.0, 6.0)}, "golden"),
        ({"blue": (-95.0, -4.0)}, "blue"),
        ({"blue": (float("nan"), -4.0)}, "blue"),
        ({"sun_deg": -7.0}, "sun_deg"),
    ],
)
def test_limits_that_make_no_band_are_refused(wrong, field):
    with pytest.raises(InputProblem) as caught:
        Limits(**wrong)
    assert caught.value.field == field


def test_a_date_that_the_zone_leaves_out_has_no_events():
    day = day_events(date(2011, 12, 30), "Pacific/Apia", -13.8, -171.7)
    assert day.start == day.end
    assert day.sunrises == day.sunsets == ()
    assert bands_of(day) == []


def test_no_days_no_events():
    assert events_of_days([], "UTC", 0.0, 0.0) == ()


def test_crossings_over_any_span_alternate():
    start, end = datetime(2026, 1, 1, tzinfo=UTC), datetime(2026, 3, 1, tzinfo=UTC)
    found = crossings(0.0, start, end, 52.0, 5.0)
    assert len(found) == 2 * (end - start).days
    assert all(one.rising != other.rising and one.instant < other.instant for one, other in pairwise(found))
    assert crossings(0.0, end, start, 52.0, 5.0) == ()
    assert crossings(89.0, start, end, 52.0, 5.0) == ()
