"""The map's GeoJSON by RFC 7946: longitude first, closed rings by the right-hand rule, limited to the view."""

from __future__ import annotations

import json
from datetime import timedelta
from itertools import pairwise

import pytest
from shapely.geometry import box as rectangle
from shapely.geometry import shape

from models.planning import map_layers
from models.planning.answers import Moment
from models.planning.map_layers import buildings_geojson, footways_geojson, shadows_geojson, spots_geojson
from models.store.town import replace_import
from models.street.plane import LocalPlane
from models.street.town import Box, BuildingDraft, FootwayDraft, TownDraft
from tests.models.planning.grounds import HOSTILE, PLANE, VIEW, at, block, build, stand

NOON = at("2026-06-21T11:40")
LOW_SUN = at("2026-06-21T18:00")
MIDNIGHT = at("2026-06-21T23:00")


def square(west: float, south: float, size: float = 0.0002) -> tuple[tuple[float, float], ...]:
    return ((west, south), (west + size, south), (west + size, south + size), (west, south + size))


def area(ring: list[list[float]]) -> float:
    """Twice the signed area by the shoelace formula: positive counter-clockwise."""
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise(ring))


@pytest.fixture
def town(plans):
    court = BuildingDraft(
        rings=(tuple(reversed(square(5.23, 52.53, 0.0008))), square(5.2302, 52.5302)), top_m=12.0, name=HOSTILE
    )
    with plans.writing() as s:
        way = FootwayDraft(((5.2290, 52.5295), (5.2310, 52.5296)), 2.4, "paving_stones")
        replace_import(s, "town", TownDraft(buildings=(court,), footways=(way,)))
    return plans


def rings_of(features):
    for feature in features:
        geometry = feature["geometry"]
        polygons = geometry["coordinates"] if geometry["type"] == "MultiPolygon" else [geometry["coordinates"]]
        yield from polygons


@pytest.mark.parametrize("layer", ["buildings", "shadows"])
def test_rings_are_closed_and_turn_by_the_right_hand_rule(town, layer):
    found = buildings_geojson(town, VIEW) if layer == "buildings" else shadows_geojson(town, NOON, VIEW)
    assert found["type"] == "FeatureCollection"
    polygons = list(rings_of(found["features"]))
    assert polygons
    for outer, *holes in polygons:
        assert area(outer) > 0
        assert all(area(hole) < 0 for hole in holes)
        for ring in (outer, *holes):
            assert len(ring) >= 4
            assert list(ring[0]) == list(ring[-1])


def test_a_building_says_its_height_and_where_that_comes_from(town):
    (feature,) = buildings_geojson(town, VIEW)["features"]
    assert feature["properties"] == {"name": HOSTILE, "height_m": 12.0, "height_source": "surveyed"}
    (way,) = footways_geojson(town, VIEW)["features"]
    assert way["geometry"] == {"type": "LineString", "coordinates": [[5.2290, 52.5295], [5.2310, 52.5296]]}
    assert json.loads(json.dumps(feature)) == feature


def test_longitude_comes_first(plans):
    """In Sydney a swap is impossible: there is no latitude of 151."""
    stand(plans, HOSTILE, latitude_deg=-33.8568, longitude_deg=151.2153, zone="Australia/Sydney")
    (feature,) = spots_geojson(plans, NOON, Box(-34, 151, -33, 152))["features"]
    assert feature["geometry"] == {"type": "Point", "coordinates": [151.2153, -33.8568]}
    assert feature["properties"]["name"] == HOSTILE
    assert spots_geojson(plans, NOON, Box(-34, 150, -33, 151))["features"] == []


def test_a_view_over_180_degrees_shows_both_sides(plans):
    for name, longitude in (("west of it", 179.999), ("east of it", -179.999)):
        stand(plans, name, latitude_deg=-16.8, longitude_deg=longitude, zone="Pacific/Fiji")
    found = spots_geojson(plans, NOON, Box(-17, 179.9, -16, -179.9))["features"]
    assert {feature["properties"]["name"] for feature in found} == {"west of it", "east of it"}


