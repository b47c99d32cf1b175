"""The organiser's page of a briefing: what each reader gets, issuing, versions, texts, and hostile input everywhere."""

from __future__ import annotations

import re
from dataclasses import replace
from html import unescape

import pytest

from models.planning.rules.workshops import change_workshop, draft_of, get_workshop
from models.store.briefings import issued_of
from models.store.people import people_of
from models.store.people import shelf as people
from models.store.plans import keep_plan, plan_of
from models.store.settings import put_setting
from models.store.spots import shelf as spots
from models.store.stations import change_station, stations_of
from models.words.briefing import TEXT_KEYS
from models.words.never import forbidden_in
from models.workshop.plan import BlockEdit
from tests.models.planning.briefing.briefed import NAMES, NUMBERS, plan_draft
from tests.webapp.conftest import HOSTILE
from tests.webapp.rules.test_findings import seen

PAGE = "/workshops/1/briefing"
TEXTS = f"{PAGE}/texts"
USUAL = "/briefing-texts"
WILD = f"{HOSTILE} \u202egnihtemos\u202c \U0001f4f7"


def issue(client):
    return client.send(f"{PAGE}/versions", {})


def replan(store, **changes):
    with store.writing() as s:
        keep_plan(s, plan_of(s, 1).version, plan_draft(1, **changes))


def form_of(page: str) -> dict[str, str]:
    texts = re.findall(r'<textarea id="(\w+)"[^>]*>(.*?)</textarea>', page, re.DOTALL)
    lines = re.findall(r'<input id="(\w+)" name="\w+"[^>]*? value="([^"]*)"', page)
    found = re.search(r'name="version" value="(\d+)"', page)
    return {name: unescape(text) for name, text in (*texts, *lines)} | {"version": found[1]}


def test_the_workshop_leads_to_its_briefing(client):
    assert f'href="{PAGE}"' in client.get("/workshops/1").text


def test_a_draft_says_so_and_offers_to_issue_it(client):
    page = unescape(client.get(PAGE).text)
    for words in ("Never issued", "Issue version 1", "A draft that was never issued", "What attendees get"):
        assert words in page
    assert "Changed since" not in page


@pytest.mark.parametrize(
    ("reader", "words"),
    [
        ("attendee", ("What to bring", "The gear of the day", "Short light", "1/", "Nobody touches a model")),
        ("model", ("Your call", "What you are owed", "Breaks", "Nobody touches a model")),
        ("helper", ("Kit list", "Battery plan", "R 12", "No cables", "Plan B", "Liability", "What to say to a guard")),
    ],
)
def test_each_reader_is_shown_what_they_get(client, reader, words):
    page = unescape(client.get(f"{PAGE}?for={reader}").text)
    for each in (*words, "Ferry quay", "0555 0100", "By the pump", "Old arcade", "112"):
        assert each in page
    assert forbidden_in(seen(page)) == []
    assert [name for name in (*NAMES, *NUMBERS) if name in page] == []


def test_the_preview_has_its_sketch_and_browsers_keep_none_of_it(client):
    page = client.get(PAGE)
    assert "data-scale=" in page.text
    assert page.headers["Cache-Control"] == "no-store"
    assert client.get(f"{PAGE}.json").json["sketch"]["caption"].startswith("The spot is Foundry Lane.")


def test_helpers_are_shown_the_plans_of_setups(client):
    assert client.get(f"{PAGE}?for=helper").text.count("Plan of Key and fill</title>") == 1
    assert "Plan of Key and fill</title>" not in client.get(f"{PAGE}?for=model").text


def test_json_tells_the_same_without_names(client):
    answer = client.get(f"{PAGE}.json?for=helper").json
    assert (answer["next"], answer["issued"], answer["reader"]) == (1, 0, "helper")
    assert answer["briefing"]["sections"][0]["table"]["rows"][0][2] == "Meet"
    page = unescape(client.get(f"{PAGE}?for=helper").text)
    assert answer["briefing"]["answer"] in page
    text = client.get(f"{PAGE}.json?for=helper").text
    assert [name for name in (*NAMES, *NUMBERS) if name in text] == []


