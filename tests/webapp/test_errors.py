"""Errors say what is wrong, where, and what to do, as page and as JSON."""

from __future__ import annotations

import pytest


@pytest.mark.parametrize(
    ("path", "status", "words"),
    [
        ("/nowhere", 404, "There is nothing here"),
        ("/spots/999/edit", 404, "There is nothing here"),
        ("/theme", 405, "cannot be used that way"),
        ("/?sort=weight", 422, "Choose name, brightness, reserve or distance"),
        ("/?page=minus", 422, "not the number of a page"),
        ("/?here=nowhere", 422, "is not a place"),
        ("/vendor/leaflet/../../setup.py", 404, "There is nothing here"),
        ("/vendor/leaflet/leaflet-src.js.map", 404, "There is nothing here"),
    ],
)
def test_error_pages(client, path, status, words):
    response = client.get(path)
    assert response.status_code == status
    assert words in response.text
    assert "Traceback" not in response.text


@pytest.mark.parametrize(
    ("path", "status", "field"),
    [
        ("/nowhere.json", 404, None),
        ("/spots.json?at=25:00", 422, "time"),
        ("/spots.json?on=31.2.", 422, "date"),
        ("/spots.json?sky=9", 422, "sky"),
        ("/map/spots.geojson", 422, "bbox"),
        ("/map/shadows.geojson?bbox=1,2,3", 422, "bbox"),
        ("/map/buildings.geojson?bbox=5,95,6,99", 422, "bbox"),
    ],
)
def test_json_twins(client, path, status, field):
    response = client.get(path)
    assert response.status_code == status
    assert response.is_json
    assert set(response.json) == {"error", "what", "do", "field"}
    assert response.json["field"] == field


def test_405_names_what_is_allowed(client):
    assert "POST" in client.get("/theme").headers["Allow"]


def test_a_crash_is_calm_and_logged(app, client, monkeypatch, caplog):
    app.config["PROPAGATE_EXCEPTIONS"] = False
    monkeypatch.setitem(app.view_functions, "house.health", lambda: 1 / 0)
    response = client.get("/healthz")
    assert response.status_code == 500
    assert "That is our mistake" in response.text
    assert "division" not in response.text
    assert "division by zero" in caplog.text


def test_too_many_searches(app, client, monkeypatch):
    monkeypatch.setitem(app.config, "RATELIMIT_ADDRESS_SEARCH", "2 per minute")
    token = client.token()
    answers = [client.post("/spots/search", data={"csrf_token": token, "address": "x"}) for _ in range(3)]
    assert [answer.status_code for answer in answers[:2]] == [422, 422]
    assert answers[2].status_code == 429
    assert "shared public service" in answers[2].text
