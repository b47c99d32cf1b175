"""Pages of setups: the list, one in a light, forms, moves, powers, deletion and its way back."""

from __future__ import annotations

import re
from dataclasses import replace
from html import unescape

import pytest

from models.light.kit import Flash
from models.planning.setups.form import setup_form_of
from models.planning.setups.keeping import add_setup, get_setup
from models.store.kit import change_kit, get_kit
from tests.webapp.conftest import HOSTILE
from tests.webapp.setups.conftest import DRAFT, FILL, KEY, WHEN


def test_an_empty_list_offers_the_first_step(client):
    page = client.get("/setups")
    assert page.status_code == 200
    assert "No setup is kept yet" in page.text
    assert "/setups/new" in page.text


def test_a_setup_typed_is_kept_and_shown(client, store):
    form = setup_form_of(DRAFT) | {"light_1_distance_m": "6 ft", "light_1_axis_deg": "half past 10"}
    answer = client.send("/setups", form)
    assert answer.status_code == 303
    kept = get_setup(store, 1)
    assert kept.lights[0].distance_m == pytest.approx(1.829, abs=0.001)  # 6 x 0.3048 m, the international foot
    assert kept.lights[0].axis_deg == 45
    assert "is kept" in client.get(answer.location).text


def test_a_bad_form_keeps_what_was_typed_and_says_where(client, store):
    form = setup_form_of(DRAFT) | {"light_2_distance_m": "far", "shutter_s": "soon", "title": HOSTILE}
    answer = client.send("/setups", form)
    assert answer.status_code == 422
    assert 'value="far"' in answer.text
    assert 'id="light_2_distance_m-wrong"' in answer.text
    assert 'id="shutter_s-wrong"' in answer.text
    assert "<img src=x" not in answer.text
    assert client.get("/setups.json").json["rows"] == []


def test_at_a_spot_the_answer_comes_first_with_its_figures(client, setup_id):
    page = client.get(f"/setups/{setup_id}?{WHEN}")
    assert page.status_code == 200
    answer = re.search(r'<p class="answer wraps"[^>]*>(.*?)</p>', page.text, re.DOTALL)
    assert answer
    assert "Foundry Lane is" in answer[1]
    assert re.search(r"Works|Does not work here|Not needed", answer[1])
    assert "Key to fill, flash against flash" in page.text
    assert "half past 1" in page.text
    assert "16:40 CEST" in page.text.partition('id="plan"')[2].partition("</svg>")[0]
    assert page.text.count('class="drawing ') == 2


def test_the_json_twin_holds_the_same_figures(client, setup_id):
    found = client.get(f"/setups/{setup_id}.json?{WHEN}").json
    assert found["spot"]["name"] == "Foundry Lane"
    assert [light["name"] for light in found["lights"]] == ["key", "fill"]
    assert found["answer"] in unescape(re.sub("<[^>]+>", "", client.get(f"/setups/{setup_id}?{WHEN}").text))
    dusk = client.get(f"/setups/{setup_id}.json?ev=8&behind=8.5").json
    assert dusk["figures"]["key_fill"]["stops"] == pytest.approx(1, abs=1 / 3)


def test_without_a_spot_an_ev_may_be_typed_or_flash_stands_alone(client, setup_id):
    alone = client.get(f"/setups/{setup_id}")
    assert "Flash alone" in alone.text
    typed = client.get(f"/setups/{setup_id}?ev=9.5&behind=10")
    assert "EV 9.5" in typed.text
    assert "EV 10.0 behind it" in typed.text
    wrong = client.get(f"/setups/{setup_id}?ev=bright")
    assert wrong.status_code == 422
    assert 'value="bright"' in wrong.text
    assert client.get(f"/setups/{setup_id}.json?ev=bright").status_code == 422


def test_a_day_is_settled_into_the_address_and_the_spot_stays(client, setup_id):
    answer = client.get(f"/setups/{setup_id}?spot=1&on=17.10.&at=1640")
    assert answer.status_code == 303
    assert "spot=1" in answer.location
    assert "at=16%3A40" in answer.location
    by_name = client.get(f"/setups/{setup_id}?spot=Foundry+Lane")
    assert by_name.location.endswith("spot=1")


