"""A workshop as an iCalendar file (RFC 5545) for one kind of reader: place, hours in the spot's zone, alarms.

Read again, it changes the entry that came before; called off, it takes it back (RFC 5546 sections 3.2.1 and 3.2.5).
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Literal
from urllib.parse import quote
from uuid import NAMESPACE_URL, uuid5
from zoneinfo import ZoneInfo

from icalendar import Alarm, Calendar, Event, vCalAddress

from models.exchange.calendar_file import URL_SIGNS, clean
from models.exchange.calendar_zone import timezone_of
from models.street.spot import LONGEST_NAME

PRODUCT = "-//Kerbstand//Workshop//EN"
Status = Literal["TENTATIVE", "CONFIRMED", "CANCELLED"]


@dataclass(frozen=True, slots=True, kw_only=True)
class AlarmNote:
    """before: the start. words: what is said then."""

    before: timedelta
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Meeting:
    """When and where somebody is wanted. uid: the same for good. sequence: never smaller than the last time.

    starts, ends: aware. zone: of the place. latitude_deg, longitude_deg: of where people come to. organiser: a name, ''
    for none. mail: its address, '' for none.
    """

    uid: str
    sequence: int
    status: Status
    title: str
    description: str
    location: str
    latitude_deg: float
    longitude_deg: float
    starts: datetime
    ends: datetime
    zone: str
    alarms: tuple[AlarmNote, ...] = ()
    organiser: str = ""
    mail: str = ""
    url: str = ""


def workshop_calendar(meeting: Meeting, *, now: datetime) -> bytes:
    """The file. now: aware. Raises ValueError for an instant without its zone."""
    if any(at.tzinfo is None for at in (now, meeting.starts, meeting.ends)):
        raise ValueError("an instant needs its time zone")
    called_off = meeting.status == "CANCELLED"
    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    calendar.add("method", "CANCEL" if called_off else "PUBLISH")
    if meeting.zone not in ("UTC", "Etc/UTC"):
        calendar.add_component(timezone_of(meeting.zone, meeting.starts, meeting.ends))
    event = _event(meeting, now)
    for alarm in () if called_off else sorted(meeting.alarms, key=lambda each: -each.before):
        event.add_component(_alarm(alarm))
    calendar.add_component(event)
    return bytes(calendar.to_ical())


def _event(meeting: Meeting, now: datetime) -> Event:
    event = Event()
    event.add("uid", clean(meeting.uid))
    event.add("dtstamp", now)
    event.add("dtstart", _local(meeting.starts, meeting.zone))
    event.add("dtend", _local(meeting.ends, meeting.zone))
    event.add("summary", clean(" ".join(meeting.title.split())))
    event.add("description", clean(meeting.description))
    event.add("location", clean(" ".join(meeting.location.split())))
    event.add("geo", (round(meeting.latitude_deg, 6), round(meeting.longitude_deg, 6)))
    event.add("organizer", _organiser(meeting))
    event.add("status", meeting.status)
    event.add("transp", "TRANSPARENT" if meeting.status == "CANCELLED" else "OPAQUE")
    event.add("sequence", meeting.sequence)
    if meeting.url:
        event.add("url", quote(meeting.url, safe=URL_SIGNS))
    return event


def _local(at: datetime, zone: str) -> datetime:
    """By the clocks of the zone; in UTC where they show the same time for the second time in a night, since a local
    time means its first (section 3.3.5)."""
    local = at.astimezone(ZoneInfo(zone)).replace(microsecond=0)
    return local.astimezone(UTC) if local.fold else local


def _organiser(meeting: Meeting) -> vCalAddress:
    """Both methods want one (RFC 5546 sections 3.2.1 and 3.2.5); a number of its own where there is no mail address."""
    mail = meeting.mail.strip()
    is_mail = mail.isascii() and mail.isprintable() and mail.count("@") == 1 and " " not in mail
    address = f"mailto:{quote(mail, safe='@.+-_')}" if is_mail else f"urn:uuid:{uuid5(NAMESPACE_URL, meeting.uid)}"
    organiser = vCalAddress(address)
    name = clean(" ".join(meeting.organiser.split())).replace('"', "'")[:LONGEST_NAME]
    if name:
        organiser.params["CN"] = name
    return organiser


def _alarm(note: AlarmNote) -> Alarm:
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", clean(note.words))
    alarm.add("trigger", -note.before)
    return alarm
