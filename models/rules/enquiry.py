"""An enquiry: what was asked of whom, and the answer. A grant covers what it names and nothing else."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time

STATES: dict[str, str] = {
    "planned": "planned",
    "asked": "asked",
    "granted": "granted",
    "refused": "refused",
    "withdrawn": "withdrawn",
    "lapsed": "lapsed",
}
NEXT: dict[str, tuple[str, ...]] = {
    "planned": ("asked", "withdrawn"),
    "asked": ("granted", "refused", "withdrawn", "lapsed"),
    "granted": ("withdrawn", "lapsed"),
    "refused": ("planned",),
    "withdrawn": ("planned",),
    "lapsed": ("planned",),
}
"""Where an enquiry may go from each state."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EnquiryDraft:
    """An enquiry as typed. It speaks for one area or one spot; what it asks for and what a grant covers is the same set
    of fields, narrowed by hand when the answer comes.

    first_day..last_day, from_time..to_time (local, set-up to pack), activities, people (heads, everyone counted): None
    or empty for "not named", which covers nothing of it. valid_from, valid_to: of the grant.
    """

    to_whom: str
    area_id: int | None = None
    spot_id: int | None = None
    workshop_id: int | None = None
    contact: str = ""
    activities: tuple[str, ...] = ()
    first_day: date | None = None
    last_day: date | None = None
    from_time: time | None = None
    to_time: time | None = None
    people: int | None = None
    state: str = "planned"
    sent_on: date | None = None
    answered_on: date | None = None
    reference: str = ""
    valid_from: date | None = None
    valid_to: date | None = None
    conditions: str = ""
    notes: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Enquiry(EnquiryDraft):
    """An enquiry as kept; hand `version` back with a change."""

    id: int
    version: int


@dataclass(frozen=True, slots=True)
class Step:
    """One line of an enquiry's history: when it went to which state, with a note."""

    at: datetime
    state: str
    note: str
