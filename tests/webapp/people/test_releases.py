"""Releases: noted with a model, filled in as far as known, kept apart from the person."""

from __future__ import annotations

import pytest

from models.store.people import list_releases
from tests.webapp.filled import form_of

FORM = {"for_whom": "Mia L.", "by_whom": "Rosa L.", "signed_on": "2026-10-10", "use_portfolio": "yes", "use_web": "yes"}


@pytest.fixture
def mia(put):
    return put("M.L.", part="model", adult="no", guardian="Rosa L.", guardian_consent="yes", guardian_present="no")


@pytest.fixture
def noted(client, there, mia, store):
    sent = client.send(f"{there}/{mia.id}/releases", FORM | {"lies_at": "blue folder", "keep_until": "2036-10-10"})
    assert sent.status_code == 303, sent.text
    with store.reading() as s:
        (release,) = list_releases(s)
    return release


def test_the_form_is_filled_in_with_the_guardian(client, there, mia):
    at = f"{there}/{mia.id}/releases"
    form = form_of(client.get(f"{at}/new").text, at)
    assert (form["by_whom"], form["for_whom"], form["use_sale"]) == ("Rosa L.", "M.L.", "no")


def test_one_that_is_noted_is_no_longer_open_and_is_shown(client, there, noted):
    assert (noted.uses, noted.lies_at) == (("portfolio", "web"), "blue folder")
    page = client.get(there).text
    assert "No release of M.L." not in page
    assert "Signed on Saturday 10 October 2026 for portfolio and web; the paper lies where noted." in page
    page = client.get("/releases").text
    for said in (
        "1 release is noted.",
        "blue folder",
        "until Friday 10 October 2036, then it is erased",
        "Evening light",
    ):
        assert said in page, said


def test_one_under_age_who_signed_alone_is_open(client, there, mia):
    client.send(f"{there}/{mia.id}/releases", FORM | {"by_whom": "mia  l."})
    assert "is signed by the model alone, who is under 18: the guardian signs." in client.get(there).text


@pytest.mark.parametrize(
    ("field", "typed", "at", "said"),
    [
        ("by_whom", "", "by_whom", "say who signed it"), ("for_whom", " ", "for_whom", "as on the paper"),
        ("signed_on", "", "signed_on", "give a day"), ("signed_on", "2026-11-30", "signed_on", "lies ahead"),
        ("keep_until", "2026-10-09", "keep_until", "before the day it was signed"),
        ("use_sale", "perhaps", "use_portfolio", "neither yes nor no"),
        ("lies_at", "x" * 300, "lies_at", "at most 200"),
    ],
)  # fmt: skip
def test_what_cannot_be_meant_is_said_beside_its_field(client, there, mia, store, field, typed, at, said):
    sent = client.send(f"{there}/{mia.id}/releases", FORM | {field: typed})
    assert sent.status_code == 422
    assert f'id="{at}-wrong"' in sent.text
    assert said in sent.text
    assert "Rosa L." in sent.text or field == "by_whom"
    with store.reading() as s:
        assert list_releases(s) == ()


def test_no_use_at_all_is_said(client, there, mia):
    sent = client.send(f"{there}/{mia.id}/releases", FORM | {"use_portfolio": "no", "use_web": "no"})
    assert (sent.status_code, "say at least one use" in sent.text) == (422, True)


def test_changed_clashed_deleted_and_back(client, noted, store):
    at = f"/releases/{noted.id}"
    form = form_of(client.get(f"{at}/edit").text, at)
    assert client.send(at, form | {"lies_at": "red folder"}).status_code == 303
    clash = client.send(at, form | {"lies_at": "green folder"})
    assert (clash.status_code, "kept now: red folder" in clash.text) == (409, True)
    assert client.send(f"{at}/deletion", {"version": "2"}).status_code == 303
    assert "No release is noted yet." in client.get("/releases").text
    client.send(f"{at}/restoration", {})
    with store.reading() as s:
        (back,) = list_releases(s)
    assert (back.lies_at, back.person_id, back.keep_until) == ("red folder", noted.person_id, noted.keep_until)


def test_it_outlives_the_person_and_the_workshop(client, there, workshop, noted, mia):
    assert client.send(f"{there}/erasure", {"person": str(mia.id)}).status_code == 303
    assert client.send(f"/workshops/{workshop}/deletion", {"version": "1"}).status_code == 303
    page = client.get("/releases").text
    assert "Mia L." in page
    assert "Rosa L." in page


def test_it_is_erased_at_once_when_asked(client, noted):
    sent = client.send(f"/releases/{noted.id}/erasure", {})
    assert sent.status_code == 303
    page = client.get("/releases").text
    assert "1 release erased for good." in page
    assert client.get(f"/releases/{noted.id}/edit").status_code == 404
