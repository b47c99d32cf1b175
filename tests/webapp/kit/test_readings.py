"""Measure your own: the sentence in the address, keeping, deleting with a way back; other pages say it was metered."""

from __future__ import annotations

from html import unescape

import pytest

SMALL = "/kit/flashes/small/readings"
BARE = "from=2&read=f/9"


def test_the_answer_and_its_figures(client):
    page = client.get(f"{SMALL}?{BARE}").text
    figures = client.get(f"{SMALL}.json?{BARE}").json
    assert figures["answer"] == ("That is a guide number of 18.0 m at 24 mm: 0.3 stop under the 20 m it is down for.")
    assert figures["answer"] in unescape(page)
    assert "Never fire towards open eyes" in page
    assert "a head gets hot enough to burn" in page


def test_kept_and_said_wherever_the_flash_answers(client):
    assert "Metered:" not in client.get("/spots/1").text
    kept = client.send(f"{SMALL}?{BARE}", {})
    assert (kept.status_code, kept.location) == (303, SMALL)
    page = client.get(SMALL).text
    assert "Metered: guide number 18.0 m at 24 mm (one reading of 17 October 2026)" in page
    assert 'action="/kit/readings/1/deletion?version=1"' in page
    assert "instead of the 20.0 m it was down for" in client.get("/spots/1").text
    assert client.send("/kit/readings/1/deletion?version=1", {}).status_code == 303
    gone = client.get(SMALL).text
    assert 'action="/kit/readings/1/restoration"' in gone
    assert "Metered:" not in client.get("/spots/1").text
    assert client.send("/kit/readings/1/restoration", {}).status_code == 303
    assert "Metered:" in client.get("/spots/1").text
    listed = client.send("/kit/readings/1/deletion", {"version": "3"})
    assert listed.status_code == 303


def test_a_deletion_of_what_changed_since_is_a_clash(client):
    client.send(f"{SMALL}?{BARE}", {})
    assert client.send("/kit/readings/1/deletion", {"version": "7"}).status_code == 409
    assert client.send("/kit/readings/9/deletion", {"version": "1"}).status_code == 404
    assert client.send("/kit/readings/9/restoration", {}).status_code == 404


@pytest.mark.parametrize(
    "query",
    ["read=bright", "from=far&read=f/9", "behind=none&read=f/9", "day=soon&read=f/9", "from=0+m&read=f/8"],
)
def test_a_word_that_cannot_be_read(client, query):
    page = client.get(f"{SMALL}?{query}")
    assert page.status_code == 422
    shown = page.text[page.text.index("<h1") : page.text.index('id="kept"')]
    assert "No figure yet: a word below could not be read." in shown
    assert "guide number of" not in page.text
    assert "<summary>Working</summary>" not in page.text
    assert "Keep this reading" not in page.text
    assert client.get(f"{SMALL}.json?{query}").status_code == 422
    assert client.send(f"{SMALL}?{query}", {}).status_code == 422


def test_a_day_to_come_is_refused_in_one_sentence(client):
    page = client.get(f"{SMALL}?read=f/9&day=2030-01-01").text
    assert ">Tuesday 1 January 2030 is still to come</span>" in page


def test_nothing_read_nothing_kept(client):
    assert client.send(SMALL, {}).status_code == 422
    assert client.get(f"{SMALL}.json").json["rows"] == []
