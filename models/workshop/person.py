"""The people of one workshop: attendees, models, helpers, with only what is needed of them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

Part = Literal["attendee", "model", "helper"]
YesNo = Literal["open", "yes", "no"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PersonDraft:
    """One person of one workshop. name: or initials. erase_after: the day after which what is personal is erased.

    Of a model further: adult, 18 or over; else guardian, consent (the guardian's, in writing) and guardian_present.
    release: what may be done with the pictures is kept apart (`Release`) and with a date of its own.
    owed: fee, travel and pictures owed, as typed, and whether and by which route they were handed over.
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
    adult: YesNo = "open"
    guardian: str = ""
    guardian_consent: YesNo = "open"
    guardian_present: YesNo = "open"
    owed_fee: str = ""
    owed_travel: str = ""
    owed_pictures: int | None = None
    owed_from: str = ""
    owed_by: date | None = None
    owed_route: str = ""
    delivered_on: date | None = None
    notes: str = ""
    erase_after: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Person(PersonDraft):
    """A person as kept; hand `version` back with a change."""

    id: int
    version: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ReleaseDraft:
    """A signed release of one model. by_whom: who signed, for_whom: the model's name as on the paper. uses: of
    "portfolio", "web", "sale". lies_at: where the paper is. keep_until: kept apart from the person, until that day.
    """

    workshop_id: int
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