def test_a_version_is_issued_once_and_changes_stand_on_the_page(client, store):
    assert issue(client).headers["Location"] == PAGE
    assert "Version 1 is issued" in client.get(PAGE).text
    issue(client)
    assert "Nothing changed since version 1: nothing was issued." in unescape(client.get(PAGE).text)
    with store.reading() as s:
        assert len(issued_of(s, 1)) == 1
    replan(store, talks="Q. Lowe")
    page = unescape(client.get(PAGE).text)
    for words in ("Changed since version 1", "is now: Q. Lowe.", "Issue version 2", "do not know yet"):
        assert words in page
    issue(client)
    page = unescape(client.get(f"{PAGE}?for=model").text)
    assert page.count("is now: Q. Lowe.") == 2
    assert "version 2, the latest" in page
    old = unescape(client.get(f"{PAGE}?version=1").text)
    assert "version 1, no longer the latest" in old
    assert "J. Vine" in old


def test_called_off_comes_first(client, store):
    kept = get_workshop(store, 1)
    change_workshop(store, 1, kept.version, draft_of(kept))
    client.send("/workshops/1/calling-off", {"version": "3", "called_off": "yes"})
    page = unescape(client.get(PAGE).text)
    assert page.index("Called off.") < page.index("Never issued")
    assert "Called off: do not come." in page


@pytest.mark.parametrize("address", ["", ".json", "/texts", "/texts.json"])
def test_a_workshop_that_is_not_there_has_no_briefing(client, address):
    assert client.get(f"/workshops/99/briefing{address}").status_code == 404
    assert client.send("/workshops/99/briefing/versions", {}).status_code == 404
    assert client.send("/workshops/99/briefing/texts", {"version": "0"}).status_code == 404


@pytest.mark.parametrize("version", ["7", "0", "x", "-1", "9" * 40, HOSTILE])
def test_a_version_that_was_never_issued_is_refused(client, version):
    page = client.get(PAGE, query_string={"version": version})
    assert page.status_code == 422
    assert "<img" not in page.text


@pytest.mark.parametrize("address", [TEXTS, USUAL])
def test_texts_are_changed_emptied_and_brought_back(client, address):
    form = form_of(client.get(address).text)
    assert form["version"] == "0"
    typed = form | {"touch": "Hands off, says [organiser].", "wide": "", "bring": "A card\r\nA hat"}
    assert client.send(address, typed).status_code == 303
    page = unescape(client.get(PAGE).text)
    assert "Hands off, says R. Vale." in page
    assert "one wide picture of the whole set" not in page
    assert "A hat" in page
    again = unescape(client.get(address).text)
    assert "3 of 23 texts are other than usual" in again
    assert "Usual: Nobody touches a model" in again
    back = form_of(client.get(address).text) | {"usual_touch": "yes", "usual_wide": "yes", "usual_bring": "yes"}
    assert client.send(address, back).status_code == 303
    assert "None of 23 texts are other than usual" in client.get(address).text


def test_texts_have_a_json_twin(client):
    client.send(TEXTS, {"version": "0", "touch": "Hands off."})
    answer = client.get(f"{TEXTS}.json").json
    assert (answer["version"], answer["form"]["touch"]) == (1, "Hands off.")
    assert client.get(f"{USUAL}.json").json["workshop"] is None


def test_two_who_change_texts_clash_and_lose_nothing(client):
    first = form_of(client.get(TEXTS).text)
    assert client.send(TEXTS, first | {"touch": "Ada's"}).status_code == 303
    sent = client.send(TEXTS, first | {"touch": "Bo's", "usual_help": "yes"})
    assert sent.status_code == 409
    page = unescape(sent.text)
    assert "kept now: Ada's" in page
    assert ">Bo's</textarea>" in page
    assert 'name="usual_help" value="yes" checked' in page
    assert client.send(TEXTS, form_of(sent.text)).status_code == 303
    assert form_of(client.get(TEXTS).text)["touch"] == "Bo's"


