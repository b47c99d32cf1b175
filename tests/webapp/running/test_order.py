"""The running order typed over and tried at another time: nothing typed is lost, nothing is half-saved."""

from __future__ import annotations

import re
from html import unescape

import pytest

from models.store.plans import plan_of
from models.store.rules import get_workshop
from models.workshop.plan import BlockEdit
from tests.webapp.conftest import HOSTILE
from tests.webapp.workshops.evening import fields_of

ORDER = "/workshops/1/order"


def form(client, **typed):
    text = client.get(ORDER).text
    fields = fields_of(text)
    hidden = dict(re.findall(r'<input type="hidden" name="(blocks|version)" value="([^"]*)"', text))
    found = re.search(r'name="version" value="(\d+)">\s*<input type="hidden" name="blocks" value="([^"]*)"', text)
    return {name: text for name, text in fields.items() if name.startswith(("minutes_", "note_"))} | hidden | {
        "version": found[1], "blocks": unescape(found[2]),
    } | typed  # fmt: skip


def blocks(store):
    with store.reading() as s:
        return plan_of(s, 1).blocks


def test_minutes_and_a_note_are_kept_and_the_rest_moves(client, store):
    sent = client.send(ORDER, form(client, minutes_set_up="25 min", note_pack=HOSTILE))
    assert (sent.status_code, sent.headers["Location"]) == (303, ORDER)
    assert set(blocks(store)) == {BlockEdit("set up", 25.0), BlockEdit("pack", None, HOSTILE)}
    text = unescape(client.get(ORDER).text)
    assert "25 minutes, as typed; worked out: 15 minutes" in text
    assert "<img" not in client.get(ORDER).text
    assert form(client)["minutes_set_up"] == "25 min"


def test_emptied_minutes_are_worked_out_again(client, store):
    client.send(ORDER, form(client, minutes_set_up="25"))
    client.send(ORDER, form(client, minutes_set_up=""))
    assert blocks(store) == ()


WRONG = [("minutes_set_up", "soon"), ("minutes_round_1", "9 h"), ("minutes_meet", "-5"), ("minutes_pack", HOSTILE),
         ("note_release", "n" * 201)]  # fmt: skip


@pytest.mark.parametrize(("field", "text"), WRONG)
def test_a_problem_stands_beside_its_field_and_all_typed_is_still_there(client, store, field, text):
    sent = client.send(ORDER, form(client, **{"note_walk": "by the arch", "minutes_safety": "7", field: text}))
    assert sent.status_code == 422
    assert f'id="{field}-wrong"' in sent.text
    assert f'href="#{field}"' in sent.text
    assert 'value="by the arch"' in sent.text
    assert 'value="7"' in sent.text
    assert f'id="{field}" name="{field}"' in sent.text
    assert unescape(re.search(rf'name="{field}"[^>]* value="([^"]*)"', sent.text)[1]) == text
    assert "<img" not in sent.text
    assert blocks(store) == ()


def test_every_problem_is_named_at_once(client):
    sent = client.send(ORDER, form(client, **dict(WRONG)))
    assert sent.status_code == 422
    assert all(f'id="{field}-wrong"' in sent.text for field, _ in WRONG)


def test_two_who_type_at_once_clash_and_lose_nothing(client, store):
    first, second = form(client, minutes_meet="12"), form(client, minutes_meet="14", note_pack="cloths")
    assert client.send(ORDER, first).status_code == 303
    sent = client.send(ORDER, second)
    assert sent.status_code == 409
    assert "Somebody changed" in sent.text
    for value in ("14", "cloths"):
        assert f'value="{value}"' in sent.text
    again = re.search(r'name="version" value="(\d+)">\s*<input type="hidden" name="blocks"', sent.text)[1]
    assert client.send(ORDER, second | {"version": again}).status_code == 303
    assert set(blocks(store)) == {BlockEdit("meet", 14.0), BlockEdit("pack", None, "cloths")}


@pytest.mark.parametrize("keys", ["", "|||", "no such block", "x" * 500, "|".join("abc" for _ in range(300)), HOSTILE])
def test_blocks_nobody_offered_break_nothing(client, keys):
    sent = client.send(ORDER, form(client, blocks=keys))
    assert sent.status_code in (303, 422)
    assert client.get(ORDER).status_code == 200


def test_a_version_that_cannot_be_meant_and_a_workshop_that_is_not_there(client):
    assert client.send(ORDER, form(client, version="x")).status_code == 422
    assert client.send("/workshops/77/order", form(client)).status_code == 404
    assert client.post(ORDER, data={"blocks": ""}).status_code == 403


def test_tried_at_another_time_it_says_what_changes_and_moves_on_a_press(client, store):
    text = unescape(client.get(f"{ORDER}?by=60").text)
    assert "Set up at 18:00 CEST, 60 minutes later." in text
    with store.reading() as s:
        before = get_workshop(s, 1)
    sent = client.send("/workshops/1/moves", {"to": "60 min later", "version": str(before.version)})
    assert sent.status_code == 303
    with store.reading() as s:
        assert (get_workshop(s, 1).starts - before.starts).total_seconds() == 3600


@pytest.mark.parametrize("by", ["soon", "0", "9999", "--3", HOSTILE])
def test_minutes_that_cannot_be_read_say_so_beside_the_field(client, by):
    sent = client.get(ORDER, query_string={"by": by})
    assert sent.status_code == 200
    assert 'id="by-wrong"' in sent.text
    assert "<img" not in sent.text
