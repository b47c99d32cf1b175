"""What the map draws: GeoJSON, longitude first, limited to the view."""

from __future__ import annotations

import pytest

from models.planning.rules.areas import add_area
from tests.models.planning.rules.town import area
from tests.webapp.conftest import HOSTILE

TOWN = "5.22,52.52,5.24,52.54"


def test_spots_in_view_stand_longitude_first(client):
    answer = client.get(f"/map/spots.geojson?bbox={TOWN}&on=2026-10-17&at=16:40")
    assert answer.mimetype == "application/geo+json"
    spots = {spot["properties"]["name"]: spot for spot in answer.json["features"]}
    assert spots["Foundry Lane"]["geometry"] == {"type": "Point", "coordinates": [5.2312, 52.5301]}
    assert spots["Foundry Lane"]["properties"]["words"]


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


def test_rule_areas_in_view_come_with_the_words_of_their_popup(client, store):
    add_area(store, area(name=HOSTILE))
    answer = client.get(f"/map/areas.geojson?bbox={TOWN}")
    assert answer.mimetype == "application/geo+json"
    (feature,) = answer.json["features"]
    assert feature["properties"] == {"name": HOSTILE, "kind": "public_street", "words": "public street; Council"}
    assert client.get("/map/areas.geojson?bbox=6,52,7,53").json["features"] == []


@pytest.mark.parametrize("box", ["", "x", "1,2,3", "5,nan,6,7", "5,95,6,96"])
def test_a_view_that_is_none_is_refused(client, box):
    assert client.get(f"/map/areas.geojson?bbox={box}").status_code == 422


@pytest.mark.parametrize("layer", ["buildings", "footways", "shadows", "areas"])
def test_an_empty_town_has_empty_layers(client, layer):
    answer = client.get(f"/map/{layer}.geojson?bbox={TOWN}&on=2026-06-21&at=12:00")
    assert answer.json["type"] == "FeatureCollection"
    assert answer.json["features"] == []


def test_layers_are_compressed(client):
    answer = client.get(f"/map/spots.geojson?bbox={TOWN}", headers={"Accept-Encoding": "gzip"})
    assert answer.headers["Content-Encoding"] == "gzip"
