"""GeoJSON in and out: good files come back the same, bad ones are refused whole, with the feature named."""

from __future__ import annotations

import json
import math
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon

from models.exchange.features import LARGEST_BYTES
from models.exchange.geojson import read_buildings, read_footways, read_lamps, read_trees
from models.exchange.geojson_out import write_buildings, write_footways
from models.problems import FileProblems, InputProblem
from models.street.town import BuildingDraft, FootwayDraft

SQUARE = [[5.0, 52.0], [5.001, 52.0], [5.001, 52.001], [5.0, 52.001], [5.0, 52.0]]
YARD = [[5.0004, 52.0004], [5.0004, 52.0006], [5.0006, 52.0006], [5.0006, 52.0004], [5.0004, 52.0004]]


def file_of(*features: Any) -> bytes:
    return json.dumps({"type": "FeatureCollection", "features": list(features)}).encode()


def feature(kind: str, coordinates: Any, **properties: Any) -> dict[str, Any]:
    return {"type": "Feature", "properties": properties, "geometry": {"type": kind, "coordinates": coordinates}}


def problem_of(source: Any) -> InputProblem:
    with pytest.raises(InputProblem) as raised:
        read_buildings(source)
    return raised.value


def test_a_building_with_a_courtyard() -> None:
    (house,) = read_buildings(file_of(feature("Polygon", [SQUARE, YARD], name="Hall", height="12.13 m"))).buildings
    assert house.rings == (
        ((5.0, 52.0), (5.001, 52.0), (5.001, 52.001), (5.0, 52.001)),
        ((5.0004, 52.0004), (5.0004, 52.0006), (5.0006, 52.0006), (5.0006, 52.0004)),
    )
    assert (house.name, house.top_m, house.bottom_m, house.height_source) == ("Hall", 12.13, 0.0, "surveyed")


def test_a_multipolygon_is_as_many_buildings_with_its_one_height() -> None:
    shifted = [[x + 0.01, y] for x, y in SQUARE]
    read = read_buildings(file_of(feature("MultiPolygon", [[SQUARE], [shifted]], **{"building:levels": 4})))
    assert [house.rings[0][0] for house in read.buildings] == [(5.0, 52.0), (5.01, 52.0)]
    assert {house.top_m for house in read.buildings} == {4 * 3.2}
    assert read.notes[0] == "Heights: 0 as given, 1 from storeys, 0 assumed."


def test_heights_in_feet_are_understood_and_said() -> None:
    read = read_buildings(file_of(feature("Polygon", [SQUARE], height="40 ft")))
    assert read.buildings[0].top_m == pytest.approx(12.192)
    assert "'40 ft' is 12.2 m" in read.notes[-1]


def test_third_coordinates_and_a_mark_at_the_start_of_the_file_do_no_harm() -> None:
    high = [[*point, 3.5] for point in SQUARE]
    assert read_buildings(b"\xef\xbb\xbf" + file_of(feature("Polygon", [high]))).buildings[0].rings[0][0] == (5.0, 52.0)


def test_an_outline_that_crosses_itself_is_untangled_and_said() -> None:
    bow_tie = [[5.0, 52.0], [5.001, 52.001], [5.001, 52.0], [5.0, 52.001], [5.0, 52.0]]
    read = read_buildings(file_of(feature("Polygon", [SQUARE]), feature("Polygon", [bow_tie], name="Knot")))
    assert len(read.buildings) == 3
    assert all(Polygon(house.rings[0]).is_valid for house in read.buildings)
    assert read.notes[-1] == "Outlines that crossed themselves, untangled: 1, such as feature 2 'Knot'."


BAD_FEATURES = {
    "two points": (
        feature("Polygon", [[[5, 52], [5.1, 52]]], name="Foo"),
        "feature 1 'Foo': a polygon needs at least 4 positions, the last the same as the first; this has 2",
    ),
    "latitude 95": (feature("Polygon", [[[5, 95], *SQUARE]]), "feature 1: latitude 95 is outside -90 to 90"),
    "swapped": (
        feature("Polygon", [[[-33.9, 151.2], *SQUARE]]),
        "feature 1: latitude 151.2 is outside -90 to 90; longitude comes first: are the two swapped?",
    ),
    "one swapped": (feature("Polygon", [[*SQUARE[:2], [52.001, 5.001], *SQUARE[3:]]]), "wrong or swapped"),
    "longitude 200": (feature("Polygon", [[[200, 5], *SQUARE]]), "longitude 200 is outside -180 to 180"),
    "metres": (feature("Polygon", [[[121000.5, 487000], *SQUARE]]), "is not in degrees"),
    "words for height": (
        feature("Polygon", [SQUARE], height="tall"),
        "height 'tall' is not understood: write metres like 12.5, or feet like “40 ft”",
    ),
    "text for a position": (feature("Polygon", [["here", *SQUARE]]), "'here' is not a position"),
    "text in a position": (feature("Polygon", [[["5", "52"], *SQUARE]]), "is not a position"),
    "a huge number": (feature("Polygon", [[[10**400, 52], *SQUARE]]), "is not a position"),
    "truth for a number": (feature("Polygon", [[[True, False], *SQUARE]]), "is not a position"),
    "open ring": (feature("Polygon", [[*SQUARE[:4], [5.0, 52.0005]]]), "repeat its first position at the end"),
    "no area": (feature("Polygon", [[[5, 52], [5.001, 52], [5.002, 52], [5, 52]]]), "encloses nothing"),
    "no ring": (feature("Polygon", []), "at least one ring"),
    "empty multi": (feature("MultiPolygon", []), "its MultiPolygon is empty"),
    "a line": (feature("LineString", SQUARE), "is a 'LineString'; here a Polygon or MultiPolygon is wanted"),
    "no geometry": ({"type": "Feature", "properties": {}, "geometry": None}, "feature 1: has no geometry"),
    "no feature": ({"type": "Polygon", "coordinates": [SQUARE]}, "feature 1: is not a GeoJSON Feature"),
    "a list for properties": ({**feature("Polygon", [SQUARE]), "properties": [1]}, "its “properties” is not an object"),
    "null": (None, "feature 1: is not a GeoJSON Feature"),
    "source of height": (feature("Polygon", [SQUARE], height=3, height_source="hearsay"), "'hearsay' is none of"),
}


