"""Counts become rates: which hour they belong to, how sure they make it, and what is refused."""

from __future__ import annotations

import math
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.problems import InputProblem
from models.street.footfall import Count, Rate, checked_count, day_kind, footfall
from models.street.gamma import gamma_quantile

AMSTERDAM = ZoneInfo("Europe/Amsterdam")
TUESDAY = datetime(2026, 3, 3, 16, 40, tzinfo=AMSTERDAM)
KINGS_DAY = date(2026, 4, 27)  # a Monday


def count(number: int, minutes: float = 10, starts: datetime = TUESDAY, **more: object) -> Count:
    return Count(starts=starts, minutes=minutes, number=number, **more)  # type: ignore[arg-type]


def rate(*counts: Count, hour: int = 16) -> Rate:
    found = footfall(counts).at("weekday", hour)
    assert found is not None
    return found


def test_ten_minutes_make_a_rate():
    found = rate(count(40))
    assert (found.people_per_h, found.minutes, found.people) == (240, 10, 40)
    assert found.low_per_h < 200
    assert found.high_per_h > 280


def test_nobody_seen_is_a_rate_and_its_upper_end_is_not_nothing():
    found = rate(count(0))
    assert (found.people_per_h, found.low_per_h) == (0, 0)
    assert 5 < found.high_per_h < 12


def test_nobody_counted_is_no_rate():
    found = footfall([count(40)])
    assert found.at("weekday", 15) is None
    assert found.at("saturday", 16) is None
    assert np.isnan(found.grid).sum() == 3 * 24 - 1
    assert footfall([]).rates == {}


def test_parties_count_for_one_and_a_half_people_and_are_as_uncertain_as_parties_are():
    parties, people = rate(count(40, of="parties")), rate(count(60))
    assert people.people_per_h == 360
    assert parties.people_per_h == pytest.approx(360)
    assert parties.high_per_h - parties.low_per_h > 1.15 * (people.high_per_h - people.low_per_h)
    assert parties.parties_per_s * 3600 == pytest.approx(240)
    assert rate(count(40, of="parties"), count(60)).people_per_h == pytest.approx(360)


def test_a_count_over_the_full_hour_is_split():
    found = footfall([count(30, 30, TUESDAY.replace(minute=50))])
    assert {hour: found.rates["weekday", hour].minutes for hour in (16, 17)} == {16: 10, 17: 20}
    assert {hour: found.rates["weekday", hour].people for hour in (16, 17)} == pytest.approx({16: 10, 17: 20})


def test_a_count_over_midnight_goes_on_into_the_other_kind_of_day():
    friday = TUESDAY.replace(day=6, hour=23, minute=45)
    assert list(footfall([count(30, 30, friday)]).rates) == [("weekday", 23), ("saturday", 0)]


def test_hours_are_those_of_the_clock_on_the_day_it_changes():
    """29 March 2026, 1:30: half an hour later the clocks show 3:00, but a count of 20 minutes ends before."""
    assert list(footfall([count(5, 20, datetime(2026, 3, 29, 1, 30, tzinfo=AMSTERDAM))]).rates) == [("sunday", 1)]


def test_kinds_of_day():
    def holiday(day: date) -> bool:
        return day == KINGS_DAY

    week = [date(2026, 3, 2) + timedelta(days=day) for day in range(7)]
    assert [day_kind(day) for day in week] == ["weekday"] * 5 + ["saturday", "sunday"]
    assert (day_kind(KINGS_DAY), day_kind(KINGS_DAY, holiday)) == ("weekday", "sunday")
    assert day_kind(date(2026, 4, 25), lambda day: True) == "sunday", "a holiday on a Saturday"


def test_hours_alike_strengthen_each_other_and_hours_unlike_do_not():
    alone = rate(count(20))
    alike = rate(count(20), *(count(20, starts=TUESDAY.replace(hour=hour)) for hour in (10, 11, 12)))
    unlike = rate(count(20), *(count(n, starts=TUESDAY.replace(hour=h)) for h, n in ((10, 90), (11, 1), (12, 60))))
    assert alike.people_per_h == alone.people_per_h == 120
    assert width(alike) < 0.85 * width(alone)
    assert width(unlike) == pytest.approx(width(alone), rel=0.05)
    assert unlike.people_per_h == pytest.approx(120, rel=0.05)


