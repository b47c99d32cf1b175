"""What is planned with a setup: a frame every so many seconds, so many in a row, in which wind."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import isfinite

from models.problems import InputProblem

USUAL_PACE_S, USUAL_FRAMES = 4.0, 10
"""Eight to ten frames a turn, then the trigger is handed on; the pace is our guess: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Planned:
    """wind_m_s: gusts included, None: not judged."""

    pace_s: float = USUAL_PACE_S
    frames: int = USUAL_FRAMES
    wind_m_s: float | None = None


def read_planned(asked: Mapping[str, str]) -> Planned:
    """Raises InputProblem naming pace, frames or wind."""
    pace = _number("pace", asked, 0.1, 600, "s")
    frames = _number("frames", asked, 1, 500, "")
    wind = _number("wind", asked, 0, 60, "m/s")
    return Planned(USUAL_PACE_S if pace is None else pace, USUAL_FRAMES if frames is None else round(frames), wind)


def _number(name: str, asked: Mapping[str, str], low: float, high: float, unit: str) -> float | None:
    text = asked.get(name, "").strip().lower()
    if not text:
        return None
    try:
        value = float(text.removesuffix(unit).strip().replace(",", ".") if unit else text)
    except ValueError:
        value = float("nan")
    if not isfinite(value) or not low <= value <= high:
        raise InputProblem(name, f"“{text}” is out of reach: give {low:g} to {high:g} {unit}".rstrip() + ".")
    return value
