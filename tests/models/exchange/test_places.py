"""Places for other programs: links, GeoJSON by RFC 7946, GPX 1.1 read again by gpxpy and held to its schema."""

from __future__ import annotations

import json
import re
from xml.etree import ElementTree as ET

import gpxpy
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from models.exchange.gpx import NAMESPACE, write_gpx
from models.exchange.places import Way, Waypoint, links_to, places_geojson
from models.workshop.briefing import Place
from tests.models.drawing.samples import HOSTILE

MEETING = Place(name="Market Square", latitude_deg=52.529982, longitude_deg=5.23, words="By the pump")
SPOT = Place(name="Foundry Lane", latitude_deg=52.53008, longitude_deg=5.2318)
WAYPOINTS = (Waypoint("meeting", MEETING), Waypoint("spot", SPOT))
WAY = Way("walk", "To the spot", ((5.23, 52.529982), (5.231, 52.53), (5.2318, 52.53008)), True)
ORDER = {  # gpx.xsd, as far as we write it: gpxType, wptType, rteType
    "gpx": ["metadata", "wpt", "rte"],
    "metadata": ["name"],
    "wpt": ["name", "desc", "type"],
    "rtept": ["name", "desc", "type"],
    "rte": ["name", "type", "rtept"],
}


def by_the_schema(raw: bytes) -> ET.Element:
    """gpx.xsd by hand: names, their order, and the ranges of latitudeType and longitudeType (upper end left out)."""
    root = ET.fromstring(raw)  # noqa: S314  our own output
    assert (root.tag, root.attrib["version"]) == (f"{{{NAMESPACE}}}gpx", "1.1")
    assert root.attrib["creator"]
    for element in root.iter():
        tag = element.tag.removeprefix(f"{{{NAMESPACE}}}")
        children = [child.tag.removeprefix(f"{{{NAMESPACE}}}") for child in element]
        assert children == sorted(children, key=ORDER.get(tag, []).index), tag
        if tag in ("wpt", "rtept"):
            assert -90 <= float(element.attrib["lat"]) <= 90
            assert -180 <= float(element.attrib["lon"]) < 180
    return root


def test_gpx_is_read_the_same_by_another_program():
    raw = write_gpx("Evening in the lane", WAYPOINTS, (WAY,))
    by_the_schema(raw)
    read = gpxpy.parse(raw)
    assert read.version == "1.1"
    assert read.name == "Evening in the lane"
    assert [(each.name, each.latitude, each.longitude, each.description, each.type) for each in read.waypoints] == [
        ("Market Square", 52.529982, 5.23, "By the pump", "meeting"),
        ("Foundry Lane", 52.53008, 5.2318, None, "spot"),
    ]
    (route,) = read.routes
    assert route.name == "To the spot"
    assert [(point.longitude, point.latitude) for point in route.points] == list(WAY.line)


@pytest.mark.parametrize("name", [HOSTILE, "<!DOCTYPE x>&amp;", "x" * 300, "🎈 שלום", "a\nb"])
def test_hostile_names_stay_text(name):
    place = Place(name=name, latitude_deg=1.0, longitude_deg=2.0, words=name)
    raw = write_gpx(name, (Waypoint("spot", place),), (Way("walk", name, ((2.0, 1.0), (2.1, 1.0)), True),))
    by_the_schema(raw)
    assert b"<!DOCTYPE" not in raw
    read = gpxpy.parse(raw)
    meant = re.sub("[\x00\x0b\ud800]", "?", name)
    assert (read.waypoints[0].name, read.waypoints[0].description, read.routes[0].name) == (meant, meant, meant)
    features = json.loads(json.dumps(places_geojson((Waypoint("spot", place),), ())))["features"]
    assert features[0]["properties"]["name"] == name


def test_geojson_has_longitude_first_and_every_feature_its_members():
    found = places_geojson(WAYPOINTS, (WAY,))
    assert found["type"] == "FeatureCollection"
    assert all(feature.keys() == {"type", "properties", "geometry"} for feature in found["features"])
    point, line = found["features"][0]["geometry"], found["features"][-1]["geometry"]
    assert point == {"type": "Point", "coordinates": [5.23, 52.529982]}
    assert line == {"type": "LineString", "coordinates": [list(each) for each in WAY.line]}


def test_a_way_over_180_degrees_is_cut_there():
    """RFC 7946 section 3.1.9."""
    way = Way("walk", "Over the line", ((179.99, 10.0), (-179.99, 12.0)), False)
    geometry = places_geojson((), (way,))["features"][0]["geometry"]
    assert geometry == {
        "type": "MultiLineString",
        "coordinates": [[[179.99, 10.0], [180.0, 11.0]], [[-180.0, 11.0], [-179.99, 12.0]]],
    }
    by_the_schema(write_gpx("x", (), (way,)))


def test_nothing_to_walk_is_no_way():
    nothing = Way("walk", "x", ((5.0, 52.0),), True)
    assert places_geojson((), (nothing,))["features"] == []
    assert gpxpy.parse(write_gpx("x", (), (nothing,))).routes == []


def test_links_of_a_place():
    app, browser = links_to(MEETING)
    assert app.href == "geo:52.529982,5.23"
    assert browser.href == "https://www.openstreetmap.org/?mlat=52.529982&mlon=5.23#map=18/52.529982/5.23"
    assert app.words != browser.words


@given(latitude=st.floats(-89.9, 89.9), longitude=st.floats(-180, 180))
@example(latitude=0.0, longitude=179.9999999)
@settings(max_examples=50)
def test_everywhere_links_and_files_say_the_place(latitude, longitude):
    place = Place(name="x", latitude_deg=latitude, longitude_deg=longitude)
    number = r"-?\d{1,3}(?:\.\d+)?"
    found = re.fullmatch(rf"geo:({number}),({number})", links_to(place)[0].href)  # RFC 5870 section 3.3
    assert found
    assert float(found[1]) == pytest.approx(latitude, abs=1e-6)
    assert float(found[2]) == pytest.approx(longitude, abs=1e-6)
    assert "-0" not in (found[1], found[2])
    root = by_the_schema(write_gpx("x", (Waypoint("spot", place),), ()))
    turn = float(root[1].attrib["lon"]) - longitude
    assert (turn + 180) % 360 - 180 == pytest.approx(0, abs=1e-6)
