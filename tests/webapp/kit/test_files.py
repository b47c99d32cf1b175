"""Kit as files: out by kind and all of it, in with a look first."""

from __future__ import annotations

import io
import re
from html import unescape

import pytest

from models.planning.gear.fields import KINDS
from models.planning.kit import kit_of

FILE = b"name,kind,loss_stops\r\nplastic dome,diffuser,1 2/3\r\n<b>new</b>,box,2\r\nbad,box,lots\r\n"


def look(client, data: bytes, kind: str = "modifiers"):
    form = {"kind": kind, "csrf_token": client.token(), "file": (io.BytesIO(data), "kit.csv")}
    return client.post("/kit/import", data=form, content_type="multipart/form-data")


def carried(page: str) -> dict[str, str]:
    form = dict(re.findall(r'<input type="hidden" name="(kind|mark)" value="([^"]+)"', page))
    text = re.search(r'<textarea name="text"[^>]*>(.*?)</textarea>', page, re.S)
    return form | {"text": unescape(text[1]) if text else ""}


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_each_kind_goes_out_and_comes_back_the_same(client, kind):
    out = client.get(f"/kit/{kind.name}.csv")
    assert out.mimetype == "text/csv"
    assert out.headers["Content-Disposition"] == f'attachment; filename="{kind.name}.csv"'
    page = look(client, out.data, kind.name)
    assert page.status_code == 200
    assert "There is nothing to keep." in page.text


def test_all_of_it(client):
    out = client.get("/kit.toml")
    assert out.mimetype == "application/toml"
    assert out.text.startswith('[[flash]]\nid = "small"')


def test_a_look_first_and_then_it_is_kept(client, store):
    before = kit_of(store)
    page = look(client, FILE)
    assert "3 rows of modifiers: 1 new, 1 changed, 1 refused. Nothing is kept yet." in page.text
    assert "<b>new</b>" not in page.text.replace("<b>&lt;b&gt;new&lt;/b&gt;</b>", "")
    assert "1.5 stops, now 1 2/3 stops" in page.text
    assert "“lots” is not a number of stops" in page.text
    assert kit_of(store) == before
    kept = client.send("/kit/bringing-in", carried(page.text))
    assert (kept.status_code, kept.location) == (303, "/kit#modifiers")
    assert "1 modifier added, 1 changed." in client.get("/kit").text
    assert len(kit_of(store).modifiers) == len(before.modifiers) + 1


def test_a_kit_that_moved_since_is_shown_again(client, store):
    page = look(client, FILE)
    client.send("/kit/modifiers/dome/retirement", {"version": "1"})
    before = kit_of(store)
    again = client.send("/kit/bringing-in", carried(page.text))
    assert again.status_code == 409
    assert "The kit changed since you looked." in again.text
    assert "is retired and comes back" in again.text
    assert kit_of(store) == before
    assert client.send("/kit/bringing-in", carried(again.text)).status_code == 303


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (b"", "Choose a CSV file first."),
        (b"\x89PNG\r\n\x1a\n\x00\xff", "is not UTF-8 text"),
        (b"id,kind\nx,box\n", "lacks the column name"),
        (b"name,name\nx,y\n", "has the column name twice"),
        (b"name\n" + b"x\n" * 501, "holds 501 rows; at most 500"),
        (b"name\n" + b"x" * 500_100, "at most 0.5 MB"),
    ],
)
def test_bad_files_by_name(client, data, message):
    page = look(client, data)
    assert page.status_code == 422
    assert message in page.text
    assert "Keep these" not in page.text


def test_a_refused_file_is_said_at_the_top(client):
    for page in (look(client, b" "), client.send("/kit/bringing-in", {"kind": "modifiers", "text": "id\n"})):
        assert page.status_code == 422
        assert '<p class="answer" role="alert">Nothing was kept. ' in page.text


def test_what_was_not_looked_at_is_not_kept(client, store):
    before = kit_of(store)
    assert client.send("/kit/bringing-in", {"kind": "modifiers", "text": FILE.decode()}).status_code == 409
    assert client.send("/kit/bringing-in", {"kind": "modifiers", "text": "id\n"}).status_code == 422
    assert client.send("/kit/bringing-in", {"kind": "lenses", "text": "name\n"}).status_code == 404
    assert look(client, FILE, "lenses").status_code == 404
    assert kit_of(store) == before
