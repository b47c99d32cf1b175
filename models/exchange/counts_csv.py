"""Counts as a CSV file, read and written: spot, starts, minutes, number, of, whence, note; one count a line.

starts is a local day and time ("2026-10-17 11:00"), or an instant with its offset. Only starts, minutes and number must
be there. Commas or semicolons part the columns, whichever the first line has.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from models.exchange.delimited import as_meant, decoded, harmless, named, parting_mark, rows_of
from models.exchange.features import short
from models.problems import InputProblem
from models.street.footfall import Count, checked_count

COLUMNS = ("spot", "starts", "minutes", "number", "of", "whence", "note")
NEEDED = ("starts", "minutes", "number")
MOST_ROWS = 5000


@dataclass(frozen=True, slots=True)
class CountRow:
    """line: in the file. spot: as it is named there, empty where it is not. count.starts: with an offset or naive."""

    line: int
    spot: str
    count: Count


@dataclass(frozen=True, slots=True)
class CountFile:
    """What a file holds. refused: (which line, what is wrong with it)."""

    rows: tuple[CountRow, ...]
    refused: tuple[tuple[str, str], ...]


def read_counts(data: bytes) -> CountFile:
    """Every line that can be read, and every one that cannot. Raises InputProblem('file') for no such file at all."""
    text = decoded(data)
    (_, head), *lines = rows_of("file", text, parting_mark(text)) or [(1, [])]
    names = [name.strip().lower() for name in head]
    if missing := [name for name in NEEDED if name not in names]:
        raise InputProblem("file", f"its first line must name the columns {', '.join(missing)}")
    if unknown := [name for name in names if name not in COLUMNS]:
        raise InputProblem("file", f"does not know the column {short(unknown[0])}; it knows {', '.join(COLUMNS)}")
    if len(lines) > MOST_ROWS:
        raise InputProblem("file", f"holds more than {MOST_ROWS:,} counts")
    rows: list[CountRow] = []
    refused: list[tuple[str, str]] = []
    for line, cells in lines:
        try:
            rows.append(_row(line, named("cells", line, names, cells)))
        except InputProblem as problem:
            refused.append((f"line {line}, {problem.field}", problem.message))
    return CountFile(tuple(rows), tuple(refused))


def write_counts(counts: Iterable[tuple[str, Count]]) -> str:
    """The file of counts with the names of their spots; local times keep their offset, so that none is doubtful."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for spot, count in counts:
        starts = count.starts.isoformat(sep=" ", timespec="minutes")
        texts = [harmless(text) for text in (spot, count.whence, count.note)]
        writer.writerow([texts[0], starts, f"{count.minutes:g}", count.number, count.of, *texts[1:]])
    return out.getvalue()


def _row(line: int, cells: Mapping[str, str]) -> CountRow:
    def cell(name: str) -> str:
        return as_meant(cells.get(name, "").strip())

    count = Count(
        starts=_starts(cell("starts")),
        minutes=_number("minutes", cell("minutes")),
        number=_whole(cell("number")),
        of=cell("of").lower() or "people",  # type: ignore[arg-type]
        whence=cell("whence"),
        note=cell("note"),
    )
    return CountRow(line, cell("spot"), checked_count(count))


def _starts(text: str) -> datetime:
    try:
        return datetime.fromisoformat(text)
    except ValueError:
        raise InputProblem("starts", f"{short(text)} is no day and time like 2026-10-17 11:00") from None


def _number(field: str, text: str) -> float:
    try:
        return float(text.replace(",", "."))
    except ValueError:
        raise InputProblem(field, f"{short(text)} is not a number") from None


def _whole(text: str) -> int:
    if not (text.isascii() and text.isdecimal()) or len(text) > 9:
        raise InputProblem("number", f"{short(text)} is not a whole number")
    return int(text)
