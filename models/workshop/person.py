"""The people of one workshop: attendees, models, helpers, with only what is needed of them."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields, replace
from datetime import date
from typing import Any, Literal, get_args

from models.clock import FIRST_YEAR, LAST_YEAR
from models.problems import InputProblem
from models.street.spot import LONGEST_NAME, LONGEST_NOTE, readable

Part = Literal["attendee", "model", "helper"]
PARTS: tuple[Part, ...] = get_args(Part)
YesNo = Literal["open", "yes", "no"]
USES = ("portfolio", "web", "sale")
ERASED = "erased"
"""The name of a person whose data was erased."""
LONGEST_CONTACT = 200
MOST_PICTURES = 1000


@dataclass(frozen=True, slots=True, kw_only=True)
class PersonDraft:
    """One person of one workshop. name: or initials. erase_after: the day after which what is personal is erased, None
    for so many days after the workshop ends as the setting says. erased_on: the day it was.

    Of a model further: adult, 18 or over; else guardian, consent (the guardian's, in writing) and guardian_present.
    stands_in: an attendee or helper who stands as a model too; the model's record is asked for first.
    release: what may be done with the pictures is kept apart (`Release`) and with a date of its own.
    owed: fee and travel, as typed, and the day they were paid; pictures, from whom, by when, by the route the model
    chose, and the day they were delivered.
    """

    workshop_id: int
    part: Part
    name: str
    contact: str = ""
    emergency_contact: str = ""
    access_needs: str = ""
    experience: str = ""
    camera_system: str = ""
    picture_consent: YesNo = "open"
    stands_in: bool = False
    adult: YesNo = "open"
    guardian: str = ""
    guardian_consent: YesNo = "open"
    guardian_present: YesNo = "open"
    owed_fee: str = ""
    owed_travel: str = ""
    paid_on: date | None = None
    owed_pictures: int | None = None
    owed_from: str = ""
    owed_by: date | None = None
    owed_route: str = ""
    delivered_on: date | None = None
    notes: str = ""
    erase_after: date | None = None
    erased_on: date | None = None

    @property
    def models(self) -> bool:
        """Stands before the camera: as a model, or as one who stands in."""
        return self.part == "model" or self.stands_in


@dataclass(frozen=True, slots=True, kw_only=True)
class Person(PersonDraft):
    """A person as kept; hand `version` back with a change."""

    id: int
    version: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ReleaseDraft:
    """A signed release of one model. by_whom: who signed, for_whom: the model's name as on the paper. uses: of USES.
    lies_at: where the paper is. keep_until: kept apart from the person, until that day; None until it is deleted.

    workshop_id, person_id: None once they are gone for good; the release outlives both.
    """

    workshop_id: int | None
    person_id: int | None
    signed_on: date
    by_whom: str
    for_whom: str
    uses: tuple[str, ...] = ()
    lies_at: str = ""
    keep_until: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Release(ReleaseDraft):
    id: int
    version: int


def checked_person(draft: PersonDraft) -> PersonDraft:
    """The draft with its texts trimmed, or InputProblem naming the field."""
    person = replace(draft, **{name: check(getattr(draft, name)) for name, check in PERSON_CHECKS.items()})
    if person.part == "model":
        person = replace(person, stands_in=False)
    for field, message in lacking_to_stand_in(person).items():
        raise InputProblem(field, message)
    return person


def checked_release(draft: ReleaseDraft) -> ReleaseDraft:
    """The draft with its texts trimmed and its uses in order, or InputProblem naming the field."""
    release = replace(draft, **{name: check(getattr(draft, name)) for name, check in RELEASE_CHECKS.items()})
    if release.keep_until is not None and release.keep_until < release.signed_on:
        raise InputProblem("keep_until", "lies before the day it was signed on")
    return release


def lacking_to_stand_in(person: PersonDraft) -> dict[str, str]:
    """By field, what must be on record before an attendee or helper stands in as a model; empty where nothing is."""
    if not person.stands_in or person.erased_on is not None:
        return {}
    lacking = {}
    if person.adult == "open":
        lacking["adult"] = "say whether they are 18 or over before they stand in as a model"
    if person.adult == "no" and not person.guardian:
        lacking["guardian"] = "name the guardian before they stand in as a model"
    if person.adult == "no" and person.guardian_consent != "yes":
        lacking["guardian_consent"] = "the guardian's written consent comes before they stand in as a model"
    if person.picture_consent != "yes":
        lacking["picture_consent"] = "ask whether they agree to be photographed before they stand in as a model"
    return lacking


def _name(field: str, longest: int = LONGEST_NAME, missing: str = "") -> Callable[[Any], str]:
    """A text of one line. missing: what to say where there is none; empty where it may be."""

    def check(value: Any) -> str:
        text = " ".join(readable(field, value).split())
        if missing and not text:
            raise InputProblem(field, missing)
        _no_longer(field, text, longest)
        if any(unicodedata.category(letter) == "Cc" for letter in text):
            raise InputProblem(field, "holds a control character; type it again without")
        return text

    return check


def _note(field: str) -> Callable[[Any], str]:
    def check(value: Any) -> str:
        text = readable(field, value).strip()
        _no_longer(field, text, LONGEST_NOTE)
        return text

    return check


def _no_longer(field: str, text: str, longest: int) -> None:
    if len(text) > longest:
        raise InputProblem(field, f"{len(text)} characters; at most {longest}")


def _one_of(field: str, known: tuple[str, ...]) -> Callable[[Any], str]:
    def check(value: Any) -> str:
        if not isinstance(value, str) or value not in known:
            raise InputProblem(field, f"{str(value)[:40]!r} is not known; choose {', '.join(known)}")
        return value

    return check


def _day(field: str, *, needed: bool = False) -> Callable[[Any], date | None]:
    def check(value: Any) -> date | None:
        if value is None and not needed:
            return None
        if type(value) is not date:
            raise InputProblem(field, "give a day")
        if not FIRST_YEAR <= value.year <= LAST_YEAR:
            raise InputProblem(field, f"give a day from {FIRST_YEAR} to {LAST_YEAR}")
        return value

    return check


def _pictures(value: Any) -> int | None:
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int):
        raise InputProblem("owed_pictures", f"{str(value)[:40]!r} is not a whole number")
    if not 0 <= value <= MOST_PICTURES:
        raise InputProblem("owed_pictures", f"{value} is outside 0 to {MOST_PICTURES}")
    return value or None


def _truth(value: Any) -> bool:
    if not isinstance(value, bool):
        raise InputProblem("stands_in", f"{str(value)[:40]!r} is neither yes nor no")
    return value


def _uses(value: Any) -> tuple[str, ...]:
    if not isinstance(value, tuple) or not value:
        raise InputProblem("uses", "say at least one use the release names")
    for use in value:
        _one_of("uses", USES)(use)
    return tuple(use for use in USES if use in value)


_YES_NO = ("picture_consent", "adult", "guardian_consent", "guardian_present")
_DAYS = ("paid_on", "owed_by", "delivered_on", "erase_after", "erased_on")
_LINES = ("contact", "emergency_contact", "camera_system", "owed_fee", "owed_travel", "owed_route")

PERSON_CHECKS: Mapping[str, Callable[[Any], Any]] = {
    "part": _one_of("part", PARTS),
    "name": _name("name", missing="give a name or initials"),
    **{field: _name(field, LONGEST_CONTACT) for field in _LINES},
    **{field: _name(field) for field in ("guardian", "owed_from")},
    **{field: _note(field) for field in ("access_needs", "experience", "notes")},
    **{field: _one_of(field, get_args(YesNo)) for field in _YES_NO},
    "stands_in": _truth,
    "owed_pictures": _pictures,
    **{field: _day(field) for field in _DAYS},
}
"""By field, a check that gives the value back tidied, or raises InputProblem."""

RELEASE_CHECKS: Mapping[str, Callable[[Any], Any]] = {
    "signed_on": _day("signed_on", needed=True),
    "by_whom": _name("by_whom", missing="say who signed it"),
    "for_whom": _name("for_whom", missing="give the model's name as on the paper"),
    "uses": _uses,
    "lies_at": _name("lies_at", LONGEST_CONTACT),
    "keep_until": _day("keep_until"),
}

PERSONAL = tuple(
    field.name for field in fields(PersonDraft) if field.name not in ("workshop_id", "part", "stands_in", "erased_on")
)
"""What is emptied when a person is erased."""
