"""Counts from a CSV file: what was understood and refused, line by line, before anything is kept; and the file."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy.orm import Session

from models.clock import TimeInGap, TimeIsAmbiguous, instant_words, resolve_local
from models.exchange.counts_csv import CountRow, read_counts, write_counts
from models.problems import InputProblem
from models.store import street as kept
from models.store.engine import Store
from models.store.spots import Spot, find_spot, get_spot
from models.store.street import CountDraft, checked_draft
from models.store.versions import Missing


@dataclass(frozen=True, slots=True)
class Understood:
    """A line as it would be kept. there: the same count is kept already, or stands in the file before, and is left."""

    line: int
    spot: str
    when: str
    figures: str
    whence: str
    there: bool


@dataclass(frozen=True, slots=True)
class CountsPreview:
    """refused: (which line and column, what is wrong); with any, nothing of the file comes in."""

    answer: str
    rows: tuple[Understood, ...]
    refused: tuple[tuple[str, str], ...]
    new: int


def preview_counts(store: Store, spot_id: int, data: bytes, now: datetime) -> CountsPreview:
    """Keeps nothing. A line that names no spot is of this one. Raises Missing."""
    with store.reading() as s:
        rows, _, refused = _read(s, spot_id, data, now)
    new = sum(not row.there for row in rows)
    return CountsPreview(_answer(rows, refused, new), tuple(rows), tuple(refused), new)


def import_counts(store: Store, spot_id: int, data: bytes, now: datetime) -> str:
    """Keep the counts of a file, all or none; in words what came in. Raises InputProblem where any line is refused."""
    with store.writing() as s:
        rows, drafts, refused = _read(s, spot_id, data, now)
        if refused:
            raise InputProblem("file", f"{len(refused)} lines cannot be read")
        new = [draft for row, draft in zip(rows, drafts, strict=True) if not row.there]
        kept.shelf.add_all(s, new)
    stay = f"; {_count(len(rows) - len(new))} there already" if len(new) < len(rows) else ""
    return f"{_count(len(new))} brought in{stay}."


def fill_counts(s: Session, data: bytes) -> None:
    """A file that names every spot, into a database of its own. InputProblem names the line."""
    _, drafts, refused = _read(s, None, data, None)
    if refused:
        raise InputProblem(*refused[0])
    kept.shelf.add_all(s, drafts)


def counts_file(store: Store, spot_id: int) -> str:
    """The counts at a spot as CSV, the earliest first. Raises Missing."""
    with store.reading() as s:
        spot = get_spot(s, spot_id)
        counts = kept.counts_at(s, spot_id)
    return write_counts((spot.name, count.local(spot.zone)) for count in reversed(counts))


def _read(
    s: Session, spot_id: int | None, data: bytes, now: datetime | None
) -> tuple[list[Understood], list[CountDraft], list[tuple[str, str]]]:
    usual = None if spot_id is None else get_spot(s, spot_id)
    try:
        file = read_counts(data)
    except InputProblem as problem:
        return [], [], [(problem.field, problem.message)]
    known: dict[str, Spot] = {}
    there: dict[int, set[tuple[object, ...]]] = {}
    rows, drafts, refused = [], [], list(file.refused)
    for row in file.rows:
        try:
            spot = _spot(s, row.spot, usual, known)
            draft = _draft(row, spot, now)
        except InputProblem as problem:
            refused.append((f"line {row.line}, {problem.field}", problem.message))
            continue
        marks = there.setdefault(spot.id, {_mark(count) for count in kept.counts_at(s, spot.id)})
        rows.append(_understood(row.line, draft, spot, there=_mark(draft) in marks))
        marks.add(_mark(draft))
        drafts.append(draft)
    return rows, drafts, refused


def _spot(s: Session, name: str, usual: Spot | None, known: dict[str, Spot]) -> Spot:
    if not name and usual is not None:
        return usual
    if name not in known:
        try:
            known[name] = find_spot(s, name)
        except Missing:
            raise InputProblem("spot", f"there is no spot “{name}”") from None
        except InputProblem as several:
            raise InputProblem("spot", several.message) from None
    return known[name]


def _draft(row: CountRow, spot: Spot, now: datetime | None) -> CountDraft:
    count = row.count
    starts = count.starts if count.starts.tzinfo else _instant(count.starts, spot.zone)
    if now is not None and starts > now:
        raise InputProblem("starts", "that hour lies ahead: nobody can have counted in it yet")
    return checked_draft(
        CountDraft(
            spot_id=spot.id,
            starts=starts,
            minutes=count.minutes,
            number=count.number,
            of=count.of,
            whence=count.whence,
            note=count.note,
        )
    )


def _instant(local: datetime, zone: str) -> datetime:
    try:
        return resolve_local(local.date(), local.time(), zone)
    except TimeInGap:
        raise InputProblem("starts", "the clocks go forward over that time: it does not exist") from None
    except TimeIsAmbiguous:
        raise InputProblem(
            "starts", "the clocks go back and show that time twice: give its offset, like +02:00"
        ) from None
    except (ValueError, OverflowError):
        raise InputProblem("starts", "that day is out of reach") from None


def _mark(count: CountDraft) -> tuple[object, ...]:
    return count.starts, count.minutes, count.number, count.of


def _understood(line: int, draft: CountDraft, spot: Spot, *, there: bool) -> Understood:
    when = instant_words(draft.starts, spot.zone)
    figures = f"{draft.number:,} {draft.of} in {draft.minutes:g} min"
    return Understood(line, spot.name, when, figures, draft.whence or "not said", there)


def _answer(rows: list[Understood], refused: list[tuple[str, str]], new: int) -> str:
    if refused:
        things = "1 thing is" if len(refused) == 1 else f"{len(refused)} things are"
        return f"Nothing can come in until {things} put right in the file."
    if not rows:
        return "The file holds no counts."
    if not new:
        return "All counts of the file are there already."
    stay = f"; {_count(len(rows) - new)} there already" if new < len(rows) else ""
    return f"{_count(new)} can come in{stay}. Nothing is kept yet."


def _count(number: int) -> str:
    return "1 count" if number == 1 else f"{number:,} counts"
