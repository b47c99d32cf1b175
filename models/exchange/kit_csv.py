"""Kit as comma-separated values (RFC 4180), one file a kind: rows of text by column, written and read.

A cell that a spreadsheet would take for a formula is written with an apostrophe before it, which reading takes off.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from models.exchange.delimited import as_meant, decoded, harmless, named, parting_mark, rows_of
from models.problems import InputProblem

LARGEST_BYTES = 500_000
MOST_ROWS = 500
LONGEST_CELL = 5_000


@dataclass(frozen=True, slots=True)
class CsvRow:
    """One row of a file: the line it begins on, and its cells by column."""

    line: int
    cells: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class CsvTable:
    """columns: those known, as they stand in the file. ignored: those nobody knows."""

    columns: tuple[str, ...]
    ignored: tuple[str, ...]
    rows: tuple[CsvRow, ...]


def write_csv(columns: Sequence[str], rows: Iterable[Mapping[str, str]]) -> str:
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(columns)
    writer.writerows([harmless(row[column]) for column in columns] for row in rows)
    return out.getvalue()


def read_csv(data: bytes, known: Sequence[str], needed: Sequence[str]) -> CsvTable:
    """Raises InputProblem for a file that is no such table, saying what is wrong with it as a whole."""
    if len(data) > LARGEST_BYTES:
        raise InputProblem("file", f"is {len(data) / 1e6:.1f} MB; at most {LARGEST_BYTES / 1e6:.1f} MB.")
    text = decoded(data)
    lines = rows_of("file", text, parting_mark(text))
    if not lines:
        raise InputProblem("file", "is empty.")
    head = [cell.strip().lower() for cell in lines[0][1]]
    _check_head(head, known, needed)
    if len(lines) - 1 > MOST_ROWS:
        raise InputProblem("file", f"holds {len(lines) - 1:,} rows; at most {MOST_ROWS}.")
    rows = tuple(_row(line, head, cells, known) for line, cells in lines[1:])
    columns = tuple(name for name in head if name in known)
    return CsvTable(columns, tuple(name for name in head if name and name not in known), rows)


def _check_head(head: Sequence[str], known: Sequence[str], needed: Sequence[str]) -> None:
    twice = sorted({name for name in head if name and head.count(name) > 1})
    if twice:
        raise InputProblem("file", f"has the column {', '.join(twice)} twice.")
    lacking = [name for name in needed if name not in head]
    if lacking:
        raise InputProblem(
            "file", f"lacks the column {', '.join(lacking)}. The first line names the columns: {', '.join(known)}."
        )


def _row(line: int, head: Sequence[str], cells: Sequence[str], known: Sequence[str]) -> CsvRow:
    meant = {name: as_meant(cell) for name, cell in named("file", line, head, cells).items() if name in known}
    if any(len(cell) > LONGEST_CELL for cell in meant.values()):
        raise InputProblem("file", f"line {line} holds a cell of over {LONGEST_CELL:,} characters.")
    return CsvRow(line, {name: meant.get(name, "") for name in head if name in known})
