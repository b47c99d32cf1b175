"""The day, time and sky that every light page shares, read from what people type."""

from __future__ import annotations

import re
from datetime import date, datetime, time, timedelta

from models.clock import (
    MONTHS,
    TimeInGap,
    TimeIsAmbiguous,
    day_words,
    instant_words,
    resolve_local,
    to_local,
)
from models.planning.answers import Moment
from models.problems import InputProblem

SKIES: tuple[tuple[int, str], ...] = (
    (0, "clear"),
    (2, "a few clouds"),
    (4, "half covered"),
    (6, "mostly cloudy"),
    (7, "nearly overcast"),
    (8, "overcast"),
)
"""Oktas offered, with the words for them. Eighths of the sky covered: WMO, from memory; the words are ours."""

ASSUMED_OKTAS = 2
FIRST_YEAR, LAST_YEAR = 1950, 2099

NEAR_DAYS = {"": 0, "today": 0, "tomorrow": 1, "yesterday": -1}
WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")

_WEEKDAY = re.compile(r"(?:(?P<which>this|next|on)\s)?(?P<day>[a-z]{3,9})\.?$")
_ISO = re.compile(r"(?P<y>\d{4})-(?P<m>\d{1,2})-(?P<d>\d{1,2})$")
_DOTTED = re.compile(r"(?P<d>\d{1,2})\.\s?(?P<m>\d{1,2})\.?(?:\s?(?P<y>\d{4}))?$")
_NAMED = re.compile(r"(?:[a-z]{2,9},?\s+)?(?P<d>\d{1,2})\.?\s+(?P<name>[a-z]{3,9})\.?(?:\s+(?P<y>\d{4}))?$")
_CLOCK = re.compile(r"(?P<h>\d{1,2})(?:[:.h]?(?P<m>\d{2}))?\s*(?P<half>[ap]\.?m\.?)?$")


def read_moment(
    on: str | None, at: str | None, sky: str | None, zone: str, now: datetime, fold: str | None = None
) -> Moment:
    """The moment meant by a typed date, local time and sky; each may be missing.

    Raises InputProblem naming 'date', 'time' or 'sky'; a time skipped or repeated by a clock change is a 'time' problem
    unless fold ('0' the first, '1' the second) chooses.
    """
    local_now = to_local(now, zone)
    day = read_date(on, local_now.date())
    if at and at.strip():
        instant = _typed(day, read_clock(at), zone, int(fold) if fold in ("0", "1") else None)
    elif day == local_now.date():
        instant = now - (local_now - _rounded(local_now))
    else:
        instant = _same_clock(day, _rounded(local_now).time(), zone)
    oktas, by = read_sky(sky)
    return Moment(instant, zone, oktas, by)


def read_date(text: str | None, today: date) -> date:
    """A date from '2026-10-17', '17.10.', '17.10.2026', '17 Oct', 'Sat 17 October 2026', 'today', 'tomorrow',
    'yesterday', 'Saturday' (today or the next one to come) or 'next Saturday' (the first one after today)."""
    typed = " ".join((text or "").lower().split())
    if typed in NEAR_DAYS:
        return today + timedelta(days=NEAR_DAYS[typed])
    if (named := _WEEKDAY.match(typed)) and (days := [day for day in WEEKDAYS if day.startswith(named["day"])]):
        return _coming(WEEKDAYS.index(days[0]), today, later=named["which"] == "next")
    found = _ISO.match(typed) or _DOTTED.match(typed) or _NAMED.match(typed)
    if not found:
        raise InputProblem("date", f"“{text}” is not a date. Type it like 2026-10-17, 17.10., 17 Oct or Saturday.")
    return _date_of(found.groupdict(), typed, today)


def read_clock(text: str) -> time:
    """A clock time from '16:40', '16.40', '1640', '9' or '4:40 pm'."""
    typed = text.strip().lower()
    found = _CLOCK.match(typed)
    if not found:
        raise InputProblem("time", f"“{text}” is not a time. Type it like 16:40.")
    hour, minute = int(found["h"]), int(found["m"] or 0)
    if found["half"]:
        if not 1 <= hour <= 12:
            raise InputProblem("time", f"“{text}” is not a time. With am or pm the hour is 1 to 12.")
        hour = hour % 12 + (12 if found["half"].startswith("p") else 0)
    if hour > 23 or minute > 59:
        raise InputProblem("time", f"“{text}” is not a time. Hours run to 23, minutes to 59.")
    return time(hour, minute)


def read_sky(text: str | None) -> tuple[int, str]:
    """(oktas, who said so)."""
    typed = (text or "").strip()
    if not typed:
        return ASSUMED_OKTAS, "assumed"
    if len(typed) != 1 or typed not in "012345678":
        raise InputProblem("sky", f"“{text}” is not a sky. Type the eighths of sky covered by cloud, 0 to 8.")
    return int(typed), "you set it"


def year_sky(moment: Moment) -> tuple[int, str]:
    """(oktas, who said so) for a whole year: those of the moment, but the weather of one hour says nothing of it."""
    return (ASSUMED_OKTAS, "assumed") if moment.of_hour else (moment.oktas, moment.oktas_by)


def sky_words(oktas: int) -> str:
    """The words for a number of oktas: the nearest at or under it."""
    return [words for eighths, words in SKIES if eighths <= oktas][-1]


def moment_words(moment: Moment) -> str:
    """'Saturday 17 October 2026, 16:40 CEST'."""
    return instant_words(moment.instant, moment.zone)


def _coming(weekday: int, today: date, *, later: bool) -> date:
    """The first such day from today on; later: from tomorrow on."""
    first = today + timedelta(days=int(later))
    return first + timedelta(days=(weekday - first.weekday()) % 7)


def _date_of(parts: dict[str, str | None], typed: str, today: date) -> date:
    month = int(parts["m"] or 0) if "m" in parts else _month(parts["name"] or "", typed)
    year = int(parts["y"] or today.year)
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise InputProblem("date", f"the year {year} is out of reach. Choose one from {FIRST_YEAR} to {LAST_YEAR}.")
    try:
        return date(year, month, int(parts["d"] or 0))
    except ValueError:
        raise InputProblem("date", f"“{typed}” is not in the calendar.") from None


def _month(name: str, typed: str) -> int:
    short = name[:3].capitalize()
    if short not in MONTHS:
        raise InputProblem("date", f"“{typed}” names no month.")
    return MONTHS.index(short) + 1


def _rounded(local: datetime) -> datetime:
    return local.replace(minute=local.minute // 5 * 5, second=0, microsecond=0)


def _same_clock(day: date, clock: time, zone: str) -> datetime:
    """The clock time on that day; where the clocks skip it just after or before, of two the first."""
    try:
        return resolve_local(day, clock, zone, 0)
    except TimeInGap as gap:
        beside = [choice for choice in reversed(gap.choices) if to_local(choice, zone).date() == day]
        if not beside:
            raise InputProblem("date", f"{day_words(day)} does not exist: {zone} left it out.") from None
        return beside[0]


def _typed(day: date, clock: time, zone: str, fold: int | None) -> datetime:
    try:
        return resolve_local(day, clock, zone, fold)
    except TimeInGap:
        raise InputProblem(
            "time", f"{clock:%H:%M} does not exist on {day_words(day)}: the clocks go forward over it."
        ) from None
    except TimeIsAmbiguous:
        raise InputProblem(
            "time",
            f"{clock:%H:%M} comes twice on {day_words(day)}: the clocks go back. Choose the first or the second.",
        ) from None
