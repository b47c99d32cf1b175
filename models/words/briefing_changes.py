"""What changed between two versions of a briefing, in words, for one reader; and whether it is called off or moved."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from models.words.briefing import PARAGRAPHS, brackets
from models.words.briefing_parts import clock, coordinates, place_words, sentence
from models.words.briefing_times import times_told
from models.workshop.briefing import READERS, Facts, Place, Reader, Standing, StationTold

ALL: tuple[Reader, ...] = READERS
SHOOTING: tuple[Reader, ...] = ("attendee", "helper")
HELPING: tuple[Reader, ...] = ("helper",)

LINES: tuple[tuple[str, str, tuple[Reader, ...]], ...] = (
    ("walk", "the walk to the spot", ALL),
    ("facilities", "what is near the spot", ALL),
    ("indoors", "where we meet in rain", ALL),
    ("organiser", "the organiser", ALL),
    ("contact", "who is called when you are late, lost or ill", ALL),
    ("talks", "who talks if we are asked to stop", ALL),
    ("first_aider", "first aid", ALL),
    ("emergency", "the emergency number", ALL),
    ("ambulance", "where an ambulance is sent to", ALL),
    ("spares", "who has spares", ALL),
    ("goes_to", "where we walk if we are asked to stop", ALL),
    ("weather", "the weather", ALL),
    ("light", "the light", SHOOTING),
)
"""Single lines: the field, what it is called, whose briefing it stands in."""

LISTS: tuple[tuple[str, str, tuple[Reader, ...]], ...] = (
    ("bring", "What to bring", ("attendee",)),
    ("wear", "What to wear", ("attendee",)),
    ("bring_models", "What to bring and wear", ("model",)),
    ("cautions", "Safety", ("attendee", "model")),
    ("hazards", "Safety", HELPING),
    ("rests", "Breaks", ("model", "helper")),
    ("redials", "What to dial again", HELPING),
    ("kit", "Kit list", HELPING),
    ("charge", "To charge", HELPING),
    ("cells", "The battery plan", HELPING),
    ("carry", "Papers to carry", HELPING),
    ("leaf", "Plan B", HELPING),
)
WHOLE, MOST = ("rests", "redials", "cells", "leaf"), 3
"""Lists that are read as a whole; and of how much else of one kind each is told, not that much changed."""

OTHERWISE = "Something small changed: read it again."


def standing_of(facts: Facts, before: Facts | None) -> Standing:
    """Moved: set-up begins at another time, or at another spot, than in the version before."""
    if facts.called_off:
        return "called off"
    moved = before is not None and (facts.starts != before.starts or not same_place(facts.spot, before.spot))
    return "moved" if moved else "on"


def changes_of(before: Facts, after: Facts, reader: Reader) -> tuple[str, ...]:
    """What is other than in the version before, most pressing first; () where nothing of this reader's is."""
    return (*pressing(before, after), *the_rest(before, after, reader), *wording(before, after, reader))


def pressing(before: Facts, after: Facts) -> tuple[str, ...]:
    """On or off, times and places: what sends people wrong who do not know."""
    return (*_standing(before, after), *times_told(before, after), *_places(before, after))


def places_told(before: Facts, after: Facts) -> tuple[str, ...]:
    """On or off and places, without the times."""
    return (*_standing(before, after), *_places(before, after))


def the_rest(before: Facts, after: Facts, reader: Reader) -> tuple[str, ...]:
    """What is neither pressing nor wording."""
    found = [*_stations(before, after, reader), *_lines(before, after, reader)]
    return (*found, *_lists(before, after, reader), *_enquiries(before, after, reader))


def wording(before: Facts, after: Facts, reader: Reader) -> tuple[str, ...]:
    """Paragraphs that read otherwise."""
    return tuple(_paragraphs(before, after, reader))


def all_changes(before: Facts, after: Facts) -> tuple[str, ...]:
    """Those of all readers, each once; something even where no sentence says it."""
    found = [line for reader in READERS for line in changes_of(before, after, reader)]
    return tuple(dict.fromkeys(found)) or ((OTHERWISE,) if before != after else ())


def _standing(before: Facts, after: Facts) -> Iterator[str]:
    if after.called_off and not before.called_off:
        yield "Called off."
    if before.called_off and not after.called_off:
        yield "It is on again."
    if before.title != after.title:
        yield f"It is now called {after.title}."


def _places(before: Facts, after: Facts) -> Iterator[str]:
    named = (("spot", "The spot"), ("meeting", "The meeting point"), ("fallback", "Where we go instead"))
    for field, what in named:
        was, now = getattr(before, field), getattr(after, field)
        if was == now:
            continue
        if now is None:
            yield f"{what} is not said any more; it was {was.name}."
        elif was is None or was.name != now.name:
            yield f"{what} is now {place_words(now)}{f'; it was {was.name}' if was else ''}."
        elif not same_place(was, now):
            yield f"{what}, {now.name}, lies at {coordinates(now)} now."
        elif now.words:
            yield f"{what} is found otherwise: {sentence(now.words)}"
        else:
            yield f"{what}: how to find it is not said any more."
    if before.decide_by != after.decide_by and after.decide_by:
        yield f"Whether we go elsewhere is decided by {clock(after, after.decide_by)}."
    elif before.decide_by and not after.decide_by:
        yield "By when it is decided whether we go elsewhere is not said any more."


