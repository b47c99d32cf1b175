"""The clear-width page: answer, section to scale, minima one by one, what it becomes in the rules."""

from __future__ import annotations

import re
from dataclasses import replace
from html import unescape

import pytest

from models.store.spots import change_spot, get_spot
from models.words.never import forbidden_in
from tests.webapp.conftest import HOSTILE
from tests.webapp.rules.test_findings import seen

HERE = "/spots/1/width"
THEN = "on=2026-10-17&at=17:00"


@pytest.fixture
def measured(store):
    with store.writing() as s:
        change_spot(s, 1, 1, replace(get_spot(s, 1).draft, pavement_width_m=2.2))


def test_nothing_measured_is_loud(client):
    page = client.get(f"{HERE}?{THEN}")
    assert page.status_code == 200
    assert "Pavement not measured" in seen(page.text)
    assert "warn loud" in page.text
    assert client.get(f"{HERE}.json?{THEN}").json["left_m"] is None


def test_page_and_twin_say_the_same_and_carry_the_width_into_the_rules(client, measured):
    page, twin = client.get(f"{HERE}?{THEN}"), client.get(f"{HERE}.json?{THEN}").json
    assert twin["left_m"] == pytest.approx(0.25)
    assert twin["answer"] in seen(page.text)
    assert twin["finding"] in seen(page.text)
    assert forbidden_in(seen(page.text)) == []
    link = unescape(re.search(r'href="(/spots/1/rules\?[^"]+)"', page.text)[1])
    carried = client.get(link.replace("/rules?", "/rules.json?"), follow_redirects=True).json["what_if"]["footprint"]
    assert carried["width_left_m"] == pytest.approx(0.25)
    assert carried["doing"]["obstruction"] is True


def test_the_words_change_the_answer(client, measured):
    twin = client.get(f"{HERE}.json?{THEN}&wide=15+ft&depth=1+m&own=1.5+m").json
    assert twin["left_m"] == pytest.approx(4.572 - 1 - 0.45, abs=0.001)
    assert len(twin["verdicts"]) == 1


@pytest.mark.parametrize("name", ["wide", "depth", "length", "kerb", "door", "own"])
@pytest.mark.parametrize("text", ["far", HOSTILE])
def test_a_word_that_cannot_be_read_keeps_what_was_typed(client, measured, name, text):
    page = client.get(HERE, query_string={"on": "2026-10-17", "at": "17:00", name: text})
    assert page.status_code == 422
    assert f'id="word-{name}-wrong"' in page.text
    words = seen(page.text)
    assert words.index("was not read.") < words.index(" left for walkers beside a station")
    assert "the usual stands in, " in words
    assert "<img src=x" not in page.text
    assert client.get(f"{HERE}.json", query_string={name: text}).status_code == 422


def test_hostile_names_are_text_and_no_spot_is_no_page(client):
    assert "<img src=x" not in client.get(f"/spots/3/width?{THEN}&wide=3+m").text
    assert client.get("/spots/99/width").status_code == 404
