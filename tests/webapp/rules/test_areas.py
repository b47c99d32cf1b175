"""Pages of rule areas: the answer first, forms that keep what was typed, clashes, undo, hostile names."""

from __future__ import annotations

import html
import re

import pytest

from models.planning.rules.areas import add_area, change_area, delete_area, get_area
from models.words.never import forbidden_in
from models.words.rules import STANDING_NOTE
from tests.models.planning.rules.town import HOSTILE, area
from tests.webapp.conftest import NOW

FORM = {
    "name": "Corn Street",
    "kind": "park",
    "authority": "Parks office",
    "shape": "52.53, 5.23\r\n52.54, 5.23\r\n52.54, 5.24",
}
PAGES = (
    "/rules", "/rules/areas/1", "/rules/areas/new", "/rules/areas/1/edit", "/rules/new?area=1", "/rules/new?spot=1",
    "/rules/1/edit", "/rules/import",
)  # fmt: skip


def words_of(page: str) -> str:
    """What a reader sees of a page, without the scripts."""
    body = page[page.index("<main") : page.index("</main>")]
    return html.unescape(re.sub(r"<[^>]+>", " ", body))


@pytest.mark.parametrize("address", PAGES)
def test_every_page_says_whose_word_holds_and_gives_no_permission(client, town, address):
    page = client.get(address).text
    assert STANDING_NOTE in page
    assert forbidden_in(words_of(page)) == []


def test_an_empty_list_says_what_belongs_there(client):
    page = client.get("/rules").text
    assert "Nothing is recorded yet: every spot is unchecked." in page
    assert "Draw the first one" in page
    assert 'href="/rules/areas/new"' in page


def test_the_list_opens_with_its_answer(client, town):
    page = client.get("/rules").text
    answer = "2 areas hold 1 rule; 1 spot has a rule of its own. Of these records 1 was only told on the spot."
    assert answer in page
    assert "Harbour office" in page
    assert "Somebody told it on the spot; nothing is in writing." in page
    twin = client.get("/rules.json").json
    assert twin["answer"] == answer
    assert [row["name"] for row in twin["areas"]] == ["Corn Square", "Old quay"]


@pytest.mark.parametrize("page", ["x", "-1", "0", "99999999999999999999", "٣"])
def test_an_odd_page_number_is_a_page_that_is_there(client, town, page):
    assert client.get(f"/rules.json?page={page}").json["page"] == 1


def test_an_area_shows_its_rules_with_their_sources(client, town):
    page = client.get("/rules/areas/1").text
    assert "Council controls Corn Square. 1 rule is recorded." in page
    assert "permission needed, ask 10 clear working days before" in page
    assert '<a href="https://council.example/4" rel="noreferrer">By-law (read on Tuesday 1 September 2026)</a>' in page
    assert client.get("/rules/areas/1.json").json["rules"][0]["activity"] == "stand_ground"


@pytest.mark.parametrize("address", ["/rules/areas/99", "/rules/areas/99/edit", "/rules/areas/99.json"])
def test_a_missing_area_is_said(client, town, address):
    assert client.get(address).status_code == 404


def test_an_area_is_kept_as_typed(client, store):
    response = client.send("/rules/areas", FORM | {"no_passing": "yes", "web": "https://parks.example"})
    assert (response.status_code, response.headers["Location"]) == (303, "/rules/areas/1")
    kept = get_area(store, 1)
    assert (kept.name, kept.kind, kept.no_passing, kept.web) == ("Corn Street", "park", True, "https://parks.example")
    assert kept.shape[0][0][0] == (5.23, 52.53)
    assert "Corn Street is kept." in client.get("/rules/areas/1").text


@pytest.mark.parametrize(
    ("field", "typed", "message"),
    [
        ("name", "", "give the area a name"),
        ("authority", " ", "say who controls it"),
        ("kind", "palace", "is not known"),
        ("web", "javascript:alert(1)", "is not a web address"),
        ("holidays", "Atlantis", "Atlantis"),
        ("shape", "", "press its corners on the map"),
        ("shape", "52.53, 5.23\n52.54, 5.24\n52.53, 5.24\n52.54, 5.23", "crosses or touches itself"),
        ("notes", "x" * 5000, "at most"),
    ],
)
def test_a_bad_field_says_so_and_keeps_what_was_typed(client, store, field, typed, message):
    response = client.send("/rules/areas", FORM | {"contact": "mind the dog"} | {field: typed})
    assert response.status_code == 422
    assert message in html.unescape(response.text).replace("\u201c", "").replace("\u201d", "")
    assert f'id="{field}-wrong"' in response.text
    assert "mind the dog" in response.text
    assert client.get("/rules.json").json["total"] == 0


def test_an_area_far_from_every_spot_is_kept_only_when_it_is_meant(client, store):
    swapped = FORM | {"shape": "5.23, 52.53\n5.23, 52.54\n5.24, 52.54"}
    assert "It really lies there" not in client.get("/rules/areas/new").text
    page = client.send("/rules/areas", swapped)
    assert page.status_code == 422
    assert "the nearest spot. Latitude comes first, then longitude: are they swapped?" in page.text
    assert 'id="far" name="far" value="yes">' in page.text
    assert 'id="far-wrong"' in page.text
    assert client.get("/rules.json").json["total"] == 0
    again = client.send("/rules/areas", swapped | {"far": "yes", "name": ""})
    assert 'id="far" name="far" value="yes" checked>' in again.text
    assert client.send("/rules/areas", swapped | {"far": "yes"}).status_code == 303
    edited = client.send("/rules/areas/1", swapped | {"version": "1", "notes": "the annual trip"})
    assert edited.status_code == 303
    moved = client.send("/rules/areas/1", swapped | {"version": "2", "shape": swapped["shape"] + "\n5.24, 52.53"})
    assert moved.status_code == 422


