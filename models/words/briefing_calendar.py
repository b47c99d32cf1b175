"""What stands in a reader's calendar: title, what to know at a glance, and what the alarms say."""

from __future__ import annotations

from datetime import timedelta

from models.words.briefing_parts import DRAFT_WORDS, NOT_YET, clock, meets, sentence, standing_words
from models.workshop.briefing import Briefing, Facts, Place, Reader

TITLES: dict[Reader, str] = {"attendee": "{}", "model": "Your call: {}", "helper": "You help: {}"}
CALLED_OFF = "Called off: {}"
DAY_BEFORE, SHORTLY, CHARGING = timedelta(days=1), timedelta(hours=2), timedelta(days=2)
"""Alarms before the start: common practice, no source."""


def title_words(briefing: Briefing) -> str:
    title = TITLES[briefing.reader].format(briefing.title)
    return CALLED_OFF.format(title) if briefing.standing == "called off" else title


def description_words(briefing: Briefing, facts: Facts, link: str) -> str:
    """Line by line. link: of the whole briefing, '' for none."""
    lines = [standing_words(briefing), "" if briefing.issued else DRAFT_WORDS, briefing.answer]
    if facts.meeting and facts.meeting.words:
        lines.append(f"To find the meeting point: {sentence(facts.meeting.words)}")
    lines.append(f"From there to the spot: {facts.walk}" if facts.meeting and facts.walk else "")
    lines.append(f"In rain we meet here: {sentence(facts.indoors)}" if facts.indoors else "")
    lines.append(f"Late, lost or ill: call {facts.contact or NOT_YET}")
    lines.append(f"The whole briefing: {link}" if link else "")
    return "\n".join(line for line in lines if line)


def location_words(facts: Facts) -> str:
    """Where this reader comes to: the meeting point, else the spot."""
    return meets_at(facts).name


def meets_at(facts: Facts) -> Place:
    return facts.meeting or facts.spot


def alarm_words(facts: Facts, reader: Reader) -> tuple[tuple[timedelta, str], ...]:
    """How long before the start, and what is said then."""
    where = f"{clock(facts, meets(facts))}, {location_words(facts)}"
    title = TITLES[reader].format(facts.title)
    said = [(DAY_BEFORE, f"Tomorrow: {title}, {where}"), (SHORTLY, f"In two hours: {title}, {where}")]
    if reader == "helper":
        said.insert(0, (CHARGING, f"Charge everything for {facts.title}, and look through the kit list"))
    return tuple(said)