def test_taking_the_powers_keeps_them_and_ends_the_offer(client, store, setup_id):
    page = client.get(f"/setups/{setup_id}?ev=9")
    assert "Take these powers" in page.text
    answer = client.send(f"/setups/{setup_id}/powers?ev=9", {"version": "1"})
    assert answer.status_code == 303
    found = client.get(f"/setups/{setup_id}.json?ev=9").json
    kept = get_setup(store, setup_id)
    assert [light["light"]["power"] for light in found["solved"]["lights"]] == [light.power for light in kept.lights]
    assert not found["takes"]
    taken = client.get(f"/setups/{setup_id}.json?ev=9&shown=kept").json["lights"]
    assert [f"at {light['kept_power']}" for light in taken] == [light["dialled"] for light in taken]


@pytest.mark.parametrize(
    ("move", "field", "change"),
    [
        ("nearer", "distance_m", -0.25),
        ("further", "distance_m", 0.25),
        ("more left", "axis_deg", -15),
        ("more right", "axis_deg", 15),
        ("higher", "height_m", 0.25),
        ("lower", "height_m", -0.25),
    ],
)
def test_a_light_moves_a_step_at_a_press(client, store, setup_id, move, field, change):
    answer = client.send(f"/setups/{setup_id}/lights/2/moves?{WHEN}", {"version": "1", "move": move})
    assert answer.status_code == 303
    assert answer.location.endswith("#plan")
    assert "looking=270" in answer.location
    moved = get_setup(store, setup_id).lights[1]
    assert getattr(moved, field) == pytest.approx(getattr(FILL, field) + change)
    assert replace(moved, **{field: getattr(FILL, field)}) == FILL


def test_a_light_moved_out_of_reach_is_told_and_the_kept_state_has_its_own_headline(client, setup_id):
    far = "ev=14&behind=14.5"
    for version in range(1, 13):
        client.send(f"/setups/{setup_id}/lights/1/moves?{far}", {"version": str(version), "move": "further"})
    found = client.get(f"/setups/{setup_id}.json?{far}").json
    assert "Works if the key comes from 5 m to " in found["answer"]
    assert "(you put it at 5 m)" in found["lights"][0]["dialled"]
    kept = client.get(f"/setups/{setup_id}.json?{far}&shown=kept").json["answer"]
    assert "As kept: the face comes" in kept
    assert "Works" not in kept


@pytest.mark.parametrize("axis_deg", [-90.0, 90.0])
@pytest.mark.parametrize("move", ["nearer", "more left", "more right", "higher"])
def test_a_move_offers_a_press_that_puts_the_light_back_exactly(client, store, move, axis_deg):
    key = replace(KEY, axis_deg=axis_deg, distance_m=0.7)
    setup_id = add_setup(store, replace(DRAFT, lights=(key,))).id
    page = client.get(client.send(f"/setups/{setup_id}/lights/1/moves", {"version": "1", "move": move}).location).text
    assert "Light 1, the key, is moved: " in page
    assert get_setup(store, setup_id).lights[0] != key
    undo = unescape(re.findall(r'<form class="notice" method="post" action="([^"]+)"', page)[-1])
    back = client.send(undo, {})
    assert back.status_code == 303
    assert get_setup(store, setup_id).lights[0] == key


def test_a_move_that_goes_nowhere_offers_no_undo_and_odd_places_are_refused(client, store, setup_id):
    edge = add_setup(store, replace(DRAFT, lights=(replace(KEY, distance_m=30.0),))).id
    moved = client.send(f"/setups/{edge}/lights/1/moves", {"version": "1", "move": "further"})
    assert "is moved" not in client.get(moved.location).text
    for place in ("axis_deg=x&distance_m=2&height_m=2", "axis_deg=0&distance_m=nan&height_m=2",
                  "axis_deg=0&distance_m=0.5&height_m=3", "axis_deg=0&distance_m=2"):  # fmt: skip
        address = f"/setups/{setup_id}/lights/1/place?version=1&{place}"
        assert client.send(address, {}).status_code == 422, place
    assert get_setup(store, setup_id).version == 1


def test_an_odd_move_or_light_is_refused(client, store, setup_id):
    for address, move in (
        (f"/setups/{setup_id}/lights/9/moves", "nearer"),
        (f"/setups/{setup_id}/lights/1/moves", "up"),
    ):
        assert client.send(address, {"version": "1", "move": move}).status_code == 422
    assert get_setup(store, setup_id).version == 1


