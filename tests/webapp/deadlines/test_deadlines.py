"""Deadlines: by date and what is overdue first, each with its next step; as a calendar file that updates itself."""

from __future__ import annotations

from dataclasses import fields, replace
from datetime import UTC, date, datetime, time, timedelta

import pytest

from models.rules.areas import AreaDraft
from models.rules.enquiry import EnquiryDraft
from models.rules.footprint import Doing
from models.rules.papers import PaperDraft
from models.rules.rule import RuleDraft
from models.rules.workshop import WorkshopDraft
from models.store import rules as kept
from models.store.settings import put_setting
from models.words.never import forbidden_in
from models.words.rules import STANDING_NOTE
from tests.models.exchange.calendar_rules import read_calendar
from tests.webapp.conftest import HOSTILE, NOW
from tests.webapp.filled import form_of
from tests.webapp.rules.test_findings import seen
from tests.webapp.streets import CHECKED, keep_streets

SOON = WorkshopDraft(
    title="Tomorrow's light",
    spot_id=1,
    starts=datetime(2026, 10, 20, 15, 0, tzinfo=UTC),
    ends=datetime(2026, 10, 20, 16, 30, tzinfo=UTC),
    doing=Doing(group=9, models=0, teaching=False, stand_held=0, flash_held=0),
)
LATER = replace(
    SOON, title="Evening light", starts=SOON.starts + timedelta(days=11), ends=SOON.ends + timedelta(days=11)
)
ASKED = EnquiryDraft(
    to_whom="Highways office",
    area_id=1,
    workshop_id=2,
    activities=("group",),
    first_day=date(2026, 10, 31),
    last_day=date(2026, 10, 31),
    from_time=time(15),
    to_time=time(18),
    people=9,
    state="asked",
    sent_on=date(2026, 10, 16),
)


@pytest.fixture
def two(store):
    """Workshop 1 on Tuesday 20 October, too late to ask for its group; workshop 2 on Saturday 31 October, in time."""
    keep_streets(store)
    with store.writing() as s:
        kept.add_workshop(s, SOON)
        kept.add_workshop(s, LATER)
    return store


def sections(client, address="/deadlines.json"):
    return {section["key"]: section["items"] for section in client.get(address).json["sections"]}


def changed(record, draft, **changes):
    return draft(**{each.name: getattr(record, each.name) for each in fields(draft)} | changes)


def events(client):
    """By title, whether settled or not."""
    answer = client.get("/deadlines.ics")
    assert answer.status_code == 200
    return {event["SUMMARY"]: event for event in read_calendar(answer.data).parts}


def test_an_empty_page_says_what_will_stand_there(client):
    page = client.get("/deadlines")
    assert "No workshop is to come, so no question has a date." in page.text
    assert "Plan a workshop" in page.text
    assert client.get("/deadlines.json").json["sections"] == []
    assert read_calendar(client.get("/deadlines.ics").data).parts == []


def test_what_is_overdue_comes_first_with_how_long(client, two):
    first, second = sections(client)["ask"]
    # 5 clear working days by weekends only: before Tuesday 20 October lie 13 to 19 October, before Saturday 31 October
    # lie 26 to 30 October
    assert (first["by"], first["due"], first["overdue"]) == ("2026-10-12", "5 days over", True)
    assert (second["by"], second["due"], second["overdue"]) == ("2026-10-23", "in 6 days", False)
    assert (second["workshop"], second["what"], second["whom"]) == (
        "Evening light",
        "group of people",
        "Highways office",
    )
    twin = client.get("/deadlines.json").json
    assert twin["answer"] == (
        "1 question is overdue; the next is due by Friday 23 October 2026, in 6 days: ask Highways office."
    )
    page = seen(client.get("/deadlines").text)
    assert twin["answer"] in page
    assert forbidden_in(page) == []
    assert page.index("5 days over") < page.index("Friday 23 October 2026 in 6 days")
    assert "Counted in working days by weekends only; no holidays set." in page
    assert STANDING_NOTE in page


def test_each_question_leads_to_its_enquiry(client, two):
    page = client.get("/deadlines").text
    assert 'href="/enquiries/new?workshop=2&amp;area=1"' in page
    form = form_of(client.get("/enquiries/new?workshop=2&area=1").text, "/enquiries")
    assert client.send("/enquiries", form).status_code == 303
    page = client.get("/deadlines").text
    assert "Planned, not sent: send it" in page
    assert 'href="/enquiries/1"' in page


def test_holidays_of_the_settings_and_of_an_area_are_counted_and_named(client, two):
    with two.writing() as s:
        put_setting(s, "holidays", "NL")
        kept.change_area(s, 1, 1, changed(kept.get_area(s, 1), AreaDraft, holidays="DE-BE"))
    twin = client.get("/deadlines.json").json
    assert twin["calendars"] == ["working days by the holidays of NL", "working days by the holidays of DE-BE"]


