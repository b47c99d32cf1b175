"""How many people come by a spot: counts made with a watch become rates by kind of day and hour, with their doubt.

An hour's rate of walkers has a Gamma distribution (they come as a Poisson stream):

    shape   = counted      + prior mean x prior minutes      mean = shape / minutes
    minutes = counted for  + prior minutes

The prior's mean is that of the spot's other hours. It is worth ten minutes of counting at most: less where those were
themselves counted for a short time, or where the spot's hours differ by more than chance has it and so say little of
each other. An hour in which nobody counted has no rate at all. Rates are of the hours counted: another week may differ
by more.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from math import inf, isfinite
from typing import Literal, get_args

import numpy as np
from numpy.typing import NDArray

from models.problems import InputProblem
from models.street.gamma import gamma_quantile
from models.street.spot import LONGEST_NAME, trimmed
from models.units import FloatArray

DayKind = Literal["weekday", "saturday", "sunday"]
Counted = Literal["people", "parties"]
IsHoliday = Callable[[date], bool]

DAY_KINDS: tuple[DayKind, ...] = get_args(DayKind)
"""Holidays of the place count as Sundays."""
HOURS = 24
PRIOR_MIN = 10.0
"""What the spot's other hours are worth, in minutes of counting: our planning rule."""
PARTY_PEOPLE = 1.5
"""People in a party of walkers, where parties were not counted: our planning rule."""
SHARE_HELD = 0.8
"""Of the rates that their interval holds."""
HALF_COUNT = 0.5
"""Added to the shape for the interval, not for the mean: Jeffreys' prior of a Poisson rate (Jeffreys 1946)."""
LONGEST_COUNT_MIN = 240.0
MOST_COUNTED = 100_000
HINTS: dict[str, str] = {
    "entrance": "station entrance",
    "station": "station",
    "tram": "tram stop",
    "bus": "bus stop",
    "school": "school",
    "market": "market",
}
"""What stands near and brings people. A note, never a rate."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Count:
    """One count. starts: as the clocks of the place show it; a zone is kept and not asked. of: what was counted, people
    or parties of them, across the line from camera to model. whence: who counted, or which file."""

    starts: datetime
    minutes: float
    number: int
    of: Counted = "people"
    whence: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Rate:
    """People an hour, with the ends of its 80 % interval. minutes: counted for. people: counted (a party as 1.5)."""

    people_per_h: float
    low_per_h: float
    high_per_h: float
    minutes: float
    people: float

    @property
    def parties_per_s(self) -> float:
        return self.people_per_h / PARTY_PEOPLE / 3600

    @property
    def ends(self) -> tuple[Rate, Rate]:
        """The rate as it would be at either end of its interval."""
        return replace(self, people_per_h=self.low_per_h), replace(self, people_per_h=self.high_per_h)


@dataclass(frozen=True, slots=True)
class Footfall:
    """Rates by kind of day and hour of the local clock; what is missing was not counted."""

    rates: dict[tuple[DayKind, int], Rate]
    counts: int

    def at(self, kind: DayKind, hour: int) -> Rate | None:
        return self.rates.get((kind, hour))

    @property
    def grid(self) -> FloatArray:
        """(3, 24) people an hour by DAY_KINDS and hour; nan where nobody counted."""
        people = np.full((len(DAY_KINDS), HOURS), np.nan)
        for (kind, hour), rate in self.rates.items():
            people[DAY_KINDS.index(kind), hour] = rate.people_per_h
        return people

    def over(self, days: NDArray[np.datetime64], minutes: NDArray[np.int64], is_holiday: IsHoliday) -> FloatArray:
        """(n,) people an hour at local dates and minutes of the day, both (n,); nan where nobody counted."""
        each, back = np.unique(days, return_inverse=True)
        kinds = np.array([DAY_KINDS.index(day_kind(day, is_holiday)) for day in each.tolist()], np.intp)
        return np.asarray(self.grid[kinds[back], minutes // 60], float)


def no_holidays(day: date) -> bool:
    """For a place whose holidays are not known."""
    return False


def day_kind(day: date, is_holiday: IsHoliday = no_holidays) -> DayKind:
    if day.weekday() == 6 or is_holiday(day):
        return "sunday"
    return "saturday" if day.weekday() == 5 else "weekday"


def checked_count(count: Count) -> Count:
    """The count with its texts trimmed, or InputProblem naming the field."""
    if isinstance(count.number, bool) or not isinstance(count.number, int) or not 0 <= count.number <= MOST_COUNTED:
        raise InputProblem("number", f"{count.number!r} is no whole number from 0 to {MOST_COUNTED:,}")
    if not isfinite(count.minutes) or not 0 < count.minutes <= LONGEST_COUNT_MIN:
        raise InputProblem("minutes", f"{count.minutes:g} minutes: give more than 0 and at most {LONGEST_COUNT_MIN:g}")
    if count.of not in get_args(Counted):
        raise InputProblem("of", f"{count.of!r} is not known; choose people or parties")
    whence = trimmed("whence", count.whence, LONGEST_NAME)
    return replace(count, whence=whence, note=trimmed("note", count.note))


def footfall(counts: Sequence[Count], is_holiday: IsHoliday = no_holidays) -> Footfall:
    """Rates of every kind of day and hour that somebody counted in; a count over the full hour is split by minutes."""
    cells: dict[tuple[DayKind, int], _Cell] = {}
    for count in counts:
        for key, cell in _split(count, is_holiday):
            cells[key] = cells.get(key, _Cell()).plus(cell)
    ordered = sorted(cells, key=lambda key: (DAY_KINDS.index(key[0]), key[1]))
    rates = _rates([cells[key] for key in ordered])
    return Footfall(dict(zip(ordered, rates, strict=True)), len(counts))


@dataclass(frozen=True, slots=True)
class _Cell:
    """What was counted in one hour of one kind of day.

    events: people and parties alike, each an arrival. exposure_min: minutes in which a rate of people would bring so
    many; a minute of counting parties counts for 1 / PARTY_PEOPLE.
    """

    events: float = 0.0
    exposure_min: float = 0.0
    minutes: float = 0.0
    people: float = 0.0

    def plus(self, other: _Cell) -> _Cell:
        return _Cell(
            self.events + other.events,
            self.exposure_min + other.exposure_min,
            self.minutes + other.minutes,
            self.people + other.people,
        )


def _rates(cells: Sequence[_Cell]) -> list[Rate]:
    """The rate of each cell, in their order."""
    if not cells:
        return []
    events, exposure = np.array([(cell.events, cell.exposure_min) for cell in cells]).T
    other_events, other_min = events.sum() - events, exposure.sum() - exposure
    mean = np.divide(other_events, other_min, out=np.zeros(len(cells)), where=other_min > 0)
    with np.errstate(divide="ignore"):
        prior_min = 1 / (1 / min(PRIOR_MIN, _agreement_min(events, exposure) / 2) + 1 / other_min)
    shape, minutes = events + mean * prior_min, exposure + prior_min
    tail = (1 - SHARE_HELD) / 2
    low, high = (60 * gamma_quantile(share, shape + HALF_COUNT) / minutes for share in (tail, 1 - tail))
    rate = 60 * shape / minutes
    return [
        Rate(float(r), float(min(a, r)), float(b), cell.minutes, cell.people)
        for r, a, b, cell in zip(rate, low, high, cells, strict=True)
    ]


def _agreement_min(events: FloatArray, exposure: FloatArray) -> float:
    """Minutes of counting after which chance alone spreads the rates as widely as they do spread; inf where they agree.

    Method of moments: Pearson's statistic over k hours, counted for t minutes each, T in all, whose true rates have a
    variance of mean / minutes, is expected to be k - 1 + (T - sum of t^2 / T) / minutes. The estimate errs widely with
    few hours, so half of it is used: 80 % intervals then hold 75 to 92 % of simulated rates.
    """
    if not events.sum():
        return inf
    total_min = exposure.sum()
    expected = exposure * events.sum() / total_min
    excess = float(((events - expected) ** 2 / expected).sum()) - (len(events) - 1)
    return float(total_min - (exposure**2).sum() / total_min) / excess if excess > 0 else inf


def _split(count: Count, is_holiday: IsHoliday) -> Iterator[tuple[tuple[DayKind, int], _Cell]]:
    """The count's parts in each full hour of the clock."""
    at = count.starts.replace(tzinfo=None)
    end = at + timedelta(minutes=count.minutes)
    people, share_of = (1.0, 1.0) if count.of == "people" else (PARTY_PEOPLE, 1 / PARTY_PEOPLE)
    while at < end:
        after = min(end, at.replace(minute=0, second=0, microsecond=0) + timedelta(hours=1))
        minutes = (after - at) / timedelta(minutes=1)
        number = count.number * minutes / count.minutes
        cell = _Cell(number, minutes * share_of, minutes, number * people)
        yield (day_kind(at.date(), is_holiday), at.hour), cell
        at = after
