"""Stations of a workshop: added, looked at, changed, deleted and brought back; taken over; hostile input held off."""

from __future__ import annotations

import re
from html import unescape
from pathlib import Path

import pytest

from models.planning.kit import begin_with_kit
from models.planning.setups.keeping import add_setup, delete_setup
from models.store.hazards import SheetDraft, TypedHour
from models.store.hazards import shelf as sheets
from models.store.people import shelf as people
from models.store.stations import stations_of
from models.workshop.hazards import HazardLine
from models.workshop.person import PersonDraft
from tests.models.planning.workshops.evening import SETUP
from tests.webapp.conftest import HOSTILE, NOW
from tests.webapp.workshops.evening import FORM

LIST = "/workshops/1/stations"
LINES = (HazardLine(key="wind", what="Wind", done="", who="organiser", rests="usual"),)
A = {"name": "A", "setup": "1", "depth": "5 ft", "width": "2 m", "looking": "west", "lesson": "edge", "watchers": "1"}


@pytest.fixture(autouse=True)
def evening(client, store):
    begin_with_kit(store)
    add_setup(store, SETUP)
    assert client.send("/workshops", FORM).status_code == 303


def kept(store):
    with store.reading() as s:
        return stations_of(s, 1)


def add(client, **changes):
    return client.send(LIST, A | changes)


def test_an_empty_list_says_what_belongs_there(client):
    page = client.get(LIST).text
    assert "No station is set yet" in page
    assert f'href="{LIST}/new"' in page
    assert 'value="A"' in client.get(f"{LIST}/new").text


def test_a_station_is_kept_and_shown_with_what_it_rests_on(client, store):
    assert add(client).headers["Location"] == LIST
    (station,) = kept(store)
    assert (station.name, station.looking_deg, round(station.depth_m, 3)) == ("A", 270.0, 1.524)
    page = unescape(client.get(LIST).text)
    for words in ("One station", "Key and fill", "edge", "Left for walkers", "not known", "Not checked", "hazards",
                  "1 holds a light, 1 watches the pavement"):  # fmt: skip
        assert words in page
    assert "One setting for all stations" not in page
    assert 'value="B"' in client.get(f"{LIST}/new").text


def test_the_same_under_json_without_names_of_people(client, store):
    with store.writing() as s:
        model = people.add(s, PersonDraft(workshop_id=1, part="model", name="Zuzanna Q"))
    assert "Zuzanna Q" in client.get(f"{LIST}/new").text
    assert add(client, model=str(model.id)).status_code == 303
    assert "Zuzanna Q" in client.get(LIST).text
    text = client.get(f"{LIST}.json").text
    assert "Zuzanna" not in text
    look = client.get(f"{LIST}.json").json["stations"][0]["look"]
    assert (look["station"]["model_id"], look["holders"], look["works"] is not None) == (model.id, 1, True)


def test_one_setting_for_two_stations(client):
    add(client)
    add(client, name="B", looking="east")
    page = client.get(LIST).text
    assert "One setting for all stations" in page
    assert len(client.get(f"{LIST}.json").json["one_setting"]["rows"]) == 2


def test_every_problem_stands_beside_its_field_and_nothing_typed_is_lost(client, store):
    bad = {"name": "", "setup": "7", "model": "9", "shape": "here", "looking": "up", "depth": "deep", "width": "-1",
           "holders": "all", "watchers": "1.5", "pose": "long", "lesson": HOSTILE}  # fmt: skip
    sent = add(client, **bad)
    assert sent.status_code == 422
    wrong = set(re.findall(r'class="wrong" id="(\w+)-wrong"', sent.text))
    assert wrong == {"model", "shape", "looking", "depth", "width", "holders", "watchers", "pose"}
    assert "<img" not in sent.text
    assert HOSTILE in unescape(sent.text)
    assert kept(store) == ()


@pytest.mark.parametrize(
    ("field", "text"),
    [("name", ""), ("name", "x" * 13), ("setup", "7"), ("setup", "9" * 9), ("looking", "nan"), ("depth", "0"),
     ("depth", "900 m"), ("holders", "99"), ("shape", "95, 5"), ("pose", "1 h"), ("lesson", "x" * 201),
     ("notes", "a\x00b"), ("model", "2")],
)  # fmt: skip
def test_what_cannot_be_meant_is_named(client, store, field, text):
    sent = add(client, **{field: text})
    assert sent.status_code == 422
    assert f'id="{field}-wrong"' in sent.text
    assert kept(store) == ()


def test_a_setup_that_was_deleted_stays_until_another_is_chosen(client, store):
    add(client)
    delete_setup(store, 1, 1, now=NOW)
    assert "Key and fill (deleted)" in client.get(f"{LIST}/1/edit").text
    assert client.send(f"{LIST}/1", A | {"version": "1", "lesson": "new"}).status_code == 303
    assert (kept(store)[0].setup_id, kept(store)[0].lesson) == (1, "new")


