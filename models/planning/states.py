"""The state of the light at a spot from instant to instant, and the turning points between."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from models.clock import from_unix_s, to_local
from models.planning.answers import STATE_WORDS, State, TurningPoint
from models.planning.grids import day_steps
from models.sky.events import CIVIL_DEG
from models.sky.sun import sun_positions
from models.street.skyline import Skyline, SunStates, sun_states
from models.street.spot import SpotGround

Floats = NDArray[np.float64]
ORDER: tuple[State, ...] = ("sun", "leaves", "shade", "dusk", "lamps", "dark")
SUN, LEAVES, SHADE, DUSK, LAMPS, DARK = range(6)
OF_SUN_CODE = np.array([DUSK, SUN, LEAVES, SHADE])
"""By code of street.skyline.STATES: down, open, leaves, behind."""

OVERCAST_OKTAS = 8
SHORTEST_RUN_MIN = 4
"""Shorter spells than this are gaps between chimneys, not turning points: our planning rule."""

ARRIVES = {
    (SHADE, SUN): "sun arrives", (LEAVES, SUN): "sun clears the leaves", (SHADE, LEAVES): "sun comes through leaves",
    (SUN, SHADE): "sun leaves", (LEAVES, SHADE): "sun leaves", (SUN, LEAVES): "sun goes behind leaves",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Run:
    """A stretch of one state; end is where the next begins."""

    start: datetime
    end: datetime
    state: State


def state_codes(
    sun: SunStates, elevation_deg: Floats, oktas: float, lighting_up_deg: float, lamps_known: bool | NDArray[np.bool_]
) -> NDArray[np.int64]:
    """(n,) indexes of ORDER. Under a closed sky there is no direct sun, so by day it is all shade."""
    codes = OF_SUN_CODE[sun.code]
    if oktas >= OVERCAST_OKTAS:
        codes = np.where(codes < SHADE, SHADE, codes)
    down = codes == DUSK
    codes = np.where(down & (elevation_deg < CIVIL_DEG), DARK, codes)
    return np.where(down & lamps_known & (elevation_deg < lighting_up_deg), LAMPS, codes)


def state_words(state: State, oktas: float) -> str:
    """The state in words that fit 'Foundry Lane is …'."""
    if state == "shade" and oktas >= OVERCAST_OKTAS:
        return "under a closed sky"
    return STATE_WORDS[state]


def day_runs(
    spot: SpotGround, skyline: Skyline, day: date, oktas: float, lighting_up_deg: float, lamps_known: bool
) -> tuple[Run, ...]:
    """The local day as runs of one state, to the minute; spells of a few minutes are joined to what they break."""
    unix = day_steps(day, spot.zone, step_min=1)
    elevation, azimuth = sun_positions(unix, spot.latitude_deg, spot.longitude_deg)
    sun = sun_states(skyline, elevation, azimuth, day.month)
    codes = _without_flicker(state_codes(sun, elevation, oktas, lighting_up_deg, lamps_known))
    edges = np.flatnonzero(np.diff(codes)) + 1
    starts = np.concatenate([[0], edges])
    ends = np.concatenate([edges, [len(codes) - 1]])
    return tuple(
        Run(from_unix_s(unix[a]), from_unix_s(unix[b]), ORDER[codes[a]])
        for a, b in zip(starts, ends, strict=True)
        if b > a
    )


def turning_points(runs: tuple[Run, ...], zone: str) -> tuple[TurningPoint, ...]:
    """What a photographer would call the moments between the runs."""
    found = []
    for before, after in pairwise(runs):
        words = _turn_words(ORDER.index(before.state), ORDER.index(after.state))
        if words:
            found.append(TurningPoint(after.start, words, f"{to_local(after.start, zone):%H:%M}"))
    return tuple(found)


def _turn_words(before: int, after: int) -> str:
    if (before, after) in ARRIVES:
        return ARRIVES[before, after]
    if before <= SHADE < after:
        return "sunset"
    if after <= SHADE < before:
        return "sunrise"
    if LAMPS in (before, after):
        return "lamps on" if after == LAMPS else "lamps off"
    return "dark" if after == DARK else "first light"


def _without_flicker(codes: NDArray[np.int64]) -> NDArray[np.int64]:
    """Short spells take the state before them; sunrise, sunset and lamps stay."""
    steady = codes.copy()
    for start, end in _spells(codes):
        inside = start > 0 and end < len(codes) and end - start < SHORTEST_RUN_MIN
        if inside and max(codes[start], steady[start - 1], codes[end]) <= SHADE:
            steady[start:end] = steady[start - 1]
    return steady


def _spells(codes: NDArray[np.int64]) -> Iterator[tuple[int, int]]:
    edges = [0, *(np.flatnonzero(np.diff(codes)) + 1).tolist(), len(codes)]
    yield from pairwise(edges)