def test_a_question_that_was_sent_in_time_is_due_no_more(client, two):
    with two.writing() as s:
        kept.add_enquiry(s, ASKED, now=NOW)
    found = sections(client)
    assert [each["workshop"] for each in found["ask"]] == ["Tomorrow's light"]
    assert "waiting" not in found


@pytest.mark.parametrize(
    ("sent", "first", "named"),
    [
        (date(2026, 10, 7), date(2026, 12, 1), True),
        (date(2026, 10, 8), date(2026, 12, 1), False),
        (date(2026, 10, 16), date(2026, 10, 27), True),
        (date(2026, 10, 16), date(2026, 10, 28), False),
        (date(2026, 10, 1), date(2026, 10, 16), False),
        (date(2026, 10, 1), None, True),
    ],
)
def test_an_enquiry_without_an_answer_is_named_after_ten_days_or_near_its_day(client, two, sent, first, named):
    with two.writing() as s:
        kept.add_enquiry(s, replace(ASKED, sent_on=sent, first_day=first, last_day=first))
    assert ("waiting" in sections(client)) is named


def test_places_that_nobody_checked_are_loud(client, two):
    with two.writing() as s:
        kept.add_workshop(s, replace(LATER, title="On the quay", spot_id=2, doing=Doing(models=0, teaching=False)))
    (each,) = sections(client)["unchecked"]
    assert (each["workshop"], each["where"], each["area_id"], each["by"]) == ("On the quay", "Ferry quay", None, None)
    assert each["what"] == "hand-held stand, hand-held flash and group of people"
    page = seen(client.get("/deadlines").text)
    assert "Not checked: ask, nobody knows how long before" in page
    assert "whoever decides there: find out" in page
    assert "1 place is not checked." in page
    assert "One question has no day and is not in it." in page


def test_a_rule_without_a_lead_time_is_to_be_asked_now(client, two):
    with two.writing() as s:
        tripod = RuleDraft(area_id=1, activity="tripod", found="needed", source_title="By-law", checked_on=CHECKED)
        kept.add_rule(s, tripod)
        kept.change_workshop(s, 2, 1, replace(LATER, doing=replace(LATER.doing, tripod=1)))
    found = sections(client)["ask"]
    assert [each["due"] for each in found] == ["5 days over", "now: no lead time is recorded", "in 6 days"]
    assert "1 question is overdue and 1 is to be asked now;" in client.get("/deadlines.json").json["answer"]


def test_papers_that_end_before_a_workshop(client, two):
    with two.writing() as s:
        kept.add_paper(s, PaperDraft(kind="insurance", title="Liability", valid_to=date(2026, 10, 25)))
        kept.add_paper(s, PaperDraft(kind="other", title="Letter", valid_to=date(2026, 10, 10)))
    first, second = sections(client)["papers"]
    assert (first["title"], first["due"], first["workshops"]) == ("Letter", "ended 7 days ago", 2)
    assert (second["title"], second["due"], second["first_id"]) == ("Liability", "ends in 8 days", 2)
    assert 'href="/papers/1/edit"' in client.get("/deadlines").text


def test_records_that_are_too_old(client, two):
    with two.writing() as s:
        kept.change_rule(s, 2, 1, changed(kept.get_rule(s, 2), RuleDraft, check_again=date(2026, 10, 25)))
    (old,) = sections(client)["old"]
    assert (old["rule_id"], old["workshops"], old["first_id"]) == (2, 1, 2)
    assert old["due"] == "too old after Sunday 25 October 2026"
    assert 'href="/rules/2/edit"' in client.get("/deadlines").text


@pytest.mark.parametrize(
    "change", [{"called_off": True}, {"starts": NOW - timedelta(days=3), "ends": NOW - timedelta(days=2)}]
)
def test_what_is_called_off_or_over_is_due_no_more(client, two, change):
    with two.writing() as s:
        kept.change_workshop(s, 1, 1, replace(SOON, **change))
    assert [each["workshop"] for each in sections(client)["ask"]] == ["Evening light"]


def test_many_are_turned_over_in_pages(client, two):
    with two.writing() as s:
        for number in range(70):
            kept.add_workshop(s, replace(LATER, title=f"Light {number:02d}"))
    first, second = (client.get(f"/deadlines.json?page={page}").json for page in (1, 2))
    assert (first["total"], first["pages"], len(first["sections"][0]["items"])) == (72, 2, 60)
    assert (second["sections"][0]["total"], len(second["sections"][0]["items"])) == (72, 12)
    titles = [each["workshop"] for page in (first, second) for each in page["sections"][0]["items"]]
    assert len(set(titles)) == 72
    assert "page 2 of 2, 72 in all" in client.get("/deadlines?page=2").text
    assert client.get("/deadlines?page=3").status_code == 422