def test_the_form_says_what_it_understood(client, town):
    page = client.get("/rules/areas/1/edit").text
    assert "understood: 4 corners, about 760,000 m²" in page
    assert ">52.52, 5.22\n52.52, 5.22" in html.unescape(page)


def form_of(client, number=1):
    page = client.get(f"/rules/areas/{number}/edit").text
    fields = dict(re.findall(r'<input id="\w+" name="(\w+)"[^>]*?value="([^"]*)"', page))
    fields |= {"shape": re.search(r'<textarea id="shape"[^>]*>([^<]*)</textarea>', page)[1]}
    fields |= {"kind": re.search(r'<option value="(\w+)" selected', page)[1]}
    return fields | dict(re.findall(r'name="(version)" value="(\d+)"', page))


def test_an_unchanged_form_changes_nothing_but_the_version(client, town):
    before = get_area(town, 1)
    assert client.send("/rules/areas/1", form_of(client)).status_code == 303
    after = get_area(town, 1)
    assert (after.name, after.shape, after.kind, after.version) == (before.name, before.shape, before.kind, 2)


def test_a_clash_keeps_what_was_typed_and_shows_the_other(client, town):
    mine = form_of(client) | {"name": "Corn Square, north", "contact": "the counter"}
    change_area(town, 1, 1, area(contact="by letter", no_passing=True))
    response = client.send("/rules/areas/1", mine)
    assert response.status_code == 409
    assert 'value="Corn Square, north"' in response.text
    assert "kept now: by letter" in response.text
    assert "kept now: Corn Square" in response.text
    assert "kept now: yes" in response.text
    assert "Somebody changed this area while you were typing." in response.text
    assert client.send("/rules/areas/1", mine | {"version": "2"}).status_code == 303
    assert get_area(town, 1).contact == "the counter"


def test_a_clash_with_a_deletion_offers_it_back(client, town):
    mine = form_of(client)
    delete_area(town, 1, 1, now=NOW)
    response = client.send("/rules/areas/1", mine)
    assert response.status_code == 409
    assert "Bring it back" in response.text
    assert 'action="/rules/areas/1/restoration"' in response.text
    bad = client.send("/rules/areas/1", mine | {"web": "nowhere", "contact": "mind the dog"})
    assert bad.status_code == 422
    assert "mind the dog" in bad.text


def test_a_deletion_can_be_undone_on_the_next_page(client, town):
    response = client.send("/rules/areas/1/deletion", {"version": "1"})
    assert (response.status_code, response.headers["Location"]) == (303, "/rules")
    page = client.get("/rules").text
    assert "Corn Square is deleted, and its rules with it." in page
    assert client.get("/rules/1/edit").status_code == 404
    assert client.send("/rules/areas/1/restoration", {}).status_code == 303
    assert client.get("/rules/1/edit").status_code == 200


@pytest.mark.parametrize("version", ["", "one", "-1", "٣", "9" * 40])
def test_a_change_must_say_its_version(client, town, version):
    assert client.send("/rules/areas/1", form_of(client) | {"version": version}).status_code == 422


def test_an_old_version_deletes_nothing(client, town):
    change_area(town, 1, 1, area(notes="x"))
    assert client.send("/rules/areas/1/deletion", {"version": "1"}).status_code == 409
    assert get_area(town, 1).notes == "x"


def test_a_hostile_name_is_text_everywhere(client, town):
    hostile = {"name": HOSTILE, "authority": HOSTILE, "contact": HOSTILE, "notes": HOSTILE}
    number = add_area(town, area(**hostile)).id
    for address in ("/rules", f"/rules/areas/{number}", f"/rules/areas/{number}/edit", f"/rules/new?area={number}"):
        page = client.get(address).text
        assert "<img src=x" not in page, address
        assert "${1}" in page, address
    client.send(f"/rules/areas/{number}/deletion", {"version": "1"})
    assert "<img src=x" not in client.get("/rules").text


def test_what_is_taken_away_is_a_file(client, town):
    answer = client.get("/rules/areas.geojson")
    assert answer.mimetype == "application/geo+json"
    assert answer.headers["Content-Disposition"] == 'attachment; filename="rule-areas.geojson"'
    assert [feature["properties"]["name"] for feature in answer.json["features"]] == ["Corn Square", "Old quay"]


def test_the_map_shows_the_areas_of_the_page(client, town):
    assert 'data-layers="footways buildings areas spots"' in client.get("/rules").text
    page = client.get("/rules/areas/2").text
    assert 'data-area="2"' in page
    assert 'data-lat="52.528" data-lon="5.226"' in page
    assert 'id="texture-waterfront"' in page
    assert client.get("/rules/areas/new").text.count("js/draw.js") == 1
