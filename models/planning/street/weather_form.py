"""The weather of one hour or several as typed in one form, and what was understood of it."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import replace
from datetime import date, datetime, timedelta

from models.clock import day_words, to_local, zone_short
from models.planning.answers import Moment
from models.planning.rules.typed import clock_text, read_day, read_instant
from models.planning.street.weather_typed import figure_text, read_figure, understood_figures
from models.problems import InputProblem, InputProblems, noted
from models.store.spots import Spot
from models.store.weather import FIGURES, HourDraft, KeptHour, checked_draft
from models.street.forecast import HOUR
from models.words.weather import BY_HAND

DAY, CLOCK, HOURS, WHENCE = "day", "clock", "hours", "whence"
FIELDS = (DAY, CLOCK, HOURS, *FIGURES, WHENCE)
MOST_HOURS = 48

_HOURS = re.compile(r"(\d{1,4})\s*(?:h|hours?|)$")


def new_hour_form(moment: Moment) -> dict[str, str]:
    """An empty form for the hour of a moment."""
    local = moment.local
    starts = moment.instant - timedelta(minutes=local.minute, seconds=local.second, microseconds=local.microsecond)
    when = {DAY: f"{local:%Y-%m-%d}", CLOCK: clock_text(starts, moment.zone), HOURS: "1"}
    return dict.fromkeys(FIELDS, "") | when


def hour_form_of(hour: KeptHour, zone: str) -> dict[str, str]:
    """What the form shows for an hour; read back it gives the same one."""
    local = to_local(hour.starts, zone)
    when = {DAY: f"{local:%Y-%m-%d}", CLOCK: clock_text(hour.starts, zone), HOURS: "1"}
    whence = "" if hour.source == BY_HAND else hour.source
    return when | {name: figure_text(name, getattr(hour, name)) for name in FIGURES} | {WHENCE: whence}


def read_hours_form(form: Mapping[str, str], spot: Spot, now: datetime) -> tuple[HourDraft, ...]:
    """The hours a form describes, alike but for their start. Raises InputProblems, all fields at once."""
    problems: dict[str, str] = {}

    def read(field: str, reader: Callable[[str], object]) -> object:
        with noted(problems, field):
            return reader(form.get(field, "").strip())
        return None

    today = to_local(now, spot.zone).date()
    day = read(DAY, lambda text: read_day(DAY, text, today))
    starts = read(CLOCK, lambda text: _starts(text, day if isinstance(day, date) else today, spot.zone))
    count = read(HOURS, _hours)
    figures = {name: read(name, lambda text, name=name: read_figure(name, text)) for name in FIGURES}  # type: ignore[misc]
    if problems or not isinstance(starts, datetime) or not isinstance(count, int):
        raise InputProblems(problems)
    draft = HourDraft(
        spot_id=spot.id, starts=starts, kept_at=now, source=form.get(WHENCE, "").strip() or BY_HAND, **figures  # type: ignore[arg-type]
    )  # fmt: skip
    try:
        good = checked_draft(draft)
    except InputProblem as problem:
        field = WHENCE if problem.field == "source" else problem.field
        raise InputProblems({field: problem.message}) from problem
    return tuple(replace(good, starts=good.starts + n * HOUR) for n in range(count))


def understood_hours(form: Mapping[str, str], spot: Spot, now: datetime) -> dict[str, str]:
    """By field, what is meant; what is empty or cannot be read is left out."""
    said = understood_figures(form)
    today = to_local(now, spot.zone).date()
    with suppress(InputProblem):
        day = read_day(DAY, form.get(DAY, ""), today)
        said[DAY] = day_words(day)
        starts = _starts(form.get(CLOCK, ""), day, spot.zone)
        ends = starts + _hours(form.get(HOURS, "").strip()) * HOUR
        said[CLOCK] = span_words(starts, ends, spot.zone)
    return said


def span_words(starts: datetime, ends: datetime, zone: str) -> str:
    """'16:00 to 17:00 CEST', with the day of its end where that is another."""
    first, last = to_local(starts, zone), to_local(ends, zone)
    later = "" if first.date() == last.date() or f"{last:%H:%M}" == "00:00" else f" {last:%A}"
    names = dict.fromkeys((zone_short(starts, zone), zone_short(ends, zone)))
    return f"{first:%H:%M} to {last:%H:%M}{later} {', then '.join(names)}"


def _starts(text: str, day: date, zone: str) -> datetime:
    """The full hour in which a typed time lies."""
    if not text.strip():
        raise InputProblem(CLOCK, "Say from which hour. Type it like 16 or 16:00.")
    instant = read_instant(CLOCK, day, text, zone)
    return instant - timedelta(minutes=to_local(instant, zone).minute)


def _hours(text: str) -> int:
    found = _HOURS.match(text.lower() or "1")
    if not found or not 1 <= int(found[1]) <= MOST_HOURS:
        raise InputProblem(HOURS, f"“{text[:40]}”: give 1 to {MOST_HOURS} hours, like 3.")
    return int(found[1])
