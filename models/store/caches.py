"""Answers that took work, kept under a key that names all they rest on. May be thrown away at any time."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime

import sqlalchemy as sa
from sqlalchemy.orm import Session

from models.store.types import UtcDateTime, metadata

MOST_BYTES = 200_000_000
KEYS_AT_ONCE = 500

caches = sa.Table(
    "caches",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True),
    sa.Column("key", sa.Text, nullable=False, unique=True),
    sa.Column("created_at", UtcDateTime, nullable=False),
    sa.Column("size_bytes", sa.Integer, nullable=False),
    sa.Column("value", sa.LargeBinary, nullable=False),
    sa.Index(None, "created_at", "id", "size_bytes"),
)


def get_cache(s: Session, key: str) -> bytes | None:
    return s.scalar(sa.select(caches.c.value).where(caches.c.key == key))


def get_caches(s: Session, keys: Sequence[str]) -> dict[str, bytes]:
    """What is kept under these keys, by key."""
    found: dict[str, bytes] = {}
    for start in range(0, len(keys), KEYS_AT_ONCE):
        some = keys[start : start + KEYS_AT_ONCE]
        rows = s.execute(sa.select(caches.c.key, caches.c.value).where(caches.c.key.in_(some)))
        found.update((key, value) for key, value in rows)
    return found


def put_cache(s: Session, key: str, value: bytes, *, now: datetime | None = None, most_bytes: int = MOST_BYTES) -> None:
    """Keep the value, then drop the oldest until all fit; a value that would not fit alone is not kept."""
    put_caches(s, {key: value}, now=now, most_bytes=most_bytes)


def put_caches(
    s: Session, values: Mapping[str, bytes], *, now: datetime | None = None, most_bytes: int = MOST_BYTES
) -> None:
    """Keep many values as `put_cache` keeps one."""
    created_at = now or datetime.now(UTC)
    for key, value in values.items():
        s.execute(sa.delete(caches).where(caches.c.key == key))
        if len(value) <= most_bytes:
            s.execute(sa.insert(caches).values(key=key, created_at=created_at, size_bytes=len(value), value=value))
    _make_room(s, most_bytes)


def drop_caches(s: Session) -> None:
    s.execute(sa.delete(caches))


def _make_room(s: Session, most_bytes: int) -> None:
    newest_first = (caches.c.created_at.desc(), caches.c.id.desc())
    running = sa.func.sum(caches.c.size_bytes).over(order_by=newest_first)
    totals = sa.select(caches.c.id, running.label("total")).subquery()
    s.execute(sa.delete(caches).where(caches.c.id.in_(sa.select(totals.c.id).where(totals.c.total > most_bytes))))
