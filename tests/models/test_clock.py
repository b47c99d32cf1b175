"""Instants, local days and clock changes. The changes named here are those of the public tz database."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.clock import (
    TimeInGap,
    TimeIsAmbiguous,
    UnknownZone,
    from_unix_s,
    instant_words,
    local_day,
    require_aware,
    resolve_local,
    time_words,
    to_local,
    unix_s,
    zone_short,
)

ZONES = ("Europe/Amsterdam", "Pacific/Auckland", "Asia/Tokyo", "America/Sao_Paulo", "Asia/Beirut", "Pacific/Kiritimati")
DAYS = st.dates(date(1995, 1, 1), date(2050, 12, 31))
AMSTERDAM = "Europe/Amsterdam"


@given(DAYS, st.sampled_from(ZONES))
def test_a_local_day_begins_with_its_date_and_ends_before_the_next(day, zone):
    start, end = local_day(day, zone)
    assert to_local(start, zone).date() == day
    assert to_local(start - timedelta(seconds=1), zone).date() < day
    assert to_local(end - timedelta(seconds=1), zone).date() == day or start == end
    assert local_day(day + timedelta(days=1), zone)[0] == end


@pytest.mark.parametrize(
    ("day", "zone", "hours"),
    [
        (date(2026, 3, 29), AMSTERDAM, 23),
        (date(2026, 10, 25), AMSTERDAM, 25),
        (date(2026, 6, 1), AMSTERDAM, 24),
        (date(2018, 11, 4), "America/Sao_Paulo", 23),  # midnight itself is skipped
        (date(2011, 12, 30), "Pacific/Apia", 0),  # the whole date is skipped
    ],
)
def test_days_are_as_long_as_the_clocks_make_them(day, zone, hours):
    start, end = local_day(day, zone)
    assert end - start == timedelta(hours=hours)


def test_a_midnight_inside_a_gap_that_began_the_day_before():
    """Toronto, 30 March 1919: from 23:30 to 00:30."""
    start, _ = local_day(date(1919, 3, 31), "America/Toronto")
    assert to_local(start, "America/Toronto").time() == time(0, 30)


def test_a_time_in_the_gap_offers_both_sides():
    with pytest.raises(
        TimeInGap, match=r"2026-03-29 02:30 does not exist in Europe/Amsterdam.*01:30 or 03:30"
    ) as caught:
        resolve_local(date(2026, 3, 29), time(2, 30), AMSTERDAM)
    assert caught.value.zone == AMSTERDAM
    assert caught.value.local == "2026-03-29 02:30"
    assert caught.value.choices == (datetime(2026, 3, 29, 0, 30, tzinfo=UTC), datetime(2026, 3, 29, 1, 30, tzinfo=UTC))


def test_a_gap_stays_a_gap_whatever_the_fold():
    with pytest.raises(TimeInGap):
        resolve_local(date(2026, 3, 29), time(2, 30), AMSTERDAM, fold=1)


def test_a_time_that_comes_twice_is_asked_for():
    with pytest.raises(
        TimeIsAmbiguous, match=r"2026-10-25 02:30 comes twice.*first \(CEST\).*second \(CET\)"
    ) as caught:
        resolve_local(date(2026, 10, 25), time(2, 30), AMSTERDAM)
    for fold, choice in enumerate(caught.value.choices):
        assert resolve_local(date(2026, 10, 25), time(2, 30), AMSTERDAM, fold=fold) == choice
    assert caught.value.choices[1] - caught.value.choices[0] == timedelta(hours=1)


@given(DAYS, st.times().map(lambda at: at.replace(second=0, microsecond=0)), st.sampled_from(ZONES))
def test_local_times_come_back(day, clock_time, zone):
    try:
        instant = resolve_local(day, clock_time, zone, fold=0)
    except TimeInGap as gap:
        before, after = gap.choices
        assert before < after
        return
    local = to_local(instant, zone)
    assert (local.date(), local.time()) == (day, clock_time)


def test_naive_instants_are_refused():
    naive = datetime(2026, 6, 1, 12)  # noqa: DTZ001
    for ask in (require_aware, unix_s, lambda at: to_local(at, AMSTERDAM), lambda at: zone_short(at, AMSTERDAM)):
        with pytest.raises(ValueError, match="no time zone"):
            ask(naive)


def test_a_clock_time_with_a_zone_of_its_own_is_refused():
    with pytest.raises(ValueError, match="no zone of its own"):
        resolve_local(date(2026, 6, 1), time(12, tzinfo=UTC), AMSTERDAM)


@pytest.mark.parametrize("zone", ["", "Europe", "Mars/Olympus", "../etc/passwd", "a\0b"])
def test_unknown_zones_are_named(zone):
    with pytest.raises(UnknownZone, match="not a known time zone"):
        local_day(date(2026, 6, 1), zone)


@pytest.mark.parametrize("day", [date.min, date(1899, 12, 31), date(2101, 1, 1), date.max])
def test_dates_out_of_reach_are_refused(day):
    with pytest.raises(ValueError, match="out of reach"):
        resolve_local(day, time(12), AMSTERDAM)
    with pytest.raises(ValueError, match="out of reach"):
        local_day(day, AMSTERDAM)


def test_the_last_day_within_reach():
    start, end = local_day(date(2100, 12, 31), AMSTERDAM)
    assert end - start == timedelta(days=1)


def test_short_names_of_the_time_in_force():
    assert zone_short(datetime(2026, 7, 1, tzinfo=UTC), AMSTERDAM) == "CEST"
    assert zone_short(datetime(2026, 1, 1, tzinfo=UTC), AMSTERDAM) == "CET"
    assert zone_short(datetime(2026, 1, 1, tzinfo=UTC), "Asia/Dubai") == "UTC+04"


def test_an_instant_in_words_goes_by_the_clocks_of_its_place():
    late = datetime(2026, 10, 17, 22, 30, tzinfo=UTC)
    assert time_words(late, AMSTERDAM) == "00:30 CEST"
    assert instant_words(late, AMSTERDAM) == "Sunday 18 October 2026, 00:30 CEST"


@given(st.integers(-2_000_000_000, 4_000_000_000))
def test_seconds_come_back(seconds):
    assert unix_s(from_unix_s(seconds)) == seconds
    assert from_unix_s(seconds).tzinfo is UTC