def test_no_shadow_by_night_under_the_horizon_or_over_too_wide_a_view(town):
    assert shadows_geojson(town, MIDNIGHT, VIEW)["features"] == []
    wide = Box(52.4, 5.1, 52.6, 5.4)
    for layer in (shadows_geojson(town, NOON, wide), buildings_geojson(town, wide), footways_geojson(town, wide)):
        assert layer == {"type": "FeatureCollection", "features": []}
    assert shadows_geojson(town, NOON, Box(52.55, 5.3, 52.56, 5.31))["features"] == []


def test_more_buildings_than_can_be_drawn_give_no_half_of_the_shadows(town, monkeypatch):
    monkeypatch.setattr(map_layers, "MOST_SHADOWS", 0)
    assert shadows_geojson(town, NOON, VIEW)["features"] == []


def test_a_shadow_is_as_long_as_the_sun_says(plans):
    """20 m high under a sun 60.9 degrees high at noon: 20 / tan(60.9) = 11.1 m to the north (52.53 N, 21 June)."""
    build(plans, block(-10, -10, 10, 10, 20.0))
    (feature,) = shadows_geojson(plans, NOON, VIEW)["features"]
    _, north = PLANE.to_metres(shape(feature["geometry"]).bounds[3], 5.23)
    assert float(north) == pytest.approx(10 + 11.1, abs=0.3)


def test_a_small_view_has_the_shadow_of_a_tower_far_outside_it(plans):
    """A 40 m tower 300 m to the west: its shadow comes by once the evening sun is under 8 degrees high."""
    build(plans, block(-310, 90, -290, 110, 40.0))
    north, east = PLANE.metres_per_degree
    view = Box(52.53 - 20 / north, 5.23 - 20 / east, 52.53 + 20 / north, 5.23 + 20 / east)
    for minutes in range(0, 80, 5):
        moment = Moment(LOW_SUN.instant + timedelta(minutes=minutes), LOW_SUN.zone, 0, "")
        if shadows_geojson(plans, moment, view)["features"]:
            return
    pytest.fail("the tower's shadow never reached the view")


def test_shadows_stop_beside_the_view(plans):
    build(plans, block(-310, 90, -290, 110, 40.0), block(-30, -30, 30, 30, 30.0))
    north, east = PLANE.metres_per_degree
    view = Box(52.53 - 20 / north, 5.23 - 20 / east, 52.53 + 20 / north, 5.23 + 20 / east)
    (feature,) = shadows_geojson(plans, LOW_SUN, view)["features"]
    beside = rectangle(5.23 - 41 / east, 52.53 - 41 / north, 5.23 + 41 / east, 52.53 + 41 / north)
    assert beside.contains(shape(feature["geometry"]))


@pytest.mark.parametrize("longitude", [179.9995, -179.9995])
def test_at_180_degrees_a_shadow_does_not_run_round_the_world(plans, longitude):
    plane = LocalPlane(-16.8, longitude)
    corners = [plane.to_degrees(east, north) for east, north in ((-20, 0), (20, 0), (20, 20), (-20, 20))]
    ring = tuple((float(lon), float(lat)) for lat, lon in corners)
    with plans.writing() as s:
        replace_import(s, "isle", TownDraft(buildings=(BuildingDraft(rings=(ring,), top_m=60.0),)))
    half = 0.0004
    view = Box(-16.803, longitude - half, -16.797, longitude + half)
    evening = at("2026-06-21T04:30", "Pacific/Fiji")
    (feature,) = shadows_geojson(plans, evening, view)["features"]
    west, _, east, _ = shape(feature["geometry"]).bounds
    assert east - west < 0.01
    assert -180 <= west <= east <= 180
