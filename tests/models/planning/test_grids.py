"""Instants of a day and of a year by the local clock."""

from datetime import UTC, date, datetime

import numpy as np
import pytest

from models.clock import from_unix_s, to_local
from models.planning.grids import day_steps, year_quarters


@pytest.mark.parametrize(("day", "hours"), [(date(2026, 3, 29), 23), (date(2026, 6, 1), 24), (date(2026, 10, 25), 25)])
def test_a_day_has_the_hours_its_clocks_give_it(day, hours):
    steps = day_steps(day, "Europe/Amsterdam", 5)
    assert len(steps) == hours * 12 + 1


@pytest.mark.parametrize(
    "zone", ["Europe/Amsterdam", "Pacific/Auckland", "America/St_Johns", "Asia/Tokyo", "Australia/Lord_Howe"]
)
def test_every_quarter_shows_its_own_time_on_the_local_clock(zone):
    grid = year_quarters(2026, zone)
    assert grid.shape == (365, 96)
    for day, quarter in np.argwhere(np.isfinite(grid))[::397]:
        local = to_local(from_unix_s(grid[day, quarter]), zone)
        assert (local.timetuple().tm_yday - 1, local.hour * 4 + local.minute // 15) == (day, quarter)


def test_the_skipped_hour_is_unknown_and_the_repeated_one_is_the_first():
    grid = year_quarters(2026, "Europe/Amsterdam")
    spring = (date(2026, 3, 29) - date(2026, 1, 1)).days
    autumn = (date(2026, 10, 25) - date(2026, 1, 1)).days
    assert np.argwhere(np.isnan(grid)).tolist() == [[spring, quarter] for quarter in range(8, 12)]
    assert from_unix_s(grid[autumn, 10]) == datetime(2026, 10, 25, 0, 30, tzinfo=UTC)


def test_a_leap_year_has_its_day():
    assert year_quarters(2028, "UTC").shape == (366, 96)
