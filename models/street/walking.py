"""How long a group walks: geodesic distance with a detour, or along footways, or both where they disagree."""

from __future__ import annotations

from dataclasses import dataclass
from math import isfinite
from typing import Literal

from models.problems import InputProblem

GROUP_PACE_M_S = 1.07
"""3.5 ft/s, the walking speed of signal timing (MUTCD 2009, 4E.06), which a group with kit keeps up."""
SLOW_PACE_M_S = 0.91
"""3.0 ft/s, for slower walkers (the same, paragraph 14)."""
DETOUR = 1.3
"""Way walked over straight distance in towns: 1.2 to 1.4 in studies of street networks (from memory)."""
DISAGREE = 4 / 3
"""One of two answers longer than the other by more than a third: both are shown."""
SLOWEST_M_S, FASTEST_M_S = 0.3, 2.5

How = Literal["straight", "footways"]


@dataclass(frozen=True, slots=True)
class Walk:
    """A way walked: the straight distance with a detour, or along footways.

    stairs, crossings: flights and roads on it, for whom they matter; they add no time here.
    """

    how: How
    distance_m: float
    pace_m_s: float = GROUP_PACE_M_S
    stairs: int = 0
    crossings: int = 0

    @property
    def time_s(self) -> float:
        return self.distance_m / self.pace_m_s


def straight_walk(
    geodesic_m: float,
    pace_m_s: float = GROUP_PACE_M_S,
    detour: float = DETOUR,
    *,
    stairs: int = 0,
    crossings: int = 0,
) -> Walk:
    """A walk reckoned from the straight distance. InputProblem names what cannot be meant."""
    _within("geodesic_m", geodesic_m, 0, 100_000, "metres")
    _within("pace_m_s", pace_m_s, SLOWEST_M_S, FASTEST_M_S, "metres a second")
    _within("detour", detour, 1, 5, "times the straight distance")
    return Walk("straight", geodesic_m * detour, pace_m_s, stairs, crossings)


def shown(straight: Walk, along: Walk | None) -> tuple[Walk, ...]:
    """The walk along footways where there is one; both, the longer first, where they differ by more than a third."""
    if along is None:
        return (straight,)
    shorter, longer = sorted((straight, along), key=lambda walk: walk.time_s)
    return (longer, shorter) if longer.time_s > shorter.time_s * DISAGREE else (along,)


def _within(field: str, value: float, lowest: float, highest: float, unit: str) -> None:
    if not isfinite(value) or not lowest <= value <= highest:
        raise InputProblem(field, f"{value:g} is outside {lowest:g} to {highest:g} {unit}")