@pytest.mark.parametrize("name", BAD_FEATURES)
def test_a_bad_feature_is_named_with_what_is_wrong(name: str) -> None:
    bad, message = BAD_FEATURES[name]
    assert message in str(problem_of(file_of(bad)))


BAD_FILES = {
    "no JSON": (b"hello", "file: is not JSON"),
    "cut off": (file_of(feature("Polygon", [SQUARE]))[:-30], "file: is not JSON"),
    "not text": (b"\x89PNG\r\n\xff\xfe", "file: is not UTF-8 text"),
    "nothing": (b"", "file: is not JSON"),
    "NaN": (file_of(feature("Polygon", [[[math.nan, 52], *SQUARE]])), "file: is not JSON: it holds NaN"),
    "deep": (b"[" * 200_000 + b"]" * 200_000, "file: is nested too deeply"),
    "digits": (b'{"type": ' + b"9" * 5000 + b"}", "number of thousands of digits"),
    "a list": (b"[]", "file: this JSON is not GeoJSON"),
    "a bare geometry": (
        json.dumps({"type": "Polygon", "coordinates": [SQUARE]}).encode(),
        "FeatureCollection is wanted",
    ),
    "features no list": (b'{"type": "FeatureCollection", "features": {}}', "its “features” is not a list"),
    "another grid": (
        b'{"type": "FeatureCollection", "features": [], "crs": {"properties": {"name": "EPSG:28992"}}}',
        "names the coordinate system 'EPSG:28992'",
    ),
}


@pytest.mark.parametrize("name", BAD_FILES)
def test_a_bad_file_is_refused(name: str) -> None:
    raw, message = BAD_FILES[name]
    assert message in str(problem_of(raw))


def test_deep_nesting_inside_a_feature_is_refused_in_few_words() -> None:
    deep = json.loads("[" * 400 + "]" * 400)
    assert len(str(problem_of(file_of(feature("Polygon", [[deep, *SQUARE]], height=deep))))) < 300


def test_a_file_too_large_is_refused_unread(tmp_path: Path) -> None:
    large = tmp_path / "large.geojson"
    with large.open("wb") as handle:
        handle.truncate(200_000_000)
    assert str(problem_of(large)) == "file: is 200 MB; at most 50 MB: cut out the part you need"
    assert "at most 50 MB" in str(problem_of(bytes(LARGEST_BYTES + 1)))


def test_a_missing_file_is_said(tmp_path: Path) -> None:
    assert str(problem_of(tmp_path / "nowhere.geojson")) == "file: cannot be read: No such file or directory"


def test_all_problems_come_at_once_and_at_most_twenty() -> None:
    bad = [feature("Polygon", [[[5, 52]]], name=f"B{number}") for number in range(30)]
    three = problem_of(file_of(feature("Polygon", [SQUARE]), *bad[:3]))
    assert isinstance(three, FileProblems)
    assert [problem.field for problem in three.problems] == ["feature 2 'B0'", "feature 3 'B1'", "feature 4 'B2'"]
    assert "feature 4 'B2': a polygon needs" in three.message
    many = problem_of(file_of(*bad))
    assert isinstance(many, FileProblems)
    assert len(many.problems) == 20


def test_footways_with_width_and_surface() -> None:
    line = [[5.0, 52.0], [5.001, 52.001]]
    noted = {"highway": "steps", "width": "8 ft", "surface": "sett;paved", "lit": "24/7"}
    read = read_footways(file_of(feature("LineString", line, **noted), feature("MultiLineString", [line, line])))
    first, second, third = read.footways
    assert (first.kind, first.width_m, first.surface, first.lit) == ("steps", pytest.approx(8 * 0.3048), "sett", True)
    assert (second.kind, second.width_m, second.surface, second.lit) == ("footway", None, None, None)
    assert second == third
    assert read.notes == ("Footways: 3, of which 2 without a width.",)


