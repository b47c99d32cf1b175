"""Every page of how a workshop runs, and its JSON: the answer first, no names in JSON, empty, called off, the leaf."""

from __future__ import annotations

import json
import re
from dataclasses import fields, replace
from html import unescape
from time import process_time

import pytest

from models.planning.rules.workshops import draft_of
from models.store import rules
from models.store.hazards import SheetDraft, TypedHour
from models.store.hazards import shelf as sheets
from models.store.people import people_of
from models.store.people import shelf as people
from models.store.stations import shelf as stations
from models.store.stations import stations_of
from models.workshop.hazards import HazardLine
from models.workshop.person import PersonDraft
from tests.models.planning.workshops.evening import keep_evening
from tests.models.planning.workshops.running_evening import NAMES, add_part, keep_running
from tests.webapp.conftest import HOSTILE, NOW

PARTS = ("order", "rota", "day", "batteries", "leaf")
HEADS = {
    "order": "Running order", "rota": "Who is where when", "day": "On the day", "batteries": "Batteries",
    "leaf": "If things go wrong",
}  # fmt: skip


def address(part):
    return f"/workshops/1/{part}"


@pytest.mark.parametrize("part", PARTS)
def test_every_page_opens_with_its_answer_and_leads_to_the_others(client, part):
    page = client.get(address(part))
    assert page.status_code == 200
    text = page.text
    assert f"<h1>{HEADS[part]}</h1>" in text
    assert text.index('class="answer') < text.index('aria-label="How it runs"') < text.index("<h2")
    for other in PARTS:
        assert f'href="{address(other)}"' in text
    assert 'aria-current="page"' in text
    assert " style=" not in text


@pytest.mark.parametrize("part", PARTS)
def test_json_has_the_same_answer_and_no_names(client, part):
    found = client.get(f"{address(part)}.json")
    assert found.status_code == 200
    shown = re.sub(r"<[^>]+>", "", re.search(r'<p class="answer wraps">(.*?)</p>', client.get(address(part)).text)[1])
    assert found.json["answer"] == unescape(shown)
    for name in (*NAMES[:6], "Sitter 1", "Aide 1"):
        assert name not in found.text, name


@pytest.mark.parametrize("part", PARTS)
def test_a_workshop_that_is_not_there(client, part):
    for number in (77, 10**19):
        assert client.get(f"/workshops/{number}/{part}").status_code == 404
    assert client.get(f"/workshops/77/{part}.json").status_code == 404


@pytest.mark.parametrize("part", PARTS)
def test_without_stations_every_page_says_what_belongs_there(client, store, part):
    with store.writing() as s:
        for number in (1, 2):
            stations.delete(s, number, 1, now=NOW)
    text = client.get(address(part)).text
    assert "no station is set up for it yet" in text
    assert 'href="/workshops/1/stations"' in text


@pytest.mark.parametrize("part", PARTS)
def test_called_off_is_said_on_top(client, store, part):
    with store.writing() as s:
        kept = rules.get_workshop(s, 1)
        rules.change_workshop(s, 1, kept.version, replace(draft_of(kept), called_off=True))
    assert "Called off." in client.get(address(part)).text


@pytest.mark.parametrize("part", PARTS)
def test_a_hostile_name_is_only_text(client, store, part):
    add_part(store, 1, "attendee", HOSTILE)
    page = client.get(address(part)).text
    assert "<img" not in page
    assert "<script>document" not in page


@pytest.mark.parametrize(("show", "there", "not_there"), [
    ("grid", "grid-head", "slips-head"), ("stations", "sheets-head", "grid-head"),
    ("people", "slips-head", "grid-head"), ("all", "slips-head", "<img"), (HOSTILE, "grid-head", "<img"),
])  # fmt: skip
def test_one_table_is_shown_or_all(client, show, there, not_there):
    text = client.get("/workshops/1/rota", query_string={"show": show}).text
    assert f'id="{there}"' in text
    assert not_there not in text


def test_the_leaf_in_one_file_refers_to_nothing(client):
    sent = client.get("/workshops/1/leaf/file")
    assert sent.headers["Content-Disposition"] == 'attachment; filename="if-things-go-wrong-1.html"'
    text = sent.text
    assert text.lstrip().startswith("<!doctype html>")
    for word in ("href", "src", "url(", "<script", "<link", "<form", "@import", "http:", "https:", "csrf"):
        assert word not in text.casefold(), word
    assert "Stop at once" in text
    assert "Ana" in text, "it is for the organiser's own telephone"
    assert client.get("/workshops/77/leaf/file").status_code == 404


def test_the_leaf_of_a_workshop_with_nothing_yet_is_still_a_file(client, store):
    workshop, _ = keep_evening(store)
    text = client.get(f"/workshops/{workshop}/leaf/file").text
    assert "Nothing can be worked out beforehand yet" in text
    assert "Stop at once" in text


def test_forty_people_at_eight_stations_come_in_two_seconds(client, store):
    """Of processor time, from the second request on, when light and templates are there."""
    workshop = keep_running(store, attendees=40, stations="ABCDEFGH")
    for part in ("order", "rota", "day"):
        client.get(f"/workshops/{workshop}/{part}")
        began = process_time()
        assert client.get(f"/workshops/{workshop}/{part}").status_code == 200
        assert process_time() - began < 2, part


