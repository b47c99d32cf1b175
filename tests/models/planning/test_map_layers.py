"""What the map draws of spots: state in words, doubt, what is still being worked out."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from models.planning import map_layers, town_states
from models.planning.answers import Moment
from models.planning.map_layers import shadows_geojson, spots_geojson
from models.store.spots import add_spot
from models.store.town import replace_import
from models.street.spot import SpotDraft
from models.street.town import Box, BuildingDraft, TownDraft

ZONE = "Europe/Amsterdam"
NOON = Moment(datetime(2026, 6, 21, 11, 40, tzinfo=UTC), ZONE, 0, "you set it")
MIDNIGHT = Moment(datetime(2026, 6, 21, 23, 0, tzinfo=UTC), ZONE, 0, "you set it")
TOWN = Box(south=52.529, west=5.229, north=52.532, east=5.233)
BLOCK = ((5.2300, 52.5300), (5.2310, 52.5300), (5.2310, 52.5306), (5.2300, 52.5306))
"""A block of some 68 by 67 m."""
IN_SUN, INSIDE = (52.5295, 5.2305), (52.5303, 5.2305)


@pytest.fixture
def store(plans):
    with plans.writing() as s:
        replace_import(s, "block", TownDraft(buildings=(BuildingDraft(rings=(BLOCK,), top_m=20.0),)))
        for name, (latitude, longitude) in (("south of it", IN_SUN), ("in it", INSIDE)):
            add_spot(s, SpotDraft(name=name, latitude_deg=latitude, longitude_deg=longitude, zone=ZONE))
    return plans


def spots(store, moment):
    found = spots_geojson(store, moment, TOWN)
    return {spot["properties"]["name"]: spot["properties"] for spot in found["features"]}, found["pending"]


@pytest.mark.parametrize("most", [200, 0])
def test_few_and_many_spots_say_the_same_state(store, monkeypatch, most):
    monkeypatch.setattr(map_layers, "MOST_BRIGHTNESS", most)
    found, pending = spots(store, NOON)
    assert found["south of it"]["state"] == "sun"
    assert found["south of it"]["too_close"] is False
    assert found["in it"]["state"] is None
    assert "inside a building" in found["in it"]["words"]
    assert pending == 0
    assert (", EV " in found["south of it"]["words"]) == (most > 0)


def test_what_is_still_worked_out_is_counted(store, monkeypatch):
    monkeypatch.setattr(map_layers, "MOST_BRIGHTNESS", 0)
    monkeypatch.setattr(town_states, "PATIENCE_S", -1.0)
    found, pending = spots(store, NOON)
    assert pending == 2
    assert found["south of it"]["words"] == "not known yet"


def test_shadows_lie_north_of_the_block_at_noon_and_nowhere_by_night(store):
    (shadow,) = shadows_geojson(store, NOON, TOWN)["features"]
    rings = shadow["geometry"]["coordinates"]
    north = max(latitude for ring in rings for _, latitude in ring)
    assert north > 52.5306
    assert shadows_geojson(store, MIDNIGHT, TOWN)["features"] == []
