"""The spot page: answer, drawing, working, the same figures under .json; words that cannot be read are kept."""

from __future__ import annotations

import re
from urllib.parse import parse_qs, urlsplit

import pytest
from markupsafe import escape

from models.store.town import replace_import
from models.street.town import BuildingDraft, TownDraft
from tests.webapp.conftest import HOSTILE

HERE = "/spots/1?on=2026-10-17&at=16:40"
TWIN = "/spots/1.json?on=2026-10-17&at=16:40"

pytestmark = pytest.mark.usefixtures("kit")


def asked(response) -> dict[str, str]:
    return {name: values[0] for name, values in parse_qs(urlsplit(response.headers["Location"]).query).items()}


def chosen_rows(page: str) -> list[str]:
    return re.findall(r'<tr role="row" class="chosen">.*?<a [^>]*>([^<]+)</a>', page, re.DOTALL)


def test_page_and_json_give_the_same_figures(client):
    page, twin = client.get(f"{HERE}&looking=270"), client.get(f"{TWIN}&looking=270").json
    assert page.status_code == 200
    plain = re.sub(r"</?b>", "", page.text)
    assert str(escape(twin["answer"])) in plain
    assert twin["flash"]["too_weak"]
    for way in twin["flash"]["ways_out"]:
        assert str(escape(way["words"])) in page.text
        assert str(escape(way["cost_words"])) in page.text
    assert len(twin["facing"]) == 8
    for row in twin["facing"]:
        assert f"<b>{row['reserve_stops']:+.1f}</b>".replace("-", "−") in page.text
    for name, figure in twin["dial"]["figures"]:
        assert f"<dt>{name}</dt><dd>{escape(figure)}</dd>" in page.text
    for line in twin["working"]:
        assert str(escape(line)) in page.text
    for row in twin["day_rows"]:
        assert f"<td>{row['face_ev']}</td><td>{row['behind_ev']}</td><td>{row['reserve']}</td>" in page.text


def test_the_json_twin_leaves_the_drawings_out(client):
    twin = client.get(TWIN)
    assert "<svg" not in twin.text
    assert twin.json["skyline"] == {"caption": twin.json["skyline"]["caption"]}


def test_the_page_says_what_was_not_checked_and_what_it_rests_on(client):
    page = client.get(HERE).text
    assert "<b>Not checked:</b>" in page
    assert "find out whom to ask" in page
    assert "2 of 8 covered, assumed" in page
    assert "none yet" in page


def test_without_a_bearing_none_is_chosen(client):
    page = client.get(HERE)
    assert 'value="any way"' in page.text
    assert chosen_rows(page.text) == []
    assert client.get(TWIN).json["light"]["behind"] is None


@pytest.mark.parametrize(
    ("typed", "shown", "rows"), [("west", "west", 8), ("250", "250° (west)", 9), ("45", "north-east", 8)]
)
def test_a_bearing_may_be_typed_or_chosen(client, typed, shown, rows):
    page = client.get(f"{HERE}&looking={typed}", follow_redirects=True).text
    assert chosen_rows(page) == [shown]
    assert page.count('<tr role="row"') == rows + 1
    assert f'value="{shown}"' in page


def test_the_ways_to_face_are_links_that_keep_the_rest(client):
    page = client.get(f"{HERE}&distance=3&sky=6").text
    links = re.findall(r'href="(/spots/1\?[^"]*looking=[^"]*)" data-go', page)
    assert len(links) == 8
    for link in links:
        assert "distance=3" in link
        assert "sky=6" in link


def test_usual_words_are_left_out_of_the_address(client):
    form = {
        "units": "1",
        "flash": "small",
        "zoom": "",
        "modifier": "small-box",
        "distance": "6 ft",
        "looking": "any way",
    }
    moved = client.get("/spots/1", query_string={"on": "2026-10-17", "at": "16:40", "year": "ev"} | form)
    assert moved.status_code == 303
    kept = {"on": "2026-10-17", "at": "16:40", "year": "ev"}
    assert asked(moved) == kept | {"modifier": "small-box", "distance": "1.83"}
    assert client.get(moved.headers["Location"]).status_code == 200


