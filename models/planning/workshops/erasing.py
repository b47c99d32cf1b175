"""Erasing what is personal: of one person, of a workshop, and of everybody whose day is over."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from sqlalchemy.orm import Session

from models.clock import day_words, to_local
from models.planning.spots import home_zone
from models.planning.workshops.people_page import erase_days
from models.store import people as kept
from models.store.engine import Store
from models.store.erasing import clean, is_unclean, note_erasure
from models.store.named_texts import empty_named, left_by_all
from models.store.rules.workshops import shelf as workshops
from models.store.spots import shelf as spots
from models.words.people import erased_words
from models.words.said import counted, listed
from models.workshop.people import erase_day
from models.workshop.person import PARTS, Person

STAY = (
    "Copies that you made of the database before, and what was printed or sent, stay as they are: "
    "erase or throw them away yourself."
)

GOES_WITH_THE_LAST = (
    "With the last of a workshop's people go its notes of the day, who talks and who has spares, the first-aider and "
    "who sees to what in the hazards sheet, also from briefings that were issued. Look through your other texts "
    "for names yourself."
)
NAMED_GONE = "Names in notes of the day, plan, hazards sheet and issued briefings went with the last of them."


@dataclass(frozen=True, slots=True)
class DueWorkshop:
    """People of one workshop whose last day is over. last: the earliest of these days."""

    title: str
    people: tuple[int, ...]
    words: str
    last: date


@dataclass(frozen=True, slots=True)
class Due:
    """What a pass would erase now."""

    workshops: tuple[DueWorkshop, ...]
    releases: tuple[int, ...]

    @property
    def people(self) -> tuple[int, ...]:
        return tuple(number for each in self.workshops for number in each.people)


@dataclass(frozen=True, slots=True)
class Erased:
    """purged: deleted over thirty days ago and thrown away. cleaned: no old copy is left in the database's file. named:
    notes, plans, sheets and versions that names were taken out of."""

    people: int
    releases: int
    purged: int
    cleaned: bool
    named: int = 0

    @property
    def words(self) -> str:
        """'3 people and 1 release erased for good.'"""
        said = f"{erased_words(self.people, self.releases)} erased for good.".capitalize()
        if self.named:
            said += f" {NAMED_GONE}"
        if self.purged:
            said += f" {self.purged} deleted over 30 days ago {'was' if self.purged == 1 else 'were'} thrown away."
        if not self.cleaned:
            said += " The database was in use, so old copies in its file are overwritten within a day."
        return said


def due_for_erasing(store: Store, now: datetime) -> Due:
    """Whose data is past its last day, those put aside too, and releases past theirs."""
    with store.reading() as s:
        return _due(s, now, to_local(now, home_zone(store)).date())


def erase_due(store: Store, now: datetime, *, always_clean: bool = False) -> Erased:
    """Erase what is due and throw away what was deleted over thirty days ago.

    always_clean: write the file anew though nothing was erased.
    """
    today = to_local(now, home_zone(store)).date()
    with store.writing() as s:
        due = _due(s, now, today)
        people = kept.erase_people(s, due.people, today)
        releases = kept.erase_releases(s, due.releases)
        named = empty_named(s, left_by_all(s, due.people) | _long_over(s, now))
        purged = kept.purge(s, now)
        if people or releases or purged or named:
            note_erasure(s, now, people, releases)
        unclean = is_unclean(s)
    cleaned = clean(store) if unclean or always_clean else True
    return Erased(people, releases, purged, cleaned, named)


def erase_person(store: Store, workshop_id: int, person_id: int, now: datetime) -> Erased:
    """At once, also where the person or the workshop is put aside. Raises Missing."""
    with store.reading() as s:
        kept.shelf.find(s, person_id, workshop_id=workshop_id)
    return _erase(store, [person_id], [], now)


def erase_workshop_people(store: Store, workshop_id: int, now: datetime) -> Erased:
    """Everybody of a workshop at once, those put aside too. Raises Missing."""
    with store.reading() as s:
        workshops.find(s, workshop_id)
        numbers = [each.id for each in kept.personal_rows(s, workshop_id=workshop_id)]
    return _erase(store, numbers, [], now)


def erase_put_aside(store: Store, workshop_id: int, now: datetime) -> Erased:
    """At once, those of a workshop who were deleted with a way back. Raises Missing."""
    with store.reading() as s:
        workshops.find(s, workshop_id)
        seen = {each.id for each in kept.people_of(s, workshop_id)}
        numbers = [each.id for each in kept.personal_rows(s, workshop_id=workshop_id) if each.id not in seen]
    return _erase(store, numbers, [], now)


def erase_release(store: Store, release_id: int, now: datetime) -> Erased:
    """At once. Raises Missing."""
    with store.reading() as s:
        kept.release_shelf.find(s, release_id)
    return _erase(store, [], [release_id], now)


def due_words(due: Due) -> list[str]:
    """One line a workshop, without names: '2 attendees and 1 model of Evening light, kept until Mon 30 Nov 2026'."""
    lines = [f"{each.words} of {each.title}, kept until {day_words(each.last)}" for each in due.workshops]
    return [*lines, *([f"{counted(len(due.releases), 'release')} past the last day noted"] if due.releases else [])]


def _erase(store: Store, people: Sequence[int], releases: Sequence[int], now: datetime) -> Erased:
    today = to_local(now, home_zone(store)).date()
    with store.writing() as s:
        gone, papers = kept.erase_people(s, people, today), kept.erase_releases(s, releases)
        named = empty_named(s, left_by_all(s, people))
        note_erasure(s, now, gone, papers)
    return Erased(gone, papers, 0, clean(store), named)


def _long_over(s: Session, now: datetime) -> set[int]:
    """Workshops past their usual last day, everywhere on earth, all of whose people are erased."""
    before = now - timedelta(days=erase_days(s) + 2)
    return {number for number, each in workshops.these(s, left_by_all(s)).items() if each.ends < before}


def _due(s: Session, now: datetime, today: date) -> Due:
    by_workshop: dict[int, list[Person]] = {}
    for each in kept.personal_rows(s):
        by_workshop.setdefault(each.workshop_id, []).append(each)
    known, days = workshops.these(s, by_workshop), erase_days(s)
    zones = {number: spot.zone for number, spot in spots.these(s, {each.spot_id for each in known.values()}).items()}
    found = []
    for number, people in by_workshop.items():
        workshop, zone = known[number], zones[known[number].spot_id]
        there, ended_on = to_local(now, zone).date(), to_local(workshop.ends, zone).date()
        last = {each.id: erase_day(each, ended_on, days) for each in people}
        over = [each for each in people if last[each.id] < there]
        if over:
            found.append(_due_workshop(workshop.title, over, min(last[each.id] for each in over)))
    return Due(tuple(found), kept.lapsed_releases(s, today))


def _due_workshop(title: str, people: Sequence[Person], last: date) -> DueWorkshop:
    parts = Counter(each.part for each in people)
    words = listed([counted(parts[part], part) for part in PARTS if parts[part]])
    return DueWorkshop(title, tuple(each.id for each in people), words, last)
