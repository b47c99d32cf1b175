"""How long one waits for the line from camera to model to be clear, and what waiting saves.

passers      x   x  x        x  x              x    x        parties, as a Poisson stream of q a second
clear gap                              |<- T ->|             the first T seconds without one
"""

from __future__ import annotations

from dataclasses import dataclass
from math import exp, expm1, inf, isfinite

from models.problems import InputProblem

GAP_S = 3.0
"""What one frame needs clear; a party is in the picture for about as long. Our planning rule."""
HOPELESS_PARTIES = 4.0
"""Parties in one gap's time above which no gap is to be expected: our planning rule."""
_SERIES_BELOW = 1e-3


@dataclass(frozen=True, slots=True)
class Gap:
    """mean_wait_s: over all frames, at once clear or not; inf where it has no end in sight. delayed_wait_s: of those
    that have to wait at all. clear_share: of frames for which the line is clear at once.
    """

    parties_per_s: float
    gap_s: float
    mean_wait_s: float
    delayed_wait_s: float
    clear_share: float

    @property
    def expected(self) -> bool:
        """Whether a gap is to be expected at all."""
        return self.parties_per_s * self.gap_s <= HOPELESS_PARTIES

    @property
    def spoilt_share(self) -> float:
        """Of frames shot without looking, those with a party in the picture (each is in it for gap_s on average)."""
        return 1 - self.clear_share


def clear_gap(parties_per_s: float, gap_s: float = GAP_S, share_crossing: float = 1.0) -> Gap:
    """The wait for `gap_s` seconds in which nobody crosses the line from camera to model.

    Mean wait (e^x - 1 - x) / q with x = q T: Adams, Road traffic considered as a random series, J. Inst. Civil Eng. 4
    (1936) 121. share_crossing: of the parties given, those that cross that line; who walks behind the model is not
    waited for. InputProblem names what cannot be meant.
    """
    _within("parties_per_s", parties_per_s, 0, 1000)
    _within("gap_s", gap_s, 0.1, 600)
    _within("share_crossing", share_crossing, 0, 1)
    crossing_per_s = parties_per_s * share_crossing
    in_gap = crossing_per_s * gap_s
    mean_wait_s = gap_s * _over_itself(in_gap)
    held_up = -expm1(-in_gap)
    delayed_wait_s = mean_wait_s / held_up if held_up else gap_s / 2
    return Gap(crossing_per_s, gap_s, mean_wait_s, delayed_wait_s, exp(-in_gap))


def _over_itself(x: float) -> float:
    """(e^x - 1 - x) / x, by its series where the difference would lose its digits."""
    if x < _SERIES_BELOW:
        return x / 2 * (1 + x / 3 * (1 + x / 4 * (1 + x / 5)))
    return (expm1(x) - x) / x if x < 700 else inf


def _within(field: str, value: float, lowest: float, highest: float) -> None:
    if not isfinite(value) or not lowest <= value <= highest:
        raise InputProblem(field, f"{value:g} is outside {lowest:g} to {highest:g}")