@pytest.mark.parametrize(
    ("field", "text"),
    [(name, "x" * 5000) for name in ("touch", "bring", "contact", "spares")]
    + [("slow", "[nobody] has spares"), ("touch", "a\x00b"), ("wear", "\n".join("x" * 21))],
)
def test_a_problem_stands_beside_its_field_and_nothing_typed_is_lost(client, field, text):
    sent = client.send(TEXTS, form_of(client.get(TEXTS).text) | {field: text, "help": "Kept in the form"})
    assert sent.status_code == 422
    assert f'id="{field}-wrong"' in sent.text
    assert ">Kept in the form</textarea>" in sent.text
    assert client.get(f"{TEXTS}.json").json["version"] == 0


@pytest.mark.parametrize("version", ["", "x", "-1", HOSTILE])
def test_texts_without_a_version_are_refused(client, version):
    assert client.send(TEXTS, {"version": version}).status_code == 422


def test_hostile_words_in_every_text_stay_words(client):
    typed = {key.replace(" ", "_"): WILD for key in TEXT_KEYS}
    for address in (TEXTS, USUAL):
        assert client.send(address, typed | {"version": "0"}).status_code == 303
    issue(client)
    for address in (PAGE, f"{PAGE}?for=model", f"{PAGE}?for=helper", TEXTS, USUAL):
        page = client.get(address).text
        assert "<img" not in page
        assert "\U0001f4f7" in page


def test_hostile_names_stay_names(client, store):
    """Of the workshop, its spots, stations, notes, people, organiser, whoever talks; 300 letters where they fit."""
    with store.writing() as s:
        for spot in spots.list(s, order_by=(spots.table.c.id,)):
            spots.change(s, spot.id, spot.version, replace(spot, name=f"{WILD} {spot.id}", facilities="w" * 300))
        put_setting(s, "organiser", WILD)
        put_setting(s, "organiser_contact", WILD)
        for station in stations_of(s, 1):
            odd = replace(station, name=f"<b>{station.id}", lesson=WILD, notes=WILD)
            change_station(s, station.id, station.version, odd)
        for person in people_of(s, 1):
            people.change(s, person.id, person.version, replace(person, name=WILD))
        notes = (BlockEdit("meet", None, WILD), BlockEdit("round 1", 30.0, "n" * 300))
        odd = plan_draft(1, talks=WILD, meets_by=WILD, indoors=WILD, ambulance=WILD, blocks=notes)
        keep_plan(s, plan_of(s, 1).version, odd)
    kept = get_workshop(store, 1)
    change_workshop(store, 1, kept.version, replace(draft_of(kept), title=WILD))
    issue(client)
    for address in (PAGE, f"{PAGE}?for=model", f"{PAGE}?for=helper", f"{PAGE}?version=1", TEXTS):
        page = client.get(address)
        assert page.status_code == 200
        assert "<img" not in page.text
        assert "<b>1" not in page.text
    assert "n" * 300 in client.get(PAGE).text


def test_a_name_in_the_organisers_words_is_pointed_out_and_json_does_not_tell_it(client, store):
    replan(store, meets_by="Ask Ada Brook")
    assert "Names of people who come stand in your words:" in client.get(PAGE).text
    assert client.get(f"{PAGE}.json").json["named"] == ["attendee 1"]


def test_wording_of_a_permission_is_pointed_out(client):
    client.send(TEXTS, {"version": "0", "walkers": "You may shoot here."})
    page = unescape(client.get(PAGE).text)
    assert "Walkers first: “you may”" in page


def test_a_form_without_its_token_issues_nothing(client, store):
    assert client.post(f"{PAGE}/versions", data={}).status_code == 403
    with store.reading() as s:
        assert issued_of(s, 1) == ()
