"""What is known of the street at a spot: counts of who comes by. They go when their spot goes for good."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime

import sqlalchemy as sa
from sqlalchemy.orm import Session

from models.clock import require_aware, to_local
from models.problems import InputProblem
from models.store import spots
from models.store.types import UtcDateTime, metadata
from models.store.versions import Shelf
from models.street.footfall import Count, Counted, checked_count


@dataclass(frozen=True, slots=True, kw_only=True)
class CountDraft:
    """One count at a spot. starts: an instant; the rest as in models.street.footfall.Count."""

    spot_id: int
    starts: datetime
    minutes: float
    number: int
    of: Counted = "people"
    whence: str = ""
    note: str = ""

    def local(self, zone: str) -> Count:
        """The count by the clocks of the place."""
        return Count(
            starts=to_local(self.starts, zone),
            minutes=self.minutes,
            number=self.number,
            of=self.of,
            whence=self.whence,
            note=self.note,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptCount(CountDraft):
    """A count as kept."""

    id: int
    version: int


counts = sa.Table(
    "counts",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True),
    sa.Column("version", sa.Integer, nullable=False),
    sa.Column("spot_id", sa.Integer, sa.ForeignKey("spots.id", ondelete="CASCADE"), nullable=False),
    sa.Column("starts", UtcDateTime, nullable=False),
    sa.Column("minutes", sa.Float, nullable=False),
    sa.Column("number", sa.Integer, nullable=False),
    sa.Column("of", sa.Text, nullable=False),
    sa.Column("whence", sa.Text, nullable=False),
    sa.Column("note", sa.Text, nullable=False),
    sa.Column("deleted_at", UtcDateTime),
    sa.Index(None, "spot_id", "starts"),
    sqlite_autoincrement=True,
)


def checked_draft(draft: CountDraft) -> CountDraft:
    """The draft in UTC with its texts trimmed, or InputProblem naming the field."""
    try:
        starts = require_aware(draft.starts)
    except ValueError as problem:
        raise InputProblem("starts", str(problem)) from problem
    good = checked_count(draft.local("UTC"))
    return replace(draft, starts=starts, whence=good.whence, note=good.note)


shelf = Shelf[CountDraft, KeptCount](
    what="count", table=counts, kept=KeptCount, check=checked_draft, links={"spot_id": spots.shelf}
)


def counts_at(s: Session, spot_id: int) -> tuple[KeptCount, ...]:
    """The counts at one spot, the latest first."""
    return shelf.list(s, counts.c.spot_id == spot_id, order_by=(counts.c.starts.desc(), counts.c.id.desc()))


def counts_by_spot(s: Session, spot_ids: Iterable[int]) -> dict[int, list[KeptCount]]:
    """The counts at some spots, by spot; a spot without any is left out."""
    found: dict[int, list[KeptCount]] = {}
    for kept in shelf.list(s, counts.c.spot_id.in_(set(spot_ids)), order_by=(counts.c.spot_id, counts.c.id)):
        found.setdefault(kept.spot_id, []).append(kept)
    return found
