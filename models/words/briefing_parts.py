"""What every reader of a briefing is told alike: when, where, whom to call, and the paragraphs that are theirs."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from models.clock import day_words, time_words, to_local, zone_short
from models.words.briefing import PARAGRAPHS, Where
from models.workshop.briefing import Briefing, Facts, Place, Reader, Section, Table, TimedBlock
from models.workshop.running_order import PACK, RELEASE

NOT_YET = "not said yet"
NO_MEETING = "Where we meet is not said yet: ask before the day."
NO_ROUNDS = "The rounds are not planned yet; their times follow in a later version."
STANDING_WORDS = {
    "called off": "Called off: do not come. What stands below is what was planned.",
    "moved": "Moved: the time or the place is not what it was. Read what changed first.",
    "on": "",
}
DRAFT_WORDS = "A draft that was never issued: nothing in it is promised yet."


def standing_words(briefing: Briefing) -> str:
    """What is said before anything else, '' where nothing is."""
    return " ".join(filter(None, (briefing.instead, STANDING_WORDS[briefing.standing])))


def version_words(briefing: Briefing) -> str:
    """'Version 2, issued on Saturday 10 October 2026.', or that it is a draft or not issued yet."""
    if briefing.issued is None:
        return f"Version {briefing.version}, not issued yet." if briefing.version else DRAFT_WORDS
    return f"Version {briefing.version}, issued on {day_words(briefing.issued)}."


def clock(facts: Facts, instant: datetime) -> str:
    """'16:40 CEST', by the clocks of the spot."""
    return time_words(instant, facts.zone)


def day_of(facts: Facts) -> str:
    """The local day on which people meet."""
    return day_words(to_local(meets(facts), facts.zone).date())


def meets(facts: Facts) -> datetime:
    """When people meet: the running order's first block, else the set-up."""
    return facts.blocks[0].starts if facts.blocks else facts.starts


def packed(facts: Facts) -> datetime:
    """When all is packed up: the end of packing in the running order, else as the workshop has it."""
    return next((block.ends for block in facts.blocks if block.key == PACK), facts.ends)


def over(facts: Facts, reader: Reader = "helper") -> datetime:
    """When it is over: for helpers at the end of the running order, for all others once they are released; where there
    are no rounds yet, when all is packed up."""
    if not has_rounds(facts):
        return facts.ends
    released = next((block.ends for block in facts.blocks if block.key == RELEASE), None)
    return facts.blocks[-1].ends if reader == "helper" or released is None else released


def has_rounds(facts: Facts) -> bool:
    return any(block.key.startswith("round ") for block in facts.blocks)


def place_words(place: Place) -> str:
    """'Ferry quay, 52.52880, 5.22750'."""
    return f"{place.name}, {coordinates(place)}"


def coordinates(place: Place) -> str:
    return f"{place.latitude_deg:.5f}, {place.longitude_deg:.5f}"


def when(facts: Facts, title: str, *first: str) -> Section:
    """The timetable. first: what this reader is told before it."""
    zone = zone_short(facts.starts, facts.zone)
    told = (*first, f"{day_of(facts)}. Times are local ({zone}).", *(() if has_rounds(facts) else (NO_ROUNDS,)))
    return Section("when", title, told, table=Table(("From", "To", "What"), tuple(_rows(facts))))


def where(facts: Facts, title: str) -> Section:
    """Meeting point, way, spot, and where to go instead, with the sketch of it."""
    items = [f"Meeting point: {place_words(facts.meeting)}"] if facts.meeting else []
    items.append(f"Spot: {place_words(facts.spot)}")
    if facts.fallback:
        items.append(f"Where we go instead: {place_words(facts.fallback)}")
    return Section("where", title, tuple(_ways(facts)), tuple(items), sketch=True)


def call(facts: Facts, title: str) -> Section:
    """Who is called for what; what nobody filled in says so."""
    lines = (
        ("Organiser", facts.organiser),
        ("Call when late, lost or ill", facts.contact or facts.organiser),
        ("Who talks if we are asked to stop", facts.talks or facts.organiser),
        ("First aid", facts.first_aider),
        ("Emergency number", facts.emergency),
        ("An ambulance is sent to", facts.ambulance),
        ("Who has spares", facts.spares),
    )
    return Section("call", title, items=tuple(f"{what}: {words or NOT_YET}" for what, words in lines))


def told(facts: Facts, reader: Reader, *places: Where) -> tuple[str, ...]:
    """The standard paragraphs of these places that this reader gets, without those left empty."""
    keys = [key for place in places for key, each in PARAGRAPHS.items() if each.where == place]
    return tuple(
        text for key in keys if reader in PARAGRAPHS[key].readers and (text := facts.paragraphs.get(key, "").strip())
    )


def _rows(facts: Facts) -> Iterator[tuple[str, str, str]]:
    for block in facts.blocks:
        yield _hm(facts, block.starts), _hm(facts, block.ends) if block.ends > block.starts else "", _block(block)
    if not has_rounds(facts):
        yield _hm(facts, facts.ends), "", "Packed up by then"


def _block(block: TimedBlock) -> str:
    return f"{block.title}. {block.note}" if block.note else block.title


def _hm(facts: Facts, instant: datetime) -> str:
    """With its zone where the clocks were put on or back since the start."""
    same = zone_short(instant, facts.zone) == zone_short(facts.starts, facts.zone)
    return f"{to_local(instant, facts.zone):%H:%M}" if same else clock(facts, instant)


def _ways(facts: Facts) -> Iterator[str]:
    if facts.meeting is None:
        yield NO_MEETING
    elif facts.meeting.words:
        yield f"To find the meeting point: {sentence(facts.meeting.words)}"
    if facts.walk:
        yield f"From the meeting point to the spot: {facts.walk}"
    if facts.spot.words:
        yield f"The spot: {sentence(facts.spot.words)}"
    if facts.facilities:
        yield f"Near the spot: {sentence(facts.facilities)}"
    if facts.indoors:
        yield f"In rain we meet here: {sentence(facts.indoors)}"
    if facts.fallback is None:
        yield "No place to go to instead is chosen yet."
    elif facts.decide_by:
        yield _decided(facts, facts.fallback, facts.decide_by)


def _decided(facts: Facts, fallback: Place, by: datetime) -> str:
    """By when it is decided where we go, and how people hear of it."""
    decided = f"Whether we go to {fallback.name} instead is decided by {clock(facts, by)}"
    if by >= meets(facts):
        return f"{decided} and said to all who have met."
    ask = facts.contact or facts.organiser
    where = facts.meeting.name if facts.meeting else ""
    heard = f"ask {ask} from then on" if ask else "" if where else "how you hear of it is not said yet"
    heard = ", or ".join(filter(None, (heard, f"hear it at {where}" if where else "")))
    return f"{decided}, before we meet: {heard}."


def sentence(words: str) -> str:
    """The words with a full stop, unless they end a sentence already."""
    plain = words.strip()
    return plain if plain[-1:] in ".!?" else f"{plain}."
