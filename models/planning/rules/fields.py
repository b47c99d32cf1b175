"""Fields of a form read one by one: what they say, and what is wrong with the others."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from datetime import date

from models.clock import day_words
from models.planning.rules.rule_typed import read_day
from models.problems import InputProblem, InputProblems, noted

Reader = Callable[[str], dict[str, object]]
"""From what was typed to values by their names; raises InputProblem."""


def read_fields(form: Mapping[str, str], readers: Mapping[str, Reader]) -> dict[str, object]:
    """The values of all fields together. Raises InputProblems with a message beside each that cannot be read."""
    values: dict[str, object] = {}
    problems: dict[str, str] = {}
    for field, read in readers.items():
        with noted(problems, field):
            values |= read(form.get(field, ""))
    if problems:
        raise InputProblems(problems)
    return values


def text_reader(name: str) -> Reader:
    return lambda text: {name: text.strip()}


def day_reader(name: str, today: date) -> Reader:
    """A day, None where nothing was typed."""
    return lambda text: {name: read_day(name, text, today)}


def day_text(day: date | None) -> str:
    """As it may be typed again."""
    return day.isoformat() if day else ""


def understood_days(form: Mapping[str, str], names: Iterable[str], today: date) -> dict[str, str]:
    """By field, the day that is meant; what is empty or cannot be read is left out."""
    said: dict[str, str] = {}
    for name in names:
        with suppress(InputProblem):
            day = read_day(name, form.get(name, ""), today)
            said |= {name: day_words(day)} if day else {}
    return said
