"""The form of a workshop: from nothing, from a what-if, back again; what cannot be read keeps what was typed."""

from __future__ import annotations

import re
from datetime import UTC, datetime

import pytest
from markupsafe import escape

from models.planning.rules.workshop_form import MOST_TO_CHOOSE
from models.rules.workshop import WorkshopDraft
from models.store import rules as kept
from models.store.spots import add_spot
from models.street.spot import SpotDraft
from tests.webapp.conftest import HOSTILE, ZONE
from tests.webapp.rules.test_findings import seen
from tests.webapp.workshops.evening import FORM, fields_of, only


def test_one_is_planned_from_nothing(client, store, evening):
    workshop = only(store)
    assert workshop.title == "Evening light"
    assert (workshop.starts, workshop.ends) == (
        datetime(2026, 10, 31, 16, 0, tzinfo=UTC),
        datetime(2026, 10, 31, 17, 30, tzinfo=UTC),
    )
    assert (workshop.doing.stand_ground, workshop.doing.stand_held, workshop.width_left_m) == (2, 0, 1.8)
    assert workshop.fallback_spot_id == 2
    page = client.get(evening)
    assert "Evening light is kept." in page.text
    assert "Saturday 31 October 2026, 17:00 to 18:30 CET, Foundry Lane." in seen(page.text)


def test_a_what_if_becomes_a_workshop(client, store):
    words = "on=2026-10-31&at=17:00&stand_ground=3&group=12&lasts=120min&fallback=2&width=2+m&meet=52.530700,5.229000"
    page = client.get(f"/spots/1/rules?{words}", follow_redirects=True)
    link = re.search(r'href="(/workshops/new\?[^"]+)"', page.text)[1].replace("&amp;", "&")
    form = fields_of(client.get(link).text)
    assert (form["spot"], form["day"], form["from_time"], form["to_time"]) == (
        "Foundry Lane", "2026-10-31", "17:00", "19:00",
    )  # fmt: skip
    assert client.send("/workshops", form, "/workshops/new").status_code == 303
    workshop = only(store)
    assert workshop.title == "Workshop at Foundry Lane"
    assert (workshop.doing.group, workshop.doing.stand_ground) == (12, 3)
    assert workshop.meeting_point == pytest.approx((52.5307, 5.2290))
    twin = client.get(f"/workshops/{workshop.id}.json").json
    back = client.get("/spots/1/rules.json", query_string=twin["what_if"] | {"on": "2026-10-31", "at": "17:00"})
    same = client.get(f"/spots/1/rules.json?{words}", follow_redirects=True)
    assert back.json["what_if"]["footprint"] == same.json["what_if"]["footprint"]


def test_what_is_shown_saves_as_the_same(client, store, evening):
    before = only(store)
    form = fields_of(client.get(f"{evening}/edit").text)
    assert client.send(evening, form | {"version": "1"}, "/workshops/new").status_code == 303
    after = only(store)
    assert after.version == 2
    for name in WorkshopDraft.__dataclass_fields__:
        assert getattr(after, name) == getattr(before, name)


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("spot", ""), ("spot", "the pub"), ("day", ""), ("day", "someday"), ("from_time", ""), ("from_time", "25:00"),
        ("to_time", "16:00"), ("to_time", "soon"), ("group", ""), ("group", "0"), ("group", "many"), ("models", "10"),
        ("teaching", "perhaps"), ("stand_ground", "-1"), ("tripod", "1000"), ("width_left", "narrow"),
        ("meeting_point", "the pub"), ("fallback", "the pub"), ("fallback", "Foundry Lane"), ("title", "x" * 400),
        ("group", HOSTILE), ("spot", HOSTILE + "?"),
    ],
)  # fmt: skip
def test_a_field_that_cannot_be_read_keeps_what_was_typed(client, store, name, text):
    page = client.send("/workshops", FORM | {name: text}, "/workshops/new")
    assert page.status_code == 422
    assert f'id="{name}-wrong"' in page.text
    assert "Nothing was saved yet" in page.text
    assert "<img src=x" not in page.text
    assert str(escape(text)) in page.text
    with store.reading() as s:
        assert kept.count_workshops(s) == 0


def test_all_that_is_wrong_is_named_at_once(client):
    wrong = {"day": "someday", "group": "many", "tripod": "x", "width_left": "y", "fallback": "z"}
    page = client.send("/workshops", FORM | wrong, "/workshops/new")
    assert "5 fields need another look" in seen(page.text)


@pytest.mark.parametrize(
    ("day", "clock", "said"),
    [("2026-03-29", "02:30", "does not exist"), ("2026-10-25", "02:30", "Type 02:30 CEST or 02:30 CET")],
)
def test_clock_changes_are_asked_about(client, store, day, clock, said):
    page = client.send("/workshops", FORM | {"day": day, "from_time": clock, "to_time": "90 min"}, "/workshops/new")
    assert page.status_code == 422
    assert said in page.text
    if "CET" in said:
        form = FORM | {"day": day, "from_time": "02:30 CET", "to_time": "90 min"}
        assert client.send("/workshops", form, "/workshops/new").status_code == 303
        assert only(store).starts == datetime(2026, 10, 25, 1, 30, tzinfo=UTC)
        shown = fields_of(client.get("/workshops/1/edit").text)
        assert (shown["from_time"], shown["to_time"]) == ("02:30 CET", "04:00")


def test_many_spots_are_typed_and_not_chosen(client, store):
    with store.writing() as s:
        for number in range(MOST_TO_CHOOSE):
            add_spot(s, SpotDraft(name=f"Corner {number}", latitude_deg=52.5, longitude_deg=5.2, zone=ZONE))
    assert '<select id="spot"' not in client.get("/workshops/new").text
    assert client.send("/workshops", FORM | {"spot": "corner 17"}, "/workshops/new").status_code == 303


@pytest.mark.parametrize(
    "words", ["spot=99", "spot=1&on=never", "spot=1&group=many", "spot=1&lasts=soon", "spot=pub", "group=many"]
)
def test_an_address_of_the_form_that_makes_no_sense_is_answered_calmly(client, words):
    assert client.get(f"/workshops/new?{words}").status_code in (404, 422)


@pytest.mark.parametrize(
    ("words", "field", "typed"), [("spot=abc", "spot", "abc"), ("spot=1&group=many&on=2026-10-31", "group", "many")]
)
def test_an_address_that_cannot_be_read_opens_the_form_with_what_it_says(client, words, field, typed):
    page = client.get(f"/workshops/new?{words}")
    assert page.status_code == 422
    assert f'id="{field}-wrong"' in page.text
    assert typed in seen(page.text)
    if "on=" in words:
        assert fields_of(page.text)["day"] == "2026-10-31"
