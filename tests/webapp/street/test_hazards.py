"""The hazards page of a workshop: read, kept, clashed, started again, printed."""

from __future__ import annotations

import re
from datetime import UTC, datetime

import pytest
from markupsafe import escape

from models.store.plans import plan_of
from models.store.weather import HourDraft, replace_forecast
from models.words.hazards import SHEET_NOTE
from models.words.never import forbidden_in
from tests.webapp.conftest import HOSTILE, NOW
from tests.webapp.filled import form_of
from tests.webapp.rules.test_findings import seen
from tests.webapp.workshops.evening import FORM

HERE = "/workshops/1/hazards"


@pytest.fixture(autouse=True)
def evening(client):
    assert client.send("/workshops", FORM, "/workshops/new").status_code == 303


def filled(client, **changes):
    return form_of(client.get(HERE).text, HERE) | changes


def test_the_workshop_leads_to_a_sheet_that_is_filled_in_already(client):
    assert f'href="{HERE}"' in client.get("/workshops/1").text
    page, twin = client.get(HERE), client.get(f"{HERE}.json").json
    assert page.status_code == 200
    text = seen(page.text)
    assert twin["answer"] in text
    assert SHEET_NOTE in text
    assert "Emergency number: not filled in" in text
    for line in twin["sheet"]["lines"]:
        assert line["what"] in text
    assert forbidden_in(text) == []


def test_it_is_kept_with_ticks_weather_and_whom_to_call(client):
    sent = client.send(HERE, filled(client, emergency_number="112", tick_1="yes", wind_m_s="9", what_40="ignored"))
    assert sent.status_code == 303
    page = client.get(HERE)
    assert "The hazards sheet is kept." in page.text
    assert "<b>112</b>" in page.text
    assert "9.0 m/s" in seen(page.text)
    assert "The light of that hour</a>" in page.text
    again = client.get(f"{HERE}.json").json
    assert again["version"] == 1
    assert again["sheet"]["emergency_number"] == "112"


@pytest.mark.parametrize(
    ("field", "text"),
    [("wind_m_s", "windy"), ("oktas", "9"), ("railway", "maybe"), ("what_1", ""), ("wind_m_s", HOSTILE),
     ("emergency_number", "1" * 200)],
)  # fmt: skip
def test_a_field_that_cannot_be_read_keeps_what_was_typed(client, field, text):
    page = client.send(HERE, filled(client, **{field: text}))
    assert page.status_code == 422
    assert f'id="{field}-wrong"' in page.text
    assert str(escape(text)) in page.text
    assert "<img src=x" not in page.text
    assert client.get(f"{HERE}.json").json["version"] == 0


def test_two_windows_lose_nothing(client):
    mine, theirs = filled(client, first_aider="Ida"), filled(client, first_aider="Bo")
    assert client.send(HERE, theirs).status_code == 303
    page = client.send(HERE, mine)
    assert page.status_code == 409
    assert "Somebody kept this sheet while you were typing" in page.text
    assert 'value="Ida"' in page.text
    assert "<b>Bo</b>" in page.text
    assert client.send(HERE, form_of(page.text, HERE)).status_code == 303
    assert client.get(f"{HERE}.json").json["sheet"]["first_aider"] == "Ida"


def test_starting_again_offers_undo(client):
    client.send(HERE, filled(client, first_aider="Ida"))
    assert client.send(f"{HERE}/deletion", {"version": "1"}).status_code == 303
    page = client.get(HERE)
    undo = re.search(rf'action="({HERE}/\d+/restoration)"', page.text)[1]
    assert client.send(undo, {}).status_code == 303
    assert client.get(f"{HERE}.json").json["sheet"]["first_aider"] == "Ida"


def test_hostile_text_is_text(client):
    count = int(filled(client)["count"])
    client.send(HERE, filled(client, first_aider=HOSTILE, **{f"what_{count + 1}": HOSTILE}))
    page = client.get(HERE)
    assert "<img src=x" not in page.text
    assert client.get(f"{HERE}.json").json["sheet"]["lines"][-1]["what"] == HOSTILE


