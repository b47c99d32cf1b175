"""What changed between two versions of a briefing, in words, for one reader; and whether it is called off or moved."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta

from models.clock import day_words, to_local
from models.words.briefing import PARAGRAPHS, brackets
from models.words.briefing_parts import clock, coordinates, meets, place_words, sentence
from models.words.running import lasts_words
from models.workshop.briefing import READERS, Facts, Place, Reader, Standing, StationTold

JUST = timedelta(seconds=30)
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
    ("kit", "Kit list", HELPING),
    ("charge", "To charge", HELPING),
    ("cells", "Battery plan", HELPING),
    ("carry", "Papers to carry", HELPING),
    ("leaf", "Plan B", HELPING),
)

OTHERWISE = "Something small changed: read it again."


def standing_of(facts: Facts, before: Facts | None) -> Standing:
    """Moved: set-up begins at another time, or at another spot, than in the version before."""
    if facts.called_off:
        return "called off"
    moved = before is not None and (facts.starts != before.starts or not _same_place(facts.spot, before.spot))
    return "moved" if moved else "on"


def changes_of(before: Facts, after: Facts, reader: Reader) -> tuple[str, ...]:
    """What is other than in the version before, most pressing first; () where nothing of this reader's is."""
    found = [*_standing(before, after), *_times(before, after), *_places(before, after)]
    found += [*_stations(before, after, reader), *_lines(before, after, reader)]
    found += [*_lists(before, after, reader), *_enquiries(before, after, reader), *_paragraphs(before, after, reader)]
    return tuple(found)


def all_changes(before: Facts, after: Facts) -> tuple[str, ...]:
    """Those of all readers, each once; something even where no sentence says it."""
    found = [line for reader in READERS for line in changes_of(before, after, reader)]
    return tuple(dict.fromkeys(found)) or ((OTHERWISE,) if before != after else ())


def moved_since(facts: Facts, starts: datetime, spot_name: str, point: tuple[float, float]) -> str:
    """That a workshop was moved after this was issued, '' where it was not. starts: of its set-up now. point: of its
    spot now, latitude and longitude in degrees."""
    elsewhere = (facts.spot.latitude_deg, facts.spot.longitude_deg) != point
    if starts == facts.starts and not elsewhere:
        return ""
    day = day_words(to_local(starts, facts.zone).date())
    return (
        f"Moved since this version was issued: set-up is now on {day} at {clock(facts, starts)}, {spot_name}. What "
        "stands below is not yet worked over; a new version follows."
    )


def _standing(before: Facts, after: Facts) -> Iterator[str]:
    if after.called_off and not before.called_off:
        yield "Called off."
    if before.called_off and not after.called_off:
        yield "It is on again."
    if before.title != after.title:
        yield f"It is now called {after.title}."


def _times(before: Facts, after: Facts) -> Iterator[str]:
    """The day, when we meet, then each time that did not just go along."""
    was, now = (to_local(each.starts, each.zone).date() for each in (before, after))
    if was != now:
        yield f"The day is now {day_words(now)}; it was {day_words(was)}."
    if before.zone != after.zone:
        yield f"Times are now those of {after.zone}."
    meet, set_up, packed = (
        _since(before, after, meets(before), meets(after)),
        _since(before, after, before.starts, after.starts),
        _since(before, after, before.ends, after.ends),
    )
    clocks = (clock(after, meets(after)), clock(after, after.starts), clock(after, after.ends))
    if abs(meet) >= JUST and max(abs(set_up - meet), abs(packed - meet)) < JUST:
        at = f"meet at {clocks[0]}, set-up at {clocks[1]}, packed up by {clocks[2]}"
        yield f"Everything is {_later(meet).removesuffix(', ')}: {at}."
    else:
        if abs(meet) >= JUST or was != now:
            yield f"Meet {_later(meet)}at {clocks[0]}."
        if abs(set_up) >= JUST:
            yield f"Set-up {_later(set_up)}at {clocks[1]}."
        if abs(packed) >= JUST:
            yield f"Packed up {_later(packed)}by {clocks[2]}."
    yield from _blocks(before, after, {round(each.total_seconds()) for each in (meet, set_up)})


