"""Footfall among the times worth booking: what it says of a time, how it ranks, when it speaks against one."""

from __future__ import annotations

import numpy as np

from models.light.windows import rank
from tests.models.light.test_windows import ask, at, sky, spot, starts


def test_the_hour_a_window_ends_at_is_not_its_footfall() -> None:
    jump = np.where(at(12), np.nan, np.where(at(11), 342.0, 5000.0))
    found = rank([spot(footfall=jump)], ask(from_min=11 * 60, to_min=12 * 60))
    assert found.windows[0].reasons[-1] == "Footfall: about 340 people an hour."
    busy = rank([spot(footfall=np.full(97, 3942.0))], ask()).windows[0].reasons[-1]
    assert busy == "Footfall: about 3,900 people an hour, 8 s on average for a clear line."


def test_footfall_counted_for_a_part_says_so_and_ranks_last() -> None:
    part = np.where(np.arange(97) < 4 * 14 + 2, 100.0, np.nan)
    found = rank([spot(footfall=part)], ask())
    assert starts(found)[0] == "00:00"
    mixed = [window for window in found.windows if "not counted" in window.reasons[-1]]
    silent = [window for window in found.windows if "Footfall" not in window.reasons[-1]]
    assert silent
    assert all(window.start > found.windows[0].start for window in (*mixed, *silent))


def test_where_no_gap_is_to_be_expected_it_speaks_against_the_time() -> None:
    crush = np.where(at(10), 9000.0, 50.0)
    reserve = np.where(at(10), 2.0, 0.5)
    found = rank([spot(clear=sky(reserve), overcast=sky(reserve), footfall=crush)], ask())
    assert starts(found)[0] != "10:00"
    crowded = rank([spot(footfall=crush)], ask(from_min=600, to_min=660)).windows[0]
    assert crowded.against == ("So many people come by that no clear line is to be expected, from 10:00.",)
