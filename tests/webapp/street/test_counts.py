"""The footfall page: answer, week, one-line form, changes with a version, undo, files in and out."""

from __future__ import annotations

import io
import re

import pytest
from markupsafe import escape

from models.words.never import forbidden_in
from tests.webapp.conftest import HOSTILE
from tests.webapp.rules.test_findings import seen

HERE = "/spots/1/counts"
LINE = {"number": "57", "minutes": "10", "day": "10 Oct", "clock": "17:00", "whence": "Ida", "note": ""}
THEN = "on=2026-10-17&at=17:00"


@pytest.fixture
def counted(client):
    sent = client.send(HERE, LINE)
    assert sent.status_code == 303
    return f"{HERE}/1"


def test_nothing_counted_is_loud_and_offers_the_first_step(client):
    page = client.get(f"{HERE}?{THEN}")
    assert page.status_code == 200
    assert '<p class="answer wraps warn loud">' in page.text
    assert "footfall not counted" in seen(page.text)
    assert "Nobody has counted here yet" in seen(page.text)
    assert client.get(f"{HERE}.json?{THEN}").json["hour"]["rate"] is None


def test_page_and_twin_say_the_same(client, counted):
    page, twin = client.get(f"{HERE}?{THEN}"), client.get(f"{HERE}.json?{THEN}").json
    assert twin["answer"] in seen(page.text)
    assert twin["hour"]["rate"]["people_per_h"] == pytest.approx(342)
    assert "about 340 people an hour" in twin["answer"]
    assert page.text.count("<svg") >= 2
    assert "57 people in 10 min" in seen(page.text)
    assert forbidden_in(seen(page.text)) == []


def test_the_spot_page_leads_there(client):
    assert f'href="{HERE}' in client.get("/spots/1").text


@pytest.mark.parametrize(
    ("field", "text"),
    [("number", "many"), ("number", ""), ("minutes", "0"), ("day", "someday"), ("day", "2027-01-01"),
     ("clock", "25:00"), ("whence", "x" * 200), ("number", HOSTILE)],
)  # fmt: skip
def test_a_field_that_cannot_be_read_keeps_what_was_typed(client, field, text):
    page = client.send(HERE, LINE | {field: text})
    assert page.status_code == 422
    assert f'id="{field}-wrong"' in page.text
    assert "Nothing was saved yet" in page.text
    assert str(escape(text)) in page.text
    assert "<img src=x" not in page.text
    assert client.get(f"{HERE}.json").json["total"] == 0


def test_words_of_the_sentence_keep_what_was_typed(client, counted):
    page = client.get(f"{HERE}?{THEN}&gap=long")
    assert page.status_code == 422
    assert 'id="word-gap-wrong"' in page.text
    assert client.get(f"{HERE}.json?{THEN}&cross=120").status_code == 422


def test_changing_clashing_and_undoing(client, counted):
    form = client.get(f"{counted}/edit").text
    assert 'value="57"' in form
    assert client.send(counted, LINE | {"number": "60", "version": "1"}).status_code == 303
    clash = client.send(counted, LINE | {"number": "61", "version": "1"})
    assert clash.status_code == 409
    assert "kept now: 60" in clash.text
    assert 'value="61"' in clash.text
    assert client.send(counted, LINE | {"number": "x", "version": "2"}).status_code == 422
    gone = client.send(f"{counted}/deletion", {"version": "2"})
    assert gone.status_code == 303
    page = client.get(HERE, follow_redirects=True)
    assert "The count is deleted." in page.text
    late = client.send(counted, LINE | {"version": "2"})
    assert late.status_code == 409
    assert "Bring it back" in late.text
    undo = re.search(rf'action="({counted}/restoration)"', page.text)[1]
    assert client.send(undo, {}).status_code == 303
    assert client.get(f"{HERE}.json").json["rows"][0]["figures"] == "60 people in 10 min"


def test_a_count_belongs_to_its_spot(client, counted):
    for way in ("edit", "deletion", "restoration"):
        answer = (
            client.get(f"/spots/2/counts/1/{way}")
            if way == "edit"
            else client.send(f"/spots/2/counts/1/{way}", {"version": "1"})
        )
        assert answer.status_code == 404
    assert client.get("/spots/99/counts").status_code == 404
    assert client.send("/spots/99/counts", LINE).status_code == 404


@pytest.mark.parametrize("address", [HERE, f"{HERE}/1", f"{HERE}/1/deletion", f"{HERE}/import", f"{HERE}/bringing-in"])
def test_a_form_needs_its_token(client, counted, address):
    assert client.post(address, data=LINE | {"version": "1"}).status_code == 403


def upload(client, text: bytes, name="counts.csv"):
    form = {"file": (io.BytesIO(text), name), "csrf_token": client.token()}
    return client.post(f"{HERE}/import", data=form, content_type="multipart/form-data")


def test_a_file_is_shown_before_it_is_kept_and_goes_out_again(client, counted):
    text = b"spot,starts,minutes,number,of,whence\nFerry quay,2026-10-10 11:00,10,42,people,Ida\n"
    page = upload(client, text)
    assert page.status_code == 200
    assert "1 count can come in" in page.text
    assert "Ferry quay" in page.text
    assert client.get("/spots/2/counts.json").json["total"] == 0
    assert client.send(f"{HERE}/bringing-in", {"text": text.decode()}).status_code == 303
    assert client.get("/spots/2/counts.json").json["total"] == 1
    out = client.get("/spots/2/counts.csv")
    assert out.mimetype == "text/csv"
    assert "Ferry quay,2026-10-10 11:00+02:00,10,42,people,Ida," in out.text


@pytest.mark.parametrize(
    "text", [b"", b"x", b"\xff", b"starts,minutes,number\nnever,1,1\n", b'starts,minutes,number\n"<img src=x>",1,1\n']
)
def test_a_file_that_cannot_be_read_says_what_is_wrong(client, text):
    page = upload(client, text)
    assert page.status_code == 422
    assert "<img src=x" not in page.text
    assert client.send(f"{HERE}/bringing-in", {"text": "nonsense"}).status_code == 422


def test_no_file_is_said_at_the_top(client):
    page = client.send("/spots/1/counts/import", {})
    assert page.status_code == 422
    assert '<p class="answer" role="alert">Nothing was kept. Choose a CSV file first.</p>' in page.text
    assert 'role="alert"' not in client.get("/spots/1/counts/import").text


def test_hostile_text_is_text(client):
    client.send("/spots/3/counts", LINE | {"whence": HOSTILE, "note": HOSTILE})
    for address in ("/spots/3/counts", "/spots/3/counts/1/edit", "/spots/3/counts/import"):
        page = client.get(address, follow_redirects=True)
        assert page.status_code == 200
        assert "<img src=x" not in page.text
