"""The people of a workshop: the list, the form, deleting with a way back, standing in, and what JSON never tells."""

from __future__ import annotations

from html import escape

import pytest

from models.words.never import forbidden_in
from tests.webapp.conftest import HOSTILE
from tests.webapp.filled import form_of

MODEL = {"part": "model", "adult": "no", "guardian": "Rosa L.", "contact": "rosa@mail.example"}


def text_of(html: str) -> str:
    return " ".join(html.split())


def test_an_empty_list_says_what_belongs_there(client, there):
    page = client.get(there)
    assert page.status_code == 200
    assert "Nobody is on the list yet." in page.text
    assert "Attendees, models and helpers belong here" in page.text
    assert page.headers["Cache-Control"] == "no-store"


def test_who_is_put_on_it_stands_under_their_part_with_what_is_open(client, there, put):
    put("Ana", contact="555 0100", camera_system="mirrorless")
    put("M.L.", **MODEL)
    put("Bo", part="helper")
    page = text_of(client.get(there).text)
    assert "1 attendee, 1 model and 1 helper are on the list; 3 things are open about 1 of them, the first by" in page
    for said in (
        "Guardian&#39;s consent of M.L. is open.",
        "Whether the guardian of M.L. comes along is open.",
        "No release of M.L. is signed.",
        "555 0100",
        "mirrorless",
        "erased after Monday 30 November 2026",
    ):
        assert said.lower() in page.lower(), said
    assert page.index("attendee-head") < page.index("model-head") < page.index("helper-head")


def test_where_list_and_footprint_differ_it_says_how_the_group_is_counted(client, there, put):
    put("Ana")
    put("M.L.", **MODEL, guardian_present="yes")
    put("K.", part="model", adult="yes")
    page = text_of(client.get(there).text)
    assert "The workshop says a group of 9; the list makes 5. Rules are looked up for 9." in page
    assert "The workshop says 1 model; the list has 2." in page
    assert "1 attendee, 2 models, 1 guardian and you make 5." in page


def test_no_warning_where_they_agree(client, there, put):
    for number in range(7):
        put(f"A{number}")
    put("K.", part="model")
    page = text_of(client.get(there).text)
    assert "7 attendees, 1 model and you make 9. That is what the workshop says too." in page


def test_what_is_open_joins_the_list_of_the_workshop(client, workshop, put):
    put("M.L.", **MODEL)
    page = client.get(f"/workshops/{workshop}").text
    assert "Guardian&#39;s consent of M.L. is open." in page
    assert "take no picture of them" in page
    before = client.get("/workshops.json").get_json()["upcoming"][0]["open"]
    put("K.", part="model", adult="yes")
    assert client.get("/workshops.json").get_json()["upcoming"][0]["open"] == before + 1


def test_json_tells_of_nobody_by_name_or_contact(client, workshop, there, put):
    secrets = ("Zebedee", "555 0100", "Rosaline", "wheelchair", "400 florins", "blue folder", "Xanthippe")
    noted = {"contact": "555 0100", "guardian": "Rosaline", "access_needs": "wheelchair", "owed_fee": "400 florins"}
    person = put("Zebedee", **MODEL | noted | {"owed_pictures": "3", "owed_from": "Xanthippe"})
    release = {"by_whom": "Rosaline", "for_whom": "Zebedee", "signed_on": "2026-10-01", "use_web": "yes"}
    sent = client.send(f"{there}/{person.id}/releases", release | {"lies_at": "blue folder"})
    assert sent.status_code == 303
    assert all(secret in client.get(there).text for secret in secrets[:5])
    of_workshop = f"/workshops/{workshop}.json"
    for address in (f"{there}.json", of_workshop, "/workshops.json", "/releases.json", "/deadlines.json"):
        told = client.get(address)
        assert told.status_code == 200
        assert [secret for secret in secrets if secret in told.text] == [], address
    row = client.get(f"{there}.json").get_json()["parts"][0]["rows"][0]
    assert row["open"][0]["words"] == "Guardian's consent of model 1 is open."


def test_a_form_comes_back_as_it_was_sent_and_changes_say_so(client, there, put, listed):
    person = put("Ana", contact="555 0100", owed_pictures="5", owed_by="2026-11-30", notes="left-handed")
    page = client.get(f"{there}/{person.id}/edit").text
    form = form_of(page, f"{there}/{person.id}")
    assert client.send(f"{there}/{person.id}", form | {"name": "Ana R."}).status_code == 303
    after = listed()["Ana R."]
    assert (after.contact, after.owed_pictures, after.notes, after.version) == ("555 0100", 5, "left-handed", 2)
    clash = client.send(f"{there}/{person.id}", form | {"name": "Ann"})
    assert (clash.status_code, "kept now: Ana R." in clash.text) == (409, True)
    client.send(f"{there}/{person.id}/deletion", {"version": "2"})
    gone = client.send(f"{there}/{person.id}", form | {"name": "Ann", "version": "2"})
    assert (gone.status_code, "It was deleted meanwhile." in gone.text, 'value="Ann"' in gone.text) == (409, True, True)


