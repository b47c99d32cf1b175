"""Workshops, in the order in which they start. One outlives the deletion of its spot, which then stays on record."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy.orm import Session

from models.rules.checking import checked_workshop
from models.rules.workshop import Workshop, WorkshopDraft
from models.store import spots
from models.store.rules.tables import workshops
from models.store.versions import Condition, Shelf

shelf = Shelf[WorkshopDraft, Workshop](
    what="workshop",
    table=workshops,
    kept=Workshop,
    check=checked_workshop,
    links={"spot_id": spots.shelf, "fallback_spot_id": spots.shelf},
)


def add_workshop(s: Session, draft: WorkshopDraft) -> Workshop:
    return shelf.add(s, draft)


def get_workshop(s: Session, workshop_id: int) -> Workshop:
    return shelf.get(s, workshop_id)


def list_workshops(
    s: Session, *, from_: datetime | None = None, limit: int | None = None, offset: int = 0
) -> tuple[Workshop, ...]:
    """Those that end at or after `from_`, in order of their start."""
    order = (workshops.c.starts, workshops.c.id)
    return shelf.list(s, *_ending(from_), order_by=order, limit=limit, offset=offset)


def count_workshops(
    s: Session, *, from_: datetime | None = None, called_off: bool | None = None, at_spot: int | None = None
) -> int:
    """called_off: those alone, or those alone that are not. at_spot: those at that spot alone."""
    which = [] if called_off is None else [workshops.c.called_off.is_(called_off)]
    where = [] if at_spot is None else [workshops.c.spot_id == at_spot]
    return shelf.count(s, *_ending(from_), *which, *where)


def change_workshop(s: Session, workshop_id: int, version: int, draft: WorkshopDraft) -> Workshop:
    return shelf.change(s, workshop_id, version, draft)


def delete_workshop(s: Session, workshop_id: int, version: int, *, now: datetime | None = None) -> Workshop:
    return shelf.delete(s, workshop_id, version, now=now)


def restore_workshop(s: Session, workshop_id: int) -> Workshop:
    return shelf.restore(s, workshop_id)


def _ending(from_: datetime | None) -> list[Condition]:
    return [] if from_ is None else [workshops.c.ends >= from_]
