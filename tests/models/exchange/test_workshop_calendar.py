"""A workshop as iCalendar: held to RFC 5545 by a reader of our own, and read by vobject as a second program."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
import vobject
from hypothesis import given, settings
from hypothesis import strategies as st

from models.exchange.workshop_calendar import AlarmNote, Meeting, workshop_calendar
from tests.models.exchange.calendar_rules import instant, read_calendar

NOW = datetime(2026, 6, 1, 14, 5, 9, 250_000, tzinfo=UTC)
EVENING = Meeting(
    uid="3f0c@kerbstand",
    sequence=2,
    status="CONFIRMED",
    title="Evening in the lane",
    description="Meet at 16:22 CEST, Market Square.\nLate, lost or ill: call 555 0199",
    location="Market Square, by the pump",
    latitude_deg=52.529982,
    longitude_deg=-5.23,
    starts=datetime(2026, 10, 17, 14, 22, tzinfo=UTC),
    ends=datetime(2026, 10, 17, 16, 0, tzinfo=UTC),
    zone="Europe/Amsterdam",
    alarms=(AlarmNote(before=timedelta(hours=2), words="Soon"), AlarmNote(before=timedelta(days=1), words="Tomorrow")),
    organiser="Ada Example",
)
HOSTILE = [
    'Light; the "lane", and \\ more: today \\n',
    "Größte Mühe, größtes Licht " * 8,
    "🎈" * 300,
    "x" * 300,
    "two\r\nlines\nEND:VEVENT\nBEGIN:VALARM",
    "\u202eمِكْתָּب 市役所へ\x00\x07",
]


def read(meeting, now=NOW):
    """The calendar and its one event."""
    calendar = read_calendar(workshop_calendar(meeting, now=now))
    (event,) = [part for part in calendar.parts if part.kind == "VEVENT"]
    return calendar, event


def other(meeting):
    """The event as the other library reads it."""
    return vobject.readOne(workshop_calendar(meeting, now=NOW).decode("utf-8")).vevent


def test_who_comes_finds_when_and_where():
    calendar, event = read(EVENING)
    assert (event["UID"], event["SEQUENCE"], event["STATUS"]) == ("3f0c@kerbstand", "2", "CONFIRMED")
    assert (event["SUMMARY"], event["DESCRIPTION"]) == (EVENING.title, EVENING.description)
    assert (event["LOCATION"], event["GEO"]) == (EVENING.location, "52.529982;-5.23")
    assert event.values["DTSTART"] == [("20261017T162200", ";TZID=Europe/Amsterdam")]
    assert event["DTSTAMP"] == "20260601T140509Z"
    assert (instant(calendar, event, "DTSTART"), instant(calendar, event, "DTEND")) == (EVENING.starts, EVENING.ends)
    assert (calendar["METHOD"], event["TRANSP"]) == ("PUBLISH", "OPAQUE")


def test_another_library_reads_the_same():
    event = other(EVENING)
    assert (event.dtstart.value, event.dtend.value) == (EVENING.starts, EVENING.ends)
    assert (event.summary.value, event.description.value) == (EVENING.title, EVENING.description)
    assert (event.location.value, event.uid.value, event.sequence.value) == (EVENING.location, EVENING.uid, "2")
    assert [alarm.trigger.value for alarm in event.valarm_list] == [timedelta(days=-1), timedelta(hours=-2)]


def test_alarms_ring_before_the_start_the_first_to_ring_first():
    _, event = read(EVENING)
    rings = [(alarm["TRIGGER"], alarm["DESCRIPTION"]) for alarm in event.parts]
    assert rings == [("-P1D", "Tomorrow"), ("-PT2H", "Soon")]


def test_what_is_called_off_takes_the_entry_back_and_rings_no_more():
    calendar, event = read(replace(EVENING, status="CANCELLED", sequence=3))
    assert (calendar["METHOD"], event["STATUS"], event["SEQUENCE"]) == ("CANCEL", "CANCELLED", "3")
    assert (event.parts, event["TRANSP"]) == ([], "TRANSPARENT")
    assert "ORGANIZER" in event.values  # RFC 5546 section 3.2.5


@pytest.mark.parametrize(
    ("mail", "address"),
    [
        ("ada@example.org", "mailto:ada@example.org"),
        ("555 0199", "urn:uuid:"),
        ("", "urn:uuid:"),
        ("a@b@c", "urn:uuid:"),
        ("a@b\r\nX-EVIL:1", "urn:uuid:"),
    ],
)
def test_the_organiser_is_an_address_whatever_the_contact_is(mail, address):
    _, event = read(replace(EVENING, mail=mail))
    ((value, parameters),) = event.values["ORGANIZER"]
    assert value.startswith(address)
    assert parameters in (";CN=Ada Example", ';CN="Ada Example"')


AUTUMN = datetime(2026, 10, 25, 0, 30, tzinfo=UTC)
"""02:30 in Amsterdam, for the first time; an hour later it is 02:30 again."""


def test_over_the_night_when_the_clocks_go_back():
    meeting = replace(EVENING, starts=AUTUMN, ends=AUTUMN + timedelta(hours=1))
    calendar, event = read(meeting)
    assert event.values["DTSTART"] == [("20261025T023000", ";TZID=Europe/Amsterdam")]
    assert event.values["DTEND"] == [("20261025T013000Z", "")]  # the second 02:30 has no local name: section 3.3.5
    assert (instant(calendar, event, "DTSTART"), instant(calendar, event, "DTEND")) == (meeting.starts, meeting.ends)
    both = (other(meeting).dtstart.value.astimezone(UTC), other(meeting).dtend.value.astimezone(UTC))
    assert both == (meeting.starts, meeting.ends)


@pytest.mark.parametrize("minutes", [-1, 0, 1, 59, 60, 61])
def test_round_the_hour_that_is_left_out_in_spring(minutes):
    starts = datetime(2026, 3, 29, 1, 0, tzinfo=UTC) + timedelta(minutes=minutes)
    meeting = replace(EVENING, starts=starts, ends=starts + timedelta(hours=3))
    calendar, event = read(meeting)
    assert (instant(calendar, event, "DTSTART"), instant(calendar, event, "DTEND")) == (meeting.starts, meeting.ends)
    assert other(meeting).dtstart.value == starts


def test_onsets_stand_in_the_local_time_of_before():
    """Section 3.6.5; the changes of 2026 in the Netherlands: 29 March 02:00 CET, 25 October 03:00 CEST."""
    calendar, _ = read(EVENING)
    (zone,) = [part for part in calendar.parts if part.kind == "VTIMEZONE"]
    onsets = {(part.kind, part["DTSTART"]): (part["TZOFFSETFROM"], part["TZOFFSETTO"]) for part in zone.parts}
    assert onsets["DAYLIGHT", "20260329T020000"] == ("+0100", "+0200")
    assert onsets["STANDARD", "20261025T030000"] == ("+0200", "+0100")


ZONES = (
    "Europe/Amsterdam", "Europe/Dublin", "Australia/Lord_Howe", "Africa/Casablanca", "Asia/Kolkata", "America/St_Johns",
    "Pacific/Apia", "UTC", "Etc/GMT+12",
)  # fmt: skip


@given(
    zone=st.sampled_from(ZONES),
    starts=st.datetimes(datetime(1999, 1, 1), datetime(2060, 1, 1), timezones=st.just(UTC)),  # noqa: DTZ001  bounds
    minutes=st.integers(0, 600),
)
@settings(max_examples=30)
def test_in_any_zone_the_file_alone_gives_the_instants_back(zone, starts, minutes):
    starts = starts.replace(microsecond=0)
    meeting = replace(EVENING, zone=zone, starts=starts, ends=starts + timedelta(minutes=minutes))
    calendar, event = read(meeting)
    assert (instant(calendar, event, "DTSTART"), instant(calendar, event, "DTEND")) == (meeting.starts, meeting.ends)
    value = event.values["DTSTART"][0][0]
    local = starts.astimezone(ZoneInfo(zone))
    assert value in (f"{local:%Y%m%dT%H%M%S}", f"{starts:%Y%m%dT%H%M%SZ}")


@pytest.mark.parametrize("text", HOSTILE)
def test_any_text_comes_through_whole(text):
    alarm = AlarmNote(before=timedelta(hours=2), words=text)
    meeting = replace(
        EVENING, title=text, description=text, location=text, organiser=text, alarms=(alarm,), url="https://a.example/"
    )
    calendar, event = read(meeting)
    assert [part.kind for part in calendar.parts] == ["VTIMEZONE", "VEVENT"]
    shown = text.replace("\x00", "").replace("\x07", "").replace("\u202e", "")
    assert event["DESCRIPTION"] == event.parts[0]["DESCRIPTION"] == "\n".join(shown.splitlines())
    assert event["SUMMARY"] == event["LOCATION"] == " ".join(shown.split())
    assert len(event.parts) == 1
    assert other(meeting).summary.value == " ".join(shown.split())


def test_an_instant_without_its_zone_is_a_mistake():
    with pytest.raises(ValueError, match="needs its time zone"):
        workshop_calendar(EVENING, now=NOW.replace(tzinfo=None))
    with pytest.raises(ValueError, match="needs its time zone"):
        workshop_calendar(replace(EVENING, ends=datetime(2026, 1, 1)), now=NOW)  # noqa: DTZ001  the mistake