def test_ways_to_make_it_fit_lead_to_where_they_are_changed(client, store):
    workshop = keep_running(store, attendees=9, stations="ABC", frames=40, pose_s=20.0)
    text = client.get(f"/workshops/{workshop}/order").text
    assert f'href="/workshops/{workshop}/plan#frames"' in text
    assert 'id="frames"' in client.get(f"/workshops/{workshop}/plan").text
    found = client.get(f"/workshops/{workshop}/order.json").json["ways"]
    assert {"frames", ""} <= {way["kind"] for way in found}
    assert json.dumps(found)


def test_a_way_with_lent_hands_is_chosen_by_a_press(client, store):
    workshop = keep_running(store, attendees=9, stations="ABC", holders=2, lent=0)
    assert "Plan with 3 lent" in client.get(f"/workshops/{workshop}/rota").text
    sent = client.send(f"/workshops/{workshop}/lending", {"version": "1", "lent": "3"})
    assert (sent.status_code, sent.headers["Location"]) == (303, f"/workshops/{workshop}/rota")
    assert "in 3 groups of 3 go round" in client.get(f"/workshops/{workshop}/rota.json").json["answer"]
    assert client.send(f"/workshops/{workshop}/lending", {"version": "1", "lent": "0"}).status_code == 303
    assert "in 3 groups of 3" in client.get(f"/workshops/{workshop}/rota.json").json["answer"], (
        "an old press is refused"
    )
    for bad in ("", "-1", "many", "9" * 30):
        assert client.send(f"/workshops/{workshop}/lending", {"version": "2", "lent": bad}).status_code == 422


def test_the_plan_says_so_once_something_happened_and_who_never_gets_a_station(client, store):
    workshop = keep_running(store, attendees=6, stations="AB", fallback=True)
    for part in ("order", "leaf"):
        assert "Something happened on the day" not in client.get(f"/workshops/{workshop}/{part}").text
    with store.reading() as s:
        lost = max(stations_of(s, workshop), key=lambda each: each.id)
    sent = {"kind": "station lost", "about": str(lost.id), "at": "17:20", "round": "1", "turn": "1"}
    assert client.send(f"/workshops/{workshop}/happenings", sent).status_code == 303
    for part in ("order", "leaf"):
        assert "Something happened on the day" in client.get(f"/workshops/{workshop}/{part}").text
    assert "Nobody shoots at B any more, though" in client.get(f"/workshops/{workshop}/day").text
    told = client.get(f"/workshops/{workshop}/day.json").json["lost"]
    assert told == [
        "Nobody shoots at B any more, though attendee 1, attendee 2, attendee 3, attendee 4, attendee 5 and "
        "attendee 6 have not."
    ]


def test_a_model_of_whom_no_picture_is_taken_and_a_gale_are_said_on_every_page_that_sends_people_there(client, store):
    with store.writing() as s:
        sitter = next(each for each in people_of(s, 1) if each.part == "model")
        facts = {field.name: getattr(sitter, field.name) for field in fields(PersonDraft)}
        people.change(s, sitter.id, sitter.version, PersonDraft(**facts | {"adult": "no"}))
        lines = (HazardLine(key="wind", what="Wind", done="", who="organiser", rests="usual"),)
        sheets.add(s, SheetDraft(workshop_id=1, lines=lines, hour=TypedHour(wind_m_s=12.0, gust_m_s=18.0)))
    for part in ("order", "rota", "day", "leaf", "leaf/file"):
        page = unescape(client.get(address(part)).text)
        assert "Take no picture of Sitter 1: Sitter 1 is under 18" in page, part
        assert ("No stands at all." in page) == (part != "rota"), part
    for part in ("order", "rota", "day", "leaf"):
        twin = client.get(f"{address(part)}.json").text
        assert "Take no picture of model 1: " in twin, part
        assert "Sitter" not in twin, part
    for show, sheet in (("stations", "sheet"), ("people", "slip")):
        page = client.get(f"{address('rota')}?show={show}").text
        whose = '<p class="on-paper"><b>Evening</b>, Saturday 17 October 2026, 17:00 to 18:30 CEST, Foundry Lane</p>'
        assert page.count(whose) == page.count(f'<section class="{sheet}">') > 0


def test_rounds_typed_too_long_are_told_as_typed(client, store):
    workshop = keep_running(store, attendees=6, stations="AB")
    typed = {"version": "0", "blocks": "round 1", "minutes_round_1": "200 min", "note_round_1": ""}
    assert client.send(f"/workshops/{workshop}/order", typed).status_code == 303
    page = client.get(f"/workshops/{workshop}/order.json").json
    assert "With what was typed over the rounds take 3 h" in page["answer"]
    assert page["ways"][0]["words"].startswith("With the minutes that were typed over it is ")


def test_the_order_says_how_its_times_come_about(client, store):
    workshop = keep_running(store, attendees=6, stations="AB", pose_s=7.0)
    lines = client.get(f"/workshops/{workshop}/order.json").json["working"]
    assert [line[:2] for line in lines[:2]] == ["A:", "B:"]
    assert all("7 s to pose" in line or "longer than the pose of 7 s" in line for line in lines[:2])
    assert "90 s for moving on" in lines[-1]
    assert "How the times come about" in client.get(f"/workshops/{workshop}/order").text
