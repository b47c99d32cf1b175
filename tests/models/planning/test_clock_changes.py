"""The moment meant and the instants worked out where clocks jump over midnight, over a day, or show an hour twice."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import numpy as np
import pytest

from models.clock import from_unix_s, to_local
from models.planning.grids import day_steps, year_quarters
from models.planning.moments import moment_words, read_moment
from models.problems import InputProblem

NUUK = "America/Nuuk"
"""Clocks go from 23:00 to 24:00 on the last Saturday of March, and back over that hour in October (tz database)."""

APIA = "Pacific/Apia"
"""Left out 30 December 2011 (tz database)."""


def moment(on: str | None, at: str | None, zone: str, now: datetime, fold: str | None = None) -> str:
    return moment_words(read_moment(on, at, "0", zone, now, fold))


def test_an_untyped_time_that_the_day_skips_at_its_end_is_just_before():
    """At 23:30 local, another day is looked at whose last hour is skipped."""
    now = datetime(2026, 6, 1, 0, 30, tzinfo=UTC)
    assert moment(None, None, NUUK, now) == "Sunday 31 May 2026, 23:30 UTC-01"
    assert moment("2026-03-28", None, NUUK, now) == "Saturday 28 March 2026, 22:30 UTC-02"


def test_a_day_that_a_zone_left_out_is_named():
    now = datetime(2026, 6, 1, 0, 30, tzinfo=UTC)
    with pytest.raises(
        InputProblem, match="Friday 30 December 2011 does not exist: Pacific/Apia left it out"
    ) as untyped:
        read_moment("2011-12-30", None, None, APIA, now)
    assert untyped.value.field == "date"
    with pytest.raises(InputProblem, match="12:00 does not exist on Friday 30 December 2011") as typed:
        read_moment("2011-12-30", "12:00", None, APIA, now)
    assert typed.value.field == "time"


@pytest.mark.parametrize("minutes", range(0, 180, 15))
def test_now_is_now_even_in_the_hour_that_comes_twice(minutes):
    now = datetime(2026, 10, 25, 0, 0, tzinfo=UTC) + timedelta(minutes=minutes)
    assert read_moment(None, None, None, "Europe/Amsterdam", now).instant == now
    assert read_moment("2026-10-25", None, None, "Europe/Amsterdam", now).instant == now


def test_now_is_rounded_down_to_five_minutes():
    now = datetime(2026, 10, 25, 1, 34, 56, 789, tzinfo=UTC)
    assert read_moment(None, None, None, "Asia/Kolkata", now).instant == datetime(2026, 10, 25, 1, 30, tzinfo=UTC)


def test_an_hour_skipped_before_midnight_is_unknown_in_the_year():
    grid = year_quarters(2026, NUUK)
    spring = (date(2026, 3, 28) - date(2026, 1, 1)).days
    assert np.argwhere(np.isnan(grid)).tolist() == [[spring, quarter] for quarter in range(92, 96)]
    assert len(day_steps(date(2026, 3, 28), NUUK, 60)) == 24
    autumn = (date(2026, 10, 24) - date(2026, 1, 1)).days
    assert from_unix_s(grid[autumn, 94]) == datetime(2026, 10, 25, 0, 30, tzinfo=UTC)
    assert len(day_steps(date(2026, 10, 24), NUUK, 60)) == 26


def test_a_day_left_out_is_unknown_in_the_year():
    grid = year_quarters(2011, APIA)
    assert np.isnan(grid[363]).all()
    assert np.isfinite(grid[[362, 364]]).all()


@pytest.mark.parametrize("zone", [NUUK, APIA, "Pacific/Kiritimati", "America/Havana", "Africa/Cairo", "Asia/Beirut"])
@pytest.mark.parametrize("year", [2011, 2026])
def test_every_known_quarter_shows_its_own_time_once(zone, year):
    grid = year_quarters(year, zone)
    known = grid[np.isfinite(grid)]
    assert len(np.unique(known)) == len(known)
    for day, quarter in np.argwhere(np.isfinite(grid))[::211]:
        local = to_local(from_unix_s(grid[day, quarter]), zone)
        assert (local.timetuple().tm_yday - 1, local.hour * 4 + local.minute // 15) == (day, quarter)
