"""A year of sun positions, 35,040 quarter hours, against a loop over astral in the same run."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from astral import Observer
from astral.sun import zenith_and_azimuth

from models.sky.daylight import open_sky
from models.sky.sun import sun_positions
from tests.bench.timing import best_of

QUARTER_HOURS = 35040
NEW_YEAR = datetime(2026, 1, 1, tzinfo=UTC)
LATITUDE_DEG, LONGITUDE_DEG = 52.53, 5.23


@pytest.mark.bench
def test_a_year_of_positions_is_fifteen_times_faster_than_astral(capsys):
    instants_s = NEW_YEAR.timestamp() + 900.0 * np.arange(QUARTER_HOURS)
    instants = [NEW_YEAR + timedelta(minutes=15 * n) for n in range(QUARTER_HOURS)]
    here = Observer(LATITUDE_DEG, LONGITUDE_DEG)
    loop_s = best_of(lambda: [zenith_and_azimuth(here, at, with_refraction=False) for at in instants], 3)
    ours_s = best_of(lambda: sun_positions(instants_s, LATITUDE_DEG, LONGITUDE_DEG), 10)
    heights_deg, _ = sun_positions(instants_s, LATITUDE_DEG, LONGITUDE_DEG)
    sky_s = best_of(lambda: open_sky(heights_deg), 10)
    with capsys.disabled():
        print(f"\nyear of sun positions: {ours_s * 1e3:.1f} ms, {loop_s / ours_s:.0f} times faster than an astral loop")
        print(f"year of open sky: {sky_s * 1e3:.1f} ms, {sky_s / ours_s:.1f} x the positions")
    assert loop_s / ours_s >= 15
