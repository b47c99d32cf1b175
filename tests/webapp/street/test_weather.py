"""The weather page of a spot: typed, changed, deleted, fetched on a press; and what the light makes of it."""

from __future__ import annotations

import json
import re
from datetime import timedelta

import pytest
from click.testing import CliRunner
from flask.cli import ScriptInfo
from markupsafe import escape

from models.planning.settings import change_settings
from models.store.weather import HourDraft, hours_at, replace_forecast
from models.words.never import forbidden_in
from tests.models.exchange.forecast_service import dead_address, serving
from tests.models.planning.grounds import equip
from tests.webapp.conftest import HOSTILE, NOW
from tests.webapp.filled import form_of
from tests.webapp.rules.test_findings import seen
from webapp.cli import main

HERE = "/spots/1/weather"
FETCH = f"{HERE}/forecast"
TYPED = {"day": "2026-10-17", "clock": "16:40", "hours": "2", "oktas": "5/8", "wind_m_s": "18 km/h", "whence": ""}


def keep(client, **changes):
    return client.send(HERE, TYPED | changes)


def one(client):
    return client.get(f"{HERE}.json").json["days"][0]["rows"][0]


@pytest.fixture(autouse=True)
def kit(store):
    """So that the spot's light can be told."""
    equip(store)


@pytest.fixture
def service(store):
    with serving() as running:
        on = {"forecast": "on", "forecast_contact": "me@example.org", "forecast_address": running.address}
        change_settings(store, on)
        yield running


def test_the_spot_leads_to_a_page_that_says_what_belongs_there(client):
    assert f'href="{HERE}"' in client.get("/spots/1").text
    page, twin = client.get(HERE), client.get(f"{HERE}.json").json
    assert page.status_code == 200
    text = seen(page.text)
    assert twin["answer"] in text
    assert "No weather is kept for this hour" in text
    assert "Fetching is off, and nothing leaves this machine" in text
    assert "Nothing yet." in text
    assert "Fetch the forecast" not in text
    assert forbidden_in(text) == []


def test_typed_hours_are_kept_shown_and_give_the_light_its_sky(client):
    assert "2 oktas, assumed" in client.get("/spots/1").text
    assert keep(client).status_code == 303
    page = client.get(HERE)
    assert "The 2 hours are kept." in page.text
    text = seen(page.text)
    assert "5 of 8 covered, wind 5 m/s (force 3, gentle breeze)" in text
    assert "By hand, typed under an hour ago" in text
    light = client.get("/spots/1")
    assert "5 oktas, typed under an hour ago" in light.text
    assert "sky 5 of 8 covered, typed under an hour ago" in light.text
    assert "under 2 of 8 cloud, assumed" in light.text
    assert client.get("/spots/1.json").json["moment"]["oktas"] == 5
    assert client.get("/spots/1.json?sky=0").json["moment"]["oktas"] == 0
    assert client.get("/spots/2.json").json["moment"]["oktas"] == 2
    later = client.get("/spots/1.json?on=2026-10-17&at=18:00").json["moment"]
    assert (later["oktas"], later["oktas_by"]) == (2, "assumed")


@pytest.mark.parametrize(
    ("field", "text"),
    [("day", "someday"), ("clock", "25"), ("hours", "99"), ("oktas", "9"), ("wind_m_s", "windy"), ("gust_m_s", "1"),
     ("temperature_c", HOSTILE), ("humidity_pct", "200"), ("rain_mm", "-1"), ("whence", "x" * 130)],
)  # fmt: skip
def test_a_field_that_cannot_be_read_keeps_what_was_typed(client, store, field, text):
    page = keep(client, **{field: text})
    assert page.status_code == 422
    assert f'id="{field}-wrong"' in page.text
    assert str(escape(text)) in page.text
    assert "<img src=x" not in page.text
    with store.reading() as s:
        assert hours_at(s, 1) == ()


def test_an_hour_typed_already_is_refused_beside_its_clock(client):
    keep(client)
    page = keep(client)
    assert page.status_code == 422
    assert "is typed already" in page.text


def test_what_was_understood_is_shown(client):
    page = keep(client, wind_m_s="4 bft", temperature_c="68 F", rain_mm="soaked")
    assert "understood: 6.75 m/s, force 4, moderate breeze" in page.text
    assert "understood: 20.0 °C" in page.text
    assert "understood: 16:00 to 18:00 CEST" in page.text


def test_changed_deleted_and_brought_back(client):
    keep(client, hours="1")
    row = one(client)
    edit = client.get(f"{HERE}/{row['id']}/edit")
    form = form_of(edit.text, f"{HERE}/{row['id']}")
    assert (form["wind_m_s"], form["oktas"]) == ("5", "5")
    assert client.send(f"{HERE}/{row['id']}", form | {"oktas": "8"}).status_code == 303
    assert client.get("/spots/1.json").json["moment"]["oktas"] == 8
    clash = client.send(f"{HERE}/{row['id']}", form | {"oktas": "3"})
    assert clash.status_code == 409
    assert "kept now: 8" in clash.text
    assert 'value="3"' in clash.text
    bad = client.send(f"{HERE}/{row['id']}", form | {"version": "2", "oktas": "nine"})
    assert bad.status_code == 422
    assert client.send(f"{HERE}/{row['id']}/deletion", {"version": "2"}).status_code == 303
    page = client.get(HERE)
    undo = re.search(rf'action="({HERE}/\d+/restoration)"', page.text)[1]
    assert client.send(undo, {}).status_code == 303
    assert client.get("/spots/1.json").json["moment"]["oktas"] == 8
    client.send(f"{HERE}/{row['id']}/deletion", {"version": "4"})
    gone = client.send(f"{HERE}/{row['id']}", form | {"version": "4"})
    assert gone.status_code == 409
    assert "Bring it back" in gone.text
    keep(client, hours="1")
    client.send(undo, {})
    assert "the older one stays deleted" in client.get(HERE).text


