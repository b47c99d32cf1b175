"""Briefings: the texts of them as changed, for every workshop or for one, and the versions that were issued.

What was issued is never changed. Texts and versions stay with their workshop, and are put aside when it is.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

import sqlalchemy as sa
from sqlalchemy.orm import Session

from models.problems import InputProblem
from models.store.rules.workshops import shelf as workshops
from models.store.types import NestedTuple, UtcDateTime, metadata
from models.store.versions import Clash, Missing, Shelf
from models.street.spot import trimmed
from models.words.briefing import LINES, LISTS, TEXT_KEYS
from models.workshop.briefing import Facts
from models.workshop.briefing_json import facts_from_plain, facts_to_plain

LONGEST_PARAGRAPH, LONGEST_LINE, LONGEST_ITEM, MOST_ITEMS = 1000, 200, 200, 20


@dataclass(frozen=True, slots=True, kw_only=True)
class TextsDraft:
    """workshop_id: None for those of every workshop. texts: (key, words) of those changed; '' is not said at all."""

    workshop_id: int | None
    texts: tuple[tuple[str, str], ...] = ()

    @property
    def by_key(self) -> dict[str, str]:
        return dict(self.texts)


@dataclass(frozen=True, slots=True, kw_only=True)
class Texts(TextsDraft):
    """As kept; hand `version` back with a change."""

    id: int
    version: int


@dataclass(frozen=True, slots=True)
class Issued:
    """A version of a briefing: its number, from 1, when it was issued, and what was known then."""

    number: int
    at: datetime
    facts: Facts


texts = sa.Table(
    "briefing_texts",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True),
    sa.Column("version", sa.Integer, nullable=False),
    sa.Column("workshop_id", sa.Integer, sa.ForeignKey("workshops.id", ondelete="CASCADE")),
    sa.Column("texts", NestedTuple, nullable=False),
    sa.Column("deleted_at", UtcDateTime),
    sa.UniqueConstraint("workshop_id"),
    sqlite_autoincrement=True,
)
versions = sa.Table(
    "briefing_versions",
    metadata,
    sa.Column("workshop_id", sa.Integer, sa.ForeignKey("workshops.id", ondelete="CASCADE"), primary_key=True),
    sa.Column("number", sa.Integer, primary_key=True, autoincrement=False),
    sa.Column("at", UtcDateTime, nullable=False),
    sa.Column("facts", sa.JSON, nullable=False),
)


def checked_texts(draft: TextsDraft) -> TextsDraft:
    """The draft with its texts trimmed and in order. Raises InputProblem naming the key."""
    unknown = [key for key, _ in draft.texts if key not in TEXT_KEYS]
    if unknown:
        raise InputProblem("texts", f"there is no text {unknown[0]!r} in a briefing")
    given = dict(draft.texts)
    return replace(draft, texts=tuple((key, _checked(key, given[key])) for key in TEXT_KEYS if key in given))


shelf = Shelf[TextsDraft, Texts](
    what="text of the briefing", table=texts, kept=Texts, check=checked_texts, links={"workshop_id": workshops}
)


def texts_of(s: Session, workshop_id: int | None) -> Texts | TextsDraft:
    """What was changed for a workshop, or for all of them; without a version where nothing is kept."""
    own = texts.c.workshop_id.is_(None) if workshop_id is None else texts.c.workshop_id == workshop_id
    found = shelf.list(s, own, order_by=(texts.c.id,), limit=1)
    return found[0] if found else TextsDraft(workshop_id=workshop_id)


def keep_texts(s: Session, version: int, draft: TextsDraft) -> Texts:
    """version: 0 where none was kept yet. Raises Clash where somebody kept another meanwhile, Missing, InputProblem."""
    current = texts_of(s, draft.workshop_id)
    if not isinstance(current, Texts):
        if version:
            raise Missing(draft.workshop_id or "of every workshop", "text of the briefing")
        return shelf.add(s, draft)
    if not version:
        raise Clash(current, "text of the briefing")
    return shelf.change(s, current.id, version, draft)


def issued_of(s: Session, workshop_id: int) -> tuple[Issued, ...]:
    """All versions, latest first."""
    query = sa.select(versions).where(versions.c.workshop_id == workshop_id).order_by(versions.c.number.desc())
    return tuple(_issued(row._mapping) for row in s.execute(query))


def latest_two(s: Session, workshop_id: int) -> tuple[Issued, ...]:
    """The latest version and the one before it, as far as there are any."""
    query = sa.select(versions).where(versions.c.workshop_id == workshop_id).order_by(versions.c.number.desc())
    return tuple(_issued(row._mapping) for row in s.execute(query.limit(2)))


def recent_of(s: Session, workshop_id: int, since: datetime, least: int) -> tuple[Issued, ...]:
    """All versions that were the latest at some time since then, and the last few in any case, latest first."""
    own = versions.c.workshop_id == workshop_id
    newer = s.execute(sa.select(sa.func.count()).where(own, versions.c.at > since)).scalar_one()
    query = sa.select(versions).where(own).order_by(versions.c.number.desc()).limit(max(newer + 1, least))
    return tuple(_issued(row._mapping) for row in s.execute(query))


def keep_issued(s: Session, facts: Facts, at: datetime) -> Issued:
    """As the next version of its workshop."""
    last = latest_two(s, facts.workshop_id)
    number = last[0].number + 1 if last else 1
    plain = facts_to_plain(facts)
    s.execute(sa.insert(versions).values(workshop_id=facts.workshop_id, number=number, at=at, facts=plain))
    return Issued(number, at, facts_from_plain(plain))


def _issued(row: Mapping[Any, Any]) -> Issued:
    return Issued(row["number"], row["at"], facts_from_plain(row["facts"]))


def _checked(key: str, words: str) -> str:
    if key in LINES:
        return " ".join(trimmed(key, words, LONGEST_LINE).split())
    if key not in LISTS:
        return trimmed(key, words, LONGEST_PARAGRAPH)
    items = [" ".join(line.split()) for line in trimmed(key, words).splitlines() if line.strip()]
    if len(items) > MOST_ITEMS:
        raise InputProblem(key, f"{len(items)} lines; at most {MOST_ITEMS}")
    long = next((item for item in items if len(item) > LONGEST_ITEM), None)
    if long is not None:
        raise InputProblem(key, f"one line has {len(long)} characters; at most {LONGEST_ITEM}")
    return "\n".join(items)
