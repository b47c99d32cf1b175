"""The list of spots: the answer first, the list as a table, the same under .json."""

from __future__ import annotations

import pytest
import sqlalchemy as sa
from markupsafe import escape

from models.store.spots import add_spot, spots
from models.street.spot import SpotDraft
from tests.webapp.conftest import HOSTILE, SPOTS, ZONE


def test_page_and_json_give_the_same_answer(client):
    page, twin = client.get("/?on=2026-10-17&at=12:00"), client.get("/spots.json?on=2026-10-17&at=12:00").json
    assert str(escape(twin["answer"])) in page.text
    assert [row["name"] for row in twin["rows"]] == sorted((name for name, *_ in SPOTS), key=str.casefold)
    for row in twin["rows"]:
        assert f"{row['ev']['ev100']:.1f}" in page.text
        assert row["state_words"] in page.text


def test_a_hostile_name_shows_as_text(client):
    page = client.get("/").text
    assert str(escape(HOSTILE)) in page
    assert "<img src=x" not in page
    assert client.get("/spots.json").json["rows"][0]["name"] == HOSTILE


@pytest.mark.parametrize("sort", ["name", "brightness", "reserve"])
def test_sorts_are_marked_and_kept(client, sort):
    page = client.get(f"/?sort={sort}").text
    assert page.count("aria-sort=") == 1
    assert client.get(f"/spots.json?sort={sort}").json["sort"] == sort


def test_distance_needs_a_here(client):
    assert "Distance</a>" not in client.get("/").text
    page = client.get("/?here=52.5301,5.2312&sort=distance")
    assert "Distance</a>" in page.text
    rows = client.get("/spots.json?here=52.5301,5.2312&sort=distance").json["rows"]
    assert rows[0]["name"] == "Foundry Lane"
    assert rows[0]["distance_m"] < 1 < rows[1]["distance_m"]


def test_the_list_needs_no_script(client):
    page = client.get("/").text
    assert '<form class="bar"' in page
    assert 'name="step" value="15"' in page
    assert "<noscript>" in page


def test_an_empty_list_says_what_belongs_there(app, client, store):
    from models.store.spots import delete_spot

    with store.writing() as s:
        for number in (1, 2, 3):
            delete_spot(s, number, 1)
    page = client.get("/")
    assert page.status_code == 200
    assert "A spot is a place where a model can stand" in page.text


def test_five_thousand_spots_fit_in_a_small_page(client, store):
    with store.writing() as s:
        add_spot(s, SpotDraft(name="Spot 0", latitude_deg=52.5, longitude_deg=5.2, zone=ZONE))
        first = dict(s.execute(sa.select(spots).where(spots.c.name == "Spot 0")).one()._mapping)
        del first["id"]
        grid = [
            {"latitude_deg": 52.5 + k % 71 * 0.0005, "longitude_deg": 5.2 + k // 71 * 0.0005} for k in range(1, 5000)
        ]
        copies = [{**first, **place, "name": f"Spot {k}", "name_key": f"spot {k}"} for k, place in enumerate(grid, 1)]
        s.execute(sa.insert(spots), copies)
    page = client.get("/")
    assert page.status_code == 200
    assert len(page.data) < 150_000
    assert page.text.count('role="rowheader"') == 50
    assert "page 1 of 101" in page.text
