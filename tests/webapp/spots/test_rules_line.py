"""The spot page says the strictest answer recorded for it, and leads to all of them."""

from __future__ import annotations

import pytest

from tests.webapp.streets import keep_streets

THEN = "on=2026-10-31&at=17:00"

pytestmark = pytest.mark.usefixtures("kit")


def test_it_says_what_is_recorded_and_where_the_rest_stands(client, store):
    keep_streets(store)
    page = client.get(f"/spots/1?{THEN}").text
    assert "<b>Permission needed:</b> a group of 9 people. Besides, 3 are not checked and 1 is to be confirmed." in page
    assert "Ask by <b>Friday 23 October 2026</b> about a group of 9 people." in page
    assert "/spots/1/rules?on=2026-10-31&amp;at=17:00" in page
    assert 'class="warn loud"' in page


def test_a_what_if_in_the_address_is_judged(client, store):
    keep_streets(store)
    line = client.get(f"/spots/1.json?{THEN}&stand_ground=1").json["rules"]
    assert line["answer"] == 1
    assert line["said"].startswith("Recorded as not permitted: 1 stand on the ground.")
    assert "stand_ground=1" in client.get(f"/spots/1?{THEN}&stand_ground=1").text


def test_one_that_cannot_be_read_leaves_the_usual(client, store):
    keep_streets(store)
    usual = client.get(f"/spots/1.json?{THEN}").json["rules"]
    assert client.get(f"/spots/1.json?{THEN}&group=many").json["rules"] == usual


def test_nothing_recorded_is_said_as_such(client):
    line = client.get(f"/spots/2.json?{THEN}").json["rules"]
    assert line["said"].startswith("Not checked: stands on the ground, groups, paid teaching.")
    assert (line["answer"], line["recorded"]) == (4, False)


def test_days_to_ask_by_are_counted_from_today_and_not_from_the_moment(client, store):
    """Today is Saturday 17 October 2026: for that afternoon it is too late, for a month later it is not."""
    keep_streets(store)
    today = client.get("/spots/1.json?on=2026-10-17&at=17:00").json["rules"]
    assert today["said"].startswith("Permission needed, and too late to ask for it: a group of 9 people.")
    later = client.get("/spots/1.json?on=2026-11-21&at=17:00").json["rules"]
    assert "Ask by Friday 13 November 2026" in later["said"]
