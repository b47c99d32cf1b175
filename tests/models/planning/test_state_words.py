"""The words of states and of the turns between them; spells too short to plan by are no turns."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from itertools import pairwise, product

import numpy as np
import pytest

from models.drawing.states import STATES
from models.planning import states
from models.planning.answers import STATE_WORDS
from models.planning.states import ORDER, Run, state_codes, state_words, turning_points
from models.street.skyline import SunStates

START = datetime(2026, 10, 17, 6, 0, tzinfo=UTC)
LATE = ("dusk", "lamps", "dark")


def between(before: str, after: str):
    runs = (
        Run(START, START + timedelta(hours=1), before),
        Run(START + timedelta(hours=1), START + timedelta(hours=2), after),
    )
    return turning_points(runs, "Europe/Amsterdam")


@pytest.mark.parametrize(("before", "after"), [pair for pair in product(ORDER, ORDER) if pair[0] != pair[1]])
def test_every_turn_has_its_words_and_its_time(before, after):
    (point,) = between(before, after)
    assert (point.instant, point.local_text) == (START + timedelta(hours=1), "09:00")
    early, late = before not in LATE, after in LATE
    if early and late:
        assert point.words == "sunset"
    elif not early and not late:
        assert point.words == "sunrise"
    elif early:
        assert point.words.startswith("sun ")
    elif "lamps" in (before, after):
        assert point.words == ("lamps on" if after == "lamps" else "lamps off")
    else:
        assert point.words == ("dark" if after == "dark" else "first light")


def test_every_state_has_words_and_a_mark():
    assert set(ORDER) == set(STATE_WORDS) <= set(STATES)
    for state in ORDER:
        for oktas in range(9):
            assert state_words(state, oktas)
    assert state_words("shade", 8) == "under a closed sky"
    assert state_words("shade", 7) == "in open shade"
    assert state_words("dusk", 0) == "in twilight"  # morning and evening alike


def codes(*spells: tuple[str, int]) -> np.ndarray:
    return np.concatenate([np.full(minutes, ORDER.index(state)) for state, minutes in spells])


def steady(*spells: tuple[str, int]) -> list[str]:
    found = states._without_flicker(codes(*spells))
    assert len(found) == sum(minutes for _, minutes in spells)
    return [ORDER[found[0]], *(ORDER[b] for a, b in pairwise(found.tolist()) if a != b)]


def test_a_gap_between_chimneys_is_no_turning_point():
    assert steady(("shade", 60), ("sun", 3), ("shade", 60)) == ["shade"]
    assert steady(("shade", 60), ("sun", 4), ("shade", 60)) == ["shade", "sun", "shade"]
    assert steady(("sun", 60), ("leaves", 2), ("shade", 30)) == ["sun", "shade"]


def test_short_spells_of_dusk_and_lamps_stay():
    assert steady(("shade", 60), ("dusk", 2), ("lamps", 60)) == ["shade", "dusk", "lamps"]
    assert steady(("dusk", 60), ("sun", 2), ("dusk", 60)) == ["dusk", "sun", "dusk"]
    assert steady(("sun", 2), ("shade", 60)) == ["sun", "shade"]


@pytest.mark.parametrize("known", [True, False])
@pytest.mark.parametrize("oktas", [0, 7, 8])
def test_the_state_follows_sun_sky_and_lamps(oktas, known):
    """Down, open, leaves, behind at -9, -4 and -1 degrees; lighting-up time at -3."""
    elevation = np.array([-9.0, -4.0, -1.0, 20.0, 20.0, 20.0])
    nothing = np.zeros(6)
    sun = SunStates(np.array([0, 0, 0, 1, 2, 3], np.int8), nothing, nothing > 0, nothing.astype(np.int32))
    found = [ORDER[code] for code in state_codes(sun, elevation, oktas, -3.0, known)]
    night = ["lamps", "lamps", "dusk"] if known else ["dark", "dusk", "dusk"]
    assert found == night + (["shade"] * 3 if oktas == 8 else ["sun", "leaves", "shade"])
