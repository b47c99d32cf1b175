"""How a workshop is run, moving it, and copying it with its stations: pages and their answers to bad input."""

from __future__ import annotations

import re
from html import unescape

import pytest

from models.store.hazards import SheetDraft
from models.store.hazards import shelf as sheets
from models.store.people import shelf as people
from models.store.plans import plan_of
from models.store.rules import get_workshop
from models.store.stations import add_station, stations_of
from models.workshop.person import PersonDraft
from models.workshop.station import StationDraft
from tests.webapp.conftest import HOSTILE
from tests.webapp.rules.test_findings import seen
from tests.webapp.workshops.evening import FORM, fields_of, only

PLAN = "/workshops/1/plan"
EVENING = "/workshops/1"


def plan_form(client, **changes):
    page = client.get(PLAN).text
    texts = re.findall(r'<textarea id="(\w+)"[^>]*>(.*?)</textarea>', page, re.DOTALL)
    version = re.search(r'name="version" value="(\d+)"', page)[1]
    return fields_of(page) | {name: unescape(text) for name, text in texts} | {"version": version} | changes


def kept_plan(store):
    with store.reading() as s:
        return plan_of(s, 1)


def test_the_page_leads_to_its_parts(client, evening):
    page = client.get(evening).text
    for part in ("stations", "plan", "hazards", "people"):
        assert f'href="/workshops/1/{part}"' in page


def test_a_plan_nobody_kept_shows_what_is_usual_and_what_is_missing(client, evening):
    page = unescape(client.get(PLAN).text)
    for words in (
        "Nothing of this is kept yet",
        "10 frames a turn",
        "16:30 CET",
        "Still to be filled in",
        "Ferry quay",
    ):
        assert words in page
    answer = client.get(f"{PLAN}.json").json
    assert (answer["version"], answer["plan"]["group_size"], answer["plan"]["talks"]) == (0, 3, "")


def test_what_is_typed_is_kept_and_shown_again(client, store, evening):
    typed = plan_form(client, move_s="2 min", talks=HOSTILE, meets_by="By the pump", group_size="four", frames="8")
    assert client.send(PLAN, typed).status_code == 303
    plan = kept_plan(store)
    assert (plan.move_s, plan.talks, plan.group_size, plan.frames) == (120.0, HOSTILE, 4, 8)
    page = client.get(PLAN).text
    assert "<img" not in page
    assert "Groups of 4, 8 frames a turn" in page
    assert plan_form(client)["move_s"] == "120 s"


def test_the_workshop_tells_how_it_is_run_and_the_ambulance_is_typed_once(client, store, evening):
    with store.writing() as s:
        sheets.add(s, SheetDraft(workshop_id=1, lines=(), ambulance_address="1 Foundry Lane"))
        add_station(s, StationDraft(workshop_id=1, name="A"))
    assert "1 Foundry Lane" in client.get(PLAN).text
    assert client.send(PLAN, plan_form(client, indoors="The hall", fallbacks="3")).status_code == 303
    run = dict(client.get(f"{evening}.json").json["run"])
    assert (run["Stations"], run["In rain"], run["Then to"], run["Who talks"]) == (
        "A",
        "The hall",
        HOSTILE,
        "not filled in",
    )
    assert "<img" not in client.get(evening).text
    assert kept_plan(store).ambulance == "1 Foundry Lane"


def test_further_fallbacks_are_shown_in_order_and_the_spot_itself_is_refused(client, evening):
    sent = client.send(PLAN, plan_form(client, fallbacks="Foundry Lane"))
    assert sent.status_code == 422
    assert 'id="fallbacks-wrong"' in sent.text
    assert client.send(PLAN, plan_form(client, fallbacks="3")).status_code == 303
    assert [each["spot_id"] for each in client.get(f"{PLAN}.json").json["further"]] == [2, 3]


@pytest.mark.parametrize(
    ("field", "text"),
    [("group_size", "0"), ("frames", "-1"), ("pose_s", "soon"), ("meet_min", "9 h"), ("pace", "fast"),
     ("fallbacks", "Atlantis"), ("talks", "x" * 121), ("organiser_helps", "perhaps"), ("language", "%%")],
)  # fmt: skip
def test_a_problem_of_the_plan_stands_beside_its_field(client, evening, field, text):
    sent = client.send(PLAN, plan_form(client, **{field: text, "indoors": "The hall"}))
    assert sent.status_code == 422
    assert f'id="{field}-wrong"' in sent.text
    assert 'value="The hall"' in sent.text


