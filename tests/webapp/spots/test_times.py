"""Times worth booking: the form says back what it understood, the list says why, each time opens its spot."""

from __future__ import annotations

import re
from html import unescape
from urllib.parse import parse_qs, urlsplit

import pytest
from markupsafe import escape

from models.store.spots import delete_spot

WEEK = "from=2026-10-19&to=2026-10-25&sky=0"

pytestmark = pytest.mark.usefixtures("kit")


def test_page_and_json_give_the_same_times(client):
    page, twin = client.get(f"/spots/1/times?{WEEK}"), client.get(f"/spots/1/times.json?{WEEK}").json
    assert page.status_code == 200
    assert str(escape(twin["answer"])) in re.sub(r"</?b>", "", page.text)
    assert 1 <= len(twin["rows"]) <= 20
    for row in twin["rows"]:
        assert str(escape(row["words"])) in page.text
        assert re.search(r"\bCES?T$", row["words"])
        for line in (*row["reasons"], *row["against"]):
            assert str(escape(line)) in page.text


def test_each_time_opens_the_spot_then(client):
    page = client.get(f"/spots/1/times?{WEEK}&distance=1.5").text
    first = unescape(re.search(r'<div class="when"><a href="([^"]+)"', page)[1])
    row = client.get(f"/spots/1/times.json?{WEEK}&distance=1.5").json["rows"][0]
    then = client.get(first.replace("/spots/1?", "/spots/1.json?")).json
    assert then["moment"]["instant"] == row["start"]
    assert then["sentence"]["choice"]["distance_m"] == 1.5


def test_the_form_says_back_what_it_understood(client):
    asked = "from=19.10.2026&to=25 Oct 2026&days=Sat,Sun&after=9&before=4 pm&length=1.5 h&want=shade&least=1/3"
    page = client.get(f"/spots/1/times?{asked}").text
    for name, value in (
        ("from", "2026-10-19"), ("to", "2026-10-25"), ("after", "09:00"), ("before", "16:00"), ("length", "90 min"),
        ("least", "1/3"),
    ):  # fmt: skip
        assert f'name="{name}" value="{value}"' in page
    assert re.findall(r'value="(\w+)" checked', page) == ["Sat", "Sun"]
    assert "<option selected>shade</option>" in page


def test_weekdays_ticked_one_by_one_become_one_parameter(client):
    moved = client.get(f"/spots/1/times?{WEEK}&days=Sat&days=Sun")
    assert moved.status_code == 303
    assert parse_qs(urlsplit(moved.headers["Location"]).query)["days"] == ["Sat,Sun"]
    twin = client.get(f"/spots/1/times.json?{WEEK}&days=Sat&days=Sun", follow_redirects=True).json
    assert twin["form"]["days"] == ["Sat", "Sun"]
    assert {row["words"][:3] for row in twin["rows"]} <= {"Sat", "Sun"}
    everyday = "&".join(f"days={day}" for day in ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"))
    assert "days" not in client.get(f"/spots/1/times?{WEEK}&{everyday}").headers["Location"]


@pytest.mark.parametrize(
    ("field", "typed", "words"),
    [
        ("from", "31.2.", "not in the calendar"),
        ("to", "2026-01-01", "the last day lies before the first"),
        ("after", "25:00", "Hours run to 23"),
        ("length", "long", "is not a length"),
        ("length", "5 min", "from 15 minutes to a day"),
        ("before", "08:30", "shorter than the length"),
        ("least", "some", "not a number of stops"),
        ("want", "rain", "is not one of"),
        ("days", "Sat,Someday", "is not a weekday"),
        ("distance", "far", "is not a distance"),
    ],
)
def test_what_cannot_be_read_stays_with_what_is_wrong(client, field, typed, words):
    asked = {"from": "2026-10-19", "to": "2026-10-20"} | {field: typed}
    page = client.get("/spots/1/times", query_string=asked)
    assert page.status_code == 422
    assert words in unescape(page.text)
    assert "left out of this answer" in page.text
    if field not in ("want", "days"):
        assert f'value="{typed}"' in page.text
    twin = client.get("/spots/1/times.json", query_string=asked)
    assert (twin.status_code, twin.json["field"]) == (422, field)


def test_across_all_spots_each_looks_its_usual_way(client):
    page, twin = client.get(f"/times?{WEEK}"), client.get(f"/times.json?{WEEK}").json
    assert "across your spots" in page.text
    assert "each spot&#39;s usual way" in page.text
    assert len({row["spot_id"] for row in twin["rows"]}) > 1
    sent = client.get("/times", query_string={"looking": "each spot's usual way", "from": "2026-10-19"})
    assert sent.status_code == 303
    assert "looking" not in sent.headers["Location"]


def test_what_cannot_be_had_says_why(client):
    page = client.get(f"/spots/1/times?{WEEK}&want=low sun behind")
    assert "Nothing found" in page.text
    assert "choose a camera bearing first" in page.text


def test_without_spots_it_offers_the_first_step(client, store):
    with store.writing() as s:
        for number in (1, 2, 3):
            delete_spot(s, number, 1)
    page = client.get("/times")
    assert page.status_code == 200
    assert "There are no spots yet" in page.text
    assert "/spots/new" in page.text


def test_no_such_spot(client):
    assert client.get("/spots/99/times").status_code == 404


def test_the_hour_that_comes_twice_opens_on_its_own_turn(client):
    asked = "from=2026-10-25&to=2026-10-25&after=1&before=4&length=15 min"
    page = client.get(f"/spots/1/times?{asked}").text
    links = [unescape(link) for link in re.findall(r'<div class="when"><a href="([^"]+)"', page)]
    rows = client.get(f"/spots/1/times.json?{asked}").json["rows"]
    assert links
    for link, row in zip(links, rows, strict=True):
        opened = client.get(link.replace("/spots/1?", "/spots/1.json?"))
        assert opened.status_code == 200
        assert opened.json["moment"]["instant"] == row["start"]
