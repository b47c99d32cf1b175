"""Working days by the public holidays of a place, and the last day to ask. The only importer of `holidays`."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cache, lru_cache

import holidays

from models.problems import InputProblem

ONE_DAY = timedelta(days=1)
SATURDAY = 5
_CODE = re.compile(r"(?P<country>[A-Z]{2})(?:-(?P<part>.{1,40}))?\Z")


@dataclass(frozen=True, slots=True)
class Calendar:
    """place: a country or country-part of ISO 3166 ("NL", "DE-BE", "GB-ENG"), whose public holidays and weekend hold;
    empty where no holidays are known: Monday to Friday are worked then.

    Source: the `holidays` library, category public, with days in lieu; tested against the official lists.
    """

    place: str

    def is_working(self, day: date) -> bool:
        return day not in _days_off(self.place, day.year)

    def is_holiday(self, day: date) -> bool:
        """A public holiday, on whatever day of the week; never where no holidays are known."""
        return day in _public_holidays(self.place, day.year)

    @property
    def words(self) -> str:
        if self.place:
            return f"working days by the holidays of {self.place}"
        return "working days by weekends only; no holidays set"


@lru_cache(maxsize=1024)
def calendar_of(place: str) -> Calendar:
    """The calendar of a place; InputProblem("holidays", ...) for a code that is not known."""
    if place:
        _holidays_of(place, None)
    return Calendar(place)


@lru_cache(maxsize=16384)
def ask_by(day: date, lead_days: int, calendar: Calendar, *, working: bool) -> date:
    """The last day to ask so that `lead_days` clear days, working days where `working`, lie between it and `day`.

    It is a working day itself, for an office must be open to take the question; where days of the calendar are counted
    that is the last working day on or before the day counted to.
    """
    if lead_days < 0:
        raise ValueError(f"{lead_days} clear days between two days cannot be")
    if not working:
        return _working_before(day - lead_days * ONE_DAY, calendar)
    for _ in range(lead_days):
        day = _working_before(day, calendar)
    return _working_before(day, calendar)


def _working_before(day: date, calendar: Calendar) -> date:
    day -= ONE_DAY
    while not calendar.is_working(day):
        day -= ONE_DAY
    return day


@cache
def _days_off(place: str, year: int) -> frozenset[date]:
    """Weekends and holidays. Worked out whole, so that threads never see half of a year."""
    first = date(year, 1, 1)
    days = [first + number * ONE_DAY for number in range(date(year, 12, 31).toordinal() - first.toordinal() + 1)]
    if not place:
        return frozenset(day for day in days if day.weekday() >= SATURDAY)
    kept = _holidays_of(place, year)
    return frozenset(day for day in days if not kept.is_working_day(day))


@cache
def _public_holidays(place: str, year: int) -> frozenset[date]:
    return frozenset(_holidays_of(place, year)) if place else frozenset()


def _holidays_of(place: str, year: int | None) -> holidays.HolidayBase:
    found = _CODE.match(place)
    try:
        if found:
            return holidays.country_holidays(found["country"], subdiv=found["part"], years=year, expand=False)
    except NotImplementedError:
        pass
    hint = "write a country like NL, or a part of one like DE-BE or GB-ENG"
    raise InputProblem("holidays", f"“{place[:20]}” is not a place whose holidays are known; {hint}")
