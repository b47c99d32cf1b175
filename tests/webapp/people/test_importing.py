"""A list of people: understood line by line before anybody is kept, problems by line, nothing typed lost."""

from __future__ import annotations

import io
from html import unescape

import pytest

from tests.webapp.conftest import HOSTILE
from tests.webapp.filled import form_of

LIST = "Ana R., ana@mail.example\nBo, 555 0100, evenings\n\nCy\n"


@pytest.fixture
def at(there):
    return f"{there}/import"


def kept_form(page: str, there: str) -> dict[str, str]:
    return {name: unescape(text) for name, text in form_of(page, f"{there}/bringing-in").items()}


def test_a_pasted_list_is_shown_then_kept(client, at, there, listed):
    shown = client.send(at, {"text": LIST, "part": "helper"})
    assert shown.status_code == 200
    assert "3 people can be put on the list. Nothing is kept yet." in shown.text
    assert shown.headers["Cache-Control"] == "no-store"
    assert "going back does not bring it up again" in shown.text
    assert "going back" not in client.get(at).text
    assert listed() == {}
    sent = client.send(f"{there}/bringing-in", kept_form(shown.text, there))
    assert sent.status_code == 303
    found = listed()
    assert {each.part for each in found.values()} == {"helper"}
    assert found["Ana R."].contact == "ana@mail.example"
    assert found["Bo"].contact == "555 0100, evenings"
    again = client.send(at, {"text": LIST + "Di; x", "part": "helper"})
    assert "1 person can be put on the list; 3 there already." in again.text


@pytest.mark.parametrize("mark", ["\t", ";", ","])
def test_a_file_with_columns_is_read_whichever_mark_parts_them(client, at, there, listed, mark):
    rows = [("Name", "Part", "Emergency contact", "Shoe size"), ("Ana", "models", "Bo", "38"), ("Cy", "", "", "")]
    data = "\n".join(mark.join(row) for row in rows).encode("utf-8-sig")
    form = {"file": (io.BytesIO(data), "list.csv"), "part": "attendee", "csrf_token": client.token()}
    shown = client.post(at, data=form, content_type="multipart/form-data")
    assert shown.status_code == 200
    assert "Not known, so left out: Shoe size." in shown.text
    client.send(f"{there}/bringing-in", kept_form(shown.text, there))
    found = listed()
    assert (found["Ana"].part, found["Ana"].emergency_contact, found["Cy"].part) == ("model", "Bo", "attendee")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("Ana\n" + "x" * 300, "Line 2</b>: name: 300 characters; at most 120"), (", 555 0100", "name: give a name"),
        ("name,part\nAna,boss", "Line 2</b>: part: “boss” is not known"), ("Ana\x00", "no text"),
        ('name,contact\n"Ana,555', "cannot be parted"), ("name,name\nAna,Bo", "twice"),
        ("name\nAna,555", "2 cells under 1 column"), ("A\n" * 201, "at most 200 at a time"), (" \n", "Paste a list"),
    ],
)  # fmt: skip
def test_what_cannot_be_read_is_said_by_its_line_and_nobody_comes_in(client, at, there, listed, text, said):
    for address in (at, f"{there}/bringing-in"):
        sent = client.send(address, {"text": text, "part": "attendee"})
        assert sent.status_code == 422 or (address != at and not text.strip())
        assert listed() == {}
    sent = client.send(at, {"text": text, "part": "attendee"})
    assert said in sent.text
    assert not text.strip() or text.strip() in unescape(sent.text).replace("\r", "")


def test_a_file_that_is_no_text_is_said(client, at):
    form = {"file": (io.BytesIO(b"\xff\xfe\x00A"), "list.xls"), "text": "Ana", "csrf_token": client.token()}
    sent = client.post(at, data=form, content_type="multipart/form-data")
    assert (sent.status_code, "is not UTF-8 text" in sent.text, ">\nAna<" in sent.text) == (422, True, True)


def test_hostile_lists_are_text(client, at, there, listed):
    text = f"{HOSTILE}\t<b>555</b>\n\u202eevil\t🦊"
    shown = client.send(at, {"text": text, "part": "attendee"})
    assert "<img src=x" not in shown.text
    assert "<b>555</b>" not in shown.text
    client.send(f"{there}/bringing-in", kept_form(shown.text, there))
    assert set(listed()) == {HOSTILE, "\u202eevil"}
