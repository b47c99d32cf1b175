"""The calendar of each reader: the briefing's facts, numbers that grow when it changes, taken back when called off."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest
import sqlalchemy as sa

from models.planning.briefing.calendar import reader_calendar
from models.planning.briefing.facts import facts_of
from models.planning.briefing.versions import issue
from models.planning.rules.deadlines import calendar_file
from models.store.rules import change_workshop, get_workshop
from models.store.rules.tables import calendar
from models.store.settings import put_setting
from models.store.versions import Missing
from models.words.briefing_parts import DRAFT_WORDS, STANDING_WORDS
from models.words.directions import unturned
from models.words.never import forbidden_in
from models.workshop.briefing import READERS
from tests.models.exchange.calendar_rules import instant, read_calendar
from tests.models.planning.grounds import HOSTILE
from tests.models.planning.workshops.evening import ENDS, LANE, NOW, STARTS, keep_evening

MEETS = STARTS - timedelta(minutes=20)
"""Ten minutes to meet and ten for a drink before the set-up, by the usual plan and no walk."""


@pytest.fixture
def evening(plans):
    number, _ = keep_evening(plans)
    return number


def change(store, number, **changes):
    with store.writing() as s:
        workshop = get_workshop(s, number)
        return change_workshop(s, number, workshop.version, replace(workshop, **changes))


def read(store, number, reader="attendee", now=NOW, link=""):
    """The whole and its one event."""
    whole = read_calendar(reader_calendar(store, number, reader, now, link).file)
    (event,) = [part for part in whole.parts if part.kind == "VEVENT"]
    return whole, event


def test_it_says_what_the_briefing_says(plans, evening):
    issue(plans, evening, NOW)
    whole, event = read(plans, evening)
    assert (instant(whole, event, "DTSTART"), instant(whole, event, "DTEND")) == (MEETS, ENDS)
    assert (event["SUMMARY"], event["LOCATION"], event["STATUS"]) == ("Evening", "Foundry Lane", "CONFIRMED")
    assert event["GEO"] == f"{LANE[0]};{LANE[1]}"
    assert "Saturday 17 October 2026: meet at 16:40 CEST" in event["DESCRIPTION"]
    assert forbidden_in(event["DESCRIPTION"]) == []


def test_people_come_to_the_meeting_point_where_there_is_one(plans, evening):
    change(plans, evening, meeting_point=(52.5299, 5.2301))
    whole, event = read(plans, evening)
    assert event["GEO"] == "52.5299;5.2301"
    assert event["LOCATION"] == facts_of(plans, evening, NOW).meeting.name
    assert instant(whole, event, "DTSTART") < MEETS, "the walk is laid before the set-up"


def test_each_reader_has_an_entry_of_its_own(plans, evening):
    events = {reader: read(plans, evening, reader)[1] for reader in READERS}
    assert len({event["UID"] for event in events.values()}) == 3
    titles = [events[reader]["SUMMARY"] for reader in READERS]
    assert titles == ["Evening", "Your call: Evening", "You help: Evening"]
    assert [len(events[reader].parts) for reader in READERS] == [2, 2, 3], "helpers are told to charge"


def test_a_draft_is_tentative_and_says_so(plans, evening):
    _, event = read(plans, evening)
    assert event["STATUS"] == "TENTATIVE"
    assert DRAFT_WORDS in event["DESCRIPTION"]
    issue(plans, evening, NOW)
    _, after = read(plans, evening)
    assert (after["UID"], after["SEQUENCE"]) == (event["UID"], "1")
    assert DRAFT_WORDS not in after["DESCRIPTION"]


def test_asked_for_again_it_stays_the_same_whatever_it_links_to(plans, evening):
    _, first = read(plans, evening)
    _, again = read(plans, evening, now=NOW + timedelta(days=2), link="https://a.example/b/1")
    assert (first["UID"], first["SEQUENCE"]) == (again["UID"], again["SEQUENCE"])
    assert again["URL"] == "https://a.example/b/1"
    assert "The whole briefing: https://a.example/b/1" in again["DESCRIPTION"]


def test_what_was_moved_stands_where_it_was_moved_to_before_a_new_version(plans, evening):
    issue(plans, evening, NOW)
    _, before = read(plans, evening)
    change(plans, evening, starts=STARTS + timedelta(days=7), ends=ENDS + timedelta(days=7))
    whole, after = read(plans, evening)
    assert instant(whole, after, "DTSTART") == MEETS + timedelta(days=7)
    assert STANDING_WORDS["moved"] in after["DESCRIPTION"]
    assert "Saturday 24 October 2026" in after["DESCRIPTION"]
    assert (after["UID"], int(after["SEQUENCE"])) == (before["UID"], int(before["SEQUENCE"]) + 1)


def test_called_off_it_is_taken_back_and_comes_again_with_a_higher_number(plans, evening):
    issue(plans, evening, NOW)
    _, on = read(plans, evening)
    change(plans, evening, called_off=True)
    whole, off = read(plans, evening)
    assert (whole["METHOD"], off["STATUS"], off["UID"], off.parts) == ("CANCEL", "CANCELLED", on["UID"], [])
    assert off["SUMMARY"] == "Called off: Evening"
    assert off["DESCRIPTION"].startswith(STANDING_WORDS["called off"])
    change(plans, evening, called_off=False)
    whole, again = read(plans, evening)
    assert (whole["METHOD"], again["STATUS"]) == ("PUBLISH", "CONFIRMED")
    assert [int(event["SEQUENCE"]) for event in (on, off, again)] == [0, 1, 2]


def test_deadlines_leave_it_alone_and_nothing_of_it_is_kept_twice(plans, evening):
    with plans.writing() as s:
        put_setting(s, "organiser_contact", "555 0199")
    _, before = read(plans, evening)
    for days in (0, 100):
        calendar_file(plans, NOW + timedelta(days=days), lambda number: f"/workshops/{number}")
    assert read(plans, evening)[1]["SEQUENCE"] == before["SEQUENCE"]
    whole = read_calendar(calendar_file(plans, NOW, str))
    assert all("briefing" not in event["SUMMARY"].lower() for event in whole.parts)
    with plans.reading() as s:
        rows = s.execute(sa.select(calendar.c.title, calendar.c.description, calendar.c.settled_on)).all()
    assert all(row.settled_on is None for row in rows)
    assert not any("Evening" in row.description or "555" in row.description or row.title for row in rows)


def test_a_night_in_which_the_clocks_go_back(plans, evening):
    starts = datetime(2026, 10, 25, 0, 30, tzinfo=UTC)
    change(plans, evening, starts=starts, ends=starts + timedelta(minutes=90))
    whole, event = read(plans, evening)
    assert instant(whole, event, "DTSTART") == starts - timedelta(minutes=20)
    assert instant(whole, event, "DTEND") == starts + timedelta(minutes=90)
    assert "DTEND" in event.values


@pytest.mark.parametrize("title", [HOSTILE, "a\r\nEND:VEVENT\r\nb; c, d\\n", "🎈" * 60, "x" * 120])
def test_hostile_titles_come_through_whole(plans, evening, title):
    change(plans, evening, title=title)
    with plans.reading() as s:
        kept = get_workshop(s, evening).title
    whole, event = read(plans, evening)
    assert event["SUMMARY"] == " ".join(unturned(kept).split())
    assert [part.kind for part in whole.parts] == ["VTIMEZONE", "VEVENT"]


def test_no_such_workshop(plans):
    with pytest.raises(Missing):
        reader_calendar(plans, 77, "attendee", NOW)
