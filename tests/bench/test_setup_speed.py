"""A setup of four lights against one single-flash answer in the same run, and a year of its working."""

from __future__ import annotations

import time
from collections.abc import Callable

import numpy as np
import pytest

from models.light.exposure import EvFigure
from models.light.flash import answer
from models.light.setup import choice_of, setup_figures
from models.light.solve import solve
from models.light.wanted import Wanted
from models.light.working import working_over
from tests.models.light.round_a_model import FOUR, light, setup

QUARTER_HOURS = 35_040
SUBJECT, BEHIND = EvFigure(11.0, 0.7), EvFigure(12.0, 0.7)


def quickest_s(work: Callable[[], object], times: int) -> float:
    """The quickest of some runs, the one least disturbed by others on the machine."""
    runs = []
    for _ in range(times):
        begun = time.perf_counter()
        work()
        runs.append(time.perf_counter() - begun)
    return min(runs)


@pytest.mark.bench
def test_four_lights_and_a_year_of_them(capsys: pytest.CaptureFixture[str]) -> None:
    four = setup(*FOUR)
    rng = np.random.default_rng(4)
    evs = rng.uniform(-4, 15, QUARTER_HOURS)
    single_s = quickest_s(lambda: answer(choice_of(light(), four), SUBJECT, BEHIND), 200)
    figures_s = quickest_s(lambda: setup_figures(four, SUBJECT, BEHIND), 200)
    solved_s = quickest_s(lambda: solve(four, Wanted(), SUBJECT, BEHIND), 200)
    year_s = quickest_s(lambda: working_over(four, Wanted(), evs, evs + 0.5), 10)
    with capsys.disabled():
        print(f"\none single-flash answer {single_s * 1e3:.2f} ms")
        print(f"four lights: figures {figures_s * 1e3:.2f} ms, solved {solved_s * 1e3:.2f} ms,")
        print(f"{figures_s / single_s:.1f} and {solved_s / single_s:.1f} single-flash answers; limit 5 ms")
        print(f"a year of quarter hours {year_s * 1e3:.0f} ms, {year_s / single_s:.0f} single answers; limit 500 ms")
    assert solved_s < 0.005
    assert solved_s / single_s < 12
    assert year_s < 0.5
    assert year_s < QUARTER_HOURS / 20 * single_s
