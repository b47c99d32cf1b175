"""People of workshops, put aside with their workshop, and the releases they signed, which outlive both."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime
from typing import Any

import sqlalchemy as sa
from sqlalchemy.orm import Session

from models.store.rules.tables import workshops
from models.store.rules.workshops import shelf as workshop_shelf
from models.store.types import NestedTuple, UtcDateTime, metadata, name_key
from models.store.versions import Shelf
from models.workshop.people import emptied
from models.workshop.person import (
    PARTS,
    Person,
    PersonDraft,
    Release,
    ReleaseDraft,
    checked_person,
    checked_release,
)


def _text(name: str) -> sa.Column[Any]:
    return sa.Column(name, sa.Text, nullable=False)


people = sa.Table(
    "people",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True),
    sa.Column("version", sa.Integer, nullable=False),
    sa.Column("workshop_id", sa.Integer, sa.ForeignKey("workshops.id", ondelete="CASCADE"), nullable=False),
    *map(_text, ("part", "name", "contact", "emergency_contact", "access_needs", "experience", "camera_system")),
    _text("picture_consent"),
    sa.Column("stands_in", sa.Boolean, nullable=False),
    *map(_text, ("adult", "guardian", "guardian_consent", "guardian_present", "owed_fee", "owed_travel")),
    sa.Column("paid_on", sa.Date),
    sa.Column("owed_pictures", sa.Integer),
    _text("owed_from"),
    sa.Column("owed_by", sa.Date),
    _text("owed_route"),
    sa.Column("delivered_on", sa.Date),
    _text("notes"),
    sa.Column("erase_after", sa.Date),
    sa.Column("erased_on", sa.Date),
    sa.Column("deleted_at", UtcDateTime),
    sa.Index(None, "workshop_id"),
    sqlite_autoincrement=True,
)

releases = sa.Table(
    "releases",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True),
    sa.Column("version", sa.Integer, nullable=False),
    sa.Column("workshop_id", sa.Integer, sa.ForeignKey("workshops.id", ondelete="SET NULL")),
    sa.Column("person_id", sa.Integer, sa.ForeignKey("people.id", ondelete="SET NULL")),
    sa.Column("signed_on", sa.Date, nullable=False),
    *map(_text, ("by_whom", "for_whom")),
    sa.Column("uses", NestedTuple, nullable=False),
    _text("lies_at"),
    sa.Column("keep_until", sa.Date),
    sa.Column("deleted_at", UtcDateTime),
    sa.Index(None, "workshop_id"),
    sa.Index(None, "person_id"),
    sqlite_autoincrement=True,
)

shelf = Shelf[PersonDraft, Person](
    what="person",
    table=people,
    kept=Person,
    check=checked_person,
    links={"workshop_id": workshop_shelf},
    present=sa.exists().where(workshops.c.id == people.c.workshop_id, workshops.c.deleted_at.is_(None)),
)

release_shelf = Shelf[ReleaseDraft, Release](
    what="release",
    table=releases,
    kept=Release,
    check=checked_release,
    links={"workshop_id": workshop_shelf, "person_id": shelf},
)


def people_of(s: Session, workshop_id: int) -> tuple[Person, ...]:
    """Attendees, models, helpers, each by name."""
    found = shelf.list(s, people.c.workshop_id == workshop_id, order_by=(people.c.id,))
    return tuple(sorted(found, key=lambda each: (PARTS.index(each.part), name_key(each.name), each.id)))


def people_by_workshop(s: Session, workshop_ids: Iterable[int]) -> dict[int, list[Person]]:
    """The people of some workshops, by workshop; one without any is left out."""
    found: dict[int, list[Person]] = {}
    for each in shelf.list(s, people.c.workshop_id.in_(set(workshop_ids)), order_by=(people.c.id,)):
        found.setdefault(each.workshop_id, []).append(each)
    return found


def releases_by_person(s: Session, person_ids: Iterable[int]) -> dict[int, list[Release]]:
    """The releases that name some people, by person; one without any is left out."""
    found: dict[int, list[Release]] = {}
    where = releases.c.person_id.in_(set(person_ids))
    for each in release_shelf.list(s, where, order_by=(releases.c.signed_on, releases.c.id)):
        found.setdefault(each.person_id or 0, []).append(each)
    return found


def list_releases(s: Session) -> tuple[Release, ...]:
    """All that are kept, the latest signed first."""
    return release_shelf.list(s, order_by=(releases.c.signed_on.desc(), releases.c.id.desc()))


def put_aside(s: Session, workshop_id: int) -> int:
    """How many people of a workshop are deleted with a way back."""
    query = sa.select(sa.func.count()).select_from(people)
    of_it = query.where(people.c.workshop_id == workshop_id, people.c.deleted_at.is_not(None))
    return s.scalar(of_it.where(people.c.erased_on.is_(None))) or 0


def personal_rows(s: Session, *, workshop_id: int | None = None) -> tuple[Person, ...]:
    """All who are not erased yet, those put aside too, of one workshop or of all."""
    columns = [people.c[name] for name in Person.__dataclass_fields__]
    query = sa.select(*columns).where(people.c.erased_on.is_(None)).order_by(people.c.id)
    if workshop_id is not None:
        query = query.where(people.c.workshop_id == workshop_id)
    return tuple(Person(**row._mapping) for row in s.execute(query))


def erase_people(s: Session, numbers: Iterable[int], on: date) -> int:
    """Empty them of all that is personal, those put aside too, with no way back; how many."""
    query = sa.update(people).where(people.c.id.in_(set(numbers)), people.c.erased_on.is_(None))
    return len(s.execute(query.values(version=people.c.version + 1, **emptied(on)).returning(people.c.id)).all())


def lapsed_releases(s: Session, today: date) -> tuple[int, ...]:
    """Numbers of those whose last day is over, those put aside too."""
    return tuple(s.scalars(sa.select(releases.c.id).where(releases.c.keep_until < today)))


def erase_releases(s: Session, numbers: Iterable[int]) -> int:
    """Take them out with no way back; how many."""
    query = sa.delete(releases).where(releases.c.id.in_(set(numbers)))
    return len(s.execute(query.returning(releases.c.id)).all())


def purge(s: Session, now: datetime) -> int:
    """Throw away people and releases that were deleted over thirty days ago; how many."""
    return shelf.purge(s, now=now) + release_shelf.purge(s, now=now)
