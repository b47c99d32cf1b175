"""Cells: how long a flash takes to be ready again, and how many flashes a set gives."""

from __future__ import annotations

from dataclasses import dataclass

from models.problems import InputProblem


@dataclass(frozen=True, slots=True)
class BatterySet:
    """One filling of cells for one flash.

    full_flashes: full-power flashes from fresh cells (common practice, no source: 100 to 200 for four AA rechargeables).
    recycle_factor: multiplies the flash's own recycle time (1 low-self-discharge rechargeables; alkaline 1.7, that is
    5.0 s against 2.9 s in one published measurement of one unit).
    """

    id: str
    name: str
    kind: str
    full_flashes: int
    recycle_factor: float = 1.0

    def __post_init__(self) -> None:
        if self.full_flashes < 1:
            raise InputProblem("full_flashes", "a set gives at least one flash")
        if not 0 < self.recycle_factor < float("inf"):
            raise InputProblem("recycle_factor", "must be a number above zero")