def _stations(before: Facts, after: Facts, reader: Reader) -> Iterator[str]:
    if before.frames != after.frames:
        yield f"{after.frames} frames a turn now." if after.frames else "How many frames a turn has is open again."
    if before.group_size != after.group_size:
        yield f"Groups of {after.group_size} now; it was {before.group_size}."
    if before.group != after.group:
        yield f"{after.group} people stand there in all; it was {before.group}."
    if reader not in SHOOTING or before.stations == after.stations:
        return
    then, now = ({each.name: each for each in facts.stations} for facts in (before, after))
    yield from (f"Station {name} is gone." for name in then if name not in now)
    yield from (f"Station {name} is new." for name in now if name not in then)
    other = [name for name, each in now.items() if then.get(name, each) != each]
    if len(other) > MOST:
        yield f"Setups or settings of {len(other)} stations changed: {', '.join(other)}."
        return
    alike: dict[str, list[str]] = {}
    for name in other:
        alike.setdefault(_station(then[name], now[name]), []).append(name)
    for words, names in alike.items():
        yield f"Station{'s' if len(names) > 1 else ''} {' and '.join(names)}: {words}."


def _station(was: StationTold, now: StationTold) -> str:
    if was.setup != now.setup:
        return f"the setup is now {now.setup}" if now.setup else "its setup is open again"
    if (was.settings, was.powers) != (now.settings, now.powers):
        powers = f", {', '.join(now.powers)}" if now.powers else ""
        return f"start at {now.settings}{powers}" if now.settings else "where to start is not known any more"
    if was.lesson != now.lesson:
        return f"what is learnt there is now: {now.lesson}" if now.lesson else "what is learnt there is open"
    return "another place in the street" if was.place != now.place else "light or setup is not what it was"


def _lines(before: Facts, after: Facts, reader: Reader) -> Iterator[str]:
    for field, what, readers in LINES:
        was, now = getattr(before, field), getattr(after, field)
        if reader in readers and was != now:
            yield (
                f"{what[0].upper()}{what[1:]} {'is now' if was else 'is'}: {sentence(now)}"
                if now
                else (f"{what[0].upper()}{what[1:]} is not said any more.")
            )


def _lists(before: Facts, after: Facts, reader: Reader) -> Iterator[str]:
    for field, what, readers in LISTS:
        was, now = getattr(before, field), getattr(after, field)
        if reader not in readers or was == now:
            continue
        new, gone = [each for each in now if each not in was], [each for each in was if each not in now]
        if field in WHOLE or len(new) + len(gone) > 2 * MOST:
            yield f"{what} changed{'' if now else ': nothing is said there any more'}."
            continue
        yield from (f"{what}, new: {sentence(each)}" for each in new)
        yield from (f"{what}, no longer: {sentence(each)}" for each in gone)
        if not (new or gone):
            yield f"{what}: in another order."


def _enquiries(before: Facts, after: Facts, reader: Reader) -> Iterator[str]:
    if reader not in HELPING or before.enquiries == after.enquiries:
        return
    for who, reference, state, conditions in after.enquiries:
        if (who, reference, state, conditions) not in before.enquiries:
            said = f"{who}: {state}{f', reference {reference}' if reference else ''}"
            yield f"{said}{f'; conditions: {conditions}' if conditions else ''}."
    left = {each[0] for each in after.enquiries}
    yield from (f"{each[0]}: no longer on record." for each in before.enquiries if each[0] not in left)


def _paragraphs(before: Facts, after: Facts, reader: Reader) -> Iterator[str]:
    """Those that read otherwise by more than what was filled in anew: that is told by itself."""
    filled = list(zip(brackets(before).values(), brackets(after).values(), strict=True))
    told = []
    for key, paragraph in PARAGRAPHS.items():
        was, now = before.paragraphs.get(key, ""), after.paragraphs.get(key, "")
        if reader in paragraph.readers and was != now and not _same_but(was, now, filled):
            told.append((paragraph.title, now or "no longer part of the briefing."))
    if len(told) > MOST:
        yield f"Worded otherwise: {', '.join(title for title, _ in told)}."
        return
    yield from (f"{title}: {words}" for title, words in told)


def _same_but(was: str, now: str, filled: Sequence[tuple[str, str]]) -> bool:
    for old, new in filled:
        was = was.replace(old, new).replace(old[:1].upper() + old[1:], new[:1].upper() + new[1:])
    return bool(now) and was == now


def same_place(one: Place, other: Place) -> bool:
    at = ((each.latitude_deg, each.longitude_deg) for each in (one, other))
    return next(at) == next(at)
