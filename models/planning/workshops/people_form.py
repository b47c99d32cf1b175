"""People and releases as typed in their forms: every field read, every problem named at once."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import fields
from datetime import date
from typing import Any

from models.planning.rules.fields import Reader, day_reader, day_text, read_fields, understood_days
from models.planning.rules.typed import read_count, read_yes
from models.problems import InputProblem, InputProblems
from models.workshop.person import (
    MOST_PICTURES,
    PARTS,
    PERSON_CHECKS,
    RELEASE_CHECKS,
    USES,
    PersonDraft,
    ReleaseDraft,
    checked_person,
    checked_release,
    lacking_to_stand_in,
)

PERSON_FIELDS = tuple(
    field.name for field in fields(PersonDraft) if field.name not in ("workshop_id", "erased_on")
)  # fmt: skip
PERSON_DAYS = ("paid_on", "owed_by", "delivered_on", "erase_after")
PAST_DAYS = ("paid_on", "delivered_on", "signed_on")
RELEASE_FIELDS = ("signed_on", "by_whom", "for_whom", *(f"use_{use}" for use in USES), "lies_at", "keep_until")
RELEASE_DAYS = ("signed_on", "keep_until")


def read_person_form(form: Mapping[str, str], workshop_id: int, today: date) -> PersonDraft:
    """The person a form describes. Raises InputProblems with a message beside each field that needs another look."""
    readers: dict[str, Reader] = {name: _checked(name, PERSON_CHECKS[name]) for name in PERSON_FIELDS}
    readers |= {name: _day(name, today) for name in PERSON_DAYS}
    readers |= {"owed_pictures": _pictures, "stands_in": _stands_in}
    draft = PersonDraft(workshop_id=workshop_id, **read_fields(_filled(form), readers))  # type: ignore[arg-type]
    if draft.part != "model" and (lacking := lacking_to_stand_in(draft)):
        raise InputProblems(lacking)
    return checked_person(draft)


def person_form_of(person: PersonDraft) -> dict[str, str]:
    """What the form shows for a person; read back it gives the same one."""
    shown = {name: str(getattr(person, name)) for name in PERSON_FIELDS}
    shown |= {name: day_text(getattr(person, name)) for name in PERSON_DAYS}
    shown["owed_pictures"] = "" if person.owed_pictures is None else str(person.owed_pictures)
    return shown | {"stands_in": "yes" if person.stands_in else "no"}


def new_person_form(part: str) -> dict[str, str]:
    known = part if part in PARTS else "attendee"
    return person_form_of(PersonDraft(workshop_id=0, part=known, name=""))


def understood_person(form: Mapping[str, str], today: date) -> dict[str, str]:
    """By field, how what was typed is taken; what is empty or cannot be read is left out."""
    return understood_days(form, PERSON_DAYS, today)


def read_release_form(
    form: Mapping[str, str], workshop_id: int | None, person_id: int | None, today: date
) -> ReleaseDraft:
    """Raises InputProblems with a message beside each field that needs another look."""
    texts = ("by_whom", "for_whom", "lies_at")
    readers: dict[str, Reader] = {name: _checked(name, RELEASE_CHECKS[name]) for name in texts}
    readers |= {name: _day(name, today, RELEASE_CHECKS[name]) for name in RELEASE_DAYS}
    readers |= {f"use_{USES[0]}": lambda _: {"uses": _uses(form)}}
    values = read_fields(form, readers)
    try:
        return checked_release(
            ReleaseDraft(workshop_id=workshop_id, person_id=person_id, **values)  # type: ignore[arg-type]
        )
    except InputProblem as problem:
        raise InputProblems({problem.field: problem.message}) from None


def release_form_of(release: ReleaseDraft) -> dict[str, str]:
    shown = {"by_whom": release.by_whom, "for_whom": release.for_whom, "lies_at": release.lies_at}
    shown |= {name: day_text(getattr(release, name)) for name in RELEASE_DAYS}
    return shown | {f"use_{use}": "yes" if use in release.uses else "no" for use in USES}


def new_release_form(person: PersonDraft, today: date) -> dict[str, str]:
    """Filled in as far as it is known: the guardian signs for who is under 18."""
    signs = person.guardian if person.adult == "no" else person.name
    form = {"by_whom": signs, "for_whom": person.name, "lies_at": "", "signed_on": "", "keep_until": ""}
    return form | {f"use_{use}": "no" for use in USES}


def understood_release(form: Mapping[str, str], today: date) -> dict[str, str]:
    return understood_days(form, RELEASE_DAYS, today)


def _filled(form: Mapping[str, str]) -> dict[str, str]:
    """A choice that was not sent is as it is for a person nobody has asked."""
    usual = new_person_form("")
    return usual | {name: text for name, text in form.items() if name in usual}


def _checked(name: str, check: Callable[[Any], Any]) -> Reader:
    return lambda text: {name: check(text)}


def _day(name: str, today: date, check: Callable[[Any], Any] | None = None) -> Reader:
    read, good = day_reader(name, today), check or PERSON_CHECKS[name]

    def reader(text: str) -> dict[str, object]:
        day = good(read(text)[name])
        if name in PAST_DAYS and day is not None and day > today:
            raise InputProblem(name, "that day lies ahead: leave it empty until it is done")
        return {name: day}

    return reader


def _pictures(text: str) -> dict[str, object]:
    return {"owed_pictures": read_count("owed_pictures", text, 0, MOST_PICTURES) or None if text.strip() else None}


def _stands_in(text: str) -> dict[str, object]:
    return {"stands_in": read_yes("stands_in", text)}


def _uses(form: Mapping[str, str]) -> tuple[str, ...]:
    uses = tuple(use for use in USES if read_yes(f"use_{use}", form.get(f"use_{use}", "")))
    given: tuple[str, ...] = RELEASE_CHECKS["uses"](uses)
    return given
