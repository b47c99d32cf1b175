"""What stands open of people, for the list of a workshop's open things and for those of several at once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime

from sqlalchemy.orm import Session

from models.clock import to_local
from models.rules.still_open import OpenItem
from models.rules.workshop import Workshop
from models.store import people as kept
from models.words.people import Private, if_open_words, model_caution, named, open_words
from models.workshop.people import OpenOfPerson, open_of
from models.workshop.person import PARTS, Person, Release


def people_items(s: Session, workshop: Workshop, zone: str, now: datetime) -> tuple[OpenItem, ...]:
    """What is open of the people of one workshop, the earliest day first."""
    return items_by_workshop(s, [(workshop, zone)], now).get(workshop.id, ())


def items_by_workshop(
    s: Session, workshops: Sequence[tuple[Workshop, str]], now: datetime
) -> dict[int, tuple[OpenItem, ...]]:
    """By number of the workshop; (workshop, zone of its spot). Everything is read once."""
    people = kept.people_by_workshop(s, [workshop.id for workshop, _ in workshops])
    releases = kept.releases_by_person(s, [each.id for those in people.values() for each in those])
    return {
        workshop.id: tuple(
            _item(each, number, item)
            for number, each, opened in open_of_all(people.get(workshop.id, ()), releases, workshop, zone, now)
            for item in opened
        )
        for workshop, zone in workshops
    }


def open_of_all(
    people: Sequence[Person],
    releases: Mapping[int, Sequence[Release]],
    workshop: Workshop,
    zone: str,
    now: datetime,
) -> list[tuple[int, Person, tuple[OpenOfPerson, ...]]]:
    """Each with a number of their own within the part, and what is open of them."""
    day, over = to_local(workshop.starts, zone).date(), workshop.ends < now
    numbers = dict.fromkeys(PARTS, 0)
    found = []
    for each in sorted(people, key=lambda person: person.id):
        numbers[each.part] += 1
        found.append((numbers[each.part], each, open_of(each, releases.get(each.id, ()), day, over=over)))
    return found


def model_cautions(s: Session, workshop: Workshop, zone: str, now: datetime) -> dict[int, Private]:
    """By number of the person: why no picture is taken of them; those of whom one may be asked are left out."""
    people = kept.people_by_workshop(s, [workshop.id]).get(workshop.id, ())
    releases = kept.releases_by_person(s, [each.id for each in people])
    found = {
        each.id: model_caution(named(each, number), opened)
        for number, each, opened in open_of_all(people, releases, workshop, zone, now)
    }
    return {number: caution for number, caution in found.items() if caution}


def _item(person: Person, number: int, item: OpenOfPerson) -> OpenItem:
    words = open_words(item, named(person, number))
    return OpenItem(
        kind="person",
        owed_by="organiser",
        by=item.by,
        said=words.shown,
        told=words.told,
        if_said=if_open_words(item),
    )
