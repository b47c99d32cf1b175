"""A briefing in its reader's words: attendees, models, helpers. The same facts, each told what is theirs to know."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from models.words.briefing_changes import changes_of, standing_of
from models.words.briefing_parts import call, clock, day_of, meets, over, packed, sentence, told, when, where
from models.words.dial_card import CHECK_WORDS
from models.words.hazards import SHEET_NOTE
from models.words.running import HEADS_WORDS, NIGHT_BEFORE
from models.words.said import listed
from models.workshop.briefing import Briefing, Facts, Reader, Section, StationTold, Table

NO_STATIONS = "No station is set up yet; the gear of the day follows in a later version."
NO_WEATHER = "No weather is known for the hour yet: look at the forecast the evening before."
NO_ENQUIRIES = "No enquiry is on record for this workshop. Do not say that anything was granted."
NO_LEAF = "Nothing is worked out beforehand yet: it needs people and stations."
CHECK_FIRST = "Check these on the camera before the first frame:"
CARRIED = "Answers on paper are carried, each with its reference. An answer covers what it names and nothing else."


def briefing_of(facts: Facts, reader: Reader, version: int, issued: date | None, before: Facts | None) -> Briefing:
    """What one reader gets. version: 0 and issued: None for a draft. before: the facts of the version before."""
    return Briefing(
        reader=reader,
        version=version,
        issued=issued,
        standing=standing_of(facts, before),
        title=facts.title,
        answer=_answer(facts, reader),
        changes=changes_of(before, facts, reader) if before else (),
        sections=tuple(each for each in VOICES[reader](facts) if _says(each)),
        meeting=facts.meeting,
        spot=facts.spot,
        starts=facts.starts,
        ends=facts.ends,
        zone=facts.zone,
    )


def _answer(facts: Facts, reader: Reader) -> str:
    """When and where, in two sentences."""
    begins = {"attendee": "Meet", "model": "Your call is", "helper": "Be there"}[reader]
    place = facts.meeting.name if facts.meeting else "a place that is not said yet"
    start = f"{day_of(facts)}: {begins[0].lower()}{begins[1:]} at {clock(facts, meets(facts))}, {place}."
    done, ends = clock(facts, packed(facts)), clock(facts, over(facts, reader))
    later = f", over by {ends}" if over(facts, reader) > packed(facts) and ends != done else ""
    return f"{start} Set-up at {clock(facts, facts.starts)}, {facts.spot.name}; packed up by {done}{later}."


def _attendee(facts: Facts) -> Iterator[Section]:
    yield when(facts, "When")
    yield where(facts, "Where")
    yield Section("bring", "What to bring", items=facts.bring)
    yield Section("wear", "What to wear", (_weather(facts),), facts.wear)
    yield _gear(facts, "The gear of the day")
    yield Section("turns", "How turns work", told(facts, "attendee", "turns", "breaks"))
    yield Section("conduct", "How we work in the street", told(facts, "attendee", "conduct"))
    yield Section("safety", "Safety", told(facts, "attendee", "safety"), facts.cautions)
    yield Section("pictures", "What pictures are for", told(facts, "attendee", "pictures"))
    yield Section("stopped", "If we are asked to stop", told(facts, "attendee", "stopped"))
    yield call(facts, "Who to call")


def _model(facts: Facts) -> Iterator[Section]:
    yield when(facts, "Your call", f"You are called for {clock(facts, meets(facts))}.")
    yield where(facts, "Where")
    yield Section("happens", "What happens", told(facts, "model", "turns", "conduct"))
    yield Section("breaks", "Breaks", told(facts, "model", "breaks"), facts.rests)
    yield Section("warmth", "Warmth", (*told(facts, "model", "warmth"), _weather(facts)))
    yield Section("bring", "What to bring and wear", items=facts.bring_models)
    yield Section("owed", "What you are owed", told(facts, "model", "owed"))
    yield Section("pictures", "What pictures are for", told(facts, "model", "pictures"))
    yield Section("safety", "Safety", told(facts, "model", "safety"), facts.cautions)
    yield Section("stopped", "If we are asked to stop", told(facts, "model", "stopped"))
    yield call(facts, "Who to call")


def _helper(facts: Facts) -> Iterator[Section]:
    yield when(facts, "When", f"{facts.group} people stand there in all." if facts.group else "")
    yield where(facts, "Where")
    yield Section("duties", "Your duties", told(facts, "helper", "turns", "breaks"), tuple(_duties(facts)))
    yield _gear(facts, "Stations and their setups", drawings=True)
    yield Section("redials", "Dial again as the light moves", items=facts.redials)
    yield Section("kit", "Kit list", items=facts.kit or (NO_STATIONS,))
    yield _batteries(facts)
    yield Section("conduct", "How we work in the street", told(facts, "helper", "conduct"))
    yield Section("warmth", "Warmth", (*told(facts, "helper", "warmth"), _weather(facts)), facts.rests)
    yield _enquiries(facts)
    yield Section("papers", "Papers to carry", items=facts.carry or ("No paper is noted yet.",))
    yield Section("guard", "What to say to a guard", told(facts, "helper", "guard"))
    yield Section("stopped", "If we are asked to stop", told(facts, "helper", "stopped"))
    yield Section("plan b", "Plan B", items=facts.leaf or (NO_LEAF,))
    yield Section("safety", "Safety", (*told(facts, "helper", "safety"), SHEET_NOTE), facts.hazards)
    yield Section("pictures", "What pictures are for", told(facts, "helper", "pictures"))
    yield call(facts, "Who to call")


VOICES = {"attendee": _attendee, "model": _model, "helper": _helper}


def _gear(facts: Facts, title: str, *, drawings: bool = False) -> Section:
    """Every station with where its dials start, the light that is for, and why some do not work as they are set up."""
    if not facts.stations:
        return Section("gear", title, (NO_STATIONS, *filter(None, (facts.light,))))
    rows = tuple(_station(each) for each in facts.stations)
    reasons = tuple(_reasons(facts))
    plans = tuple(dict.fromkeys(each.setup_id for each in facts.stations if each.setup_id)) if drawings else ()
    light, checks = (sentence(facts.light),) if facts.light else (), tuple(CHECK_WORDS.values())
    head = ("Station", "Setup", "Start at", "Lights", "What is learnt")
    return Section("gear", title, (*light, *reasons, CHECK_FIRST), checks, Table(head, rows), plans)


def _reasons(facts: Facts) -> Iterator[str]:
    """Said once where it is the same at several stations."""
    for reason in dict.fromkeys(each.reason for each in facts.stations if each.reason):
        names = [each.name for each in facts.stations if each.reason == reason]
        yield f"{listed(names)}. {sentence(reason)}"


def _station(each: StationTold) -> tuple[str, ...]:
    lights = ", ".join(each.powers) or "not known yet"
    return (
        each.name,
        each.setup or "not chosen yet",
        each.settings or "not known yet",
        lights,
        each.lesson or "not noted",
    )


def _duties(facts: Facts) -> Iterator[str]:
    for block in facts.blocks:
        if block.key in HEADS_WORDS:
            yield f"{clock(facts, block.ends)}: {HEADS_WORDS[block.key]}"
    if facts.decide_by and facts.fallback:
        yield f"{clock(facts, facts.decide_by)}: ask whether we go to {facts.fallback.name} instead."
    yield "Lend a hand where a group has too few: one hand at every held light, eyes on the pavement at every station."


def _batteries(facts: Facts) -> Section:
    charge = tuple(f"Charge: {each}" for each in facts.charge)
    if not (charge or facts.cells):
        return Section("batteries", "Battery plan", ("Nothing can be counted yet: it needs people and stations.",))
    return Section("batteries", "Battery plan", (NIGHT_BEFORE,), (*charge, *facts.cells))


def _enquiries(facts: Facts) -> Section:
    title = "What was asked, and the answers"
    if not facts.enquiries:
        return Section("enquiries", title, (NO_ENQUIRIES,))
    head = ("Asked of", "Reference", "How it stands", "Conditions")
    rows = tuple((who, ref or "none noted", state, said or "none noted") for who, ref, state, said in facts.enquiries)
    return Section("enquiries", title, (CARRIED,), table=Table(head, rows))


def _weather(facts: Facts) -> str:
    return f"Weather at set-up: {facts.weather}." if facts.weather else NO_WEATHER


def _says(section: Section) -> bool:
    """Whether anything stands under its heading."""
    return bool(section.items or section.table or section.sketch or any(section.paragraphs))
