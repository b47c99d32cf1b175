"""What a station leaves of the pavement for those who walk by, against what rules and guidelines ask for.

wall | door allowance | station | width left for walkers | kerb allowance | kerb, road
"""

from __future__ import annotations

from dataclasses import dataclass
from math import isfinite

from models.problems import InputProblem

KERB_ALLOWANCE_M = 0.45
"""1.5 ft that walkers keep from a kerb: Highway Capacity Manual 2010, chapter 17 (from memory)."""
LARGEST_M = {"width_m": 200.0, "depth_m": 50.0, "length_m": 200.0, "kerb_m": 10.0, "door_m": 10.0}


@dataclass(frozen=True, slots=True)
class Pavement:
    """A place on the pavement and a station on it, in metres. depth_m: the station, across the pavement, people and
    light included. length_m: the station, along it. door_m: kept free before a door, between wall and station.

    InputProblem names a measure that cannot be.
    """

    width_m: float
    depth_m: float
    length_m: float = 2.0
    kerb_m: float = KERB_ALLOWANCE_M
    door_m: float = 0.0

    def __post_init__(self) -> None:
        for field, most in LARGEST_M.items():
            value = getattr(self, field)
            if not isfinite(value) or not 0 <= value <= most:
                raise InputProblem(field, f"{value:g} is outside 0 to {most:g} metres")

    @property
    def before_m(self) -> float:
        """What walkers have before the station stands there."""
        return _left_m(self.width_m, self.kerb_m, self.door_m)

    @property
    def left_m(self) -> float:
        """What walkers have beside the station; under no circumstances less than nothing."""
        return _left_m(self.width_m, self.kerb_m, self.door_m, self.depth_m)


@dataclass(frozen=True, slots=True)
class Minimum:
    """A clear width asked for, and the narrower one that will do past an obstacle no longer than so much, if any."""

    name: str
    width_m: float
    source: str
    short_width_m: float | None = None
    short_longest_m: float = 0.0


_UK = "Inclusive Mobility, Department for Transport (UK), Dec 2021, 4.2"
PUBLISHED: tuple[Minimum, ...] = (
    Minimum("UK footway, normal minimum", 2.0, _UK),
    Minimum("UK footway, absolute minimum", 1.5, _UK, 1.0, 6.0),
    Minimum("US public right-of-way", 1.22, "PROWAG, 36 CFR 1190, R302, 8 Aug 2023: 48 in"),
    Minimum("US accessible route", 0.915, "2010 ADA Standards, 403.5.1: 36 in, 32 in for at most 24 in", 0.815, 0.61),
)
"""Guidelines bind only where some authority has adopted them: tests/authorities/data/pedestrian.csv."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """The width left against one minimum. eased: short of it, but wide enough past so short a station."""

    minimum: Minimum
    short_m: float
    eased: bool

    @property
    def met(self) -> bool:
        return self.short_m <= 0


@dataclass(frozen=True, slots=True)
class Clearance:
    """What is left, against the place's own rules alone (`own`) or against the published minima, one by one."""

    pavement: Pavement
    own: bool
    verdicts: tuple[Verdict, ...]

    @property
    def left_m(self) -> float:
        return self.pavement.left_m

    @property
    def missed(self) -> tuple[Verdict, ...]:
        """What the width falls short of, eased or not: any of them is a finding for the rules of the place."""
        return tuple(verdict for verdict in self.verdicts if not verdict.met)


def clearance(pavement: Pavement, *own_rules: Minimum) -> Clearance:
    """The width left beside the station, judged. own_rules: what is recorded for the place, in place of all others."""
    minima = own_rules or PUBLISHED
    return Clearance(pavement, bool(own_rules), tuple(_verdict(pavement, minimum) for minimum in minima))


def deepest_station_m(pavement: Pavement, minimum: Minimum) -> float:
    """How deep a station could be there and leave that minimum; 0 where the pavement is too narrow for any."""
    return _left_m(pavement.before_m, minimum.width_m)


def _verdict(pavement: Pavement, minimum: Minimum) -> Verdict:
    short_m = round(minimum.width_m - pavement.left_m, 3)
    eased = (
        short_m > 0
        and minimum.short_width_m is not None
        and pavement.length_m <= minimum.short_longest_m
        and pavement.left_m >= minimum.short_width_m
    )
    return Verdict(minimum, short_m, eased)


def _left_m(width_m: float, *taken_m: float) -> float:
    """To the millimetre, so that 2.9 m less 0.9 m is 2 m."""
    return max(0.0, round(width_m - sum(taken_m), 3))
