"""Enquiries, each with its history."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import fields, replace
from datetime import UTC, date, datetime, time
from typing import Any

import sqlalchemy as sa
from sqlalchemy.orm import Session

from models.problems import InputProblem
from models.rules.checking import checked_enquiry
from models.rules.enquiry import NEXT, Enquiry, EnquiryDraft, Step
from models.store import spots
from models.store.rules import areas, workshops
from models.store.rules.tables import enquiries, steps
from models.store.types import nested_tuple
from models.store.versions import Shelf

shelf = Shelf[EnquiryDraft, Enquiry](
    what="enquiry",
    table=enquiries,
    kept=Enquiry,
    check=checked_enquiry,
    links={"area_id": areas.shelf, "spot_id": spots.shelf, "workshop_id": workshops.shelf},
)
BY_DAY = (enquiries.c.first_day.nulls_last(), enquiries.c.id)
TAKEN_BACK = "{} was taken back"


def add_enquiry(s: Session, draft: EnquiryDraft, *, note: str = "", now: datetime | None = None) -> Enquiry:
    """Its state is the first step of its history."""
    enquiry = shelf.add(s, draft)
    _step(s, enquiry, note, now)
    return enquiry


def get_enquiry(s: Session, enquiry_id: int) -> Enquiry:
    return shelf.get(s, enquiry_id)


def list_enquiries(s: Session, state: str | None = None) -> tuple[Enquiry, ...]:
    """By the first day they ask for; those without one last."""
    where = [] if state is None else [enquiries.c.state == state]
    return shelf.list(s, *where, order_by=BY_DAY)


def enquiries_for(s: Session, area_ids: Iterable[int], *spot_ids: int | None) -> tuple[Enquiry, ...]:
    """Those about any of the areas, and about any of the spots; None is no spot."""
    about_spot = enquiries.c.spot_id.in_(set(spot_ids) - {None})
    return shelf.list(s, sa.or_(enquiries.c.area_id.in_(set(area_ids)), about_spot), order_by=BY_DAY)


def change_enquiry(
    s: Session, enquiry_id: int, version: int, draft: EnquiryDraft, *, now: datetime | None = None
) -> Enquiry:
    return move_enquiry(s, enquiry_id, version, draft, now=now)


def move_enquiry(
    s: Session, enquiry_id: int, version: int, draft: EnquiryDraft, *, note: str = "", now: datetime | None = None
) -> Enquiry:
    """A new state, or a note, becomes a step of its history. InputProblem where its state does not lead there."""
    before, _ = shelf.find(s, enquiry_id)
    enquiry = shelf.change(s, enquiry_id, version, draft)
    if enquiry.state not in (before.state, *NEXT[before.state]):
        raise InputProblem("state", f"from {before.state} it can go to {', '.join(NEXT[before.state])}")
    if enquiry.state != before.state:
        _step(s, enquiry, note, now, before)
    elif note:
        _step(s, enquiry, note, now)
    return enquiry


def may_go_back(s: Session, enquiry_id: int) -> bool:
    """Whether its last step was one to another state, which can be taken back."""
    return _last_step(s, enquiry_id) is not None


def take_back(s: Session, enquiry_id: int, version: int, *, now: datetime | None = None) -> Enquiry:
    """Its state and what the last step changed as they were before it; what was changed since stays.

    A step of the history itself, which cannot be taken back in turn. InputProblem where there is nothing to take back.
    """
    last = _last_step(s, enquiry_id)
    if last is None:
        raise InputProblem("state", "there is no step to take back.")
    taken, _ = shelf.find(s, enquiry_id)
    enquiry = shelf.change(s, enquiry_id, version, replace(taken, **_unpacked(last)))
    _step(s, enquiry, TAKEN_BACK.format(taken.state), now)
    return enquiry


def history_of(s: Session, enquiry_id: int) -> tuple[Step, ...]:
    """Oldest first."""
    query = sa.select(steps.c.at, steps.c.state, steps.c.note).where(steps.c.enquiry_id == enquiry_id)
    return tuple(Step(*row) for row in s.execute(query.order_by(steps.c.id)))


def delete_enquiry(s: Session, enquiry_id: int, version: int, *, now: datetime | None = None) -> Enquiry:
    return shelf.delete(s, enquiry_id, version, now=now)


def restore_enquiry(s: Session, enquiry_id: int) -> Enquiry:
    return shelf.restore(s, enquiry_id)


def _step(s: Session, enquiry: Enquiry, note: str, now: datetime | None, before: Enquiry | None = None) -> None:
    """before: the enquiry as it was, where this step can be taken back."""
    values = {"enquiry_id": enquiry.id, "at": now or datetime.now(UTC), "state": enquiry.state, "note": note}
    s.execute(sa.insert(steps).values(**values, before=_packed(before, enquiry) if before else None))


def _last_step(s: Session, enquiry_id: int) -> dict[str, Any] | None:
    """What the last step changed, as it was before; None where that cannot be taken back."""
    query = sa.select(steps.c.before).where(steps.c.enquiry_id == enquiry_id)
    before: dict[str, Any] | None = s.scalar(query.order_by(steps.c.id.desc()).limit(1))
    return before


def _packed(before: Enquiry, enquiry: Enquiry) -> dict[str, Any]:
    """The fields of `before` that are other ones in `enquiry`, as JSON holds them."""
    names = [each.name for each in fields(EnquiryDraft)]
    changed = {name: getattr(before, name) for name in names if getattr(before, name) != getattr(enquiry, name)}
    return {name: value.isoformat() if isinstance(value, date | time) else value for name, value in changed.items()}


def _unpacked(before: dict[str, Any]) -> dict[str, Any]:
    return {name: _read(enquiries.c[name].type, value) for name, value in before.items()}


def _read(column: sa.types.TypeEngine[Any], value: Any) -> Any:
    if value is not None and isinstance(column, sa.Date | sa.Time):
        return column.python_type.fromisoformat(value)
    return nested_tuple(value)
