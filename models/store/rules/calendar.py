"""What the calendar file held so far, so that a calendar which reads it again changes its entries and doubles none.

Each entry keeps a UID that nobody else has, and a sequence number that grows whenever it reads differently; one that is
no longer there is kept as settled for a while.
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
    query = sa.select(*(calendar.c[name] for name in COLUMNS)).order_by(calendar.c.id)
    known = {row.about: Numbered(**row._mapping) for row in s.execute(query)}
    noted = {note.about for note in notes}
    entries = (
        *(_numbered(note, known.get(note.about)) for note in notes),
        *(_settled(entry, today) for entry in known.values() if entry.about not in noted),
    )
    _keep(s, entries, known)
    return entries


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