def test_hostile_names_are_text(client, two):
    with two.writing() as s:
        kept.change_workshop(s, 2, 1, replace(LATER, title=HOSTILE))
        kept.add_enquiry(s, replace(ASKED, to_whom=HOSTILE, sent_on=date(2026, 10, 1)))
    assert "<img src=x" not in client.get("/deadlines").text


def test_the_calendar_file_reminds_a_week_and_a_day_before(client, two):
    answer = client.get("/deadlines.ics")
    assert answer.headers["Content-Type"] == "text/calendar; charset=utf-8"
    assert "attachment" in answer.headers["Content-Disposition"]
    event = events(client)["Ask Highways office about Evening light"]
    assert (event["DTSTART"], event["STATUS"], event["SEQUENCE"]) == ("20261023", "CONFIRMED", "0")
    assert [alarm["TRIGGER"] for alarm in event.parts] == ["-P6DT15H", "-PT15H"]
    assert event["URL"] == "http://localhost/workshops/2"
    for words in ("group of people", "Foundry Lane", "16:00", STANDING_NOTE, "weekends only"):
        assert words in event["DESCRIPTION"]
    assert forbidden_in(event["SUMMARY"] + event["DESCRIPTION"]) == []


def test_a_second_file_says_the_same_of_the_same(client, two):
    first, second = (
        {title: (e["UID"], e["SEQUENCE"], e["DTSTART"]) for title, e in events(client).items()} for _ in range(2)
    )
    assert first == second
    assert len(first) == len({uid for uid, _, _ in first.values()}) == 2


def test_a_workshop_that_moves_takes_its_entry_along(client, two):
    title = "Ask Highways office about Evening light"
    before = events(client)[title]
    with two.writing() as s:
        week = timedelta(days=7)
        kept.change_workshop(s, 2, 1, replace(LATER, starts=LATER.starts + week, ends=LATER.ends + week))
    after = events(client)[title]
    assert (after["UID"], after["DTSTART"], after["SEQUENCE"]) == (before["UID"], "20261030", "1")


@pytest.mark.parametrize("settled", ["asked", "called off", "deleted", "rule deleted"])
def test_what_is_settled_is_called_off_and_comes_back_as_itself(client, two, settled):
    title = "Ask Highways office about Evening light"
    before = events(client)[title]
    with two.writing() as s:
        if settled == "asked":
            kept.add_enquiry(s, ASKED, now=NOW)
        elif settled == "called off":
            kept.change_workshop(s, 2, 1, replace(LATER, called_off=True))
        elif settled == "deleted":
            kept.delete_workshop(s, 2, 1)
        else:
            kept.delete_rule(s, 2, 1)
    gone = events(client)[f"Settled: {title}"]
    assert title not in events(client)
    assert (gone["UID"], gone["STATUS"], gone["SEQUENCE"], gone.parts) == (before["UID"], "CANCELLED", "1", [])
    assert events(client)[f"Settled: {title}"]["SEQUENCE"] == "1"
    with two.writing() as s:
        if settled == "asked":
            kept.delete_enquiry(s, 1, 1)
        elif settled == "called off":
            kept.change_workshop(s, 2, 2, LATER)
        elif settled == "deleted":
            kept.restore_workshop(s, 2)
        else:
            kept.restore_rule(s, 2)
    back = events(client)[title]
    assert (back["UID"], back["STATUS"], back["SEQUENCE"]) == (before["UID"], "CONFIRMED", "2")


def test_numbers_never_fall_even_when_what_they_rest_on_is_gone_for_good(client, two):
    title = "Ask Highways office about Evening light"
    for number in range(3):
        with two.writing() as s:
            day = timedelta(days=number)
            kept.change_workshop(s, 2, number + 1, replace(LATER, starts=LATER.starts + day, ends=LATER.ends + day))
        before = events(client)[title]
    with two.writing() as s:
        kept.delete_rule(s, 2, 1, now=NOW - timedelta(days=40))
        kept.delete_rule(s, 1, 1, now=NOW)  # throws the first away for good
        group = RuleDraft(
            area_id=1,
            activity="group",
            found="needed",
            over=6,
            lead_days=2,
            source_title="New by-law",
            checked_on=CHECKED,
        )
        kept.add_rule(s, group)
    after = events(client)[title]
    assert after["UID"] == before["UID"]
    assert int(after["SEQUENCE"]) == int(before["SEQUENCE"]) + 1


def test_one_person_a_line_cannot_be_smuggled_into_the_file(client, two):
    with two.writing() as s:
        kept.change_workshop(s, 2, 1, replace(LATER, title="Light; ATTENDEE:mailto:a@b.example, END:VEVENT"))
    answer = read_calendar(client.get("/deadlines.ics").data)
    assert [event.kind for event in answer.parts] == ["VEVENT", "VEVENT"]
    assert all("ATTENDEE" not in event.values for event in answer.parts)
