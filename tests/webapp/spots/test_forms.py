"""Adding, changing, deleting: what was typed stays, clashes show both, a deletion can be undone."""

from __future__ import annotations

import pytest

from models.store.spots import change_spot, delete_spot, get_spot
from tests.webapp.conftest import HOSTILE

NEW = {"name": "Corn Square", "place": "52°31'48\"N 5°13'52\"E", "looking_deg": "west", "pavement_width_m": "11 ft"}


def kept(store, number):
    with store.reading() as s:
        return get_spot(s, number)


def edited(client, number=1):
    """The edit form as a browser would send it back, unchanged."""
    import re

    page = client.get(f"/spots/{number}/edit").text
    fields = dict(re.findall(r'<input id="\w+" name="(\w+)"[^>]*?value="([^"]*)"', page))
    fields |= dict(re.findall(r'name="(version)" value="(\d+)"', page))
    return fields


def test_the_form_opens_with_the_place_from_the_map(client):
    page = client.get("/spots/new?place=52.530100, 5.231200").text
    assert 'value="52.530100, 5.231200"' in page
    assert "understood: 52.53010° N, 5.23120° E, time zone Europe/Amsterdam" in page


def test_a_spot_is_kept_as_typed(client, store):
    response = client.send("/spots", NEW)
    assert (response.status_code, response.headers["Location"]) == (303, "/spots/4")
    spot = kept(store, 4)
    assert (spot.name, spot.zone, spot.looking_deg) == ("Corn Square", "Europe/Amsterdam", 270.0)
    assert spot.latitude_deg == pytest.approx(52.53, abs=1e-6)
    assert spot.pavement_width_m == pytest.approx(3.3528)


@pytest.mark.parametrize(
    ("field", "typed", "message"),
    [
        ("name", "", "give the spot a name"),
        ("place", "95, 5", "is not a latitude"),
        ("place", "somewhere", "is not a place"),
        ("pavement_width_m", "wide", "Type it like 3.5 m or 11 ft"),
        ("wall_reflectance", "1.5", "outside 0 to 0.95"),
        ("zone", "Europe/Nowhere", "is not known"),
        ("measured", "225", "a bearing and a height"),
        ("canopies", "200-290", "needs six parts"),
        ("roof", "tent", "is not known"),
    ],
)
def test_a_bad_field_says_so_and_keeps_what_was_typed(client, field, typed, message):
    response = client.send("/spots", NEW | {field: typed, "notes": "mind the trams"})
    assert response.status_code == 422
    assert message in response.text
    assert f'id="{field}-wrong"' in response.text
    assert "mind the trams" in response.text
    assert "understood: 3.35 m" in response.text or field == "pavement_width_m"
    assert len(client.get("/spots.json").json["rows"]) == 3


def test_all_bad_fields_are_named_at_once(client):
    response = client.send("/spots", {"name": "", "place": "x", "floor_m": "high"})
    assert response.text.count('class="wrong"') >= 2
    assert "fields need another look" in response.text


def test_an_unchanged_form_changes_nothing_but_the_version(client, store):
    before = kept(store, 1)
    assert client.send("/spots/1", edited(client)).status_code == 303
    after = kept(store, 1)
    assert (after.draft, after.version) == (before.draft, before.version + 1)


def test_a_surface_that_is_not_in_the_list_is_kept(client, store):
    client.send("/spots/1", edited(client) | {"wall_surface": "red brick, sooty", "wall_reflectance": "0.22"})
    assert "<option selected>red brick, sooty</option>" in client.get("/spots/1/edit").text
    assert kept(store, 1).wall_surface == "red brick, sooty"


def test_a_clash_keeps_what_was_typed_and_shows_the_other(client, store):
    mine = edited(client) | {"name": "Foundry Lane, north end", "hazards": "cycle lane"}
    with store.writing() as s:
        other = get_spot(s, 1).draft
        change_spot(s, 1, 1, type(other)(**{**as_fields(other), "hazards": "wet setts"}))
    response = client.send("/spots/1", mine)
    assert response.status_code == 409
    assert 'value="Foundry Lane, north end"' in response.text
    assert ">cycle lane</textarea>" in response.text
    assert "kept now: wet setts" in response.text
    assert "kept now: Foundry Lane" in response.text
    assert kept(store, 1).hazards == "wet setts"
    again = client.send("/spots/1", mine | {"version": "2"})
    assert again.status_code == 303
    assert kept(store, 1).hazards == "cycle lane"


def as_fields(draft):
    from dataclasses import fields

    return {field.name: getattr(draft, field.name) for field in fields(draft)}


def test_a_clash_with_a_deletion_offers_it_back(client, store):
    mine = edited(client)
    with store.writing() as s:
        delete_spot(s, 1, 1)
    response = client.send("/spots/1", mine)
    assert response.status_code == 409
    assert "Bring it back" in response.text


def test_a_deletion_can_be_undone_on_the_next_page(client, store):
    response = client.send("/spots/1/deletion", {"version": "1"})
    assert (response.status_code, response.headers["Location"]) == (303, "/")
    page = client.get("/").text
    assert "Foundry Lane is deleted." in page
    assert 'action="/spots/1/restoration"' in page
    assert client.send("/spots/1/restoration", {}).status_code == 303
    assert kept(store, 1).name == "Foundry Lane"


def test_an_old_version_deletes_nothing(client, store):
    client.send("/spots/1", edited(client))
    assert client.send("/spots/1/deletion", {"version": "1"}).status_code == 409
    assert kept(store, 1).name == "Foundry Lane"


@pytest.mark.parametrize("version", ["", "one", "-1"])
def test_a_change_must_say_its_version(client, version):
    assert client.send("/spots/1", edited(client) | {"version": version}).status_code == 422


def test_a_hostile_name_is_text_in_forms_and_notices(client):
    assert "<img src=x" not in client.get("/spots/3/edit").text
    client.send("/spots/3/deletion", {"version": "1"})
    page = client.get("/").text
    assert "<img src=x" not in page
    assert "onerror=document.title=1&gt; is deleted." in page
    assert HOSTILE not in page


def test_address_search_is_off_until_somebody_can_be_written_to(client):
    assert "Address search is off" in client.get("/spots/new").text
    refused = client.send("/spots/search", {"address": "Foundry Lane"})
    assert refused.status_code == 422
    client.send("/settings", {"geocoder_contact": "me@example.org"})
    page = client.get("/spots/new").text
    assert "Nothing is sent while you type" in page
    assert 'action="/spots/search"' in page