def test_a_short_count_is_pulled_to_the_mean_of_the_other_hours():
    """Others alike at 120 an hour and counted long are worth ten minutes: 10 + 20 people in 5 + 10 minutes."""
    others = [count(120, 60, TUESDAY.replace(hour=hour, minute=0)) for hour in range(8, 16)]
    others += [count(n, 60, TUESDAY.replace(hour=hour, minute=0)) for hour, n in ((18, 118), (19, 122))]
    assert rate(*others, count(10, 5)).people_per_h == pytest.approx(60 * 30 / 15, rel=0.01)
    assert rate(*others, count(20, 5)).people_per_h < 200, "counted 240 an hour"


def test_people_an_hour_at_local_moments():
    found = footfall([count(40), count(5, starts=datetime(2026, 3, 8, 10, 0, tzinfo=AMSTERDAM))])
    days = np.array(["2026-05-04", "2026-05-04", "2026-05-10", "2026-05-11"], "datetime64[D]")
    minutes = np.array([16 * 60 + 59, 17 * 60, 10 * 60, 10 * 60])
    at = found.over(days, minutes, lambda day: False)
    assert at[[0, 2]] == pytest.approx(
        [found.rates["weekday", 16].people_per_h, found.rates["sunday", 10].people_per_h]
    )
    assert np.isnan(at[[1, 3]]).all()
    assert found.over(days, minutes, lambda day: True)[3] == at[2]


@given(st.integers(0, 500), st.integers(1, 60), st.integers(2, 4))
def test_more_counting_never_widens_an_interval_for_the_same_rate(number, minutes, times):
    days = [count(number, minutes, TUESDAY.replace(day=day, minute=0)) for day in (3, 4, 5, 6)]
    one, more = rate(days[0]), rate(*days[:times])
    assert more.people_per_h == pytest.approx(one.people_per_h)
    assert width(more) < width(one)


@given(st.integers(1, 40), st.integers(1, 20), st.integers(2, 4))
def test_nor_beside_other_hours_of_that_rate(a_minute, minutes, times):
    others = [count(30 * a_minute, 30, TUESDAY.replace(hour=hour, minute=0)) for hour in (9, 12, 19)]
    days = [count(a_minute * minutes, minutes, TUESDAY.replace(day=day, minute=0)) for day in (3, 4, 5, 6)]
    one, more = rate(*others, days[0]), rate(*others, *days[:times])
    assert more.people_per_h == pytest.approx(one.people_per_h)
    assert width(more) < width(one)


@given(st.integers(0, 2000), st.integers(1, 240), st.integers(0, 2000), st.integers(1, 240))
def test_the_rate_lies_in_its_interval(number, minutes, other, other_minutes):
    at = TUESDAY.replace(hour=0, minute=0)
    found = footfall([count(number, minutes, at), count(other, other_minutes, at.replace(hour=12))])
    for each in found.rates.values():
        assert 0 <= each.low_per_h <= each.people_per_h <= each.high_per_h
        assert all(map(math.isfinite, (each.low_per_h, each.high_per_h)))


@given(st.integers(0, 300), st.integers(0, 300))
def test_more_people_never_lower_the_rate(number, more):
    assert rate(count(number + more)).people_per_h >= rate(count(number)).people_per_h


def test_the_ends_are_rates_of_their_own():
    found = rate(count(40))
    assert [end.people_per_h for end in found.ends] == [found.low_per_h, found.high_per_h]


@pytest.mark.parametrize(
    ("field", "bad"),
    [
        ("number", {"number": -1}),
        ("number", {"number": 2.5}),
        ("number", {"number": True}),
        ("number", {"number": 10**6}),
        ("minutes", {"minutes": 0}),
        ("minutes", {"minutes": 241}),
        ("minutes", {"minutes": math.nan}),
        ("of", {"of": "dogs"}),
        ("whence", {"whence": "x" * 121}),
        ("note", {"note": "x" * 4001}),
        ("note", {"note": "a\x00b"}),
    ],
)
def test_what_is_no_count_is_refused_by_name(field, bad):
    with pytest.raises(InputProblem) as problem:
        checked_count(Count(**({"starts": TUESDAY, "minutes": 10, "number": 5} | bad)))  # type: ignore[arg-type]
    assert problem.value.field == field


def test_a_good_count_is_trimmed_and_kept():
    kept = checked_count(count(5, whence="  by the pump ", note=" rain "))
    assert (kept.number, kept.whence, kept.note) == (5, "by the pump", "rain")


@pytest.mark.parametrize(("share", "shape"), [(0.0, 1.0), (1.0, 1.0), (0.5, 0.0), (0.5, math.nan)])
def test_a_quantile_of_nothing_is_refused(share, shape):
    with pytest.raises(ValueError, match=r"share|shape"):
        gamma_quantile(share, np.array([shape]))


def width(found: Rate) -> float:
    return found.high_per_h - found.low_per_h