def test_a_letter_that_is_taken_is_said_beside_it(client):
    add(client)
    sent = add(client, name="a")
    assert sent.status_code == 422
    assert "there is a station a already" in sent.text


def test_the_form_has_all_that_the_script_of_drawing_takes_hold_of(client, app):
    page = client.get(f"{LIST}/new").text
    script = (Path(app.static_folder) / "js" / "draw.js").read_text()
    asked = set(re.findall(r'getElementById\("([\w-]+)"\)', script))
    assert asked == {"shape", "close-piece", "take-back", "draw-tools"}
    for name in (*asked, "map-say"):
        assert f'id="{name}"' in page


def test_a_press_on_the_map_is_a_line_and_the_last_one_counts(client, store):
    add(client, shape="52.530000, 5.231000\n52.530200, 5.231300\n")
    assert kept(store)[0].place == (52.5302, 5.2313)
    assert "from the spot" in unescape(client.get(LIST).text)


def test_changing_says_a_clash_and_keeps_what_was_typed(client, store):
    add(client)
    edit = client.get(f"{LIST}/1/edit").text
    assert 'value="1.524 m"' in edit
    change = A | {"version": "1", "lesson": "first"}
    assert client.send(f"{LIST}/1", change).status_code == 303
    sent = client.send(f"{LIST}/1", change | {"lesson": "second"})
    assert sent.status_code == 409
    assert 'value="second"' in sent.text
    assert "kept now: first" in sent.text
    assert client.send(f"{LIST}/1", change | {"version": "2", "depth": "deep"}).status_code == 422
    assert kept(store)[0].lesson == "first"


def test_deleting_offers_a_way_back(client, store):
    add(client)
    assert client.send(f"{LIST}/1/deletion", {"version": "1"}).status_code == 303
    assert kept(store) == ()
    assert f'action="{LIST}/1/restoration"' in client.get(LIST).text
    assert client.send(f"{LIST}/1/restoration", {}).status_code == 303
    assert len(kept(store)) == 1


def test_taking_over_says_what_changes_and_needs_the_version_seen(client):
    add(client)
    assert "Take over from the stations" in client.get(LIST).text
    assert client.send(f"{LIST}/taking-over", {"version": "9"}).status_code == 409
    assert client.send(f"{LIST}/taking-over", {"version": "1"}).status_code == 303
    assert "stands on the ground from 2 to 1" in unescape(client.get(LIST).text)
    assert client.send(f"{LIST}/taking-over", {"version": "2"}).status_code == 422


def test_a_spot_that_was_deleted_leaves_its_stations_readable(client):
    add(client)
    assert client.send("/spots/1/deletion", {"version": "1"}).status_code == 303
    page = client.get(LIST)
    assert page.status_code == 200
    assert 'href="/spots/1/width' not in page.text
    assert client.get("/workshops/1/plan").status_code == 200


def test_stations_of_other_workshops_and_of_none_are_not_found(client):
    add(client)
    client.send("/workshops", FORM)
    assert client.get("/workshops/2/stations/1/edit").status_code == 404
    assert client.send("/workshops/2/stations/1", A | {"version": "1"}).status_code == 404
    assert client.send("/workshops/2/stations/1/deletion", {"version": "1"}).status_code == 404
    for address in (
        "/workshops/9/stations",
        "/workshops/9/stations/new",
        f"{LIST}/9/edit",
        f"/workshops/{10**12}/stations",
    ):
        assert client.get(address).status_code == 404
    assert client.send("/workshops/9/stations", A).status_code == 404


def test_a_model_whose_guardian_is_open_is_warned_of_and_files_tell_no_name(client, store):
    with store.writing() as s:
        model = people.add(s, PersonDraft(workshop_id=1, part="model", name="Zuzanna Q", adult="no"))
    add(client, model=str(model.id))
    page = unescape(client.get(LIST).text)
    assert "Take no picture of Zuzanna Q: Zuzanna Q is under 18, and no guardian is named." in page
    told = client.get(f"{LIST}.json")
    assert told.json["stations"][0]["no_picture"].startswith("Take no picture of model 1: ")
    assert "Zuzanna" not in told.text


def test_wind_of_the_hour_stands_with_a_setup_that_has_stands(client, store):
    add(client)
    assert dict(client.get(f"{LIST}.json").json["stations"][0]["facts"])["Wind"] == "not known"
    with store.writing() as s:
        sheets.add(s, SheetDraft(workshop_id=1, lines=LINES, hour=TypedHour(wind_m_s=12.0, gust_m_s=18.0)))
    page = unescape(client.get(LIST).text)
    assert "Wind: no stands at all at A." in page
    assert "18.0 m/s, force 8" in page
    assert "No stands at all. Bare flashes in the hand, or the fallback." in page


def test_a_station_far_from_the_spot_is_named_first(client):
    add(client, shape="52.537000, 5.231300")
    assert "too far for its light and pavement to be the spot's" in client.get(f"{LIST}.json").json["answer"]