@pytest.mark.parametrize("address", [HERE, f"{HERE}/deletion", f"{HERE}/1/restoration"])
def test_a_form_needs_its_token_and_a_workshop(client, address):
    assert client.post(address, data={"version": "0"}).status_code == 403
    assert client.send(address.replace("/1/h", "/9/h"), {"version": "0"}).status_code == 404
    assert client.get("/workshops/9/hazards").status_code == 404


def test_the_cloud_as_typed_is_the_sky_of_the_light_it_leads_to(client):
    client.send(HERE, filled(client, oktas="7"))
    page = client.get(HERE)
    assert "/spots/1?on=2026-10-31&amp;at=17:00&amp;sky=7" in page.text
    assert "under the cloud as typed" in page.text


def test_weather_kept_for_the_spot_is_taken_with_its_source_and_a_change_is_said(client, store):
    told = {"source": "MET Norway forecast", "issued_at": NOW, "kept_at": NOW, "spot_id": 1}
    starts = datetime(2026, 10, 31, 16, tzinfo=UTC)
    with store.writing() as s:
        replace_forecast(s, 1, [HourDraft(starts=starts, wind_m_s=9.0, **told)])
    page = client.get(HERE)
    assert "MET Norway forecast, under an hour old" in seen(page.text)
    assert "9.0 m/s" in seen(page.text)
    assert "/spots/1/weather?on=2026-10-31&amp;at=17:00" in page.text
    client.send(HERE, filled(client))
    with store.writing() as s:
        replace_forecast(s, 1, [HourDraft(starts=starts, wind_m_s=2.0, **told)])
    assert "has changed since this sheet was kept" in seen(client.get(HERE).text)
    client.send(HERE, filled(client))
    assert "has changed since" not in seen(client.get(HERE).text)


def test_what_was_understood_of_the_weather_is_shown_where_something_else_is_wrong(client):
    page = client.send(HERE, filled(client, wind_m_s="4 bft", oktas="many"))
    assert page.status_code == 422
    assert "understood: 6.75 m/s, force 4, moderate breeze" in page.text


def test_the_address_for_an_ambulance_is_one_in_the_plan_and_in_the_sheet(client, store):
    plan = "/workshops/1/plan"
    assert client.send(plan, form_of(client.get(plan).text, plan) | {"ambulance": "1 Foundry Lane"}).status_code == 303
    assert client.get(f"{HERE}.json").json["sheet"]["ambulance_address"] == "1 Foundry Lane"
    assert client.send(HERE, filled(client, ambulance_address="2 Quay")).status_code == 303
    with store.reading() as s:
        assert plan_of(s, 1).ambulance == "2 Quay"
    assert client.send(plan, form_of(client.get(plan).text, plan) | {"ambulance": "3 Mill"}).status_code == 303
    assert client.get(f"{HERE}.json").json["sheet"]["ambulance_address"] == "3 Mill"


def test_a_clash_is_said_at_the_top(client):
    before = filled(client)
    assert client.send(HERE, before).status_code == 303
    page = client.send(HERE, before)
    assert page.status_code == 409
    assert page.text.index("Somebody kept this sheet") < page.text.index("Whom to call")


def note(client, words):
    form = form_of(client.get("/spots/1/edit").text, "/spots/1")
    assert client.send("/spots/1", form | {"hazards": words}).status_code == 303


def test_what_is_noted_at_the_spot_later_stands_on_the_sheet(client):
    note(client, "Vans before 11")
    client.send(HERE, filled(client, emergency_number="112", first_aider="Ida", wind_m_s="9"))
    note(client, "Scaffolding over the lane")
    assert "Scaffolding over the lane" in seen(client.get(HERE).text)
    assert "Vans before 11" not in client.get(HERE).text
    client.send(HERE, filled(client, what_1="Scaffolding, helmets on"))
    note(client, HOSTILE)
    page = client.get(HERE).text
    assert "Scaffolding, helmets on" in page
    assert "Noted there now: “" in page
    assert HOSTILE not in page
