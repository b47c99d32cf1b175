"""People of a workshop and their releases: read, kept, changed, put aside, brought back."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from sqlalchemy.orm import Session

from models.problems import InputProblems
from models.store import people as kept
from models.store import rules
from models.store.engine import Store
from models.workshop.person import Person, PersonDraft, Release, ReleaseDraft, lacking_to_stand_in


def people_of(store: Store, workshop_id: int) -> tuple[Person, ...]:
    """Attendees, models, helpers, each by name; those erased are called "erased". Raises Missing for no workshop."""
    with store.reading() as s:
        rules.get_workshop(s, workshop_id)
        return kept.people_of(s, workshop_id)


def get_person(store: Store, workshop_id: int, person_id: int) -> Person:
    """Raises Missing, also where the person is of another workshop."""
    with store.reading() as s:
        return kept.shelf.get(s, person_id, workshop_id=workshop_id)


def add_person(store: Store, draft: PersonDraft) -> Person:
    """Raises InputProblem naming the field, Missing for no workshop."""
    with store.writing() as s:
        rules.get_workshop(s, draft.workshop_id)
        return kept.shelf.add(s, draft)


def change_person(store: Store, person_id: int, version: int, draft: PersonDraft) -> Person:
    """Raises Clash where somebody changed them in between, Missing where they are gone, InputProblems where the change
    would make them a model without the record that asks for, or where they are erased."""
    with store.writing() as s:
        before, _ = kept.shelf.find(s, person_id, workshop_id=draft.workshop_id)
        asked_first(before, draft)
        return kept.shelf.change(s, person_id, version, draft)


def asked_first(before: PersonDraft, draft: PersonDraft) -> None:
    """An attendee or helper becomes a model with the record of one; what is erased stays so. Raises InputProblems."""
    if before.erased_on is not None:
        raise InputProblems({"name": "was erased and cannot be changed: take the line off, or add the person anew"})
    becomes = draft.part == "model" and not before.models
    lacking = lacking_to_stand_in(replace(draft, stands_in=True) if becomes else draft)
    if lacking:
        raise InputProblems(lacking)


def delete_person(store: Store, workshop_id: int, person_id: int, version: int, *, now: datetime) -> Person:
    """Put aside, with a way back. Raises Clash, Missing."""
    with store.writing() as s:
        kept.shelf.find(s, person_id, workshop_id=workshop_id)
        return kept.shelf.delete(s, person_id, version, now=now)


def restore_person(store: Store, workshop_id: int, person_id: int) -> Person:
    with store.writing() as s:
        kept.shelf.find(s, person_id, workshop_id=workshop_id)
        return kept.shelf.restore(s, person_id)


def get_release(store: Store, release_id: int) -> Release:
    """Raises Missing."""
    with store.reading() as s:
        return kept.release_shelf.get(s, release_id)


def add_release(store: Store, draft: ReleaseDraft) -> Release:
    with store.writing() as s:
        _must_fit(s, draft)
        return kept.release_shelf.add(s, draft)


def change_release(store: Store, release_id: int, version: int, draft: ReleaseDraft) -> Release:
    """Raises Clash, Missing."""
    with store.writing() as s:
        return kept.release_shelf.change(s, release_id, version, draft)


def delete_release(store: Store, release_id: int, version: int, *, now: datetime) -> Release:
    """Put aside, with a way back. Raises Clash, Missing."""
    with store.writing() as s:
        return kept.release_shelf.delete(s, release_id, version, now=now)


def restore_release(store: Store, release_id: int) -> Release:
    with store.writing() as s:
        return kept.release_shelf.restore(s, release_id)


def _must_fit(s: Session, draft: ReleaseDraft) -> None:
    """A release names a person of its own workshop."""
    if draft.person_id is not None:
        kept.shelf.get(s, draft.person_id, workshop_id=draft.workshop_id or 0)
