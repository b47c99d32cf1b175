"""What people type about a rule: hours, weekdays, days, lead time, when to look again; and the same in words."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date, time, timedelta
from itertools import groupby

from models.planning.moments import read_clock, read_date
from models.planning.times_ask import WEEKDAYS
from models.problems import InputProblem

Hours = tuple[time | None, time | None]
SATURDAY = 5
GROUPS_OF_DAYS: dict[str, tuple[int, ...]] = {
    "": (),
    "weekdays": tuple(range(SATURDAY)),
    "weekend": (5, 6),
    "weekends": (5, 6),
    "daily": (),
    "every day": (),
    "any day": (),
    "all": (),
}
LONGEST_LEAD_DAYS = 730

_APART = re.compile(r"\s*(?:-|–|—|\bto\b|\buntil\b|\btill\b)\s*")
_WEEKDAY = re.compile(r"(?:mon|tues?|wed(?:nes)?|thu(?:rs?)?|fri|sat(?:ur)?|sun)(?:days?)?$")
_LEAD = re.compile(
    r"(?P<count>\d{1,4})\s*(?:clear\s+)?(?P<kind>working|business|calendar)?\s*(?P<unit>days?|weeks?|wks?|months?)?$"
)
_SPAN = re.compile(r"(?:in\s+|after\s+)?(?P<count>\d{1,3}|an?|one)\s*(?P<unit>days?|weeks?|months?|years?)$")


def read_hours(text: str) -> Hours:
    """Local hours from '8-18', '08:00 to 18:00', '22-6', 'from 18', 'until 8'; empty for all day."""
    typed = text.strip().lower()
    if typed in ("", "all day", "any time", "always"):
        return None, None
    ends = _APART.split(re.sub(r"^(?:from|after)\s+", "", typed), maxsplit=1)
    if len(ends) == 1:
        bare = re.sub(r"^(?:until|till|before|to)\s*", "", typed)
        ends = ["0", bare] if bare != typed else [ends[0], "24"]
        if typed[:1].isdigit():
            raise InputProblem("hours", f"“{text}” has one end only. Type hours like 8-18, from 18 or until 8.")
    first, last = _clock(text, ends[0] or "0"), _clock(text, ends[1])
    if first == last:
        raise InputProblem("hours", f"“{text}” begins when it ends. Leave it empty for all day.")
    return first, last


def hours_text(hours: Hours) -> str:
    """'08:00-18:00', or nothing for all day."""
    first, last = hours
    return "" if first is None or last is None else f"{first:%H:%M}-{last:%H:%M}".replace("-00:00", "-24:00")


def hours_words(hours: Hours) -> str:
    """'08:00 to 18:00', 'all day'."""
    first, last = hours
    if first is None or last is None:
        return "all day"
    end = "24:00" if last == time() else f"{last:%H:%M}"
    return f"{first:%H:%M} to {end}{' over midnight' if time() < last < first else ''}"


def read_days(text: str) -> tuple[int, ...]:
    """Weekdays, Monday 0, from 'Mon-Fri', 'Sat, Sun', 'weekends'; none for every day."""
    typed = text.strip().lower()
    if typed in GROUPS_OF_DAYS:
        return GROUPS_OF_DAYS[typed]
    parts = re.split(r"[\s,;&+]+(?:and\s+)?", _APART.sub("-", typed))
    days = sorted({day for part in parts if part for day in _run(text, part.split("-", 1))})
    if not days:
        raise InputProblem("days", f"“{text}” holds no weekdays. Type them like Mon-Fri or Sat, Sun.")
    return () if len(days) == len(WEEKDAYS) else tuple(days)


def days_text(days: Sequence[int]) -> str:
    """'Mon-Fri, Sun'; nothing for every day."""
    runs = [[day for _, day in run] for _, run in groupby(enumerate(sorted(days)), lambda pair: pair[1] - pair[0])]
    return ", ".join(
        ", ".join(WEEKDAYS[day] for day in run) if len(run) < 3 else f"{WEEKDAYS[run[0]]}-{WEEKDAYS[run[-1]]}"
        for run in runs
    )


def days_words(days: Sequence[int]) -> str:
    """'Mon to Fri, Sun', 'every day'."""
    return days_text(days).replace("-", " to ") or "every day"


def read_lead(text: str) -> tuple[int | None, bool]:
    """(clear days, whether working days) from '10 working days', '2 weeks', '10'; a bare number is working days."""
    typed = text.strip().lower()
    if typed in ("", "none", "not said"):
        return None, True
    found = _LEAD.match(typed)
    if not found or (found["unit"] or "").startswith("month"):
        raise InputProblem("lead", f"“{text}” is not a lead time. Type it like 10 working days, 14 days or 2 weeks.")
    count, unit = int(found["count"]), (found["unit"] or "")[:1]
    if unit == "w" and found["kind"] in ("working", "business"):
        raise InputProblem("lead", f"“{text}”: count working days in days, like {5 * count} working days.")
    days = count * (7 if unit == "w" else 1)
    if days > LONGEST_LEAD_DAYS:
        raise InputProblem("lead", f"{days} days is out of reach: at most {LONGEST_LEAD_DAYS}.")
    return days, found["kind"] in ("working", "business") or (found["kind"] is None and not unit)


def lead_text(days: int | None, working: bool) -> str:
    """'10 working days', '14 days', or nothing."""
    if days is None:
        return ""
    return f"{days} {'working ' if working else ''}day{'' if days == 1 else 's'}"


def lead_words(days: int | None, working: bool) -> str:
    """'10 clear working days before', or nothing."""
    return f"{lead_text(days, working).replace(' ', ' clear ', 1)} before" if days is not None else ""


def read_day(field: str, text: str, today: date) -> date | None:
    """A date as typed, None for none. Raises InputProblem under the field."""
    if not text.strip():
        return None
    try:
        return read_date(text, today)
    except InputProblem as problem:
        raise InputProblem(field, problem.message) from None


def read_again(text: str, checked_on: date) -> date | None:
    """When the record counts as too old: a date, or how long after it was checked ('1 year', '6 months')."""
    typed = text.strip().lower()
    if typed in ("", "never"):
        return None
    span = _SPAN.match(typed)
    if span is None:
        return read_day("check_again", text, checked_on)
    count = int(span["count"]) if span["count"].isdecimal() else 1
    unit = span["unit"][0]
    try:
        if unit in "dw":
            return checked_on + timedelta(days=count * (7 if unit == "w" else 1))
        return _months_on(checked_on, count * (12 if unit == "y" else 1))
    except (OverflowError, ValueError):
        raise InputProblem("check_again", f"“{text}” is out of reach.") from None


def _months_on(day: date, months: int) -> date:
    year, month = divmod(day.month - 1 + months, 12)
    for last in (day.day, 30, 29, 28):
        try:
            return date(day.year + year, month + 1, last)
        except ValueError:
            if day.year + year > date.max.year:
                raise
    raise ValueError(months)


def _clock(text: str, part: str) -> time:
    if part in ("24", "24:00", "midnight"):
        return time()
    try:
        return read_clock(part)
    except InputProblem as problem:
        raise InputProblem("hours", f"“{text}” is not a span of hours: {problem.message}") from None


def _run(text: str, ends: Sequence[str]) -> list[int]:
    first, last = _weekday(text, ends[0]), _weekday(text, ends[-1])
    return [day % 7 for day in range(first, last + 1 + (7 if last < first else 0))]


def _weekday(text: str, part: str) -> int:
    name = part.strip(" .")[:3].capitalize()
    if name not in WEEKDAYS or not _WEEKDAY.match(part.strip(" .")):
        raise InputProblem("days", f"“{text}” holds no weekdays. Type them like Mon-Fri or Sat, Sun.")
    return WEEKDAYS.index(name)