def test_the_words_of_the_sentence_are_controls_with_names(client):
    page = client.get(f"{HERE}&modifier=small-box").text
    for name in ("flash", "zoom", "modifier", "distance", "camera", "looking", "under", "face"):
        assert re.search(rf'<(select|input) class="said" id="word-{name}" name="{name}" aria-label="[^"]+"', page)
    assert '<option value="small-box" selected>with small box, 40 cm</option>' in page


def test_a_word_that_cannot_be_read_stays_with_what_is_wrong(client):
    page = client.get(f"{HERE}&distance=far&looking=up")
    assert page.status_code == 422
    assert "“far” is not a distance" in page.text
    assert 'value="far"' in page.text
    assert 'value="up"' in page.text
    assert page.text.count("aria-invalid") == 2
    usual = client.get(TWIN).json["answer"]
    assert str(escape(usual)) in re.sub(r"</?b>", "", page.text)


def test_under_json_the_first_bad_word_is_the_answer(client):
    twin = client.get(f"{TWIN}&distance=far")
    assert (twin.status_code, twin.json["field"]) == (422, "distance")


def test_a_bad_moment_is_said_in_the_bar(client):
    page = client.get("/spots/1?on=2026-03-29&at=02:30")
    assert page.status_code == 422
    assert "does not exist" in page.text
    assert client.get("/spots/1.json?on=2026-03-29&at=02:30").json["field"] == "time"


def test_the_sentence_carries_the_moment(client):
    page = client.get("/spots/1?on=2026-10-25&at=02:30&fold=1&sky=6").text
    form = page[page.index('class="words"') :]
    for name, value in (("on", "2026-10-25"), ("at", "02:30"), ("fold", "1"), ("sky", "6")):
        assert f'<input type="hidden" name="{name}" value="{value}">' in form


def test_the_year_shows_what_is_chosen(client):
    assert client.get(TWIN).json["year_quantity"] == "reserve"
    assert client.get(f"{TWIN}&year=ev").json["year_quantity"] == "ev"
    page = client.get(f"{HERE}&year=ev").text
    assert re.search(r'aria-current="true">light on the face</a>', page)
    assert "EV100" in page


def test_a_hostile_name_is_text_everywhere(client):
    page = client.get("/spots/3?on=2026-10-17&at=16:40")
    assert page.status_code == 200
    assert "<img src=x" not in page.text
    assert f"<h1>{escape(HOSTILE)}</h1>" in page.text


def test_no_such_spot(client):
    assert client.get("/spots/99").status_code == 404
    assert client.get("/spots/99.json").json["field"] is None


def test_inside_a_building_the_spot_can_still_be_put_right(client, store):
    ring = ((5.2310, 52.5300), (5.2314, 52.5300), (5.2314, 52.5302), (5.2310, 52.5302))
    with store.writing() as s:
        replace_import(s, "block", TownDraft((BuildingDraft((ring,), 12.0),), (), (), (), ""))
    page = client.get(HERE)
    assert page.status_code == 422
    assert "This spot lies inside a building." in page.text
    assert "/spots/1/edit" in page.text
    assert "On the pavement" in page.text
    assert client.get(TWIN).json["field"] == "spot"


def test_a_spot_is_deleted_from_its_page(client):
    form = client.get(HERE).text
    version = re.search(r'name="version" value="(\d+)"', form)[1]
    token = client.token("/spots/1")
    gone = client.post("/spots/1/deletion", data={"csrf_token": token, "version": version}, follow_redirects=True)
    assert "Foundry Lane is deleted" in gone.text
    assert client.get(HERE).status_code == 404