@pytest.mark.parametrize(
    ("bad", "message"),
    [
        (feature("LineString", [[5, 52]]), "a line needs at least 2 positions; this has 1"),
        (feature("LineString", SQUARE, width="narrow"), "width 'narrow' is not understood"),
        (feature("Point", [5, 52]), "here a LineString or MultiLineString is wanted"),
    ],
)
def test_bad_footways_are_named(bad: dict[str, Any], message: str) -> None:
    with pytest.raises(InputProblem, match="feature 1") as raised:
        read_footways(file_of(bad))
    assert message in str(raised.value)


def test_trees_and_lamps() -> None:
    known = feature("Point", [5.0, 52.0], height=13.5, diameter_crown="7.2 m")
    trees = read_trees(file_of(known, feature("MultiPoint", [[5.1, 52.1], [5.2, 52.2]], height=12)))
    assert (trees[0].height_m, trees[0].crown_radius_m, trees[0].assumed) == (13.5, 3.6, False)
    assert [(tree.longitude_deg, tree.latitude_deg, tree.assumed) for tree in trees[1:]] == [
        (5.1, 52.1, True),
        (5.2, 52.2, True),
    ]
    (lamp,) = read_lamps(file_of(feature("Point", [5.0, 52.0])))
    assert (lamp.latitude_deg, lamp.longitude_deg) == (52.0, 5.0)


PLACES = st.tuples(st.floats(-179, 179), st.floats(-89, 89))
METRES = st.floats(0.5, 900, allow_nan=False)


@st.composite
def houses(draw: st.DrawFn) -> BuildingDraft:
    """A star round a place, drawn either way round, sometimes with a courtyard."""
    x, y = draw(PLACES)
    radii = draw(st.lists(st.floats(0.0002, 0.0005), min_size=3, max_size=9))
    angles = [2 * math.pi * k / len(radii) for k in range(len(radii))]
    ring = tuple((x + r * math.cos(a), y + r * math.sin(a)) for a, r in zip(angles, radii, strict=True))
    yard = tuple((x + 0.00005 * math.cos(a), y + 0.00005 * math.sin(a)) for a in angles)
    rings = (ring[:: draw(st.sampled_from((1, -1)))], *([yard] if draw(st.booleans()) else []))
    bottom_m = draw(st.floats(0, 0.4))
    source = draw(st.sampled_from(("surveyed", "levels", "assumed")))
    return BuildingDraft(rings, draw(METRES), bottom_m, source, draw(METRES), draw(st.text(max_size=8)))


def canonical(building: BuildingDraft) -> tuple[Any, ...]:
    """Rings as sets of corners: where a ring starts and which way it runs says nothing."""
    rings = tuple(frozenset(ring) for ring in building.rings)
    return rings, building.top_m, building.bottom_m, building.height_source, building.doubt_m, building.name


@settings(max_examples=40, deadline=None)
@given(st.lists(houses(), max_size=4))
def test_buildings_come_back_as_they_went_out(buildings: list[BuildingDraft]) -> None:
    back = read_buildings(write_buildings(buildings).encode()).buildings
    assert [canonical(house) for house in back] == [canonical(house) for house in buildings]


@given(houses())
def test_outlines_go_out_counter_clockwise_and_courtyards_clockwise(house: BuildingDraft) -> None:
    (written,) = json.loads(write_buildings([house]))["features"]
    outline, *yards = (Polygon(ring).exterior for ring in written["geometry"]["coordinates"])
    assert outline.is_ccw
    assert not any(yard.is_ccw for yard in yards)


def test_footways_come_back_as_they_went_out() -> None:
    ways = (
        FootwayDraft(((5.0, 52.0), (5.001, 52.0)), 2.4, "sett", True, "steps"),
        FootwayDraft(((5.0, 52.0), (5.0, 52.001)), None, None, False),
        FootwayDraft(((5.0, 52.0), (5.0, 52.001)), None, None, None),
    )
    assert read_footways(write_footways(ways).encode()).footways == ways


@settings(max_examples=60, deadline=None)
@given(
    st.recursive(
        st.none() | st.booleans() | st.floats() | st.text(max_size=5) | st.sampled_from(["Polygon", "Feature"]),
        lambda inner: (
            st.lists(inner, max_size=4)
            | st.dictionaries(st.sampled_from(["type", "geometry", "properties", "coordinates", "height"]), inner)
        ),
        max_leaves=15,
    )
)
def test_no_json_at_all_brings_it_down(junk: Any) -> None:
    for raw in (json.dumps(junk).encode(), file_of(junk), file_of(feature("Polygon", junk), feature(str(junk), junk))):
        with suppress(InputProblem):  # any other exception fails the test
            assert read_buildings(raw).buildings == ()