def test_a_clash_shows_both_and_loses_nothing(client, setup_id):
    mine = setup_form_of(DRAFT) | {"version": "1"}
    assert client.send(f"/setups/{setup_id}", mine | {"title": "Theirs"}).status_code == 303
    answer = client.send(f"/setups/{setup_id}", mine | {"title": "Mine"})
    assert answer.status_code == 409
    assert 'value="Mine"' in answer.text
    assert "kept now: Theirs" in answer.text
    same = client.send(f"/setups/{setup_id}", mine | {"title": "Theirs"})
    assert same.status_code == 409
    assert "Somebody changed this setup while you were typing." in same.text


@pytest.mark.parametrize("press", ["lights/1/moves", "lights/1/place", "powers", "tries", "deletion"])
def test_a_press_on_an_older_page_leads_back_to_the_setup_with_a_word(client, store, setup_id, press):
    client.send(f"/setups/{setup_id}/lights/1/moves", {"version": "1", "move": "further"})
    kept = get_setup(store, setup_id)
    place = "&version=1&axis_deg=0&distance_m=2&height_m=2"
    answer = client.send(f"/setups/{setup_id}/{press}?{WHEN}{place}", {"version": "1", "move": "nearer"})
    assert answer.status_code == 303
    page = client.get(answer.location)
    assert page.status_code == 200
    assert "Nothing was done: this setup was changed elsewhere in between" in page.text
    assert "looking=270" in answer.location
    assert get_setup(store, setup_id) == kept
    client.send(f"/setups/{setup_id}/deletion", {"version": str(kept.version)})
    gone = client.send(f"/setups/{setup_id}/{press}?{WHEN}{place}", {"version": "1", "move": "nearer"})
    assert gone.status_code in (404, 409)


def test_deleting_offers_undo_and_copies_stand_alone(client, setup_id):
    copy = client.send(f"/setups/{setup_id}/copies", {"version": "1"})
    assert copy.location.endswith("/setups/2/edit")
    gone = client.send(f"/setups/{setup_id}/deletion", {"version": "1"})
    assert f"/setups/{setup_id}/restoration" in client.get(gone.location).text
    assert client.get(f"/setups/{setup_id}").status_code == 404
    assert client.get("/setups/2").status_code == 200
    client.send(f"/setups/{setup_id}/restoration", {})
    assert client.get(f"/setups/{setup_id}").status_code == 200


def test_kit_that_was_retired_is_said_by_name_and_still_counts(client, store, setup_id):
    with store.writing() as s:
        entry = get_kit(s, Flash, "small")
        change_kit(s, entry.version, entry.item, retired=True)
    page = client.get(f"/setups/{setup_id}?{WHEN}")
    assert f"{entry.item.name[:1].upper()}{entry.item.name[1:]} was retired" in page.text
    assert len(client.get(f"/setups/{setup_id}.json?{WHEN}").json["lights"]) == 2


def test_kit_that_is_gone_is_said_and_nothing_is_guessed(client, store):
    gone = add_setup(store, replace(DRAFT, lights=(replace(KEY, modifier="lost-box"),))).id
    page = client.get(f"/setups/{gone}?{WHEN}")
    assert page.status_code == 200
    assert "“lost-box” is not in the kit any more" in page.text
    assert client.get(f"/setups/{gone}.json?{WHEN}").json["figures"] is None
    assert client.send(f"/setups/{gone}/powers", {"version": "1"}).status_code == 422


def test_a_hostile_title_stays_text(client, store):
    hostile = add_setup(store, replace(DRAFT, title=HOSTILE, notes=HOSTILE)).id
    for address in ("/setups", f"/setups/{hostile}?{WHEN}", f"/setups/{hostile}/edit"):
        assert "<img src=x" not in client.get(address).text


def test_a_spot_and_hour_are_kept_with_it_once(client, store, setup_id):
    for version in ("1", "2"):
        assert client.send(f"/setups/{setup_id}/tries?{WHEN}", {"version": version}).status_code == 303
    tried = get_setup(store, setup_id).tries
    assert [(one.spot_id, one.on, one.at, one.looking_deg) for one in tried] == [(1, "2026-10-17", "16:40", 270.0)]
    assert "Foundry Lane, Saturday 17 October 2026, 16:40 CEST, " in client.get(f"/setups/{setup_id}").text


def test_odd_addresses_are_answered_calmly(client, setup_id):
    for odd in (
        "spot=99",
        "spot=%00",
        f"spot={'9' * 30}",
        "spot=nowhere",
        "looking=up&spot=1",
        "pace=0",
        "frames=x",
        "wind=-1",
    ):
        assert client.get(f"/setups/{setup_id}?{odd}").status_code in (303, 404, 422), odd
    assert client.get("/setups/999999999999").status_code == 404
