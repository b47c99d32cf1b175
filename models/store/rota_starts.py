"""Who and what a workshop's rota began with, kept from the first happening of its day on.

The rota is worked out from these, so that a person or a station added to the workshop later never changes what has been
shot.
"""

from __future__ import annotations

from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from models.store.types import NestedTuple, metadata

rota_starts = sa.Table(
    "rota_starts",
    metadata,
    sa.Column("workshop_id", sa.Integer, sa.ForeignKey("workshops.id", ondelete="CASCADE"), primary_key=True),
    sa.Column("people", NestedTuple, nullable=False),
    sa.Column("posts", NestedTuple, nullable=False),
    sa.Column("group_size", sa.Integer, nullable=False),
    sa.Column("lent", sa.Integer, nullable=False, server_default="0"),
)


@dataclass(frozen=True, slots=True)
class RotaStart:
    """people: by number, below 0 for places without a name. posts: (station, holders, watchers) each. lent: hands."""

    people: tuple[int, ...]
    posts: tuple[tuple[int, int, int], ...]
    group_size: int
    lent: int = 0


def rota_start(s: Session, workshop_id: int) -> RotaStart | None:
    """None before anything happened."""
    columns = rota_starts.c
    query = sa.select(columns.people, columns.posts, columns.group_size, columns.lent)
    found = s.execute(query.where(columns.workshop_id == workshop_id)).one_or_none()
    return None if found is None else RotaStart(*found)


def keep_rota_start(s: Session, workshop_id: int, start: RotaStart) -> None:
    """Kept once; a second one is passed over."""
    if rota_start(s, workshop_id) is None:
        values = {name: getattr(start, name) for name in ("people", "posts", "group_size", "lent")}
        s.execute(sa.insert(rota_starts).values(workshop_id=workshop_id, **values))


def forget_rota_start(s: Session, workshop_id: int) -> None:
    """When all that happened is taken back, the workshop is as planned again."""
    s.execute(sa.delete(rota_starts).where(rota_starts.c.workshop_id == workshop_id))
