"""The flashes of one station as they warm up over turns and rounds: when each may fire again by its printed limits.

The rule is that of models/light/heat.py, carried on from flash to flash.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import inf

from models.light.accessories import HeatRow
from models.light.heat import counted_rows
from models.light.setup import Light

_JUST = 1e-9


class Buckets:
    """One for every printed row of every light; all lights of a station fire together, at their planned powers."""

    def __init__(self, lights: Sequence[Light]) -> None:
        self._rows: list[HeatRow] = [row for one in lights for row in counted_rows(one.flash.heat, one.power)]
        self._held = [0.0] * len(self._rows)
        self._then_s = -inf

    @property
    def idle(self) -> bool:
        """No printed limit counts at these powers."""
        return not self._rows

    def copy(self) -> Buckets:
        other = Buckets(())
        other._rows, other._held, other._then_s = self._rows, list(self._held), self._then_s
        return other

    def fire(self, at_s: float) -> float:
        """Fires at that second, or as soon after it as heat lets; gives the second."""
        if not self._rows:
            return at_s
        gone_s, wait_s = at_s - self._then_s, _JUST
        for row, held in zip(self._rows, self._held, strict=True):
            left = max(held - gone_s * row.flashes / row.rest_s, 0.0) if held else 0.0
            wait_s = max(wait_s, (left + 1 - row.flashes) * row.rest_s / row.flashes)
        due_s = at_s + wait_s if wait_s > _JUST else at_s
        gone_s = due_s - self._then_s
        self._held = [
            max(held - gone_s * row.flashes / row.rest_s, 0.0) + 1 if held else 1.0
            for row, held in zip(self._rows, self._held, strict=True)
        ]
        self._then_s = due_s
        return due_s
