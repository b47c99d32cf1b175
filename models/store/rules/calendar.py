"""What the calendar file held so far, so that a calendar which reads it again changes its entries and doubles none.

Each entry keeps a UID that nobody else has, and a sequence number that grows whenever it reads differently; one that is
no longer there is kept as settled for a while. What readers of briefings have in their calendars is numbered beside
it, one entry at a time and for good.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, fields, replace
from datetime import date, timedelta
from uuid import uuid4

import sqlalchemy as sa
from sqlalchemy.orm import Session

from models.store.rules.tables import calendar

KEEP_SETTLED = timedelta(days=60)
"""For calendars that read the file seldom: common practice, no source."""
OF_READERS = "briefing "
"""Begins what a reader's entry is about; the file of deadlines leaves these alone."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CalendarNote:
    """What stands in the calendar on a day. about: a key of what it is about, the same whatever it says."""

    about: str
    day: date
    title: str
    description: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Numbered(CalendarNote):
    """An entry with its numbers (RFC 5545, 3.8.4.7 and 3.8.7.4). settled_on: the day from which it is called off."""

    uid: str
    sequence: int
    settled_on: date | None


COLUMNS = tuple(each.name for each in fields(Numbered))


def number_entries(s: Session, notes: Sequence[CalendarNote], *, today: date) -> tuple[Numbered, ...]:
    """The notes with their numbers in the order given, then those that are settled since."""
    s.execute(sa.delete(calendar).where(calendar.c.settled_on < today - KEEP_SETTLED))
    known = _known(s, ~calendar.c.about.startswith(OF_READERS))
    noted = {note.about for note in notes}
    entries = (
        *(_numbered(note, known.get(note.about)) for note in notes),
        *(_settled(entry, today) for entry in known.values() if entry.about not in noted),
    )
    _keep(s, entries, known)
    return entries


def number_entry(s: Session, note: CalendarNote) -> Numbered:
    """One entry of a reader's calendar with its numbers; its `about` begins with OF_READERS."""
    if not note.about.startswith(OF_READERS):
        raise ValueError(f"no entry of a reader: {note.about!r}")
    known = _known(s, calendar.c.about == note.about)
    entry = _numbered(note, known.get(note.about))
    _keep(s, (entry,), known)
    return entry


def _known(s: Session, which: sa.ColumnElement[bool]) -> dict[str, Numbered]:
    query = sa.select(*(calendar.c[name] for name in COLUMNS)).where(which).order_by(calendar.c.id)
    return {row.about: Numbered(**row._mapping) for row in s.execute(query)}


def _numbered(note: CalendarNote, before: Numbered | None) -> Numbered:
    said = {each.name: getattr(note, each.name) for each in fields(CalendarNote)}
    if before is None:
        return Numbered(**said, uid=f"{uuid4()}@kerbstand", sequence=0, settled_on=None)
    now = replace(before, **said, settled_on=None)
    return now if now == before else replace(now, sequence=before.sequence + 1)


def _settled(entry: Numbered, today: date) -> Numbered:
    return entry if entry.settled_on else replace(entry, sequence=entry.sequence + 1, settled_on=today)


def _keep(s: Session, entries: Sequence[Numbered], known: Mapping[str, Numbered]) -> None:
    new = [asdict(entry) for entry in entries if entry.about not in known]
    if new:
        s.execute(sa.insert(calendar), new)
    for entry in entries:
        if entry.about in known and entry != known[entry.about]:
            s.execute(sa.update(calendar).where(calendar.c.about == entry.about).values(**asdict(entry)))
