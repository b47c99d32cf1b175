"""Changing and deleting an enquiry: clash, undo, what was typed stays."""

from __future__ import annotations

from dataclasses import replace

import pytest

from models.store import rules as kept
from models.store.rules import delete_enquiry
from tests.webapp.enquiries.conftest import ENQUIRY, GRANTED, history, keep, now_kept
from tests.webapp.filled import form_of
from tests.webapp.rules.test_findings import seen

ACTION = "/enquiries/1"


def edited(client):
    return form_of(client.get("/enquiries/1/edit").text, ACTION)


@pytest.mark.parametrize("draft", [ENQUIRY, replace(ENQUIRY, activities=("filming",), people=None), GRANTED])
def test_an_unchanged_form_changes_nothing_but_the_version(client, streets, draft):
    before = keep(streets, draft)
    assert client.send(ACTION, edited(client)).status_code == 303
    assert now_kept(streets) == replace(before, version=2)
    assert len(history(streets)) == 1


def test_only_what_is_known_by_now_stands_in_the_form(client, planned):
    assert not {"sent_on", "answered_on", "reference", "valid_to"} & edited(client).keys()


def test_what_came_back_can_be_put_right(client, streets):
    keep(streets, GRANTED)
    client.send(ACTION, edited(client) | {"reference": "H 18", "valid_to": "2026-11-30"})
    assert (now_kept(streets).reference, now_kept(streets).state) == ("H 18", "granted")


def test_a_bad_field_keeps_what_was_typed(client, planned, streets):
    sent = client.send(ACTION, edited(client) | {"people": "crowd", "notes": "mind the trams"})
    assert sent.status_code == 422
    assert form_of(sent.text, ACTION)["notes"] == "mind the trams"
    assert now_kept(streets).version == 1


def test_a_clash_keeps_what_was_typed_and_shows_the_other(client, planned, streets):
    mine = edited(client) | {"contact": "desk 4"}
    mine.pop("asks_group")
    with streets.writing() as s:
        kept.change_enquiry(s, 1, 1, replace(ENQUIRY, notes="ring before noon", activities=("group", "tripod")))
    sent = client.send(ACTION, mine)
    page = seen(sent.text)
    assert sent.status_code == 409
    assert "Somebody changed this enquiry while you were typing." in page
    assert "kept now: ring before noon" in page
    assert "tripod (kept now: yes)" in page
    assert "group of people (kept now: yes)" in page
    assert "paid teaching (kept now: no)" in page
    again = form_of(sent.text, ACTION)
    assert (again["contact"], again["version"]) == ("desk 4", "2")
    assert client.send(ACTION, again).status_code == 303
    assert now_kept(streets).activities == ("teaching",)


def test_a_clash_with_a_deletion_loses_nothing_and_offers_it_back(client, planned, streets):
    mine = edited(client) | {"contact": "desk 4"}
    with streets.writing() as s:
        delete_enquiry(s, 1, 1)
    sent = client.send(ACTION, mine)
    assert sent.status_code == 409
    assert "Bring it back" in sent.text
    again = form_of(sent.text, ACTION)
    assert again["contact"] == "desk 4"
    client.send("/enquiries/1/restoration", {})
    assert client.send(ACTION, again | {"version": "3"}).status_code == 303
    assert now_kept(streets).contact == "desk 4"


def test_a_deletion_can_be_undone_on_the_next_page(client, planned, streets):
    sent = client.send("/enquiries/1/deletion", {"version": "1"})
    assert (sent.status_code, sent.headers["Location"]) == (303, "/enquiries")
    page = client.get("/enquiries").text
    assert "The enquiry to Highways office is deleted." in page
    assert 'action="/enquiries/1/restoration"' in page
    assert client.get("/enquiries/1").status_code == 404
    assert client.send("/enquiries/1/restoration", {}).status_code == 303
    assert now_kept(streets).to_whom == "Highways office"


def test_an_old_version_deletes_nothing(client, planned):
    client.send(ACTION, edited(client))
    assert client.send("/enquiries/1/deletion", {"version": "1"}).status_code == 409
    assert client.get("/enquiries/1").status_code == 200


@pytest.mark.parametrize("version", ["", "one", "-1", "9" * 30])
def test_a_change_must_say_its_version(client, planned, version):
    assert client.send(ACTION, edited(client) | {"version": version}).status_code == 422


@pytest.mark.parametrize(
    "address", ["/enquiries/9", "/enquiries/9.json", "/enquiries/9/edit", "/enquiries/99999999999999"]
)
def test_an_enquiry_that_is_not_there(client, streets, address):
    page = client.get(address)
    assert page.status_code == 404
    assert "enquiry" in page.text
