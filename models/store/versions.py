"""Things that are drafted, kept with a version, changed by whoever saw the last one, put aside and brought back.

A Shelf does it for one table whose columns are named like the fields of its dataclass, with `deleted_at` beside them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, fields
from datetime import UTC, datetime, timedelta
from typing import Any, Generic, TypeVar

import sqlalchemy as sa
from sqlalchemy.orm import Session

from models.problems import InputProblem

Draft = TypeVar("Draft", bound=Any)
Kept = TypeVar("Kept", bound=Any)
Condition = sa.ColumnElement[bool]
KEEP_DELETED = timedelta(days=30)
MOST_NUMBER = 2**31 - 1
"""The largest whole number that every database keeps; an address may ask for a larger one."""
OWN_FIELDS = ("id", "version", "deleted_at")


class Clash(Exception):
    """Somebody changed or deleted the thing in between; `current` is what is kept now."""

    def __init__(self, current: Any, what: str = "spot", *, deleted: bool = False) -> None:
        super().__init__(f"{what} {current.id} is at version {current.version} by now")
        self.current, self.what, self.deleted = current, what, deleted


class Missing(LookupError):
    """No such thing, or it was deleted."""

    def __init__(self, wanted: int | str, what: str = "spot") -> None:
        super().__init__(f"there is no {what} {wanted!r}")
        self.wanted, self.what = wanted, what


def drafted(kind: type[Draft], kept: Any) -> Draft:
    """The draft that stands in a kept thing, to be kept again, or kept anew, with changes."""
    draft: Draft = kind(**{each.name: getattr(kept, each.name) for each in fields(kind)})
    return draft


@dataclass(frozen=True, kw_only=True)
class Shelf(Generic[Draft, Kept]):
    """what: its name in messages. check: the draft in order, or InputProblem. worked_out: columns that follow from it.

    links: by field, the shelf it points to by number. present: more that must hold for it to be seen than that it was
    not deleted. spared: what is never thrown away.
    """

    what: str
    table: sa.Table
    kept: type[Kept]
    check: Callable[[Draft], Draft]
    worked_out: Callable[[Draft], dict[str, Any]] = lambda draft: {}
    links: Mapping[str, Shelf[Any, Any]] = field(default_factory=dict)
    present: Condition = field(default_factory=sa.true)
    spared: Condition = field(default_factory=sa.false)

    @property
    def seen(self) -> Condition:
        return sa.and_(self.table.c.deleted_at.is_(None), self.present)

    def list(
        self, s: Session, *where: Condition, order_by: Sequence[Any], limit: int | None = None, offset: int = 0
    ) -> tuple[Kept, ...]:
        query = sa.select(*self._columns).where(self.seen, *where).order_by(*order_by)
        return tuple(self._thing(row._mapping) for row in s.execute(query.limit(limit).offset(offset)))

    def count(self, s: Session, *where: Condition) -> int:
        return s.scalar(sa.select(sa.func.count()).select_from(self.table).where(self.seen, *where)) or 0

    def get(self, s: Session, number: int, **owner: int) -> Kept:
        """owner: as of `find`. Raises Missing, also for what is not to be seen."""
        thing, seen = self.find(s, number, **owner)
        if not seen:
            raise Missing(number, self.what)
        return thing

    def these(self, s: Session, numbers: Iterable[int]) -> dict[int, Kept]:
        """By number, those put aside too; numbers of nothing are left out."""
        query = sa.select(*self._columns).where(self.table.c.id.in_(set(numbers)))
        return {row.id: self._thing(row._mapping) for row in s.execute(query)}

    def find(self, s: Session, number: int, **owner: int) -> tuple[Kept, bool]:
        """Deleted or not, and whether it is to be seen. owner: whose it is, such as workshop_id=3. Raises Missing."""
        query = sa.select(*self._columns, self.seen.label("seen")).where(self.table.c.id == number)
        row = s.execute(query).one_or_none() if number <= MOST_NUMBER else None
        if row is None or any(row._mapping[name] != of for name, of in owner.items()):
            raise Missing(number, self.what)
        return self._thing(row._mapping), bool(row._mapping["seen"])

    def add(self, s: Session, draft: Draft) -> Kept:
        query = sa.insert(self.table).values(version=1, **self._values(s, draft)).returning(self.table.c.id)
        return self.get(s, s.execute(query).scalar_one())

    def add_all(self, s: Session, drafts: Sequence[Draft]) -> None:
        """Many at once, all or none; InputProblem names the thing by its place in the row, from 1."""
        rows = []
        for number, draft in enumerate(drafts, start=1):
            try:
                rows.append({"version": 1, **self._values(s, draft)})
            except InputProblem as problem:
                raise InputProblem(f"{self.what} {number}: {problem.field}", problem.message) from problem
        if rows:
            s.execute(sa.insert(self.table), rows)

    def change(self, s: Session, number: int, version: int, draft: Draft) -> Kept:
        """Raises Clash if it is no longer at this version (it may be deleted by now), Missing if there is none."""
        before, _ = self.find(s, number)
        return self._update(s, number, version, self._values(s, draft, before))

    def delete(self, s: Session, number: int, version: int, *, now: datetime | None = None) -> Kept:
        """Put aside; `restore` brings it back until a deletion over 30 days later throws it away."""
        at = now or datetime.now(UTC)
        thing = self._update(s, number, version, {"deleted_at": at})
        self.purge(s, now=at)
        return thing

    def restore(self, s: Session, number: int) -> Kept:
        """Undo a deletion; what is not deleted stays as it is."""
        columns = self.table.c
        query = sa.update(self.table).where(columns.id == min(number, MOST_NUMBER), columns.deleted_at.is_not(None))
        s.execute(query.values(deleted_at=None, version=columns.version + 1))
        return self.find(s, number)[0]

    def purge(self, s: Session, *, now: datetime) -> int:
        """Throw away what was deleted over thirty days ago; how many."""
        query = sa.delete(self.table).where(self.table.c.deleted_at < now - KEEP_DELETED, sa.not_(self.spared))
        return len(s.execute(query.returning(self.table.c.id)).all())

    @property
    def _columns(self) -> Sequence[sa.Column[Any]]:
        return [self.table.c[each.name] for each in fields(self.kept)]

    def _thing(self, row: Mapping[Any, Any]) -> Kept:
        thing: Kept = self.kept(**{each.name: row[each.name] for each in fields(self.kept)})
        return thing

    def _update(self, s: Session, number: int, version: int, values: dict[str, Any]) -> Kept:
        columns = self.table.c
        query = sa.update(self.table).where(columns.id == number, columns.version == version, self.seen)
        fits = number <= MOST_NUMBER and version < MOST_NUMBER
        changed = fits and s.execute(query.values(version=version + 1, **values).returning(columns.id)).one_or_none()
        current, seen = self.find(s, number)
        if not changed and current.version == version:
            raise Missing(number, self.what)
        if not changed:
            raise Clash(current, self.what, deleted=not seen)
        return current

    def _values(self, s: Session, draft: Draft, before: Kept | None = None) -> dict[str, Any]:
        good = self.check(draft)
        for name, shelf in self.links.items():
            number = getattr(good, name)
            if number is not None and (before is None or getattr(before, name) != number):
                shelf._must_be_seen(s, name, number)
        names = [each.name for each in fields(self.kept) if each.name not in OWN_FIELDS]
        return {name: getattr(good, name) for name in names} | self.worked_out(good)

    def _must_be_seen(self, s: Session, name: str, number: int) -> None:
        try:
            self.get(s, number)
        except Missing:
            raise InputProblem(name, f"there is no {self.what} {number}") from None
