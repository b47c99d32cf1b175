"""Cells: how long a flash takes to be ready again, and how many flashes a set gives."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from models.problems import InputProblem

FULL_FLASHES = 150
"""Full-power flashes from four fresh AA rechargeables: makers' typical figures run from 100 to 200; from memory."""

RECYCLE_FULL_S = 2.9
"""Full-power recycle time on low-self-discharge rechargeables: one unit measured, as a public page on flash batteries
prints it (2.9 s; alkaline 5.0 s). One unit, so a planning figure."""

ALKALINE_FACTOR = 5.0 / 2.9
"""How much slower alkaline cells are, from the same measurement."""

FLOOR_S = 0.2
"""No flash is counted ready sooner: common practice, no source."""

TIRED_FACTOR = 1.5
"""Recycle time towards the end of a set against fresh cells: common practice, no source."""

IDLE_CAP = 10
"""A set never gives more than this many times its full-power count, for it also drains idling: common practice, no
source."""


@dataclass(frozen=True, slots=True)
class BatterySet:
    """One filling of cells for one flash.

    full_flashes: full-power flashes from fresh cells. recycle_factor: multiplies the flash's own recycle time
    (1 low-self-discharge rechargeables, ALKALINE_FACTOR alkaline, more for old cells).
    """

    id: str
    name: str
    kind: str
    full_flashes: int = FULL_FLASHES
    recycle_factor: float = 1.0

    def __post_init__(self) -> None:
        if self.full_flashes < 1:
            raise InputProblem("full_flashes", "a set gives at least one flash")
        if not 0 < self.recycle_factor < float("inf"):
            raise InputProblem("recycle_factor", "must be a number above zero")


def recycle_s(recycle_full_s: float, power: float, battery: BatterySet | None = None, tired: bool = False) -> float:
    """Seconds until ready after a flash at `power` (0..1): in proportion to power (common practice, no source), with a
    floor; `tired` for the end of a set."""
    factor = (battery.recycle_factor if battery else 1.0) * (TIRED_FACTOR if tired else 1.0)
    return max(recycle_full_s * power * factor, FLOOR_S)


def slowest_recycle_s(lights: Iterable[tuple[float, float, BatterySet | None]], tired: bool = False) -> float:
    """The light everyone waits for, of (recycle_full_s, power, battery set) for each light of a setup."""
    return max(recycle_s(full_s, power, battery, tired) for full_s, power, battery in lights)


def flashes_per_set(battery: BatterySet, power: float) -> int:
    """Flashes at `power` (0..1) from one set: about 1/power times the full count, capped by idle drain."""
    return int(battery.full_flashes * min(1 / power, IDLE_CAP) + 1e-6)
