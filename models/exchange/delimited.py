"""What all tables typed or saved as text share: the text of a file's bytes, its rows, and cells that are no formula."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Sequence

from models.problems import InputProblem

FORMULA = ("=", "+", "-", "@", "\t", "\r")
"""A spreadsheet takes a text that begins so for a formula; it is written with an apostrophe before it."""

_NUMBER = re.compile(r"[-+][0-9]+(?:\.[0-9]+)?")
_GUARDED = re.compile(r"'['=+\-@\t\r]")


def parting_mark(text: str, marks: str = ",;") -> str:
    """The mark that the first line which holds any has most of; where several are alike, the first of `marks`."""
    first = next((line for line in text.splitlines() if any(mark in line for mark in marks)), "")
    return max(marks, key=first.count)


def decoded(data: bytes) -> str:
    """The text of a file. Raises InputProblem('file') where it is none."""
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as problem:
        raise InputProblem("file", f"is not UTF-8 text (byte {problem.start + 1}): save it as CSV UTF-8.") from None
    if "\x00" in text:
        raise InputProblem("file", "holds bytes that are no text: save it as CSV UTF-8.")
    return text


def rows_of(field: str, text: str, mark: str) -> list[tuple[int, list[str]]]:
    """(the line it begins on, its cells) of each row that holds anything. Raises InputProblem naming `field`."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=mark, strict=True)
    rows, before = [], 0
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells):
                rows.append((before + 1, cells))
            before = reader.line_num
    except csv.Error as problem:
        raise InputProblem(field, f"line {reader.line_num} cannot be parted into columns: {problem}.") from None
    return rows


def named(field: str, line: int, head: Sequence[str], cells: Sequence[str]) -> dict[str, str]:
    """The cells of a row by column, those that lack left out. Raises InputProblem naming `field` for one too many."""
    if any(cell.strip() for cell in cells[len(head) :]):
        raise InputProblem(field, f"line {line} has {len(cells)} cells under {len(head)} columns: a comma too many?")
    return dict(zip(head, cells, strict=False))


def harmless(cell: str) -> str:
    """As it is written for a spreadsheet; a number with its sign is no formula."""
    risky = cell.startswith(FORMULA) and not _NUMBER.fullmatch(cell)
    return f"'{cell}" if risky or _GUARDED.match(cell) else cell


def as_meant(cell: str) -> str:
    """What `harmless` was given."""
    return cell[1:] if _GUARDED.match(cell) else cell
