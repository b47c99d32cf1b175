"""Kit pages: the list, one form for every kind, retiring with a way back, clashes, hostile names."""

from __future__ import annotations

import re
from html import unescape

import pytest

from models.planning.gear.fields import KINDS
from models.planning.kit import kit_of
from tests.webapp.conftest import HOSTILE

NAMES = [kind.name for kind in KINDS]


def form_in(page: str) -> dict[str, str]:
    """What a browser would send of the first form of the page's own."""
    body = page[page.index('<form class="form"') :]
    body = body[: body.index("</form>")]
    form = {
        name: unescape(value) for name, value in re.findall(r'<input [^>]*name="([^"]+)"[^>]* value="([^"]*)"', body)
    }
    for name, text in re.findall(r'<textarea [^>]*name="([^"]+)"[^>]*>(.*?)</textarea>', body, re.S):
        form[name] = unescape(text)
    for name, inside in re.findall(r'<select [^>]*name="([^"]+)"[^>]*>(.*?)</select>', body, re.S):
        form[name] = re.findall(r'<option value="([^"]*)" selected', inside)[0]
    form.pop("csrf_token")
    return form


def test_the_list_and_its_figures(client):
    page = client.get("/kit").text
    assert "2 of 4 flashes are only printed, not measured" in page
    figures = client.get("/kit.json").json
    assert figures["answer"] in unescape(page)
    assert [group["name"] for group in figures["groups"]] == NAMES
    assert [len(group["rows"]) for group in figures["groups"]] == [4, 9, 2, 2, 4, 3, 2, 2]


@pytest.mark.parametrize("name", NAMES)
def test_every_kind_is_changed_and_duplicated_through_one_form(client, store, name):
    piece = getattr(kit_of(store), name)[0]
    page = client.get(f"/kit/{name}/{piece.id}/edit")
    saved = client.send(f"/kit/{name}/{piece.id}", form_in(page.text) | {"name": "renamed"})
    assert (saved.status_code, saved.location) == (303, f"/kit#{name}")
    assert getattr(kit_of(store), name)[0] == type(piece)(
        **{field: getattr(piece, field) for field in piece.__dataclass_fields__} | {"name": "renamed"}
    )
    like = form_in(client.get(f"/kit/{name}/new?like={piece.id}").text)
    assert like["name"] == "renamed, another"
    assert client.send(f"/kit/{name}", like).status_code == 303
    assert getattr(kit_of(store), name)[-1].id == "renamed-another"
    empty = client.get(f"/kit/{name}/new")
    refused = client.send(f"/kit/{name}", form_in(empty.text))
    assert refused.status_code == 422
    assert "name is needed" in refused.text


def test_a_bad_form_keeps_what_was_typed(client, store):
    before = kit_of(store)
    form = form_in(client.get("/kit/flashes/small/edit").text)
    bad = form | {"guide_numbers": "24 mm 66 ft", "clean_sync_s": "soon"}
    page = client.send("/kit/flashes/small", bad)
    assert page.status_code == 422
    assert 'value="soon"' in page.text
    assert "24 mm 66 ft</textarea>" in page.text
    assert "understood: 20.1 m at 24 mm" in page.text
    assert kit_of(store) == before


def test_two_people_at_one_piece(client, store):
    form = form_in(client.get("/kit/modifiers/dome/edit").text)
    client.send("/kit/modifiers/dome", form | {"loss_stops": "1.6"})
    page = client.send("/kit/modifiers/dome", form | {"loss_stops": "2"})
    assert page.status_code == 409
    assert "kept now: 1.6" in page.text
    assert 'value="2"' in page.text
    again = client.send("/kit/modifiers/dome", form_in(page.text))
    assert again.status_code == 303
    retiring = client.send("/kit/modifiers/dome/retirement", {"version": "1"})
    assert retiring.status_code == 409


def test_retiring_with_a_way_back(client, store):
    assert client.send("/kit/flashes/small/retirement", {"version": "1"}).status_code == 303
    page = client.get("/kit").text
    assert '<form class="notice" method="post" action="/kit/flashes/small/return">' in page
    assert "small flash, guide number 20 is retired." in page
    assert [flash.id for flash in kit_of(store).flashes] == ["large", "round", "old"]
    form = form_in(client.get("/kit/flashes/small/edit").text)
    client.send("/kit/flashes/small", form | {"name": "renamed while away"})
    assert len(kit_of(store).flashes) == 3
    assert client.send("/kit/flashes/small/return", {}).status_code == 303
    assert kit_of(store).flashes[0].name == "renamed while away"


def test_a_hostile_name_is_only_text(client, store):
    form = form_in(client.get("/kit/flashes/small/edit").text)
    client.send("/kit/flashes/small", form | {"name": HOSTILE, "beam_note": HOSTILE})
    for address in ("/kit", "/kit/flashes/small/edit", "/kit/flashes/small/readings?read=f/9", "/spots/1"):
        page = client.get(address)
        assert page.status_code == 200
        assert "<img" not in page.text
        assert HOSTILE in unescape(page.text)
    assert client.get("/kit.json").json["groups"][0]["rows"][0]["name"] == HOSTILE


@pytest.mark.parametrize(
    "address",
    ["/kit/lenses/new", "/kit/flashes/none/edit", "/kit/flashes/new?like=none", "/kit/lenses.csv",
     "/kit/flashes/none/readings", "/kit/flashes/none/readings.json"],
)  # fmt: skip
def test_what_is_not_there(client, address):
    assert client.get(address).status_code == 404


def test_what_cannot_be_posted(client):
    assert client.send("/kit/lenses", {"name": "x"}).status_code == 404
    assert client.send("/kit/flashes/none", {"version": "1"}).status_code == 404
    assert client.send("/kit/flashes/small", {"version": "many"}).status_code == 422
    assert client.post("/kit/flashes", data={"name": "x"}).status_code == 403


def test_every_page_leads_to_the_kit(client):
    assert '<a href="/kit" aria-current="page">Kit</a>' in client.get("/kit").text
    assert '<a href="/kit">Kit</a>' in client.get("/settings").text
