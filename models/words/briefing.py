"""The standard paragraphs of a briefing, by key, with who reads them. Common practice, no source; all can be changed.

What stands in square brackets is filled in from the facts of the workshop: [organiser], [contact], [who talks],
[who has spares], [where we go], [meeting point], [people in a group], [frames a turn], [what each does],
[what was asked], [papers].
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from models.words.said import counted
from models.workshop.briefing import READERS, Facts, Reader
from models.workshop.rota import FRAMES, FRAMES_FULL

Where = Literal["turns", "conduct", "safety", "pictures", "breaks", "warmth", "owed", "guard", "stopped"]
ALL = READERS


@dataclass(frozen=True, slots=True)
class Paragraph:
    """title: what its field is called. text: the usual words. readers: who is told it, under which section."""

    title: str
    text: str
    readers: tuple[Reader, ...]
    where: Where


PARAGRAPHS: dict[str, Paragraph] = {
    "turns": Paragraph(
        "How turns work",
        "Groups of [people in a group] go from station to station. A turn is [frames a turn]. At a turn [what each "
        "does]; then trigger and light go on to the next hands. Everybody shoots once at every station.",
        ALL,
        "turns",
    ),
    "one shoots": Paragraph(
        "One shoots",
        "One person shoots at a time, so that the model knows where to look. Everybody else keeps the camera down.",
        ALL,
        "turns",
    ),
    "single": Paragraph(
        "Single frames",
        "Single frames, never a series: the flash needs its time, and so does the face.",
        ("attendee", "helper"),
        "turns",
    ),
    "wide": Paragraph(
        "One wide picture",
        "After each turn, one wide picture of the whole set: where the lights stood is half of what you take home.",
        ("attendee", "helper"),
        "turns",
    ),
    "set": Paragraph(
        "The set stays",
        "Nobody changes the set or the look; otherwise everyone wants to shoot again.",
        ALL,
        "conduct",
    ),
    "touch": Paragraph(
        "Nobody touches a model",
        "Nobody touches a model, no hair, no collar. Say what you would like to see; the model does it, or says no.",
        ALL,
        "conduct",
    ),
    "walkers": Paragraph(
        "Walkers first",
        "Walkers come first, frames second. Wait until they are past; nobody is made to stop, to go round or to step "
        "into the road.",
        ALL,
        "conduct",
    ),
    "help": Paragraph(
        "Help each other",
        "Help each other: hold the light, watch the pavement, mind the bags, say what you see.",
        ("attendee", "helper"),
        "conduct",
    ),
    "stand": Paragraph(
        "A hand on the stand",
        "One hand is always on a held stand. Whoever has to let go says so first and waits for another hand.",
        ("attendee", "helper"),
        "safety",
    ),
    "slow": Paragraph(
        "Slow flash",
        "If the flash gets slow or hot, stop and say so: [who has spares] has spares.",
        ("attendee", "helper"),
        "safety",
    ),
    "flashing": Paragraph(
        "Flashing light",
        "If flashing light troubles you, tell [organiser] before the first flash. Flashes stop whenever somebody asks.",
        ALL,
        "safety",
    ),
    "pictures": Paragraph(
        "What pictures may be used for",
        "What a picture of a model is used for stands in the release of that model: portfolio, web, sale, or none of "
        "them. Show and sell nothing beyond it, and no picture in which a passer-by is the subject. Not sure: ask "
        "[organiser] first.",
        ALL,
        "pictures",
    ),
    "owed": Paragraph(
        "Pictures owed to the models",
        "Pictures are owed to the models: whoever takes them hands them over by the day and by the route that each "
        "model chose. [organiser] tells you which.",
        ALL,
        "pictures",
    ),
    "owed to models": Paragraph(
        "What models are owed",
        "You are owed what was settled with you: fee and travel, and pictures, from whom, by when, by the route that "
        "you chose. If any of it is still open, settle it with [organiser] before the first frame.",
        ("model",),
        "owed",
    ),
    "break": Paragraph(
        "Breaks",
        "After 20 minutes before the camera a model rests at least 5 minutes, in heat or cold 10. A model who asks for "
        "a break gets it at once, without giving a reason.",
        ALL,
        "breaks",
    ),
    "warm": Paragraph(
        "Warmth",
        "Coats are kept beside the set and go on between frames, the model's first. Whoever is cold, hot or dizzy says "
        "so, and we stop.",
        ("model", "helper"),
        "warmth",
    ),
    "guard": Paragraph(
        "What to say to a guard",
        "Good day. We are a small portrait workshop with [organiser]; walkers come first. [what was asked] [who talks] "
        "speaks for us. Then [papers], promise nothing and argue about nothing: if asked to stop, we stop.",
        ("helper",),
        "guard",
    ),
    "stopped": Paragraph(
        "If we are asked to stop",
        "Stop at once, fold the stands, stay polite, film nobody. [who talks] talks, nobody "
        "else. Then we walk to [where we go] and count heads before anything else.",
        ALL,
        "stopped",
    ),
}

BRING, WEAR, BRING_MODELS, CONTACT, SPARES = "bring", "wear", "bring models", "contact", "spares"
LISTS: dict[str, tuple[str, str]] = {
    BRING: (
        "What attendees bring",
        "Your camera with an empty card, its battery charged, and a spare\n"
        "A lens of about 50 to 85 mm, or a zoom that has it\n"
        "A free hot shoe: the trigger sits there\n"
        "Water, and something warm to drink in the cold",
    ),
    WEAR: (
        "What to wear",
        "Plain clothes: bright ones throw their colour on a face\n"
        "One layer more than you think: who stands about gets cold\n"
        "Shoes that grip; a bag that stays on your back",
    ),
    BRING_MODELS: (
        "What models bring and wear",
        "The clothes we settled on, and a warm coat that goes over them between frames\n"
        "Shoes for the walk\n"
        "Water and something to eat",
    ),
}
"""By key: what the field is called, the usual items, one a line. Common practice, no source."""

LINES: dict[str, tuple[str, str]] = {
    SPARES: ("Who has spares", "Empty is the organiser."),
    CONTACT: ("Who is called, and how", "A name and a number for the day. Empty is the contact in the settings."),
}
"""Short fields by key: what it is called, and a hint. Their usual words are none."""

TEXT_KEYS = (*PARAGRAPHS, *LISTS, *LINES)
ROLES, IN_A_GROUP = "what each does", "people in a group"
FILLED_IN = (
    "organiser", "contact", "who talks", "who has spares", "where we go", "meeting point", "people in a group",
    "frames a turn", ROLES, "what was asked", "papers",
)  # fmt: skip
THE_ORGANISER = "the organiser"
ASKED = "Here is what was asked, of whom, and how it stands."
NOT_ASKED = "No enquiry for today is on record, so please tell us what holds here."
NOT_ASKED_YET = "planned"
"""How the state of an enquiry begins that was never sent."""
SHOW_PAPERS, LISTEN = "show the papers, listen", "listen"
NUMBERS = ("nobody", "one", "two", "three", "four", "five")
_BRACKETS = re.compile(r"\[(" + "|".join(map(re.escape, FILLED_IN)) + r")\]", re.IGNORECASE)


def usual(key: str) -> str:
    """The usual words of a paragraph, a list or a short field."""
    return PARAGRAPHS[key].text if key in PARAGRAPHS else LISTS[key][1] if key in LISTS else ""


def title_of(key: str) -> str:
    """What its field is called."""
    return PARAGRAPHS[key].title if key in PARAGRAPHS else (LISTS | LINES)[key][0]


def filled(text: str, facts: Mapping[str, str]) -> str:
    """The text with its brackets filled in, once: what is filled in is not looked through again. A bracket that starts
    a sentence gives it a large letter."""

    def fill(found: re.Match[str]) -> str:
        value = facts[found[1].lower()]
        before = text[: found.start()].rstrip()
        return value[:1].upper() + value[1:] if not before or before[-1] in ".?" else value

    return _BRACKETS.sub(fill, text)


def brackets(facts: Facts) -> dict[str, str]:
    """What is filled in, of FILLED_IN but ROLES; IN_A_GROUP as planned; what is not known is named as what it is."""
    organiser = facts.organiser or THE_ORGANISER
    meeting = facts.meeting.name if facts.meeting else "the meeting point"
    full = f"{FRAMES} frames, {FRAMES_FULL} where every group is full"
    return {
        "organiser": organiser,
        "contact": facts.contact or organiser,
        "who talks": facts.talks or organiser,
        "who has spares": facts.spares or organiser,
        "where we go": facts.goes_to or meeting,
        "meeting point": meeting,
        "people in a group": str(facts.group_size),
        "frames a turn": counted(facts.frames, "frame", "frames") if facts.frames else full,
        "what was asked": ASKED if _was_asked(facts) else NOT_ASKED,
        "papers": SHOW_PAPERS if facts.carry or _was_asked(facts) else LISTEN,
    }


def sizes_words(sizes: Collection[int]) -> str:
    """'3', '3 or 4', '2 to 5'."""
    least, most = min(sizes), max(sizes)
    joined = "or" if most - least == 1 else "to"
    return f"{least}" if least == most else f"{least} {joined} {most}"


def by_name(who: str, organiser: str) -> str:
    """Who it is; "the organiser" is called by the name there is."""
    return organiser if organiser and who.strip().casefold() in ("organiser", THE_ORGANISER) else who


def roles_words(sizes: Collection[int], hands: Collection[tuple[int, int]]) -> str:
    """'one shoots, one holds the light, one watches the pavement', for groups of these sizes. hands: by station,
    who hold lights and who watch; none is one of each."""
    needs = hands or ((1, 1),)
    holders, watchers = ([each[at] for each in needs] for at in (0, 1))
    parts = ["one shoots", *_duty(holders, ("holds the light", "hold the lights"))]
    parts += _duty(watchers, ("watches the pavement", "watch the pavement"))
    left = [size - 1 - sum(each) for size in sizes for each in needs]
    if max(left) > 0:
        parts.append("one is next up" if min(left) > 0 else "one is next up where hands are left")
    if max(left) > 1:
        parts.append("the others stand by")
    if min(left) < 0:
        parts.append("helpers or another group lend the hands that lack")
    return ", ".join(parts)


def _duty(numbers: Sequence[int], verbs: tuple[str, str]) -> Iterator[str]:
    """'one holds the light', 'one or two hold the lights, as the station needs'; nothing where nobody does it."""
    least, most = min(numbers), max(numbers)
    if not most:
        return
    if least == most:
        yield f"{_number(most)} {verbs[0] if most == 1 else verbs[1]}"
    else:
        joined = "or" if most - least == 1 else "to"
        verb = verbs[0] if most == 1 else verbs[1]
        yield f"{_number(least)} {joined} {_number(most)} {verb}, as the station needs"


def _number(number: int) -> str:
    return NUMBERS[number] if number < len(NUMBERS) else str(number)


def _was_asked(facts: Facts) -> bool:
    return any(not state.startswith(NOT_ASKED_YET) for _, _, state, _ in facts.enquiries)


def brackets_in(text: str) -> list[str]:
    """What stands in square brackets and is nothing that can be filled in."""
    return [found for found in re.findall(r"\[([^\[\]]*)\]", text) if found.lower() not in FILLED_IN]
