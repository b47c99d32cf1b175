"""What is looked for among the times, read from the address and said back."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TypeVar

from models.light.series import stops_words
from models.light.windows import WANTS, Ask
from models.planning.moments import read_clock, read_date
from models.planning.sentence import read_stops
from models.problems import InputProblem

LONGEST_DAYS = 366
USUAL_DAYS = 28
USUAL_LENGTH_MIN = 90
WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")

_LENGTH = re.compile(r"(?:(?P<hours>\d{1,3}(?:[.,]\d{1,3})?)\s*h(?:ours?)?|(?P<minutes>\d{1,5}))$")

Value = TypeVar("Value")


@dataclass(frozen=True, slots=True)
class TimesForm:
    """The form as understood, each value as it may be typed again; days: the weekdays chosen."""

    first: str
    last: str
    days: tuple[str, ...]
    after: str
    before: str
    length: str
    want: str
    least: str


def read_ask(asked: Mapping[str, str], today: date) -> Ask:
    """What is looked for; four weeks from today, any day from 8:00 to 22:00, unless said.

    Raises InputProblem naming the parameter.
    """
    first = _named("from", lambda: read_date(asked.get("from"), today))
    usual = (first + timedelta(days=USUAL_DAYS - 1)).isoformat()
    last = _named("to", lambda: read_date(asked.get("to") or usual, today))
    if last < first:
        raise InputProblem("to", "the last day lies before the first")
    if (last - first).days >= LONGEST_DAYS:
        raise InputProblem("to", f"at most {LONGEST_DAYS} days can be compared at a time")
    want = asked.get("want", "").strip() or "any"
    if want not in WANTS:
        raise InputProblem("want", f"“{want}” is not one of {', '.join(WANTS)}")
    least = asked.get("least", "").strip()
    values: dict[str, object] = {
        "first": first,
        "last": last,
        "length_min": _minutes(asked.get("length", "")),
        "weekdays": _weekdays(asked.get("days", "")),
        "from_min": _clock_min("after", asked.get("after", ""), 8 * 60),
        "to_min": _clock_min("before", asked.get("before", ""), 22 * 60),
        "want": want,
        "min_reserve": read_stops("least", least) if least else None,
    }
    try:
        return Ask(**values)  # type: ignore[arg-type]
    except InputProblem as problem:
        raise InputProblem(_parameter(problem.field, asked), problem.message) from problem


def form_of(ask: Ask) -> TimesForm:
    """The form that asks the same again."""
    return TimesForm(
        first=ask.first.isoformat(),
        last=ask.last.isoformat(),
        days=tuple(WEEKDAYS[k] for k in sorted(ask.weekdays)),
        after=_clock(ask.from_min),
        before=_clock(ask.to_min),
        length=f"{ask.length_min} min",
        want=ask.want,
        least="" if ask.min_reserve is None else stops_words(ask.min_reserve),
    )


def days_text(days: Sequence[str]) -> str:
    """Weekdays ticked one by one as one parameter; all of them are as good as none."""
    ticked = [part for day in days for part in day.split(",") if part]
    return "" if set(ticked) == set(WEEKDAYS) else ",".join(ticked)


def _parameter(field: str, asked: Mapping[str, str]) -> str:
    """The parameter behind a field of Ask; of hours and length, the first that was given."""
    if field == "hours":
        return next((name for name in ("before", "after", "length") if asked.get(name)), "before")
    return {"length_min": "length", "weekdays": "days"}.get(field, field)


def _named(field: str, read: Callable[[], Value]) -> Value:
    try:
        return read()
    except InputProblem as problem:
        raise InputProblem(field, problem.message) from problem


def _minutes(text: str) -> int:
    typed = text.strip().lower().removesuffix("minutes").removesuffix("min").strip()
    if not typed:
        return USUAL_LENGTH_MIN
    found = _LENGTH.match(typed)
    if not found:
        raise InputProblem("length", f"“{text}” is not a length. Type it like 90 min or 1.5 h.")
    return round(float(found["hours"].replace(",", ".")) * 60) if found["hours"] else int(found["minutes"])


def _weekdays(text: str) -> frozenset[int]:
    names = [part[:3].capitalize() for part in text.replace(";", ",").replace(" ", ",").split(",") if part]
    if not names:
        return frozenset(range(7))
    unknown = [name for name in names if name not in WEEKDAYS]
    if unknown:
        raise InputProblem("days", f"“{unknown[0]}” is not a weekday. Choose among {', '.join(WEEKDAYS)}.")
    return frozenset(WEEKDAYS.index(name) for name in names)


def _clock_min(field: str, text: str, usual: int) -> int:
    typed = text.strip()
    if not typed:
        return usual
    if typed in ("24", "24:00"):
        return 24 * 60
    clock = _named(field, lambda: read_clock(typed))
    minutes = clock.hour * 60 + clock.minute
    return 24 * 60 if field == "before" and minutes == 0 else minutes


def _clock(minutes: int) -> str:
    return f"{minutes // 60:02d}:{minutes % 60:02d}"
