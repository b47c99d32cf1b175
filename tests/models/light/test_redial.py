"""Re-dial lines over a span of light."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.light.exposure import START, EvFigure
from models.light.redial import REDIAL_STOPS, redials
from models.light.solve import solve
from models.light.wanted import Wanted
from models.problems import InputProblem
from tests.models.light.round_a_model import FILL, FOUR, LARGE, light, setup

ORDER = ("shutter", "aperture", "ISO")
DUSK = START.ev100 - 2 / 3 - np.arange(31) * 2 / 15  # 2/3 stop darker every five minutes


def test_dusk_every_five_minutes_in_dial_order() -> None:
    """From the start: the shutter slows to the hand-held limit, then the lens opens, then the ISO rises."""
    lines = redials(setup(light(), FILL), Wanted(), DUSK - 0.5, DUSK)
    assert [line.at for line in lines] == [0, 5, 10, 15, 20, 25, 30]
    assert [line.moved_stops for line in lines[1:]] == pytest.approx([-2 / 3] * 6)
    assert lines[0].turns == ()
    assert [one.place for one in lines[0].powers] == [0, 1]
    assert [[(turn.dial, turn.after) for turn in line.turns] for line in lines[1:3]] == [
        [("shutter", 1 / 80)],
        [("shutter", 1 / 60), ("aperture", 5.0)],
    ]
    assert all(turn.dial == "aperture" for line in lines[3:] for turn in line.turns)
    assert all(one.rung.settings == line.solved.setup.settings for line in lines for one in line.powers)


def test_no_line_while_the_surroundings_stay() -> None:
    steady = 10 + 0.6 * np.sin(np.arange(50))
    assert len(redials(setup(), Wanted(), steady / 3 + 6, steady / 3 + 7)) == 1


def test_each_line_is_what_solving_from_there_gives() -> None:
    """The first from the setup as it is."""
    lines = redials(setup(*FOUR), Wanted(), DUSK, None)
    assert lines[0].solved == solve(setup(*FOUR), Wanted(), EvFigure(float(DUSK[0])), None)
    assert lines[1].solved == solve(lines[0].solved.setup, Wanted(), EvFigure(float(DUSK[5])), None)


def test_a_light_whose_ladder_ends_is_moved_on_its_line() -> None:
    lines = redials(setup(light(modifier=None, flash=replace(LARGE, lowest_power=1 / 16))), Wanted(), DUSK - 2, DUSK)
    moved = [one for line in lines for one in line.powers if one.moved_m]
    assert moved
    assert all(one.moved_m > 0 and one.distance_m > 2 for one in moved)


def test_instants_without_figures_are_passed_over() -> None:
    gappy = DUSK.copy()
    gappy[[0, 6]] = np.nan
    lines = redials(setup(), Wanted(), gappy, None)
    assert [line.at for line in lines][:2] == [1, 7]
    assert redials(setup(), Wanted(), [float("nan")], None) == ()


@given(st.lists(st.floats(-0.4, 0.4), min_size=1, max_size=60))
def test_the_surroundings_are_never_a_step_off_the_last_line(steps: list[float]) -> None:
    ev = 9 + np.cumsum(steps)
    lines = redials(setup(), Wanted(), ev, None)
    marks = [line.at for line in lines]
    assert marks[0] == 0
    for at in range(len(ev)):
        last = max(mark for mark in marks if mark <= at)
        assert abs(ev[at] - ev[last]) < REDIAL_STOPS
    for line in lines:
        dials = [ORDER.index(turn.dial) for turn in line.turns]
        assert dials == sorted(dials)
        assert abs(line.solved.dialled.off_stops) <= 1 / 3 + 1e-6


def test_a_span_without_light_is_refused() -> None:
    with pytest.raises(InputProblem, match="subject_ev"):
        redials(setup(), Wanted(), [], None)
    with pytest.raises(InputProblem, match="subject_ev"):
        redials(setup(), Wanted(), [1.0, 2.0], [1.0])
