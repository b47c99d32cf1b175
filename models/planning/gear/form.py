"""A piece of kit as typed in a form or a row of a file: every field read, every problem named at once."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Mapping
from contextlib import suppress
from typing import Any

from models.planning.gear.fields import NEEDED, GearKind
from models.problems import InputProblem, InputProblems, noted

LONGEST_ID = 60


def read_piece(kind: GearKind, form: Mapping[str, str], item_id: str) -> Any:
    """The piece a form describes. Raises InputProblems with a message beside each field that needs another look."""
    problems: dict[str, str] = {}
    values: dict[str, Any] = {"id": item_id}
    for field in kind.fields:
        with noted(problems, field.name):
            values[field.name] = field.value(form.get(field.name, ""))
    if not problems:
        try:
            return kind.piece(**values)
        except InputProblem as problem:
            problems[problem.field] = f"{problem.message}."
    raise InputProblems(problems)


def form_of(kind: GearKind, piece: Any) -> dict[str, str]:
    """What the form shows for a piece; read back it gives the same one."""
    return {field.name: field.text(getattr(piece, field.name)) for field in kind.fields}


def form_of_none(kind: GearKind) -> dict[str, str]:
    """What an empty form shows."""
    first = {field.name: field.choices[0][0] for field in kind.fields if field.choices}
    defaults = {field.name: field.text(field.default) for field in kind.fields if field.default is not NEEDED}
    return {field.name: "" for field in kind.fields} | first | defaults


def understood(kind: GearKind, form: Mapping[str, str]) -> dict[str, str]:
    """By field, how what was typed is taken, where it would be written otherwise."""
    said: dict[str, str] = {}
    for field in kind.fields:
        text = form.get(field.name, "").strip()
        with suppress(InputProblem):
            if text and text != field.text(value := field.value(text)):
                said[field.name] = field.words(value)
    return said


def id_for(name: str, taken: Collection[str]) -> str:
    """A short word for addresses and files, made from the name: 'small box, 40 cm' is small-box-40-cm."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    word = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[: LONGEST_ID - 8].strip("-") or "piece"
    number = 1
    while (made := word if number == 1 else f"{word}-{number}") in taken:
        number += 1
    return made