def test_hostile_words_are_text(client):
    keep(client, whence=HOSTILE)
    for page in (client.get(HERE), client.get("/spots/1"), client.get("/spots/3/weather")):
        assert page.status_code == 200
        assert "<img src=x" not in page.text
    assert one(client)["hour"]["source"] == HOSTILE


def test_a_press_fetches_and_a_look_never_does(client, service):
    page = client.get(HERE)
    assert "Fetch the forecast" in page.text
    assert "4 decimals" in page.text
    client.get("/spots/1")
    client.get(f"{HERE}.json")
    assert service.asked == []
    assert client.send(FETCH, {}).status_code == 303
    assert len(service.asked) == 1
    page = client.get(HERE)
    text = seen(page.text)
    assert "The forecast is kept: made 3 h ago" in text
    assert "Forecast from 127.0.0.1: its own terms hold." in text
    assert "Forecast by 127.0.0.1, 3 h old" in text
    light = client.get("/spots/1")
    assert "5 oktas, by forecast of 3 h ago" in light.text
    assert "off by up to 1.0 eighths" in light.text
    client.send(FETCH, {})
    assert "Nothing was asked" in client.get(HERE).text
    assert len(service.asked) == 1


@pytest.mark.parametrize(
    ("body", "status", "says"),
    [(b"no", 403, "contact in the settings"), (b"no", 503, "in trouble"), (b"<html>", 200, "no forecast"),
     (json.dumps({"properties": HOSTILE}).encode(), 200, "no forecast"), (b" " * 2_100_000, 200, "far more")],
)  # fmt: skip
def test_a_service_that_fails_hurts_nothing(client, service, body, status, says):
    keep(client)
    service.tells(body, status)
    page = client.send(FETCH, {})
    assert page.status_code == 502
    assert says in page.text
    assert "Nothing was fetched." in page.text
    assert "5 of 8 covered" in seen(page.text)
    assert "<img src=x" not in page.text


def test_a_dead_service_and_one_switched_off(client, store, service):
    change_settings(store, {"forecast_address": dead_address()})
    assert client.send(FETCH, {}).status_code == 502
    change_settings(store, {"forecast": "off"})
    page = client.send(FETCH, {})
    assert page.status_code == 422
    assert "Forecasts are off" in page.text
    back = client.get(f"{FETCH}?on=2026-10-18&at=09:00")
    assert (back.status_code, back.headers["Location"]) == (303, f"{HERE}?on=2026-10-18&at=09:00")


def test_met_norway_is_named_where_it_is_asked(client, store):
    change_settings(store, {"forecast": "on", "forecast_contact": "me@example.org"})
    text = seen(client.get(HERE).text)
    assert "Data from MET Norway, licence CC BY 4.0" in text
    assert "One press sends api.met.no" in text


def test_fetched_hours_cannot_be_changed_but_typed_over(client, store):
    told = {"source": "MET Norway forecast", "issued_at": NOW - timedelta(hours=3), "kept_at": NOW, "spot_id": 1}
    with store.writing() as s:
        replace_forecast(s, 1, [HourDraft(starts=NOW.replace(minute=0), oktas=7.0, **told)])
    row = one(client)
    assert client.get(f"{HERE}/{row['id']}/edit").status_code == 404
    page = client.get(HERE)
    assert f"{HERE}?on=2026-10-17&amp;at=16:00#type-head" in page.text
    keep(client, hours="1", oktas="1")
    page = client.get(HERE)
    assert "Something is typed for this hour" in page.text
    assert client.get("/spots/1.json").json["moment"]["oktas_by"] == "typed under an hour ago"


@pytest.mark.parametrize(
    "address", [HERE, FETCH, f"{HERE}/1", f"{HERE}/1/deletion", f"{HERE}/1/restoration"]
)  # fmt: skip
def test_a_form_needs_its_token_and_a_spot(client, address):
    assert client.post(address, data={"version": "0"}).status_code == 403
    assert client.send(address.replace("/1/weather", "/99/weather"), {"version": "1"}).status_code == 404
    assert client.get("/spots/99/weather").status_code == 404
    assert client.get(f"{HERE}/99999999999999999999/edit").status_code == 404


def test_a_bad_bar_is_said_and_the_form_stands(client):
    page = client.get(f"{HERE}?on=someday")
    assert page.status_code == 422
    assert "is not a date" in page.text
    assert client.get(f"{HERE}.json?sky=9").status_code == 422


def test_the_terminal_goes_by_the_same_sky(app, client):
    keep(client)
    info = ScriptInfo(create_app=lambda: app, set_debug_flag=False)
    said = [
        CliRunner().invoke(main, ["light", "Foundry Lane", *more], obj=info).output for more in ((), ("--sky", "0"))
    ]
    assert "sky 5 oktas, typed under an hour ago" in said[0]
    assert "sky 0 oktas, you set it" in said[1]