def _blocks(before: Facts, after: Facts, along: set[int]) -> Iterator[str]:
    """along: shifts in seconds that were said already."""
    then, now = ({block.key: block for block in each.blocks} for each in (before, after))
    new = [block.title for key, block in now.items() if key not in then]
    gone = [block.title for key, block in then.items() if key not in now]
    if new:
        yield f"New in the running order: {', '.join(new)}."
    if gone:
        yield f"No longer in the running order: {', '.join(gone)}."
    for key, block in now.items():
        was = then.get(key)
        if was is None:
            continue
        shift = _since(before, after, was.starts, block.starts)
        if round(shift.total_seconds()) not in along and abs(shift) >= JUST:
            yield f"{block.title} begins {_later(shift)}at {clock(after, block.starts)}."
        longer = (block.ends - block.starts) - (was.ends - was.starts)
        if abs(longer) >= JUST:
            yield f"{block.title} takes {_lasts(longer)} {'longer' if longer > timedelta() else 'less'}."
        if (was.note, was.title) != (block.note, block.title):
            yield f"{block.title}: {sentence(block.note) if block.note else 'nothing is noted any more.'}"


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
        elif not _same_place(was, now):
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
    for name, each in now.items():
        was = then.get(name)
        if was is None:
            yield f"Station {name} is new."
        elif was != each:
            yield f"Station {name}: {_station(was, each)}."


def _station(was: StationTold, now: StationTold) -> str:
    if was.setup != now.setup:
        return f"the setup is now {now.setup}" if now.setup else "its setup is open again"
    if (was.settings, was.powers) != (now.settings, now.powers):
        powers = f", {', '.join(now.powers)}" if now.powers else ""
        return f"start at {now.settings}{powers}" if now.settings else "where to start is not known any more"
    if was.lesson != now.lesson:
        return f"what is learnt there is now: {now.lesson}" if now.lesson else "what is learnt there is open"
    return "it stands elsewhere" if was.place != now.place else "its light or its setup is not what it was"


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
    for key, paragraph in PARAGRAPHS.items():
        was, now = before.paragraphs.get(key, ""), after.paragraphs.get(key, "")
        if reader in paragraph.readers and was != now and not _same_but(was, now, filled):
            yield f"{paragraph.title}: {now}" if now else f"{paragraph.title}: no longer part of the briefing."


def _same_but(was: str, now: str, filled: Sequence[tuple[str, str]]) -> bool:
    for old, new in filled:
        was = was.replace(old, new).replace(old[:1].upper() + old[1:], new[:1].upper() + new[1:])
    return bool(now) and was == now


def _since(before: Facts, after: Facts, was: datetime, now: datetime) -> timedelta:
    """How much later by the clock on the wall, the day left out: a move to another day says so by itself."""
    then, later = (to_local(at, facts.zone).replace(tzinfo=None) for at, facts in ((was, before), (now, after)))
    days = to_local(after.starts, after.zone).date() - to_local(before.starts, before.zone).date()
    return later - then - days


def _later(shift: timedelta) -> str:
    """'15 minutes earlier, ', '' where the hour is the same."""
    if abs(shift) < JUST:
        return ""
    return f"{_lasts(shift)} {'later' if shift > timedelta() else 'earlier'}, "


def _lasts(length: timedelta) -> str:
    """To the minute: nobody meets by the second."""
    seconds = abs(length.total_seconds())
    return lasts_words(60 * round(seconds / 60) if seconds >= 60 else seconds)


def _same_place(one: Place, other: Place) -> bool:
    at = ((each.latitude_deg, each.longitude_deg) for each in (one, other))
    return next(at) == next(at)
