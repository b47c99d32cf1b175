"""What stands open of a workshop's people, how many there are, and when what is personal is erased."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, fields
from datetime import date, timedelta
from typing import Literal

from models.workshop.person import ERASED, PERSONAL, PersonDraft, ReleaseDraft

OpenKey = Literal[
    "adult", "guardian", "guardian_consent", "consent_refused", "guardian_present", "pictures_refused", "release",
    "release_guardian", "owed_how", "money", "pictures",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class OpenOfPerson:
    """One thing that stands open of one person; by: the last day for it, None where none is known."""

    key: OpenKey
    by: date | None


@dataclass(frozen=True, slots=True)
class Headcount:
    """Who comes. guardians: that come along; guardians_open: of whom it is not known. models: of the part alone;
    standing_in: attendees and helpers among them who stand in."""

    attendees: int
    models: int
    helpers: int
    guardians: int
    guardians_open: int
    standing_in: int

    @property
    def listed(self) -> int:
        return self.attendees + self.models + self.helpers

    @property
    def group(self) -> int:
        """Everyone who stands there: all of the list, the guardians that come, and the organiser."""
        return self.listed + self.guardians + 1

    @property
    def before_camera(self) -> int:
        return self.models + self.standing_in


def headcount(people: Iterable[PersonDraft]) -> Headcount:
    everybody = tuple(people)
    parts = [each.part for each in everybody]
    minors = [each for each in everybody if each.models and each.adult == "no"]
    return Headcount(
        attendees=parts.count("attendee"),
        models=parts.count("model"),
        helpers=parts.count("helper"),
        guardians=sum(each.guardian_present == "yes" for each in minors),
        guardians_open=sum(each.guardian_present == "open" for each in minors),
        standing_in=sum(each.stands_in for each in everybody),
    )


def open_of(
    person: PersonDraft, releases: Sequence[ReleaseDraft], day: date, *, over: bool
) -> tuple[OpenOfPerson, ...]:
    """What is open of a person whose workshop is on that day, weightiest first; of one that is erased nothing.

    releases: those that name this person. over: the workshop has ended; then what is owed is open too.
    """
    if person.erased_on is not None:
        return ()
    consent = [OpenOfPerson(key, day) for key in _of_consent(person, releases)] if person.models else []
    return (*consent, *_of_owed(person, day, over=over))


def erase_day(person: PersonDraft, ended_on: date, days: int) -> date:
    """The last day on which a person's data is kept: their own, else so many days after the workshop's last one."""
    return person.erase_after or ended_on + timedelta(days=days)


def emptied(on: date) -> dict[str, object]:
    """The fields of a person once all that is personal is erased; number, workshop and part stay, for the rotas."""
    blank: dict[str, object] = {field.name: field.default for field in fields(PersonDraft) if field.name in PERSONAL}
    return blank | {"name": ERASED, "erased_on": on}


def _of_consent(person: PersonDraft, releases: Sequence[ReleaseDraft]) -> Iterator[OpenKey]:
    if person.picture_consent == "no":
        yield "pictures_refused"
    if person.adult == "open":
        yield "adult"
    if person.adult == "no":
        yield from _of_guardian(person)
    if not releases:
        yield "release"
    elif person.adult == "no" and all(_same(each.by_whom, each.for_whom) for each in releases):
        yield "release_guardian"


def _of_guardian(person: PersonDraft) -> Iterator[OpenKey]:
    if person.guardian_consent == "no":
        yield "consent_refused"
    if not person.guardian:
        yield "guardian"
    if person.guardian_consent == "open":
        yield "guardian_consent"
    if person.guardian_present == "open":
        yield "guardian_present"


def _of_owed(person: PersonDraft, day: date, *, over: bool) -> Iterator[OpenOfPerson]:
    if person.owed_pictures and person.delivered_on is None:
        if not (person.owed_from and person.owed_by and person.owed_route):
            yield OpenOfPerson("owed_how", day)
        if over:
            yield OpenOfPerson("pictures", person.owed_by)
    if over and (person.owed_fee or person.owed_travel) and person.paid_on is None:
        yield OpenOfPerson("money", None)


def _same(name: str, other: str) -> bool:
    return " ".join(name.split()).casefold() == " ".join(other.split()).casefold()
