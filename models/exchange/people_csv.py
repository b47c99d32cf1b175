"""People as a pasted list or a CSV file: one a line, name and contact, or columns named in the first line.

Tabs, commas or semicolons part the cells, whichever the first line that holds any has most of. In a list without named
columns a line that has not that mark goes by its own, and one with a tab or semicolon before its first comma by that.
"""

from __future__ import annotations

import csv
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from models.exchange.delimited import named, parting_mark, rows_of
from models.problems import InputProblem

MARKS = "\t,;"
COLUMNS = (
    "name", "contact", "part", "emergency_contact", "access_needs", "experience", "camera_system", "notes",
)  # fmt: skip
MOST_LINES = 200
LONGEST_TEXT = 100_000
"""Less than one cell may hold for Python's reader."""
PLAIN = ("name", "contact")


@dataclass(frozen=True, slots=True)
class PersonLine:
    """line: where it begins. cells: text by name of COLUMNS."""

    line: int
    cells: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class PeopleText:
    """ignored: columns that nobody knows, as typed."""

    lines: tuple[PersonLine, ...]
    ignored: tuple[str, ...] = ()


def read_people(text: str) -> PeopleText:
    """Raises InputProblem('text') where it cannot be taken as a whole."""
    if len(text) > LONGEST_TEXT:
        raise InputProblem("text", f"{len(text):,} characters; at most {LONGEST_TEXT:,}.")
    if "\x00" in text:
        raise InputProblem("text", "holds a character that is no text.")
    mark = parting_mark(text, MARKS)
    first = next((line for line in text.splitlines() if line.strip()), "")
    head = [_column(cell) for cell in _cells(first, mark)]
    found = _table(text, mark) if "name" in head else PeopleText(tuple(_plain(text, mark)))
    if len(found.lines) > MOST_LINES:
        raise InputProblem("text", f"{len(found.lines)} lines; at most {MOST_LINES} at a time.")
    return found


def _plain(text: str, mark: str) -> Iterator[PersonLine]:
    """Each line by itself, so that a stray quotation mark spoils no other; what follows the name is the contact."""
    for number, line in enumerate(text.splitlines(), start=1):
        name, *rest = (cell.strip() for cell in _cells(line, _mark_of(line, mark))) if line.strip() else ("",)
        contact = ", ".join(cell for cell in rest if cell)
        if name or contact:
            yield PersonLine(number, dict(zip(PLAIN, (name, contact), strict=True)))


def _mark_of(line: str, mark: str) -> str:
    """What parts a line of a list whose mark that is."""
    before = line.partition(mark)[0]
    if mark not in line:
        return parting_mark(line, MARKS)
    return parting_mark(before, "\t;") if mark == "," and any(other in before for other in "\t;") else mark


def _table(text: str, mark: str) -> PeopleText:
    (_, typed), *rest = rows_of("text", text, mark)
    head = [_column(cell) for cell in typed]
    twice = next((name for name in COLUMNS if head.count(name) > 1), None)
    if twice:
        raise InputProblem("text", f"has the column {twice} twice.")
    lines = tuple(PersonLine(line, _known(named("text", line, head, cells))) for line, cells in rest)
    ignored = tuple(cell.strip() for cell, name in zip(typed, head, strict=True) if name and name not in COLUMNS)
    return PeopleText(lines, ignored)


def _known(cells: Mapping[str, str]) -> dict[str, str]:
    return {name: cell.strip() for name, cell in cells.items() if name in COLUMNS}


def _cells(line: str, mark: str) -> list[str]:
    return next(csv.reader([line], delimiter=mark), [])


def _column(cell: str) -> str:
    return "_".join(cell.strip().lstrip("\ufeff").lower().split())
