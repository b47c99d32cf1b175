"""Deadlines as iCalendar, held to RFC 5545 by a reader of our own (`calendar_rules`)."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.exchange.calendar_file import Entry, deadlines_calendar
from tests.models.exchange.calendar_rules import read_calendar

NOW = datetime(2026, 6, 1, 14, 5, 9, 250_000, tzinfo=timezone(timedelta(hours=2)))
ASK = Entry(
    uid="3f0c@kerbstand",
    day=date(2026, 7, 3),
    title="Ask the harbour office by today",
    description="Stands on the ground, group of 12.\nWorkshop on 18 July 2026.",
    alarm_days=(7, 1),
    url="http://127.0.0.1:8000/enquiries/3?from=deadlines&kind=a%20b",
    sequence=2,
)


def events(*entries, now=NOW, name="Kerbstand: deadlines"):
    return read_calendar(deadlines_calendar(entries, now=now, name=name)).parts


def test_a_deadline_is_a_day_with_its_words_and_link():
    (event,) = events(ASK)
    assert event.kind == "VEVENT"
    assert (event["UID"], event["SUMMARY"], event["DESCRIPTION"]) == (ASK.uid, ASK.title, ASK.description)
    assert (event["DTSTART"], event["DTEND"], event["DTSTAMP"]) == ("20260703", "20260704", "20260601T120509Z")
    assert (event["URL"], event["SEQUENCE"], event["STATUS"]) == (ASK.url, "2", "CONFIRMED")


def test_a_day_to_remember_does_not_fill_the_day():
    """Section 3.8.2.7: others may still find the time free."""
    (event,) = events(ASK)
    assert event["TRANSP"] == "TRANSPARENT"


@pytest.mark.parametrize(
    ("days", "trigger"),
    [(0, "PT9H"), (1, "-PT15H"), (2, "-P1DT15H"), (7, "-P6DT15H"), (30, "-P29DT15H")],
)
def test_an_alarm_rings_at_nine_in_the_morning(days, trigger):
    """Counted by hand from midnight at the start of the day (section 3.8.6.3)."""
    ((alarm,),) = [event.parts for event in events(replace(ASK, alarm_days=(days,)))]
    assert (alarm["ACTION"], alarm["TRIGGER"], alarm["DESCRIPTION"]) == ("DISPLAY", trigger, ASK.title)


def test_alarms_come_once_each_the_first_to_ring_first():
    ((first, second),) = [event.parts for event in events(replace(ASK, alarm_days=(1, 7, 1)))]
    assert (first["TRIGGER"], second["TRIGGER"]) == ("-P6DT15H", "-PT15H")


def test_what_is_called_off_says_so_and_rings_no_more():
    (event,) = events(replace(ASK, cancelled=True, sequence=3))
    assert (event["STATUS"], event["SEQUENCE"], event.parts) == ("CANCELLED", "3", [])


def test_the_same_day_said_again_keeps_its_uid_and_a_later_stamp():
    (before,), (after,) = events(ASK), events(replace(ASK, title="Ask again", sequence=3), now=NOW + timedelta(days=1))
    assert before["UID"] == after["UID"]
    assert (before["SEQUENCE"], after["SEQUENCE"]) == ("2", "3")
    assert before["DTSTAMP"] < after["DTSTAMP"]


def test_the_last_day_of_a_year_ends_in_the_next():
    (event,) = events(replace(ASK, day=date(2026, 12, 31)))
    assert event["DTEND"] == "20270101"


def test_an_entry_with_nothing_more_to_say():
    (event,) = events(Entry(uid="1", day=date(2026, 7, 3), title="Ask"))
    assert "DESCRIPTION" not in event.values
    assert "URL" not in event.values
    assert event.parts == []


@pytest.mark.parametrize(
    "title",
    [
        'Ask; the harbour, and the \\ council: "today" \\n',
        "Frag das Straßenverkehrsamt, größte Mühe " * 8,
        "🎈" * 300,
        "x" * 300,
        "a\ufeffb\u2028c",
        "END:VEVENT\nBEGIN:VALARM",
        "tab\there",
        "מִכְתָּב لِلْبَلَدِيَّة 市役所へ",
    ],
)
def test_any_title_comes_through_whole(title):
    (event,) = events(replace(ASK, title=title, alarm_days=(3,)))
    meant = "\n".join(title.splitlines())
    assert (event["SUMMARY"], event.parts[0]["DESCRIPTION"]) == (meant, meant)


def test_signs_that_the_standard_forbids_are_left_out():
    (event,) = events(replace(ASK, title="a\x00b\x0bc\x07\x7fd\r\ne\rf"))
    assert event["SUMMARY"] == "ab\ncd\ne\nf"


def test_the_name_of_the_calendar_is_text_too():
    assert read_calendar(deadlines_calendar((), now=NOW, name="Ana, Bo; co"))["X-WR-CALNAME"] == "Ana, Bo; co"


def test_an_address_can_hold_no_second_line():
    (event,) = events(replace(ASK, url="https://a.example/?q=ä b\r\nX-EVIL:1"))
    assert event["URL"] == "https://a.example/?q=%C3%A4%20b%0D%0AX-EVIL:1"


def test_five_hundred_entries_stay_apart_and_in_order():
    entries = [replace(ASK, uid=f"{number}@kerbstand", title=f"No {number}") for number in range(500)]
    assert [event["UID"] for event in events(*entries)] == [entry.uid for entry in entries]


def test_two_entries_of_one_uid_are_a_mistake():
    with pytest.raises(ValueError, match="one uid"):
        deadlines_calendar((ASK, ASK), now=NOW, name="x")


def test_an_instant_without_its_zone_is_a_mistake():
    with pytest.raises(ValueError, match="needs its time zone"):
        deadlines_calendar((ASK,), now=NOW.replace(tzinfo=None), name="x")


@given(
    title=st.text(max_size=200),
    description=st.text(max_size=400),
    url=st.sampled_from(["http://127.0.0.1:8000/", ""]) | st.text(max_size=60).map("https://a.example/{}".format),
    days=st.lists(st.integers(0, 400), max_size=4),
    day=st.dates(date(1990, 1, 1), date(2100, 12, 31)),
    now=st.datetimes(datetime(2000, 1, 1), datetime(2090, 1, 1), timezones=st.just(UTC)),  # noqa: DTZ001  bounds
)
def test_whatever_is_typed_the_file_stands(title, description, url, days, day, now):
    entry = Entry(uid="1", day=day, title=title, description=description, url=url, alarm_days=tuple(days))
    (event,) = events(entry, now=now)
    assert event["DTSTART"] == f"{day:%Y%m%d}"
    assert len(event.parts) == len(set(days))


@pytest.mark.parametrize(
    ("broken", "rule"),
    [
        (lambda raw: raw.replace(b"\r\n", b"\n"), "3.1"),
        (lambda raw: raw.replace(b"\r\n ", b""), "75 octets"),
        (lambda raw: raw.replace(b"UID:", b"X-UID:"), "needs one UID"),
        (lambda raw: raw.replace(b"\\,", b","), "not escaped"),
        (lambda raw: raw.replace(b"120509Z", b"120509"), "DTSTAMP"),
        (lambda raw: raw.replace(b"ACTION:DISPLAY\r\n", b""), "needs one ACTION"),
        (lambda raw: raw.replace(b"END:VALARM\r\n", b""), "3.4"),
        (lambda raw: raw.replace(b"-P6DT15H", b"7 days before"), "TRIGGER"),
        (lambda raw: raw.replace(b"VALUE=DATE", b"VALUE=DATE-TIME"), "3.2"),
    ],
)
def test_the_reader_refuses_what_breaks_the_rules(broken, rule):
    raw = deadlines_calendar((replace(ASK, title="Ask, " + "then wait " * 9),), now=NOW, name="x")
    assert read_calendar(raw).kind == "VCALENDAR"
    with pytest.raises(AssertionError, match=rule):
        read_calendar(broken(raw))
