"""A count as typed in one line: how many, in how many minutes, on which day, from when, whence."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from contextlib import suppress
from datetime import datetime

from models.clock import day_words, to_local
from models.planning.rules.typed import clock_text, read_day, read_instant
from models.problems import InputProblem, InputProblems, noted
from models.store.spots import Spot
from models.store.street import CountDraft, KeptCount, checked_draft
from models.street.footfall import Counted

NUMBER, MINUTES, DAY, CLOCK, WHENCE, NOTE = FIELDS = ("number", "minutes", "day", "clock", "whence", "note")
USUAL_MINUTES = "10"

_NUMBER = re.compile(r"(?P<number>\d{1,9})\s*(?P<of>people|persons?|heads?|part(?:y|ies)|groups?|)$")
_MINUTES = re.compile(r"(?P<minutes>\d{1,6}(?:[.,]\d{1,3})?)\s*(?:m(?:in(?:utes?)?)?|)$")


def new_count_form(spot: Spot, now: datetime) -> dict[str, str]:
    """An empty line for a count that begins about now."""
    local = to_local(now, spot.zone)
    begun = local.replace(minute=local.minute // 5 * 5)
    return dict.fromkeys(FIELDS, "") | {MINUTES: USUAL_MINUTES, DAY: f"{local:%Y-%m-%d}", CLOCK: f"{begun:%H:%M}"}


def count_form_of(count: KeptCount, zone: str) -> dict[str, str]:
    """What the form shows for a count; read back it gives the same one."""
    return {
        NUMBER: f"{count.number}" if count.of == "people" else f"{count.number} parties",
        MINUTES: f"{count.minutes:g}",
        DAY: f"{to_local(count.starts, zone):%Y-%m-%d}",
        CLOCK: clock_text(count.starts, zone),
        WHENCE: count.whence,
        NOTE: count.note,
    }


def read_count_form(form: Mapping[str, str], spot: Spot, now: datetime) -> CountDraft:
    """The count a form describes. Raises InputProblems with a message beside each field that needs another look."""
    problems: dict[str, str] = {}

    def read(field: str, reader: Callable[[str], object]) -> object:
        with noted(problems, field):
            return reader(form.get(field, "").strip())
        return None

    number, minutes = read(NUMBER, _number), read(MINUTES, _minutes)
    today = to_local(now, spot.zone).date()
    day = read(DAY, lambda text: read_day(DAY, text, today))
    starts = read(CLOCK, lambda text: read_instant(CLOCK, day or today, text, spot.zone))  # type: ignore[arg-type]
    if isinstance(starts, datetime) and DAY not in problems and starts > now:
        problems[DAY] = "that hour lies ahead: nobody can have counted in it yet"
    if problems or not isinstance(number, tuple) or not isinstance(starts, datetime) or not isinstance(minutes, float):
        raise InputProblems(problems)
    draft = CountDraft(
        spot_id=spot.id,
        starts=starts,
        minutes=minutes,
        number=number[0],
        of=number[1],
        whence=form.get(WHENCE, ""),
        note=form.get(NOTE, ""),
    )
    try:
        return checked_draft(draft)
    except InputProblem as problem:
        raise InputProblems({problem.field: problem.message}) from problem


def understood_count(form: Mapping[str, str], spot: Spot, now: datetime) -> dict[str, str]:
    """By field, what is meant; what is empty or cannot be read is left out."""
    said: dict[str, str] = {}
    today = to_local(now, spot.zone).date()
    with suppress(InputProblem):
        said[DAY] = day_words(read_day(DAY, form.get(DAY, ""), today))
    return said


def _number(text: str) -> tuple[int, Counted]:
    found = _NUMBER.match(text.lower().replace("\u202f", ""))
    if not found:
        raise InputProblem(NUMBER, f"“{text}” is not a number of people. Type it like 42, or 20 parties.")
    return int(found["number"]), "parties" if found["of"].startswith(("part", "group")) else "people"


def _minutes(text: str) -> float:
    found = _MINUTES.match(text.lower())
    if not found:
        raise InputProblem(MINUTES, f"“{text}” is not a number of minutes. Type it like 10.")
    return float(found["minutes"].replace(",", "."))
