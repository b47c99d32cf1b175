"""Files that came with an enquiry, kept in the database: see `models.exchange.papers_file` for what may come in."""

from __future__ import annotations

from dataclasses import dataclass, fields
from datetime import UTC, datetime

import sqlalchemy as sa
from sqlalchemy.orm import Session

from models.store.rules import enquiries
from models.store.rules.tables import files
from models.store.versions import MOST_NUMBER, Missing


@dataclass(frozen=True, slots=True, kw_only=True)
class FileNote:
    """A file as it is listed. kind: its media type."""

    id: int
    enquiry_id: int
    added_at: datetime
    name: str
    kind: str
    size_bytes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredFile(FileNote):
    """A file with what is in it."""

    data: bytes


NOTED = [files.c[each.name] for each in fields(FileNote)]


def store_file(
    s: Session, enquiry_id: int, name: str, kind: str, data: bytes, *, now: datetime | None = None
) -> FileNote:
    """Raises Missing where there is no such enquiry."""
    enquiries.get_enquiry(s, enquiry_id)
    values = {"enquiry_id": enquiry_id, "added_at": now or datetime.now(UTC), "name": name, "kind": kind}
    query = sa.insert(files).values(**values, size_bytes=len(data), data=data).returning(*NOTED)
    return FileNote(**s.execute(query).one()._mapping)


def files_of(s: Session, enquiry_id: int) -> tuple[FileNote, ...]:
    """In the order they came."""
    query = sa.select(*NOTED).where(files.c.enquiry_id == enquiry_id).order_by(files.c.id)
    return tuple(FileNote(**row._mapping) for row in s.execute(query))


def file_of(s: Session, file_id: int) -> StoredFile:
    """Raises Missing; a file goes and comes back with its enquiry."""
    row = s.execute(sa.select(files).where(files.c.id == file_id)).one_or_none() if file_id <= MOST_NUMBER else None
    if row is None:
        raise Missing(file_id, "file")
    enquiries.get_enquiry(s, row.enquiry_id)
    return StoredFile(**row._mapping)


def delete_file(s: Session, file_id: int) -> None:
    """For good; raises Missing."""
    file = file_of(s, file_id)
    s.execute(sa.delete(files).where(files.c.id == file.id))
