"""The day's figures as rows of a table, for those who cannot see the drawing."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime

from models.clock import time_words, unix_s
from models.drawing.curves import value_at
from models.drawing.day_strip import DayStrip
from models.drawing.hours import full_hours
from models.drawing.states import STATES
from models.drawing.svg import Floats

UNKNOWN = "not known"


@dataclass(frozen=True, slots=True)
class FigureRow:
    """One line: local time with its zone, the state's word, EV100 on the face and behind, stops in hand."""

    time: str
    state: str
    face_ev: str
    behind_ev: str
    reserve: str


def day_figures(day: DayStrip) -> tuple[FigureRow, ...]:
    """Rows at every full local hour, at each change of state and at the moment pointed at, in order of time."""
    instants = {instant for instant, _ in full_hours(day.start, day.end, day.zone, 1)}
    instants |= {run.start for run in day.states if day.start <= run.start < day.end}
    instants |= {day.moment.instant} if day.moment else set()
    return tuple(_row(day, instant) for instant in sorted(instants))


def _row(day: DayStrip, instant: datetime) -> FigureRow:
    at = unix_s(instant)
    state = next(
        (run.words or STATES[run.state].words for run in day.states if run.start <= instant < run.end), UNKNOWN
    )
    return FigureRow(
        time_words(instant, day.zone),
        state,
        _figure(at, day.unix_s, day.face_ev, ".1f"),
        _figure(at, day.unix_s, day.behind_ev, ".1f"),
        _figure(at, day.unix_s, day.reserve_stops, "+.1f"),
    )


def _figure(at: float, times: Floats, values: Floats | None, form: str) -> str:
    value = math.nan if values is None else value_at(at, times, values)
    return UNKNOWN if math.isnan(value) else format(value, form).replace("-", "−")
