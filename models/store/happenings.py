"""What happened on the day of a workshop, in the order of its instants. Whom it is about goes by number alone."""

from __future__ import annotations

import sqlalchemy as sa
from sqlalchemy.orm import Session

from models.store.rules.workshops import shelf as workshops
from models.store.types import UtcDateTime, metadata
from models.store.versions import Shelf
from models.workshop.happening import Happening, HappeningDraft, checked_happening

happenings = sa.Table(
    "happenings",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True),
    sa.Column("version", sa.Integer, nullable=False),
    sa.Column("workshop_id", sa.Integer, sa.ForeignKey("workshops.id", ondelete="CASCADE"), nullable=False),
    sa.Column("kind", sa.Text, nullable=False),
    sa.Column("at", UtcDateTime, nullable=False),
    sa.Column("about", sa.Integer),
    sa.Column("round", sa.Integer, nullable=False),
    sa.Column("turn", sa.Integer, nullable=False),
    sa.Column("note", sa.Text, nullable=False),
    sa.Column("deleted_at", UtcDateTime),
    sa.Index(None, "workshop_id", "at", "id"),
    sqlite_autoincrement=True,
)

shelf = Shelf[HappeningDraft, Happening](
    what="happening", table=happenings, kept=Happening, check=checked_happening, links={"workshop_id": workshops}
)


def happenings_of(s: Session, workshop_id: int) -> tuple[Happening, ...]:
    """In the order of their instants."""
    order = (happenings.c.at, happenings.c.id)
    return shelf.list(s, happenings.c.workshop_id == workshop_id, order_by=order)
