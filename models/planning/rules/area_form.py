"""A rule area as typed in a form: every field read, every problem named at once."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import fields
from typing import Any

from models.planning.rules.corners import corners_text, outline_words, read_corners
from models.problems import InputProblem, InputProblems
from models.rules.areas import AreaDraft, Shape
from models.rules.checking import checked_area
from models.rules.working_days import calendar_of

FIELDS = tuple(field.name for field in fields(AreaDraft))
TEXTS = ("name", "kind", "authority", "contact", "web", "holidays", "notes")
YES = "yes"


def read_area_form(form: Mapping[str, str], far_words: Callable[[Shape], str] = lambda shape: "") -> AreaDraft:
    """The area a form describes. Raises InputProblems with a message beside each field that needs another look.

    far_words: what is said of a shape that lies far from everything, nothing of any other; the tick `far` answers it.
    """
    texts = {name: form.get(name, "") for name in TEXTS}
    values: dict[str, Any] = texts | {
        "holidays": texts["holidays"].strip().upper(),
        "no_passing": form.get("no_passing") == YES,
    }
    problems: dict[str, str] = {}
    try:
        values["shape"] = read_corners(form.get("shape", ""))
    except InputProblem as problem:
        problems["shape"] = problem.message
    else:
        if form.get("far") != YES and (words := far_words(values["shape"])):
            problems["far"] = f"{words} Latitude comes first, then longitude: are they swapped?"
    for needed, message in (("name", "give the area a name."), ("authority", "say who controls it.")):
        if not texts[needed].strip():
            problems[needed] = message
    if problems:
        raise InputProblems(problems)
    try:
        return checked_area(AreaDraft(**values))
    except InputProblem as problem:
        raise InputProblems({problem.field.split()[0]: problem.message}) from None


def area_form_of(area: AreaDraft) -> dict[str, str]:
    """What the form shows for an area; read back it gives the same area."""
    shown = {name: str(getattr(area, name)) for name in TEXTS}
    return shown | {"shape": corners_text(area.shape), "no_passing": YES if area.no_passing else ""}


def understood_area(form: Mapping[str, str]) -> dict[str, str]:
    """By field, how what was typed is taken; what is empty or cannot be read is left out."""
    said: dict[str, str] = {}
    for field, words in (("shape", _shape), ("holidays", _holidays)):
        typed = form.get(field, "").strip()
        if typed:
            try:
                said[field] = words(typed)
            except InputProblem:
                continue
    return said


def _shape(text: str) -> str:
    return outline_words(read_corners(text))


def _holidays(text: str) -> str:
    return calendar_of(text.upper()).words
