"""A letter to whoever controls a place, drafted from what is known. What is not known stands in it as a [gap]."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, time
from math import floor

from models.clock import day_words
from models.problems import InputProblem
from models.rules.activities import ACTIVITIES
from models.rules.footprint import Doing
from models.words.rules import AMOUNTS
from models.words.said import listed

THINGS = ("stand_ground", "stand_held", "tripod", "flash_held", "cable", "vehicle", "signs")
"""What stands or is held there, of ACTIVITIES."""
NOTHING = Doing(group=0, models=0, teaching=False, stand_held=0, flash_held=0)


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterFacts:
    """Empty and None: not known. activities: keys of what is asked for. doing: how much of it there is.

    first_day..last_day, from_time..to_time: local, set-up to packed up. zone: its short name, "CEST". insurance: what
    and how much. reply_by: the day an answer is wanted by.
    """

    to_whom: str = ""
    organiser: str = ""
    contact: str = ""
    place: str = ""
    activities: tuple[str, ...] = ()
    doing: Doing | None = None
    people: int | None = None
    first_day: date | None = None
    last_day: date | None = None
    from_time: time | None = None
    to_time: time | None = None
    zone: str = ""
    width_left_m: float | None = None
    insurance: str = ""
    insured_to: date | None = None
    reply_by: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Texts:
    """All that a letter says, in one language. people, models, amounts: for one and for several."""

    name: str
    subject: str
    greeting: str
    opening: str
    one_day: str
    several_days: str
    hours: str
    hours_each: str
    next_day: str
    where: str
    when: str
    who: str
    people: tuple[str, str]
    models: tuple[str, str]
    taught: str
    things: str
    no_things: str
    narrows: str
    width: str
    insurance: str
    insured_to: str
    question: str
    other_office: str
    reply_by: str
    close: str
    gaps: Mapping[str, str]
    amounts: Mapping[str, tuple[str, str]]
    names: Mapping[str, str]
    day: Callable[[date], str]


ENGLISH = Texts(
    name="English",
    subject="Asking for permission: photography workshop, {place}, {days}",
    greeting="Dear {to_whom},",
    opening="We plan a small photography workshop at {place} and ask for your permission for {what}.",
    one_day="{first}",
    several_days="{first} to {last}",
    hours="{days}, {begins} to {ends}{next_day} {zone}, from setting up to packed up",
    hours_each="{days}, each day {begins} to {ends}{next_day} {zone}, from setting up to packed up",
    next_day=" the next day",
    where="Where: {place}.",
    when="When: {when}.",
    who="How many: {people} in all, everyone counted{models}.{taught}",
    people=("1 person", "{} people"),
    models=(", 1 model among them", ", {} models among them"),
    taught=" It is teaching, and those who come pay for it.",
    things="What we bring: {things}.",
    no_things="What we bring: cameras only.",
    narrows=" It narrows the footway.",
    width="Width left for walkers beside us: {width}.{narrows}",
    insurance="Insurance: {insurance}{insured_to}.",
    insured_to=", valid to {day}",
    question=(
        "If you can give it: which conditions do you set, what does it cost, and which paper should we carry? "
        "An answer in writing would help us most."
    ),
    other_office="If another office decides on this, please tell us which one.",
    reply_by="We would be glad of your answer by {day}.",
    close="With kind regards,",
    gaps={
        "to_whom": "[who is asked]",
        "organiser": "[your name]",
        "contact": "[how to reach you]",
        "place": "[place]",
        "days": "[day]",
        "begins": "[from]",
        "ends": "[to]",
        "zone": "[time zone]",
        "what": "[what you ask for]",
        "people": "[how many people]",
        "things": "[stands, tripods and flashes]",
        "width": "[width in metres, not measured yet]",
        "insurance": "[insurer, sum and number]",
    },
    amounts=AMOUNTS,
    names={key: activity.words for key, activity in ACTIVITIES.items()},
    day=day_words,
)
TEXTS: dict[str, Texts] = {"en": ENGLISH}
LANGUAGES: dict[str, str] = {key: texts.name for key, texts in TEXTS.items()}


def letter(facts: LetterFacts, language: str = "en") -> tuple[str, str]:
    """(subject, body), to be read over and sent by hand. Raises InputProblem("language", ...)."""
    if language not in TEXTS:
        raise InputProblem("language", f"“{language[:20]}” is not written here yet; choose {', '.join(TEXTS)}")
    texts = TEXTS[language]
    place = facts.place or texts.gaps["place"]
    subject = texts.subject.format(place=place, days=_days(facts, texts))
    return " ".join(subject.split()), "\n\n".join(_paragraphs(facts, texts, place)) + "\n"


def _paragraphs(facts: LetterFacts, texts: Texts, place: str) -> Iterator[str]:
    yield texts.greeting.format(to_whom=facts.to_whom or texts.gaps["to_whom"])
    what = [_amount(facts, texts, activity) for activity in facts.activities]
    yield texts.opening.format(place=place, what=listed(what) or texts.gaps["what"])
    yield "\n".join(_facts(facts, texts, place))
    yield texts.question
    yield texts.other_office
    if facts.reply_by:
        yield texts.reply_by.format(day=texts.day(facts.reply_by))
    who = (facts.organiser or texts.gaps["organiser"], facts.contact or texts.gaps["contact"])
    yield "\n".join((texts.close, *who))


def _facts(facts: LetterFacts, texts: Texts, place: str) -> Iterator[str]:
    yield texts.where.format(place=place)
    yield texts.when.format(when=_when(facts, texts))
    yield _who(facts, texts)
    yield _things(facts, texts)
    narrows = texts.narrows if facts.doing and facts.doing.obstruction else ""
    yield texts.width.format(width=_width(facts.width_left_m) or texts.gaps["width"], narrows=narrows)
    insured_to = texts.insured_to.format(day=texts.day(facts.insured_to)) if facts.insured_to else ""
    yield texts.insurance.format(insurance=facts.insurance or texts.gaps["insurance"], insured_to=insured_to)


def _days(facts: LetterFacts, texts: Texts) -> str:
    first, last = facts.first_day, facts.last_day or facts.first_day
    if first is None or last is None:
        return texts.gaps["days"]
    pattern = texts.one_day if first == last else texts.several_days
    return pattern.format(first=texts.day(first), last=texts.day(last))


def _when(facts: LetterFacts, texts: Texts) -> str:
    begins, ends = facts.from_time, facts.to_time
    several = facts.first_day and facts.last_day and facts.last_day > facts.first_day
    over = begins is not None and ends is not None and ends <= begins
    return (texts.hours_each if several else texts.hours).format(
        days=_days(facts, texts),
        begins=f"{begins:%H:%M}" if begins is not None else texts.gaps["begins"],
        ends=f"{ends:%H:%M}" if ends is not None else texts.gaps["ends"],
        next_day=texts.next_day if over else "",
        zone=facts.zone or texts.gaps["zone"],
    )


def _who(facts: LetterFacts, texts: Texts) -> str:
    doing = facts.doing
    people = facts.people or (doing.group if doing else 0)
    models = doing.models if doing else 0
    return texts.who.format(
        people=_counted(texts.people, people) if people else texts.gaps["people"],
        models=_counted(texts.models, models) if models else "",
        taught=texts.taught if doing and doing.teaching else "",
    )


def _things(facts: LetterFacts, texts: Texts) -> str:
    if facts.doing is None:
        return texts.things.format(things=texts.gaps["things"])
    things = [_amount(facts, texts, key) for key in THINGS if key in facts.doing.amounts()]
    return texts.things.format(things=listed(things)) if things else texts.no_things


def _amount(facts: LetterFacts, texts: Texts, activity: str) -> str:
    """With its number where that is known; people as asked for."""
    amount = (facts.people if activity == "group" else None) or (facts.doing or NOTHING).amounts().get(activity)
    return _counted(texts.amounts[activity], amount) if amount else texts.names[activity]


def _counted(one_and_several: tuple[str, str], number: int) -> str:
    return one_and_several[number != 1].format(number)


def _width(metres: float | None) -> str:
    """To the centimetre, never rounded up: it may be held against a least width."""
    return f"{floor(metres * 100 + 1e-6) / 100:g} m" if metres is not None else ""
