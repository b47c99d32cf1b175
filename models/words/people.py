"""The people of a workshop in words: what is open, who comes, what is kept until when. Names stay out of JSON."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from models.clock import day_words
from models.words.said import counted, listed
from models.workshop.people import Headcount, OpenOfPerson
from models.workshop.person import PersonDraft, ReleaseDraft

PART_HEADS: dict[str, str] = {"attendee": "Attendees", "model": "Models", "helper": "Helpers"}
YES_NO_WORDS: dict[str, str] = {"open": "not asked yet", "yes": "yes", "no": "no"}

OPEN_WORDS: dict[str, str] = {
    "adult": "Whether {who} is 18 or over is open.",
    "guardian": "{who} is under 18, and no guardian is named.",
    "guardian_consent": "Guardian's consent of {who} is open.",
    "consent_refused": "The guardian of {who} refuses consent.",
    "guardian_present": "Whether the guardian of {who} comes along is open.",
    "pictures_refused": "{who} does not agree to be photographed.",
    "release": "No release of {who} is signed.",
    "release_guardian": "The release of {who} is signed by the model alone, who is under 18: the guardian signs.",
    "owed_how": "From whom, by when or by which route {who} gets the pictures owed is open.",
    "pictures": "Pictures owed to {who} are not delivered.",
    "money": "What is owed to {who} for fee or travel is not paid.",
}
IF_OPEN: dict[str, str] = {
    "release": "show and sell no picture of them",
    "release_guardian": "show and sell no picture of them",
    "owed_how": "settle it with them before they leave",
    "pictures": "ask whoever took them",
    "money": "pay them",
    "guardian_present": "ask, and count them in the group if they come",
}
ITS_DAY_IS_OVER = "It is over. What stands below is how its records look now."
NO_PICTURE = "take no picture of them"
"""What is left where a consent is open."""


@dataclass(frozen=True, slots=True)
class Private:
    """What a page shows and no file or JSON ever tells. told: what they are given in its place."""

    shown: str
    told: str

    def __str__(self) -> str:
        return self.shown


def named(person: PersonDraft, number: int) -> Private:
    """The name, 'attendee 4' elsewhere."""
    return Private(person.name, f"{person.part} {number}")


def open_words(item: OpenOfPerson, who: Private) -> Private:
    """'Guardian's consent of M.L. is open.'"""
    shown, told = (OPEN_WORDS[item.key].format(who=name) for name in (who.shown, who.told))
    return Private(shown, told[0].upper() + told[1:])


def if_open_words(item: OpenOfPerson) -> str:
    return IF_OPEN.get(item.key, NO_PICTURE)


def model_caution(who: Private, opened: Sequence[OpenOfPerson]) -> Private | None:
    """'Take no picture of M.L.: M.L. is under 18, and no guardian is named.' for whoever stands before a camera.

    opened: all that is open of them; None where nothing of it forbids a picture. Deciding is not ours: local law does.
    """
    forbids = [open_words(item, who) for item in opened if if_open_words(item) == NO_PICTURE]
    if not forbids:
        return None
    shown, told = (f"Take no picture of {name}: " for name in (who.shown, who.told))
    return Private(shown + " ".join(one.shown for one in forbids), told + " ".join(one.told for one in forbids))


def who_words(count: Headcount) -> str:
    """'6 attendees, 3 models and 1 helper'."""
    return listed(_by_part(count))


def group_words(count: Headcount) -> str:
    """How the group is counted: '6 attendees, 3 models, 1 guardian and you make 11.'"""
    guardians = [counted(count.guardians, "guardian")] if count.guardians else []
    more = f" {counted(count.guardians_open, 'guardian')} may come too." if count.guardians_open else ""
    return f"{listed([*_by_part(count), *guardians, 'you'])} make {count.group}.{more}"


def differing_words(count: Headcount, group: int, models: int) -> tuple[str, ...]:
    """Where the list and what the workshop says differ; empty where they agree or nobody is listed."""
    if not count.listed:
        return ()
    said = []
    if count.group != group:
        said.append(
            f"The workshop says a group of {group}; the list makes {count.group}. Rules are looked up for {group}."
        )
    if count.before_camera != models:
        said.append(f"The workshop says {counted(models, 'model')}; the list has {count.before_camera}.")
    return tuple(said)


def kept_words(last: date) -> str:
    return f"erased after {day_words(last)}"


def erasing_words(people: int, first: date) -> str:
    """'What is personal of its 3 people is erased after Monday 16 November 2026.'"""
    whom = "its one person" if people == 1 else f"its {people} people"
    return f"What is personal of {whom} is erased after {day_words(first)}."


def uses_words(release: ReleaseDraft) -> str:
    return listed(list(release.uses))


def release_kept_words(release: ReleaseDraft) -> str:
    """Until when a release stays on record."""
    if release.keep_until is None:
        return "until you delete it: no day is noted"
    return f"until {day_words(release.keep_until)}, then it is erased"


def erased_words(people: int, releases: int = 0) -> str:
    """'3 people and 1 release'; 'nobody' for none."""
    parts = [counted(people, "person", "people")] if people else []
    parts += [counted(releases, "release")] if releases else []
    return listed(parts) or "nobody"


def _by_part(count: Headcount) -> list[str]:
    parts = ((count.attendees, "attendee"), (count.models, "model"), (count.helpers, "helper"))
    return [counted(number, one) for number, one in parts if number]
