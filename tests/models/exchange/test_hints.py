"""What brings people by, read from OpenStreetMap and from GeoJSON."""

from __future__ import annotations

import json
from collections import Counter

import osmium
import pytest

from models.exchange.geojson import read_hints
from models.exchange.osm import read_osm
from models.exchange.tags import COMFORTED, HINTED, LONGEST_NAME, comfort, hint, name
from models.problems import FileProblems
from models.street.comforts import COMFORTS
from models.street.footfall import HINTS
from models.street.town import Box, HintDraft
from tests.models.exchange.test_osm import HELSINKI, OUTLINE, town_of, way

STOP = '<node id="20" lat="52.0005" lon="5.0005"><tag k="highway" v="bus_stop"/><tag k="name" v="{}"/></node>'


def test_every_kind_has_its_tag_and_nothing_else_is_one():
    assert HINTED.keys() == HINTS.keys()
    assert hint({"railway": "subway_entrance", "highway": "bus_stop"}) == "entrance"
    for tags in ({}, {"highway": "bus"}, {"railway": "abandoned"}, {"amenity": ["school"]}, {"amenity": None}):
        assert hint(tags) is None
    assert name({"name": "  Bell \n Street "}) == "Bell Street"
    assert name({"name": ["Bell"]}) == name({}) == ""
    assert len(name({"name": "x" * 500})) == LONGEST_NAME


def test_stops_and_grounds_of_a_file(tmp_path):
    read = town_of(tmp_path, STOP.format("Bell Street"), way(1, OUTLINE, amenity="school", name="Harbour School"))
    stop, school = sorted(read.town.hints, key=lambda each: each.kind)
    assert stop == HintDraft(52.0005, 5.0005, "bus", "Bell Street")
    assert (school.kind, school.name) == ("school", "Harbour School")
    assert (school.latitude_deg, school.longitude_deg) == (pytest.approx(52.0005), pytest.approx(5.0005))
    assert (
        read.notes[-1] == "2 stops, stations, schools and markets, as notes beside who comes by; they are never counts."
    )


def test_toilets_shelter_and_coffee_are_read_and_are_no_note_on_who_comes_by(tmp_path):
    assert COMFORTED.keys() == COMFORTS.keys()
    assert comfort({"amenity": "toilets"}) == "toilets"
    for tags in ({"amenity": "toilets", "access": "private"}, {"amenity": "bar"}, {"amenity": ["cafe"]}, {}):
        assert comfort(tags) is None
    cafe = way(1, OUTLINE, amenity="cafe", building="yes", name="Ladle and Cup")
    shelter = '<node id="20" lat="52.0005" lon="5.0005"><tag k="amenity" v="shelter"/></node>'
    read = town_of(tmp_path, shelter, cafe)
    assert {(each.kind, each.name) for each in read.town.hints} == {("shelter", ""), ("coffee", "Ladle and Cup")}
    assert read.notes[-1] == "2 toilets, shelters and cafés, for the map sketch of a workshop."


def test_a_school_that_is_a_building_is_met_once(tmp_path):
    read = town_of(tmp_path, way(1, OUTLINE, building="school", amenity="school"))
    assert len(read.town.hints) == len(read.town.buildings) == 1


def test_only_those_in_the_box(tmp_path):
    box = Box(south=52.0015, west=5.0015, north=52.003, east=5.003)
    read = town_of(tmp_path, STOP.format("x"), way(1, OUTLINE, amenity="school"), box=box)
    assert read.town.hints == ()
    assert len(read.town.trees) == 1


def test_helsinki_counted_by_osmium_alone():
    count: Counter[str] = Counter()
    for thing in osmium.FileProcessor(str(HELSINKI)):
        tags = thing.tags
        both = tags.get("railway") == "tram_stop"
        count["bus"] += thing.is_node() and tags.get("highway") == "bus_stop" and not both
        count["entrance"] += thing.is_node() and tags.get("railway") in ("subway_entrance", "train_station_entrance")
    box = Box(south=60.168, west=24.940, north=60.171, east=24.945)
    read = Counter(each.kind for each in read_osm(HELSINKI).town.hints)
    assert (read["bus"], read["entrance"]) == (count["bus"], count["entrance"]) == (88, 33)
    assert all(box.south <= each.latitude_deg <= box.north for each in read_osm(HELSINKI, box).town.hints)


def collection(*features):
    made = [
        {"type": "Feature", "properties": tags, "geometry": {"type": kind, "coordinates": at}}
        for tags, kind, at in features
    ]
    return json.dumps({"type": "FeatureCollection", "features": made}).encode()


def test_geojson():
    stop = ({"highway": "bus_stop", "name": "Quay"}, "Point", [5.23, 52.53])
    assert read_hints(collection(stop)) == (HintDraft(52.53, 5.23, "bus", "Quay"),)
    with pytest.raises(FileProblems) as problems:
        read_hints(
            collection(stop, ({"amenity": "bar"}, "Point", [5, 52]), (stop[0], "Polygon", []), (stop[0], "Point", [5]))
        )
    assert len(problems.value.problems) == 3