@pytest.mark.parametrize(
    ("field", "typed", "said"),
    [
        ("name", "", "give a name"), ("name", "é" * 300, "300 characters; at most 120"),
        ("name", "a\x00b", "no text"), ("contact", "9" * 201, "at most 200"), ("notes", "n" * 4001, "at most 4000"),
        ("part", "boss", "is not known"), ("adult", "maybe", "is not known"), ("owed_pictures", "many", "not a number"),
        ("owed_by", "soonish", "soonish"), ("erase_after", "31 Feb", "31 Feb"), ("paid_on", "2027-01-01", "lies ahead"),
        ("stands_in", "perhaps", "neither yes nor no"), ("guardian", "g" * 121, "at most 120"),
    ],
)  # fmt: skip
def test_what_cannot_be_meant_is_said_beside_its_field_and_nothing_typed_is_lost(
    client, there, listed, field, typed, said
):
    form = {"name": "Ana", "part": "attendee", "contact": "kept as typed", field: typed}
    sent = client.send(there, form)
    assert sent.status_code == 422
    assert f'id="{field}-wrong"' in sent.text
    assert said in sent.text
    if field != "contact":
        assert "kept as typed" in sent.text
    assert listed() == {}


@pytest.mark.parametrize("name", [HOSTILE, "<b>Ana</b> & Co", "\u202eevil", "אָנָה", "🦊 Fox", 'O\'Neil "Bo"'])
def test_hostile_names_are_text(client, there, put, name):
    person = put(name)
    for address in (there, f"{there}/{person.id}/edit", f"{there}/erasure?person={person.id}"):
        page = client.get(address).text
        assert str(escape(name)).replace("&#x27;", "&#39;").replace("&quot;", "&#34;") in page
        assert "<img src=x" not in page
        assert "<b>Ana</b>" not in page


def test_off_the_list_and_back(client, there, put, listed):
    person = put("Ana", contact="555 0100")
    sent = client.send(f"{there}/{person.id}/deletion", {"version": "1"})
    assert (sent.status_code, listed()) == (303, {})
    page = client.get(there).text
    assert "Ana is off the list." in page
    assert "555 0100" not in page
    assert "1 person is off the list and lies aside" in text_of(page)
    assert client.send(f"{there}/{person.id}/restoration", {}).status_code == 303
    assert listed()["Ana"].contact == "555 0100"


def test_people_go_with_their_workshop_and_come_back_with_it(client, workshop, there, put, listed):
    put("Ana")
    assert client.send(f"/workshops/{workshop}/deletion", {"version": "1"}).status_code == 303
    assert listed() == {}
    assert client.get(there).status_code == 404
    client.send(f"/workshops/{workshop}/restoration", {})
    assert list(listed()) == ["Ana"]


def test_a_stand_in_needs_the_record_of_a_model_first(client, there, put, listed):
    person = put("Ana")
    at = f"{there}/{person.id}"
    page = client.get(f"{at}/edit?stands_in=yes").text
    assert "Before anybody stands in as a model" in page
    form = form_of(page, at)
    assert form["stands_in"] == "yes"
    sent = client.send(at, form)
    assert sent.status_code == 422
    assert 'id="adult-wrong"' in sent.text
    assert 'id="picture_consent-wrong"' in sent.text
    sent = client.send(at, form | {"adult": "no", "picture_consent": "yes"})
    assert 'id="guardian-wrong"' in sent.text
    assert 'id="guardian_consent-wrong"' in sent.text
    assert client.send(at, form | {"adult": "yes", "picture_consent": "yes"}).status_code == 303
    assert listed()["Ana"].models
    assert "No release of Ana is signed." in client.get(there).text


def test_an_attendee_becomes_a_model_with_that_record_only(client, there, put, listed):
    person = put("Ana")
    at = f"{there}/{person.id}"
    form = form_of(client.get(f"{at}/edit").text, at) | {"part": "model"}
    sent = client.send(at, form)
    assert sent.status_code == 422
    assert 'id="adult-wrong"' in sent.text
    assert client.send(at, form | {"adult": "yes", "picture_consent": "yes"}).status_code == 303
    assert listed()["Ana"].part == "model"


def test_a_person_of_another_workshop_is_not_found(client, put, there):
    person = put("Ana")
    for address in (
        f"/workshops/99/people/{person.id}/edit",
        "/workshops/99/people",
        f"{there}/99/edit",
        "/workshops/99/people/erasure",
        f"{there}/erasure?person=99",
        f"{there}/99/releases/new",
    ):
        assert client.get(address).status_code == 404, address
    assert client.send(there.replace("1", "99"), {"name": "x", "part": "helper"}).status_code == 404


def test_no_page_says_that_anything_may_be_done(client, there, put):
    person = put("M.L.", **MODEL)
    for address in (
        there,
        f"{there}/new?part=model",
        f"{there}/{person.id}/edit",
        f"{there}/import",
        "/releases",
        f"{there}/{person.id}/releases/new",
        f"{there}/erasure",
    ):
        page = client.get(address)
        assert page.status_code == 200
        assert forbidden_in(page.text) == [], address
