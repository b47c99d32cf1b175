"""Re-dial lines: what to change as the light moves, in dial order, with the new powers beside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from models.light.exposure import EvFigure, Settings
from models.light.power import Rung
from models.light.reserve import ev_to_beat_series
from models.light.setup import Setup, choice_of
from models.light.solve import Solved, solve
from models.light.wanted import Wanted
from models.problems import InputProblem

REDIAL_STOPS = 2 / 3
"""Dial again whenever the surroundings have moved this far: common practice, no source."""

_JUST = 1e-9

Dial = Literal["shutter", "aperture", "ISO"]


@dataclass(frozen=True, slots=True)
class Turn:
    """One dial turned: seconds, f-number or ISO."""

    dial: Dial
    before: float
    after: float


@dataclass(frozen=True, slots=True)
class PowerTurn:
    """A light's new rung, and the distance it goes to where its ladder ends. place: of the light in the setup."""

    place: int
    before: float
    rung: Rung
    distance_m: float
    moved_m: float


@dataclass(frozen=True, slots=True)
class Redial:
    """One line. at: place in the series; moved_stops: brighter (+) or darker (-) since the line before, 0 for the
    first. turns: in dial order. powers: those that change; all of them on the first line."""

    at: int
    moved_stops: float
    turns: tuple[Turn, ...]
    powers: tuple[PowerTurn, ...]
    solved: Solved


def redials(
    setup: Setup,
    wanted: Wanted,
    subject_ev: Sequence[float],
    behind_ev: Sequence[float] | None,
    *,
    step_stops: float = REDIAL_STOPS,
) -> tuple[Redial, ...]:
    """The line to begin with, and one at the first instant at which the surroundings have moved `step_stops`.

    subject_ev, behind_ev: EV100 over the span, evenly spaced by a minute or so; an instant without figures is passed
    over. Each line starts from the dials and distances of the one before.
    """
    if not len(subject_ev) or (behind_ev is not None and len(behind_ev) != len(subject_ev)):
        raise InputProblem("subject_ev", "give the light at every instant of the span")
    to_beat = ev_to_beat_series(choice_of(setup.lights[0], setup), subject_ev, behind_ev)
    lines: list[Redial] = []
    last_ev, now = 0.0, setup
    for at in np.flatnonzero(np.isfinite(to_beat)).tolist():
        moved = float(to_beat[at]) - last_ev if lines else 0.0
        if lines and abs(moved) < step_stops - _JUST:
            continue
        behind = EvFigure(float(behind_ev[at])) if behind_ev is not None else None
        solved = solve(now, wanted, EvFigure(float(subject_ev[at])), behind)
        lines.append(Redial(at, moved, _turns(now.settings, solved), _powers(now, solved, first=not lines), solved))
        last_ev, now = float(to_beat[at]), solved.setup
    return tuple(lines)


def _turns(before: Settings, solved: Solved) -> tuple[Turn, ...]:
    after = solved.setup.settings
    dials: tuple[tuple[Dial, float, float], ...] = (
        ("shutter", before.shutter_s, after.shutter_s),
        ("aperture", before.aperture, after.aperture),
        ("ISO", before.iso, after.iso),
    )
    return tuple(Turn(name, was, is_now) for name, was, is_now in dials if was != is_now)


def _powers(before: Setup, solved: Solved, *, first: bool) -> tuple[PowerTurn, ...]:
    pairs = enumerate(zip(before.lights, solved.lights, strict=True))
    return tuple(
        PowerTurn(place, was.power, one.rung, one.light.distance_m, one.moved_m)
        for place, (was, one) in pairs
        if first or was.power != one.light.power or one.moved_m
    )
