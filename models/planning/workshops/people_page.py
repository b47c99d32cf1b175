"""The page of a workshop's people: who comes, what is open of each, and whether the footprint still fits."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from sqlalchemy.orm import Session

from models.clock import day_words, to_local
from models.planning.workshops.people_open import open_of_all
from models.store import people as kept
from models.store import rules
from models.store.engine import Store
from models.store.settings import get_setting
from models.store.spots import shelf as spots
from models.words.people import (
    PART_HEADS,
    YES_NO_WORDS,
    Private,
    differing_words,
    group_words,
    if_open_words,
    kept_words,
    named,
    open_words,
    uses_words,
    who_words,
)
from models.words.said import counted, listed
from models.workshop.people import Headcount, OpenOfPerson, erase_day, headcount
from models.workshop.person import Person, Release

NOTED = "noted; shown on the page only"


@dataclass(frozen=True, slots=True)
class PersonFact:
    label: str
    text: str | Private


@dataclass(frozen=True, slots=True)
class OpenShown:
    """by: None where no day is known."""

    words: Private
    by: date | None
    by_words: str
    if_open: str


@dataclass(frozen=True, slots=True)
class ReleaseShown:
    id: int
    words: str


@dataclass(frozen=True, slots=True)
class PersonRow:
    """One line. kept: until when, in words. gone: the person was erased; the line stays for the rotas."""

    id: int
    version: int
    name: Private
    gone: bool
    stands_in: bool
    models: bool
    open: tuple[OpenShown, ...]
    facts: tuple[PersonFact, ...]
    releases: tuple[ReleaseShown, ...]
    kept: str


@dataclass(frozen=True, slots=True)
class PartShown:
    part: str
    head: str
    rows: tuple[PersonRow, ...]


@dataclass(frozen=True, slots=True)
class PeoplePage:
    """differs: where list and footprint differ, in words. put_aside: deleted, with a way back. erase_days: setting."""

    workshop_id: int
    title: str
    answer: str
    group: str
    differs: tuple[str, ...]
    count: Headcount
    parts: tuple[PartShown, ...]
    open: int
    put_aside: int
    erase_days: int


def people_page(store: Store, workshop_id: int, now: datetime) -> PeoplePage:
    """Raises Missing."""
    with store.reading() as s:
        workshop = rules.get_workshop(s, workshop_id)
        zone = spots.find(s, workshop.spot_id)[0].zone
        people = kept.people_of(s, workshop_id)
        releases = kept.releases_by_person(s, [each.id for each in people])
        days, aside = erase_days(s), kept.put_aside(s, workshop_id)
    ended_on = to_local(workshop.ends, zone).date()
    opened = open_of_all(people, releases, workshop, zone, now)
    rows = {
        each.id: _row(each, number, items, releases.get(each.id, ()), erase_day(each, ended_on, days))
        for number, each, items in opened
    }
    count, many = headcount(people), sum(len(items) for _, _, items in opened)
    return PeoplePage(
        workshop_id=workshop_id,
        title=workshop.title,
        answer=_answer(count, opened, many, to_local(now, zone).date()),
        group=group_words(count) if count.listed else "",
        differs=differing_words(count, workshop.doing.group, workshop.doing.models),
        count=count,
        parts=_parts(people, rows),
        open=many,
        put_aside=aside,
        erase_days=days,
    )


def erase_days(s: Session) -> int:
    """For how many days after a workshop its people are kept."""
    return int(get_setting(s, "erase_after_days"))


def kept_until(store: Store, person: Person) -> str:
    """'erased after Mon 16 November 2026'."""
    with store.reading() as s:
        workshop = rules.get_workshop(s, person.workshop_id)
        zone, days = spots.find(s, workshop.spot_id)[0].zone, erase_days(s)
    return kept_words(erase_day(person, to_local(workshop.ends, zone).date(), days))


def _parts(people: Sequence[Person], rows: Mapping[int, PersonRow]) -> tuple[PartShown, ...]:
    parts = (
        PartShown(part, head, tuple(rows[each.id] for each in people if each.part == part))
        for part, head in PART_HEADS.items()
    )
    return tuple(part for part in parts if part.rows)


def _row(
    person: Person, number: int, items: Sequence[OpenOfPerson], releases: Sequence[Release], last: date
) -> PersonRow:
    who = named(person, number)
    gone = person.erased_on is not None
    return PersonRow(
        id=person.id,
        version=person.version,
        name=who,
        gone=gone,
        stands_in=person.stands_in,
        models=person.models,
        open=tuple(_open(item, who) for item in items),
        facts=() if gone else tuple(_facts(person)),
        releases=tuple(ReleaseShown(each.id, _release_words(each)) for each in releases),
        kept=f"erased on {day_words(person.erased_on)}" if person.erased_on else kept_words(last),
    )


def _open(item: OpenOfPerson, who: Private) -> OpenShown:
    by = day_words(item.by) if item.by else "no day is known"
    return OpenShown(open_words(item, who), item.by, by, if_open_words(item))


def _facts(person: Person) -> list[PersonFact]:
    """What is noted, and of a model also what is not."""
    texts = (
        ("Contact", person.contact),
        ("In an emergency", person.emergency_contact),
        ("Access needs", person.access_needs),
        ("Experience", person.experience),
        ("Camera system", person.camera_system),
        ("Notes", person.notes),
    )
    facts = [PersonFact(label, Private(text, NOTED)) for label, text in texts if text]
    if person.picture_consent != "open" or person.models:
        facts.append(PersonFact("Agrees to be photographed", YES_NO_WORDS[person.picture_consent]))
    if person.models:
        facts.append(PersonFact("18 or over", YES_NO_WORDS[person.adult]))
        facts += _guardian(person) if person.adult == "no" else []
    return [*facts, *_owed(person)]


def _guardian(person: Person) -> list[PersonFact]:
    return [
        PersonFact("Guardian", Private(person.guardian, NOTED) if person.guardian else "not named"),
        PersonFact("Guardian consents in writing", YES_NO_WORDS[person.guardian_consent]),
        PersonFact("Guardian comes along", YES_NO_WORDS[person.guardian_present]),
    ]


def _owed(person: Person) -> list[PersonFact]:
    facts = []
    money = [text for text in (person.owed_fee, person.owed_travel and f"travel {person.owed_travel}") if text]
    if money:
        paid = f"paid on {day_words(person.paid_on)}" if person.paid_on else "not paid yet"
        facts.append(PersonFact("Fee and travel", Private(f"{listed(money)}, {paid}", paid)))
    if person.owed_pictures:
        how = [
            f"from {person.owed_from}" if person.owed_from else "",
            f"by {day_words(person.owed_by)}" if person.owed_by else "",
            f"route: {person.owed_route}" if person.owed_route else "",
        ]
        came = f"delivered on {day_words(person.delivered_on)}" if person.delivered_on else "not delivered yet"
        many = counted(person.owed_pictures, "picture")
        facts.append(
            PersonFact("Pictures owed", Private(", ".join([many, *filter(None, how), came]), f"{many}, {came}"))
        )
    return facts


def _release_words(release: Release) -> str:
    where = "the paper lies where noted" if release.lies_at else "where the paper lies is not noted"
    return f"Signed on {day_words(release.signed_on)} for {uses_words(release)}; {where}"


def _answer(
    count: Headcount, opened: Sequence[tuple[int, Person, tuple[OpenOfPerson, ...]]], many: int, today: date
) -> str:
    if not count.listed:
        return "Nobody is on the list yet."
    people = f"{who_words(count)} {'is' if count.listed == 1 else 'are'} on the list"
    if not many:
        return f"{people}; nothing is open about them."
    of = sum(bool(items) for _, _, items in opened)
    days = [item.by for _, _, items in opened for item in items if item.by and item.by >= today]
    by = f", the first by {day_words(min(days))}" if days else ""
    things = f"{many} {'thing is' if many == 1 else 'things are'} open about {of} of them"
    return f"{people}; {things}{by}."
