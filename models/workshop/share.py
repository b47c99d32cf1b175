"""A link to a workshop's briefing, one for each kind of reader. Its address is worked out and stands nowhere."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from models.clock import require_aware
from models.problems import InputProblem
from models.workshop.briefing import READERS, Reader

KEPT_FOR = timedelta(days=14)
"""A link ends so long after its workshop unless another day is set: our house rule, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShareDraft:
    """generation: counts the links made; only the latest works. salt: random, so that the same numbers in another
    database make another link. expires_at: UTC, None for KEPT_FOR after the workshop ends, whenever that is."""

    workshop_id: int
    reader: Reader
    salt: str
    generation: int = 1
    expires_at: datetime | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Share(ShareDraft):
    """As kept; hand `version` back with a change."""

    id: int
    version: int


def checked_share(draft: ShareDraft) -> ShareDraft:
    """The draft. Raises InputProblem naming the field."""
    if draft.reader not in READERS:
        raise InputProblem("reader", "is none of those who get a briefing")
    if draft.generation < 1:
        raise InputProblem("generation", "begins at 1")
    if len(draft.salt) < 32:
        raise InputProblem("salt", "is too short to be chance")
    if draft.expires_at is not None:
        require_aware(draft.expires_at)
    return draft


def ends_at(share: ShareDraft, workshop_ends: datetime) -> datetime:
    """The first instant at which the link answers no more, UTC."""
    return share.expires_at or workshop_ends + KEPT_FOR
