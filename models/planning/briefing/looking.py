"""What the organiser is asked to look at in a briefing before it goes out: names of people in it, and its wording."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import fields

from models.words.briefing import BRING, BRING_MODELS, WEAR, title_of
from models.words.never import forbidden_in
from models.words.people import Private, named
from models.workshop.briefing import Facts
from models.workshop.person import ERASED, Person

SHORTEST_NAME = 3
"""Letters: initials stand in too many words to be looked for."""
NAMED_BY_ORGANISER = ("organiser", "contact", "talks", "first_aider", "spares")

LISTED = {BRING: "bring", WEAR: "wear", BRING_MODELS: "bring_models"}


def names_in(facts: Facts, people: Iterable[Person]) -> tuple[Private, ...]:
    """People who come and whose name, or how to reach them, stands in a text, but for those the organiser named to
    talk or to help."""
    chosen = {getattr(facts, field).casefold() for field in NAMED_BY_ORGANISER}
    text = "\n".join(_texts(facts)).casefold()
    found = []
    numbers: dict[str, int] = {}
    for person in sorted(people, key=lambda each: each.id):
        numbers[person.part] = numbers.get(person.part, 0) + 1
        name = person.name.casefold()
        if name == ERASED or name in chosen:
            continue
        if any(_stands(words.casefold(), text) for words in (person.name, person.contact, person.emergency_contact)):
            found.append(named(person, numbers[person.part]))
    return tuple(found)


def sounds_allowed(facts: Facts) -> tuple[str, ...]:
    """'Walkers first: “you may shoot”': paragraphs and lists whose words read as if something were permitted."""
    texts = facts.paragraphs | {key: "\n".join(getattr(facts, field)) for key, field in LISTED.items()}
    return tuple(
        f"{title_of(key)}: {', '.join(f'“{words}”' for words in found)}"
        for key, text in texts.items()
        if (found := forbidden_in(text))
    )


def _stands(words: str, text: str) -> bool:
    """Whether it stands there as words of its own."""
    plain = words.strip()
    return len(plain) >= SHORTEST_NAME and re.search(rf"(?<!\w){re.escape(plain)}(?!\w)", text) is not None


def _texts(facts: Facts) -> Iterator[str]:
    for field in fields(Facts):
        if field.name not in NAMED_BY_ORGANISER:
            yield from _strings(getattr(facts, field.name))


def _strings(value: object) -> Iterator[str]:
    """Every text within, dataclasses and tuples gone through."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple):
        for each in value:
            yield from _strings(each)
    elif isinstance(value, dict):
        yield from _strings(tuple(value.values()))
    elif hasattr(value, "__dataclass_fields__"):
        yield from _strings(tuple(getattr(value, name) for name in value.__dataclass_fields__))
