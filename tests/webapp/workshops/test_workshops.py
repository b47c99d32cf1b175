"""Workshops: planned from a what-if or from nothing, still open first, changed, called off, copied, deleted."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import UTC, date, datetime
from html import unescape

import pytest

from models.rules.papers import PaperDraft
from models.rules.workshop import WorkshopDraft
from models.store import rules as kept
from models.store.spots import delete_spot
from models.store.spots import shelf as spots
from models.store.versions import drafted
from models.street.spot import SpotDraft
from models.words.never import forbidden_in
from models.words.rules import STANDING_NOTE
from tests.webapp.conftest import HOSTILE
from tests.webapp.rules.test_findings import seen
from tests.webapp.workshops.evening import FORM, only


def test_without_a_workshop_the_page_says_where_to_begin(client):
    page = client.get("/workshops")
    assert page.status_code == 200
    assert "No workshop is planned." in page.text
    assert "plan one here" in page.text
    assert client.get("/workshops.json").json["upcoming"] == []


def test_still_open_names_what_who_when_and_what_is_left(client, store, streets, evening):
    twin = client.get(f"{evening}.json").json
    first, second = twin["still_open"][:2]
    assert (first["what"], first["answer"], first["where"]) == ("2 stands on the ground", 1, "Old streets")
    assert first["if_open"].startswith("move to the fallback, Ferry quay")
    assert (second["what"], second["by"], second["owed_by"]) == ("A group of 9 people", "2026-10-23", "you")
    assert "come with fewer people" in second["if_open"]
    assert {"paper"} <= {item["kind"] for item in twin["still_open"]}
    page = client.get(evening)
    text = seen(page.text)
    assert text.index("Still open") < text.index("What was found")
    for item in twin["still_open"]:
        for name in ("what", "words", "owed_by", "by_words", "if_open"):
            assert item[name] in text
    cards = re.search(r'<ol class="still-open">(.*?)</ol>', page.text, re.DOTALL)[1]
    heads = re.findall(r"<h3>(.*?)</h3>", cards)
    assert heads == list(dict.fromkeys(item["what"] for item in twin["still_open"])), "each thing has one card"
    assert f"{len(twin['still_open'])} things open, the first by Friday 23 October 2026" in text


def test_the_walks_to_the_spot_and_to_the_fallback(client, store):
    sent = client.send("/workshops", FORM | {"meeting_point": "52.5290, 5.2290"}, "/workshops/new")
    twin = client.get(f"{sent.headers['Location']}.json").json
    there, away = twin["walk"]["walk"], twin["fallback_walk"]
    assert there["said"].startswith("4 minutes on foot: 250 m by the straight distance with a detour")
    assert away["walks"][0]["how"] == "straight"
    page = client.get(sent.headers["Location"])
    text = seen(page.text)
    assert text.count("No footways are on record there") == 2
    assert there["said"] in text
    assert away["said"] in text
    assert 'href="/spots/1/walk?to=52.529000,+5.229000"' in page.text
    assert 'href="/spots/1/walk?to=2"' in page.text


def test_a_paper_that_covers_it_is_not_open(client, store, evening):
    with store.writing() as s:
        kept.add_paper(
            s,
            PaperDraft(
                kind="insurance", title="Liability", valid_to=date(2027, 1, 1), covers_teaching=True, covers_models=True
            ),
        )
    twin = client.get(f"{evening}.json").json
    assert "paper" not in {item["kind"] for item in twin["still_open"]}
    assert [paper["open"] for paper in twin["papers"]] == [""]


def test_the_list_tells_what_is_open_and_folds_the_past(client, store, streets, evening):
    with store.writing() as s:
        past = kept.get_workshop(s, 1)
        facts = {name: getattr(past, name) for name in WorkshopDraft.__dataclass_fields__}
        then = {"starts": datetime(2026, 10, 3, 16, tzinfo=UTC), "ends": datetime(2026, 10, 3, 18, tzinfo=UTC)}
        kept.add_workshop(s, WorkshopDraft(**facts | then | {"title": "Last time"}))
    twin = client.get("/workshops.json").json
    assert [row["title"] for row in twin["upcoming"]] == ["Evening light"]
    assert [row["title"] for row in twin["past"]] == ["Last time"]
    assert twin["upcoming"][0]["open"] == len(client.get(f"{evening}.json").json["still_open"])
    assert twin["upcoming"][0]["strictest"] == 1
    page = client.get("/workshops").text
    assert "<details>\n<summary>Past, 1" in page
    assert twin["answer"] in seen(page)
    assert "It is over." in client.get("/workshops/2").text


def test_calling_off_and_on_again(client, store, evening):
    off = client.send(f"{evening}/calling-off", {"version": "1", "called_off": "yes"})
    assert off.status_code == 303
    assert only(store).called_off
    assert "<b>Called off.</b>" in client.get(evening).text
    assert "called off" in client.get("/workshops.json").json["answer"]
    assert client.send(f"{evening}/calling-off", {"version": "1", "called_off": "no"}).status_code == 409
    client.send(evening, FORM | {"version": "2", "title": "Later light"})
    assert only(store).called_off, "a change of the rest leaves it called off"
    client.send(f"{evening}/calling-off", {"version": "3", "called_off": "no"})
    assert not only(store).called_off


def test_it_is_copied_to_another_day_at_the_same_local_time(client, store, evening):
    sent = client.send(f"{evening}/copies", {"day": "3 Apr 2027"})
    assert sent.status_code == 303
    with store.reading() as s:
        copy = kept.get_workshop(s, 2)
    assert copy.starts == datetime(2027, 4, 3, 15, 0, tzinfo=UTC), "17:00 is in summer time by then"
    assert (copy.doing, copy.fallback_spot_id) == (only_first(store).doing, 2)
    wrong = client.send(f"{evening}/copies", {"day": "someday"})
    assert wrong.status_code == 422
    assert 'id="day-wrong"' in wrong.text
    assert 'value="Evening light"' in wrong.text


def only_first(store):
    with store.reading() as s:
        return kept.get_workshop(s, 1)


def test_a_clash_loses_nothing_and_shows_both(client, store, evening):
    assert client.send(evening, FORM | {"version": "1", "group": "10"}).status_code == 303
    page = client.send(evening, FORM | {"version": "1", "group": "12"})
    assert page.status_code == 409
    assert "Somebody changed this workshop while you were typing" in page.text
    assert "kept now: 10" in page.text
    assert 'value="12"' in page.text
    assert only(store).doing.group == 10


def test_deleting_offers_undo(client, store, evening):
    gone = client.send(f"{evening}/deletion", {"version": "1"})
    assert gone.status_code == 303
    page = client.get("/workshops")
    assert "Evening light is deleted." in page.text
    assert client.get(evening).status_code == 404
    undo = re.search(r'action="(/workshops/1/restoration)"', page.text)[1]
    assert client.send(undo, {}).status_code == 303
    assert client.get(evening).status_code == 200
    clash = client.send(f"{evening}/deletion", {"version": "1"})
    assert clash.status_code == 409


def test_a_workshop_whose_spot_was_deleted_says_so(client, store, evening):
    with store.writing() as s:
        delete_spot(s, 1, 1)
        delete_spot(s, 2, 1)
    page = client.get(evening)
    assert page.status_code == 200
    assert "deleted meanwhile" in page.text
    assert client.get("/workshops").status_code == 200
    assert client.get(f"{evening}/edit").status_code == 200


def test_hostile_text_is_text(client, store):
    form = FORM | {"title": HOSTILE, "spot": "3", "fallback": "1"}
    sent = client.send("/workshops", form, "/workshops/new")
    for address in (sent.headers["Location"], f"{sent.headers['Location']}/edit", "/workshops", "/workshops/new"):
        page = client.get(address)
        assert page.status_code == 200
        assert "<img src=x" not in page.text
    assert client.get("/workshops.json").json["upcoming"][0]["title"] == HOSTILE


@pytest.mark.parametrize(
    "address", ["/workshops/9", "/workshops/9.json", "/workshops/9/edit", f"/workshops/{'9' * 40}"]
)
def test_no_such_workshop(client, address):
    assert client.get(address).status_code == 404


@pytest.mark.parametrize("address", ["/workshops/9", "/workshops/9/deletion", "/workshops/9/calling-off"])
def test_nothing_is_done_to_a_workshop_that_is_not_there(client, address):
    assert client.send(address, FORM | {"version": "1"}).status_code == 404
    assert client.send("/workshops/9/copies", {"day": "1 May"}).status_code == 404
    assert client.send("/workshops/9/restoration", {}).status_code == 404


@pytest.mark.parametrize("version", ["", "x", "²", "9" * 40])
def test_a_version_that_never_was_changes_nothing(client, store, evening, version):
    for address in (evening, f"{evening}/deletion", f"{evening}/calling-off"):
        assert client.send(address, FORM | {"version": version}).status_code == 422
    assert only(store).version == 1


@pytest.mark.parametrize("address", ["/workshops", "/workshops/1", "/workshops/1/copies", "/workshops/1/deletion"])
def test_a_form_needs_its_token(client, evening, address):
    assert client.post(address, data=FORM | {"version": "1"}).status_code == 403


def test_pages_of_the_list(client, store, evening):
    assert client.get("/workshops?page=1").status_code == 200
    assert client.get("/workshops.json?page=2").json["field"] == "page"


def test_no_page_says_that_anything_may_be_done(client, store, streets, evening):
    for address in ("/workshops", evening, f"{evening}/edit", "/workshops/new"):
        page = client.get(address)
        assert STANDING_NOTE in page.text
        assert forbidden_in(seen(page.text)) == []


def test_a_workshop_called_off_is_not_counted_as_to_come(client, store, evening):
    client.send("/workshops", FORM | {"title": "Second", "day": "1 Nov"}, "/workshops/new")
    client.send(f"{evening}/calling-off", {"version": "1", "called_off": "yes"})
    assert (
        client.get("/workshops.json")
        .json["answer"]
        .startswith("1 workshop is to come; 1 is called off. The next: Sunday")
    )


def test_what_is_overdue_comes_first(client, app, streets, evening):
    before = client.get(f"{evening}.json").json
    app.config["CLOCK"] = lambda: datetime(2026, 10, 28, 9, 0, tzinfo=UTC)
    page = client.get(f"{evening}.json").json
    late = [item["by"] for item in page["still_open"] if item["by"] and item["by"] < "2026-10-28"]
    assert late, before["answer"]
    assert f"{len(late)} of them overdue" in page["answer"] or "all of them overdue" in page["answer"]


def test_what_if_it_were_otherwise_opens_at_the_workshops_own_day_and_time(client, evening):
    page = client.get(evening).text
    link = unescape(re.search(r'href="([^"]+)">What if it were otherwise', page)[1])
    assert "on=2026-10-31" in link
    assert "at=17:00" in link
    assert "Saturday 31 October 2026, 17:00 to 18:30 CET" in client.get(link).text


def test_a_width_nobody_measured_tells_what_is_known_of_the_pavement(client, store):
    with store.writing() as s:
        spot = spots.find(s, 1)[0]
        spots.change(s, 1, spot.version, replace(drafted(SpotDraft, spot), pavement_width_m=3.5))
    sent = client.send("/workshops", FORM | {"width_left": ""}, "/workshops/new")
    told = "The pavement there is 3.50 m wide; what the station takes of it is not taken off yet."
    for where in (sent.headers["Location"], "/spots/1/rules"):
        page = seen(client.get(where).text)
        assert told in page
        assert "Work out the width left" in page
    assert told not in client.get("/spots/1/rules?width=1.8+m", follow_redirects=True).text


def test_deleting_a_spot_tells_of_the_workshops_to_come_there(client, store, evening):
    sent = client.send("/spots/1/deletion", {"version": "1"})
    assert sent.status_code == 303
    assert "1 workshop to come there stays and needs another spot." in seen(client.get("/spots").text)
