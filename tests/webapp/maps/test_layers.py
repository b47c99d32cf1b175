"""What the map draws: GeoJSON, longitude first, limited to the view."""

from __future__ import annotations

import pytest

from tests.webapp.conftest import HOSTILE

TOWN = "5.22,52.52,5.24,52.54"


def test_spots_in_view_stand_longitude_first(client):
    answer = client.get(f"/map/spots.geojson?bbox={TOWN}&on=2026-10-17&at=16:40")
    assert answer.mimetype == "application/geo+json"
    spots = {spot["properties"]["name"]: spot for spot in answer.json["features"]}
    assert spots["Foundry Lane"]["geometry"] == {"type": "Point", "coordinates": [5.2312, 52.5301]}
    assert spots["Foundry Lane"]["properties"]["state_words"]


def test_spots_out_of_view_are_left_out(client):
    names = {
        spot["properties"]["name"]
        for spot in client.get("/map/spots.geojson?bbox=5.2305,52.52,5.24,52.54").json["features"]
    }
    assert names == {"Foundry Lane"}


def test_a_hostile_name_is_data(client):
    answer = client.get(f"/map/spots.geojson?bbox={TOWN}")
    assert HOSTILE in {spot["properties"]["name"] for spot in answer.json["features"]}
    assert answer.headers["X-Content-Type-Options"] == "nosniff"


@pytest.mark.parametrize("layer", ["buildings", "footways", "shadows"])
def test_an_empty_town_has_empty_layers(client, layer):
    answer = client.get(f"/map/{layer}.geojson?bbox={TOWN}&on=2026-06-21&at=12:00")
    assert answer.json["type"] == "FeatureCollection"
    assert answer.json["features"] == []


def test_layers_are_compressed(client):
    answer = client.get(f"/map/spots.geojson?bbox={TOWN}", headers={"Accept-Encoding": "gzip"})
    assert answer.headers["Content-Encoding"] == "gzip"
