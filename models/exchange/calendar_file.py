"""Deadlines as an iCalendar file (RFC 5545) that calendars import; importing it again updates what came before.

With calendar_zone and workshop_calendar the only home of icalendar.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from urllib.parse import quote

from icalendar import Alarm, Calendar, Event, vText

from models.words.directions import unturned

ALARM_AT = timedelta(hours=9)
"""Of the alarm's day, local time: an office is open and a person awake. Common practice, no source."""
PRODUCT = "-//Kerbstand//Deadlines//EN"
URL_SIGNS = ":/?#[]@!$&'()*+,;=%~"
"""Reserved in addresses, and the escapes that may stand in one already (RFC 3986 section 2)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A day to remember. uid: the same for good. alarm_days: how many days before it to be told, 0 for that day.

    sequence: never smaller than the last time. cancelled: it was in an earlier file and holds no more.
    """

    uid: str
    day: date
    title: str
    description: str = ""
    alarm_days: tuple[int, ...] = ()
    url: str = ""
    cancelled: bool = False
    sequence: int = 0


def deadlines_calendar(entries: Sequence[Entry], *, now: datetime, name: str) -> bytes:
    """The file, one all-day event an entry. now: aware.

    Without entries it has no component; RFC 5545 section 3.6 wants one, calendars take it as empty.
    """
    if now.tzinfo is None:
        raise ValueError(f"an instant needs its time zone: {now!r}")
    if len({entry.uid for entry in entries}) < len(entries):
        raise ValueError("two entries have one uid")
    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    calendar.add("x-wr-calname", vText(clean(name)))
    for entry in entries:
        calendar.add_component(_event(entry, now))
    return bytes(calendar.to_ical())


def _event(entry: Entry, now: datetime) -> Event:
    event = Event()
    event.add("uid", clean(entry.uid))
    event.add("dtstamp", now)
    event.add("dtstart", entry.day)
    event.add("dtend", entry.day + timedelta(days=1))
    event.add("summary", clean(entry.title))
    if entry.description:
        event.add("description", clean(entry.description))
    if entry.url:
        event.add("url", quote(entry.url, safe=URL_SIGNS))
    event.add("status", "CANCELLED" if entry.cancelled else "CONFIRMED")
    event.add("transp", "TRANSPARENT")
    event.add("sequence", entry.sequence)
    for days in () if entry.cancelled else sorted(set(entry.alarm_days), reverse=True):
        event.add_component(_alarm(entry.title, days))
    return event


def _alarm(title: str, days: int) -> Alarm:
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", clean(title))
    alarm.add("trigger", ALARM_AT - timedelta(days=days))
    return alarm


def clean(text: str) -> str:
    """Without the control characters that RFC 5545 section 3.3.11 forbids, and without signs that turn the
    direction of what follows; line ends become new lines."""
    lines = "\n".join(unturned(text).splitlines())
    return "".join(letter for letter in lines if letter in "\n\t" or unicodedata.category(letter) not in ("Cc", "Cs"))
