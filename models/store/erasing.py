"""What was erased when, and the database file cleaned of old copies.

Emptying a row leaves what stood in it in unused parts of the file until something else is written there. So the file is
written anew without them (VACUUM), and the log of latest writes is cut to nothing. On PostgreSQL the tables are written
anew; its own logs and all backups are beyond this program.
"""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from datetime import datetime

import sqlalchemy as sa
from sqlalchemy.exc import DBAPIError
from sqlalchemy.orm import Session

from models.store.engine import BUSY_TIMEOUT_MS, Store
from models.store.named_texts import TABLES as NAMED
from models.store.types import UtcDateTime, metadata

TABLES = ("people", "releases", *NAMED)


@dataclass(frozen=True, slots=True)
class Erasure:
    """cleaned: the file holds no old copies of it any more."""

    at: datetime
    people: int
    releases: int
    cleaned: bool


erasures = sa.Table(
    "erasures",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True),
    sa.Column("at", UtcDateTime, nullable=False),
    sa.Column("people", sa.Integer, nullable=False),
    sa.Column("releases", sa.Integer, nullable=False),
    sa.Column("cleaned", sa.Boolean, nullable=False),
    sqlite_autoincrement=True,
)


def note_erasure(s: Session, at: datetime, people: int, releases: int) -> None:
    s.execute(sa.insert(erasures).values(at=at, people=people, releases=releases, cleaned=False))


def last_erasure(s: Session) -> Erasure | None:
    columns = erasures.c
    query = sa.select(columns.at, columns.people, columns.releases, columns.cleaned).order_by(columns.id.desc())
    row = s.execute(query.limit(1)).one_or_none()
    return None if row is None else Erasure(*row)


def is_unclean(s: Session) -> bool:
    """Whether something was erased whose old copies may still stand in the file."""
    return bool(s.scalar(sa.select(sa.func.count()).select_from(erasures).where(erasures.c.cleaned.is_(False))))


def clean(store: Store, patience_ms: int = BUSY_TIMEOUT_MS) -> bool:
    """Write the file anew without old copies; False where somebody else held it for so long that it was left."""
    with store.reading() as s:
        upto = s.scalar(sa.select(sa.func.max(erasures.c.id))) or 0
    try:
        done = _rewritten(store.engine, patience_ms)
    except (DBAPIError, sqlite3.OperationalError):
        return False
    if done and upto:
        with store.writing() as s:
            s.execute(sa.update(erasures).where(erasures.c.id <= upto).values(cleaned=True))
    return done


def _rewritten(engine: sa.Engine, patience_ms: int) -> bool:
    if engine.dialect.name != "sqlite":
        with engine.execution_options(isolation_level="AUTOCOMMIT").connect() as connection:
            for table in TABLES:
                connection.exec_driver_sql(f"VACUUM FULL {table}")
        return True
    held = engine.raw_connection()  # as it is: a session would begin, and nothing begun can be vacuumed
    try:
        cursor = held.cursor()
        for statement in (f"PRAGMA busy_timeout={patience_ms:d}", "PRAGMA query_only=OFF", "VACUUM"):
            cursor.execute(statement)
        cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        ((busy, *_),) = cursor.fetchall()
        return not busy
    finally:
        held.close()
