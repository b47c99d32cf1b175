"""On the day: a press for what happens, ticks and texts kept where something is wrong, and a way back."""

from __future__ import annotations

import re
from html import unescape

import pytest

from models.store.happenings import happenings_of
from models.store.people import people_of
from models.store.stations import shelf as stations
from tests.webapp.conftest import HOSTILE, NOW

DAY, SENT = "/workshops/1/day", "/workshops/1/happenings"


def typed(kind="left", **fields):
    return {"kind": kind, "about": ["2", "3"], "at": "17:20", "round": "2", "turn": "1", "note": "", **fields}


def kept(store):
    with store.reading() as s:
        return happenings_of(s, 1)


def ids(store, part):
    with store.reading() as s:
        return [str(person.id) for person in people_of(s, 1) if person.part == part]


def test_two_who_leave_at_round_two_are_noted_and_the_rota_made_anew(client, store):
    first, second, *_ = ids(store, "attendee")
    sent = client.send(SENT, typed(about=[first, second], note="the last train"))
    assert (sent.status_code, sent.headers["Location"]) == (303, DAY)
    assert [(each.kind, str(each.about), each.round, each.note) for each in kept(store)] == [
        ("left", first, 2, "the last train"),
        ("left", second, 2, "the last train"),
    ]
    text = unescape(re.sub(r"<[^>]+>", "", client.get(DAY).text))
    assert "Ana left, before round 2, turn 1" in text
    assert "6 turns are shot" in text
    assert "Round 2" in text
    rota = client.get("/workshops/1/rota").text
    assert "Something happened on the day" in rota
    assert ">Ana<" not in rota
    told = client.get(f"{DAY}.json").json
    assert told["happened"][0]["words"] == "attendee 1 left, before round 2, turn 1"


WRONG = [("at", "soon"), ("round", "0"), ("turn", "x"), ("note", "n" * 201), ("at", HOSTILE), ("about", "99")]


@pytest.mark.parametrize(("field", "text"), WRONG)
def test_what_is_wrong_stands_beside_its_field_and_ticks_and_texts_stay(client, store, field, text):
    first, second, *_ = ids(store, "attendee")
    fields = typed(about=[first, second], note="the last train") | {field: text}
    if field == "about":
        fields["about"] = [first, text]
    sent = client.send(SENT, fields)
    assert sent.status_code == 422
    assert f'id="{field}-wrong"' in sent.text
    assert f'id="{field}"' in sent.text
    ticked = re.findall(r'name="about" value="(-?\d+)" checked', sent.text)
    assert ticked == ([first] if field == "about" else [first, second])
    for name in ("at", "round", "turn", "note"):
        assert unescape(re.search(rf'name="{name}" id="{name}"[^>]* value="([^"]*)"', sent.text)[1]) == fields[name]
    assert "<img" not in sent.text
    assert len(re.findall(rf'id="{field}"', sent.text)) == 1
    assert 'aria-current="page">On the day' in sent.text
    assert kept(store) == ()


def test_nobody_ticked_is_asked_for(client, store):
    sent = client.send(SENT, typed(about=[]))
    assert sent.status_code == 422
    assert "choose who or which station" in sent.text
    assert kept(store) == ()


def test_a_station_form_shows_its_own_problems_and_keeps_its_choice(client, store):
    sent = client.send(SENT, typed("station lost", about="2", at="soon", note="scaffold"))
    assert sent.status_code == 422
    station = sent.text[sent.text.index('id="station-head"') : sent.text.index('id="stop-head"')]
    assert 'id="at-wrong"' in station
    assert 'value="2" selected' in station
    assert 'value="scaffold"' in station
    assert sent.text.count('id="at-wrong"') == 1
    assert 'value="scaffold"' not in sent.text[: sent.text.index('id="station-head"')]
    no_model = client.send(SENT, typed("model left", about="2"))
    assert no_model.status_code == 422
    assert "no model is named for that station" in no_model.text


def test_a_model_who_leaves_and_a_station_that_comes_back(client, store):
    assert client.send(SENT, typed("model left", about="1")).status_code == 303
    assert str(kept(store)[0].about) == ids(store, "model")[0]
    assert client.send(SENT, typed("station back", about="1", at="17:40")).status_code == 303
    assert [each.kind for each in kept(store)] == ["model left", "station back"]


def test_the_lost_spot_goes_on_at_the_fallback(client, store):
    assert "The spot is lost: go on at Quay" in client.get(DAY).text
    assert client.send(SENT, {"kind": "spot lost", "at": "17:40", "round": "2", "turn": "1"}).status_code == 303
    assert "Walk there" in client.get(DAY).text
    assert kept(store)[0].about is None


@pytest.mark.parametrize("kind", ["", "flew away", "round done", HOSTILE])
def test_a_kind_nobody_offered_is_refused(client, store, kind):
    sent = client.send(SENT, typed(kind))
    assert sent.status_code == 422
    assert "press what happened" in sent.text
    assert kept(store) == ()


def test_what_happened_is_taken_back_and_comes_back(client, store):
    first = ids(store, "attendee")[0]
    client.send(SENT, typed(about=[first]))
    (one,) = kept(store)
    assert client.send(f"{SENT}/{one.id}/deletion", {"version": "7"}).status_code == 409
    sent = client.send(f"{SENT}/{one.id}/deletion", {"version": "1"})
    assert (sent.status_code, kept(store)) == (303, ())
    undo = f"{SENT}/{one.id}/restoration"
    assert f'action="{undo}"' in client.get(DAY).text
    assert client.send(undo, {}).status_code == 303
    assert len(kept(store)) == 1
    for path in (f"{SENT}/99/deletion", f"/workshops/77/happenings/{one.id}/deletion", f"{SENT}/99/restoration"):
        assert client.send(path, {"version": "1"}).status_code == 404


def test_without_a_rota_nothing_can_happen(client, store):
    with store.writing() as s:
        for number in (1, 2):
            stations.delete(s, number, 1, now=NOW)
    sent = client.send(SENT, {"kind": "spot lost"})
    assert sent.status_code == 422
    assert kept(store) == ()


def test_a_form_without_its_token_is_refused(client, store):
    assert client.post(SENT, data=typed()).status_code == 403
    assert kept(store) == ()
