"""A workshop in the calendar of one kind of reader: numbered so that it changes there when it changes here.

The numbers are kept beside those of the deadlines (models/store/rules/calendar.py), with a digest of what the entry
said and nothing else of it.
"""

from __future__ import annotations

from dataclasses import asdict, dataclass, replace
from datetime import datetime
from hashlib import sha256

from models.clock import to_local
from models.exchange.workshop_calendar import AlarmNote, Meeting, Status, workshop_calendar
from models.planning.briefing.versions import current
from models.store import rules as kept
from models.store.engine import Store
from models.words import briefing_calendar as words
from models.words.briefing_parts import meets, over
from models.workshop.briefing import Briefing, Facts, Reader


@dataclass(frozen=True, slots=True)
class ReaderCalendar:
    """The file with its number: sequence grows with each change that a reader minds."""

    file: bytes
    uid: str
    sequence: int


def reader_calendar(store: Store, workshop_id: int, reader: Reader, now: datetime, link: str = "") -> ReaderCalendar:
    """What the latest version says; a draft is tentative, and what was moved since stands where it was moved to.

    link: of the reader's briefing, '' for none. Raises Missing.
    """
    told = current(store, workshop_id, now)
    briefing, facts = told.briefing(reader), told.ahead or told.facts
    with store.writing() as s:
        entry = kept.number_entry(s, _note(workshop_id, reader, _meeting(briefing, facts, "")))
    meeting = replace(_meeting(briefing, facts, link), uid=entry.uid, sequence=entry.sequence)
    return ReaderCalendar(workshop_calendar(meeting, now=now), entry.uid, entry.sequence)


def _meeting(briefing: Briefing, facts: Facts, link: str) -> Meeting:
    """Without its numbers, to the minute, as the briefing says it."""
    place, starts = words.meets_at(facts), _minute(meets(facts))
    return Meeting(
        uid="",
        sequence=0,
        status=_status(briefing),
        title=words.title_words(briefing),
        description=words.description_words(briefing, facts, link),
        location=words.location_words(facts),
        latitude_deg=place.latitude_deg,
        longitude_deg=place.longitude_deg,
        starts=starts,
        ends=max(_minute(over(facts, briefing.reader)), starts),
        zone=facts.zone,
        alarms=tuple(
            AlarmNote(before=before, words=said) for before, said in words.alarm_words(facts, briefing.reader)
        ),
        organiser=facts.organiser,
        mail=facts.contact,
        url=link,
    )


def _status(briefing: Briefing) -> Status:
    if briefing.standing == "called off":
        return "CANCELLED"
    return "CONFIRMED" if briefing.issued else "TENTATIVE"


def _minute(at: datetime) -> datetime:
    return at.replace(second=0, microsecond=0)


def _note(workshop_id: int, reader: Reader, meeting: Meeting) -> kept.CalendarNote:
    """What the entry says, as a digest, so that nothing of it is kept twice. Whom it links to is no change."""
    said = sha256(repr(sorted(asdict(meeting).items())).encode("utf-8", "backslashreplace")).hexdigest()
    day = to_local(meeting.starts, meeting.zone).date()
    about = f"{kept.OF_READERS}of workshop {workshop_id} for {reader}"
    return kept.CalendarNote(about=about, day=day, title="", description=said)
