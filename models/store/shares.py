"""Links to briefings: one row a workshop and kind of reader. The links themselves are worked out and kept nowhere."""

from __future__ import annotations

import sqlalchemy as sa
from sqlalchemy.orm import Session

from models.store.rules.tables import workshops
from models.store.rules.workshops import shelf as workshop_shelf
from models.store.types import UtcDateTime, metadata
from models.store.versions import Shelf
from models.workshop.briefing import READERS, Reader
from models.workshop.share import Share, ShareDraft, checked_share

shares = sa.Table(
    "shares",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True),
    sa.Column("version", sa.Integer, nullable=False),
    sa.Column("workshop_id", sa.Integer, sa.ForeignKey("workshops.id", ondelete="CASCADE"), nullable=False),
    sa.Column("reader", sa.Text, nullable=False),
    sa.Column("salt", sa.Text, nullable=False),
    sa.Column("generation", sa.Integer, nullable=False),
    sa.Column("expires_at", UtcDateTime),
    sa.Column("deleted_at", UtcDateTime),
    sa.UniqueConstraint("workshop_id", "reader"),
    sqlite_autoincrement=True,
)

shelf = Shelf[ShareDraft, Share](
    what="link",
    table=shares,
    kept=Share,
    check=checked_share,
    links={"workshop_id": workshop_shelf},
    present=sa.exists().where(workshops.c.id == shares.c.workshop_id, workshops.c.deleted_at.is_(None)),
)
"""Seen only as long as its workshop is."""


def shares_of(s: Session, workshop_id: int) -> dict[Reader, Share]:
    """By kind of reader, in their order; those without a link are left out."""
    found = {each.reader: each for each in shelf.list(s, shares.c.workshop_id == workshop_id, order_by=(shares.c.id,))}
    return {reader: found[reader] for reader in READERS if reader in found}
