"""The day as a table."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np

from models.drawing.figures import FigureRow, day_figures
from tests.models.drawing.samples import day


def test_rows_stand_at_full_hours_turns_and_the_moment_in_order() -> None:
    one = day()
    rows = day_figures(one)
    times = [row.time for row in rows]
    assert [time for time in times if time.endswith(":00 CEST")] == [f"{hour:02d}:00 CEST" for hour in range(24)]
    assert "16:40 CEST" in times
    assert times == sorted(times)
    assert {row.state for row in rows} == {"dark", "lamps", "dusk", "open shade", "leaves", "sun", "too close to call"}


def test_figures_carry_one_decimal_and_their_sign() -> None:
    one = day()
    flat = replace(one, face_ev=np.full(97, 11.24), behind_ev=np.full(97, -0.26), reserve_stops=np.full(97, -1.5))
    assert day_figures(flat)[0] == FigureRow("00:00 CEST", "dark", "11.2", "−0.3", "−1.5")


def test_what_is_not_known_is_said() -> None:
    one = day(behind_ev=None, reserve_stops=None, states=(), face_ev=np.r_[np.full(40, np.nan), np.full(57, 9.0)])
    row = day_figures(one)[0]
    assert (row.state, row.face_ev, row.behind_ev, row.reserve) == ("not known",) * 4


def test_an_hour_that_comes_twice_is_two_rows_with_their_zones() -> None:
    times = [row.time for row in day_figures(day(date(2026, 10, 25), states=(), moment=None))]
    assert times[2:4] == ["02:00 CEST", "02:00 CET"]
    assert len(times) == 25


def test_an_empty_day_still_has_its_rows() -> None:
    none = np.zeros(0)
    rows = day_figures(day(unix_s=none, face_ev=none, behind_ev=none, reserve_stops=none, states=()))
    assert {row.face_ev for row in rows} == {"not known"}
