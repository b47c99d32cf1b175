"""The walk from a spot: page and twin, words that cannot be read, hostile names."""

from __future__ import annotations

import pytest

from models.words.never import forbidden_in
from tests.webapp.conftest import HOSTILE
from tests.webapp.rules.test_findings import seen

HERE = "/spots/1/walk"


def test_page_and_twin_say_the_same(client):
    page, twin = client.get(f"{HERE}?to=Ferry+quay"), client.get(f"{HERE}.json?to=Ferry+quay").json
    assert page.status_code == 200
    assert twin["answer"] in seen(page.text)
    assert twin["answer"].startswith("Foundry Lane to Ferry quay. ")
    assert twin["walk"]["walks"][0]["how"] == "straight"
    assert all(note in seen(page.text) for note in twin["walk"]["notes"])
    assert 'class="way-guessed"' in page.text
    assert forbidden_in(seen(page.text)) == []


def test_nowhere_yet_leads_to_the_nearest_places(client):
    page = client.get(HERE)
    assert "Say where to" in seen(page.text)
    assert f'href="{HERE}?to=Ferry+quay"' in page.text


def test_the_spot_page_leads_there_and_the_moment_goes_along(client):
    page = client.get("/spots/1?on=2026-10-17&at=17:00")
    assert "/spots/1/walk?on=2026-10-17&amp;at=17:00" in page.text
    assert 'name="on" value="2026-10-17"' in client.get(f"{HERE}?to=Ferry+quay&on=2026-10-17&at=17:00").text


@pytest.mark.parametrize("name", ["to", "pace"])
@pytest.mark.parametrize("text", ["the moon", f"no {HOSTILE}"])
def test_a_word_that_cannot_be_read_keeps_what_was_typed(client, name, text):
    page = client.get(HERE, query_string={"to": "Ferry quay", name: text})
    assert page.status_code == 422
    assert f'id="word-{name}-wrong"' in page.text
    assert "was not read." in seen(page.text)
    assert "<img src=x" not in page.text
    assert client.get(f"{HERE}.json", query_string={name: text}).status_code == 422


def test_hostile_names_are_text_and_no_spot_is_no_page(client):
    page = client.get("/spots/3/walk?to=1")
    assert page.status_code == 200
    assert "<img src=x" not in page.text
    assert "<img src=x" not in client.get(f"{HERE}?to=3").text
    assert client.get("/spots/99/walk").status_code == 404


def test_what_was_not_read_is_said_once_and_with_one_full_stop(client):
    page = seen(client.get("/spots/1/walk?pace=warp").text)
    assert page.count("“warp” was not read.") == 1
    assert ".." not in page
    assert "what follows is without it" not in page
    assert page.count("is not a walking pace") == 1