def test_two_who_plan_at_once_clash_and_lose_nothing(client, store, evening):
    first, second = plan_form(client, talks="Ada"), plan_form(client, talks="Bo")
    assert client.send(PLAN, first).status_code == 303
    sent = client.send(PLAN, second)
    assert sent.status_code == 409
    assert "kept now: Ada" in sent.text
    again = re.search(r'name="version" value="(\d+)"', sent.text)[1]
    assert client.send(PLAN, second | {"version": again}).status_code == 303
    assert kept_plan(store).talks == "Bo"


def test_a_workshop_is_moved_and_moved_back(client, store, evening):
    before = only(store)
    assert client.send(f"{EVENING}/moves", {"to": "20 min later", "version": "1"}).status_code == 303
    page = unescape(client.get(evening).text)
    assert "moved from Saturday 31 October 2026, 17:00 to 18:30 CET to Saturday 31 October 2026, 17:20" in page
    undo = re.search(r'action="(/workshops/1/moves/2/undoing[^"]*)"', page)[1]
    assert client.send(undo, {}).status_code == 303
    after = only(store)
    assert (after.starts, after.ends, after.version) == (before.starts, before.ends, 3)
    assert client.send(undo, {}).status_code == 409


@pytest.mark.parametrize("text", ["", "soon", "17:00", HOSTILE, "900 days later"])
def test_a_move_that_cannot_be_read_says_so_and_changes_nothing(client, store, evening, text):
    sent = client.send(f"{EVENING}/moves", {"to": text, "version": "1"})
    assert sent.status_code == 422
    assert 'id="to-wrong"' in sent.text
    assert "<img" not in sent.text
    assert only(store).version == 1


def test_a_move_seen_too_late_and_a_broken_way_back_change_nothing(client, store, evening):
    assert client.send(f"{EVENING}/moves", {"to": "+5", "version": "7"}).status_code == 409
    assert client.send(f"{EVENING}/moves/1/undoing?to=never", {}).status_code == 422
    assert client.send("/workshops/9/moves", {"to": "+5", "version": "1"}).status_code == 404
    assert only(store).version == 1


def test_a_copy_takes_its_stations_along_even_when_its_day_had_to_be_typed_twice(client, store, evening):
    with store.writing() as s:
        add_station(s, StationDraft(workshop_id=1, name="A", model_id=5, lesson="edge"))
    assert client.send(f"{EVENING}/copies", {"day": "7 Nov"}).headers["Location"] == "/workshops/2"
    sent = client.send(f"{EVENING}/copies", {"day": "someday"})
    assert sent.status_code == 422
    assert 'name="like" value="1"' in sent.text
    assert client.send("/workshops", FORM | {"day": "8 Nov", "like": "1"}).headers["Location"] == "/workshops/3"
    for like in ("77", "x", "-1", "9" * 30):
        assert client.send("/workshops", FORM | {"like": like}).status_code == 303
    with store.reading() as s:
        for number in (2, 3):
            (station,) = stations_of(s, number)
            assert (station.name, station.model_id, station.lesson) == ("A", None, "edge")
        assert stations_of(s, 4) == ()
        assert get_workshop(s, 2).title == "Evening light"


def test_a_day_that_would_erase_everybody_is_refused_and_says_so(client, store, evening):
    with store.writing() as s:
        people.add(s, PersonDraft(workshop_id=1, part="attendee", name="Zuzanna Q"))
    sent = client.send(f"{evening}/moves", {"version": "1", "to": "24 Oct 2025"})
    assert sent.status_code == 422
    page = seen(sent.text)
    assert "Friday 24 October 2025 is so far past that what is personal of 1 person would be erased at once" in page
    assert page.index("Nothing was saved yet") < page.index("Still open")
    assert 'href="#to"' in sent.text
    changed = client.send(evening, FORM | {"version": "1", "day": "24 Oct 2025"})
    assert changed.status_code == 422
    assert 'id="day-wrong"' in changed.text
    assert only(store).version == 1


def test_a_day_just_past_is_kept_and_says_when_people_are_erased(client, store, evening):
    with store.writing() as s:
        people.add(s, PersonDraft(workshop_id=1, part="attendee", name="Zuzanna Q"))
    assert client.send(f"{evening}/moves", {"version": "1", "to": "10 Oct"}).status_code == 303
    page = seen(client.get(evening).text)
    assert "That is past: look at the day and the year." in page
    assert "It is over." in page
    assert "What is personal of its one person is erased after" in page
