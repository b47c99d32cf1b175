"""What goes with flashes and lenses: printed heat limits, gels, neutral-density filters, stands."""

from __future__ import annotations

from dataclasses import dataclass
from math import isfinite

from models.problems import InputProblem


def above_zero(field: str, *values: float) -> None:
    """Raises InputProblem unless every value is a number above zero."""
    if not all(isfinite(value) and value > 0 for value in values):
        raise InputProblem(field, "must be a number above zero")


@dataclass(frozen=True, slots=True)
class HeatRow:
    """A printed limit: `flashes` at powers from `from_power` down to `to_power`, then `rest_s` seconds of rest."""

    from_power: float
    to_power: float
    flashes: int
    rest_s: float

    def __post_init__(self) -> None:
        if not 0 < self.to_power <= self.from_power <= 1:
            raise InputProblem("heat", "give powers from the stronger down to the weaker, such as 1/1 to 1/2")
        if self.flashes < 1:
            raise InputProblem("heat", "give at least one flash")
        above_zero("heat", self.rest_s)


@dataclass(frozen=True, slots=True)
class Gel:
    """A colour filter on the flash: stops it takes, and its shift in mired (+ warmer). id: empty until it is kept."""

    name: str
    loss_stops: float
    shift_mired: float
    id: str = ""

    def __post_init__(self) -> None:
        if not 0 <= self.loss_stops < 10:
            raise InputProblem("loss_stops", "give the stops it takes, 0 to 10")
        if not -500 <= self.shift_mired <= 500:
            raise InputProblem("shift_mired", "give its shift in mired, -500 to 500, above zero for a warmer one")


@dataclass(frozen=True, slots=True)
class Filter:
    """A neutral-density filter for the lens."""

    id: str
    name: str
    stops: float

    def __post_init__(self) -> None:
        if not 0 < self.stops <= 20:
            raise InputProblem("stops", "give the stops it takes, up to 20")


@dataclass(frozen=True, slots=True)
class Stand:
    """A light stand. across_m: between the feet of its open legs, on the circle through them."""

    id: str
    name: str
    highest_m: float = 2.4
    across_m: float = 1.0
    weight_kg: float = 2.0

    def __post_init__(self) -> None:
        for field in ("highest_m", "across_m", "weight_kg"):
            above_zero(field, getattr(self, field))
