"""Rule areas from GeoJSON made elsewhere: imported, or refused by name with everything that is wrong."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LinearRing, MultiPolygon, Polygon
from shapely.geometry import shape as as_shape

from models.exchange.areas import LARGEST_BYTES, areas_collection, read_areas
from models.exchange.features import MOST_PROBLEMS
from models.problems import FileProblems, InputProblem
from models.rules.areas import KINDS, Area, AreaDraft

SQUARE = [[5.2, 52.5], [5.3, 52.5], [5.3, 52.6], [5.2, 52.6], [5.2, 52.5]]
HOLE = [[5.24, 52.54], [5.24, 52.56], [5.26, 52.56], [5.26, 52.54], [5.24, 52.54]]
BOW_TIE = [[5.2, 52.5], [5.3, 52.6], [5.3, 52.5], [5.2, 52.6], [5.2, 52.5]]
POINT = {"type": "Point", "coordinates": [5.2, 52.5]}
NOTED = {"name": "Canal park", "kind": "park", "authority": "Park office"}
COUNTER_CLOCKWISE = tuple(map(tuple, SQUARE))


def moved(ring, east=0.0, north=0.0):
    return [[longitude + east, latitude + north] for longitude, latitude in ring]


def polygon(*rings):
    return {"type": "Polygon", "coordinates": list(rings)}


def feature(geometry, **noted):
    return {"type": "Feature", "properties": {**NOTED, **noted}, "geometry": geometry}


def file_of(*features):
    return json.dumps({"type": "FeatureCollection", "features": features}).encode()


def read_one(geometry, **noted):
    (area,) = read_areas(file_of(feature(geometry, **noted)))
    return area


def problem_of(source):
    with pytest.raises(InputProblem) as problem:
        read_areas(source)
    return str(problem.value)


def refusal_of(geometry, **noted):
    return problem_of(file_of(feature(geometry, **noted)))


def test_all_that_a_file_says_is_read():
    noted = {"contact": "park@example.org", "web": "https://park.example", "no_passing": True, "holidays": "NL"}
    assert read_one(polygon(SQUARE, HOLE), **noted, notes="gate shut at ten") == AreaDraft(
        **NOTED, **noted, notes="gate shut at ten", shape=((COUNTER_CLOCKWISE, tuple(map(tuple, HOLE))),)
    )


def test_a_single_feature_is_a_file_too():
    (area,) = read_areas(json.dumps(feature(polygon(SQUARE))).encode())
    assert area.name == "Canal park"


def test_a_file_may_begin_with_a_byte_order_mark(tmp_path):
    path = tmp_path / "areas.geojson"
    path.write_bytes(b"\xef\xbb\xbf" + file_of(feature(polygon(SQUARE), name="Élan")))
    assert [area.name for area in read_areas(path)] == ["Élan"]


@pytest.mark.parametrize("outer", [SQUARE, SQUARE[::-1]])
@pytest.mark.parametrize("hole", [HOLE, HOLE[::-1]])
def test_rings_the_wrong_way_round_are_turned(outer, hole):
    """RFC 7946 section 3.1.6: outlines counter-clockwise, holes clockwise."""
    ((outline, inner),) = read_one(polygon(outer, hole)).shape
    assert LinearRing(outline).is_ccw
    assert not LinearRing(inner).is_ccw
    assert Polygon(outline, [inner]).equals(Polygon(SQUARE, [HOLE]))


def test_heights_are_left_aside():
    assert read_one(polygon([[*point, 12.5] for point in SQUARE])).shape == ((COUNTER_CLOCKWISE,),)


def test_a_multipolygon_is_one_area():
    parts = {"type": "MultiPolygon", "coordinates": [[SQUARE, HOLE], [moved(SQUARE, 0.2)]]}
    area = read_one(parts)
    assert [len(rings) for rings in area.shape] == [2, 1]
    assert MultiPolygon([(rings[0], rings[1:]) for rings in area.shape]).equals(as_shape(parts))


def test_a_collection_of_polygons_is_one_area():
    more = {"type": "MultiPolygon", "coordinates": [[moved(SQUARE, 0.2)], [moved(SQUARE, 0.4)]]}
    area = read_one({"type": "GeometryCollection", "geometries": [polygon(SQUARE), more]})
    assert [rings[0][0] for rings in area.shape] == [(5.2, 52.5), (5.4, 52.5), (5.2 + 0.4, 52.5)]


@pytest.mark.parametrize("apart", [0.05, 0.1])
def test_parts_that_overlap_or_share_a_side_are_joined(apart):
    parts = {"type": "MultiPolygon", "coordinates": [[SQUARE], [moved(SQUARE, apart)]]}
    ((outline,),) = read_one(parts).shape
    assert LinearRing(outline).is_ccw
    assert Polygon(outline).area == pytest.approx(0.1 * (0.1 + apart))


@pytest.mark.parametrize(("key", "words"), KINDS.items())
def test_a_kind_may_be_its_key_or_its_words(key, words):
    assert read_one(polygon(SQUARE), kind=key).kind == key
    assert read_one(polygon(SQUARE), kind=words.upper()).kind == key


@pytest.mark.parametrize(
    ("said", "meant"),
    [(True, True), ("yes", True), ("TRUE", True), (1, True), (False, False), ("no", False), (0, False), (None, False)],
)
def test_no_passing_as_people_write_it(said, meant):
    assert read_one(polygon(SQUARE), no_passing=said).no_passing is meant


def test_what_a_file_does_not_say_may_be_said_for_all_of_it():
    raw = feature(polygon(SQUARE))
    raw["properties"] = {"name": 12, "shape_area": 3}
    other = feature(polygon(SQUARE), kind="waterfront")
    areas = read_areas(file_of(raw, other), kind="car park", authority="Town council")
    assert [(area.name, area.kind, area.authority) for area in areas] == [
        ("12", "car_park", "Town council"),
        ("Canal park", "waterfront", "Park office"),
    ]


@pytest.mark.parametrize(
    ("noted", "problem"),
    [
        ({"name": None}, "feature 1: has no name"),
        ({"name": "  "}, "feature 1 '  ': has no name"),
        ({"name": ["a"]}, "feature 1: its name ['a'] is not text"),
        ({"authority": ""}, "feature 1 'Canal park': has no authority"),
        ({"kind": None}, "feature 1 'Canal park': has no kind"),
        ({"kind": "zoo"}, "feature 1 'Canal park': kind 'zoo' is not known; choose public_street, park, transit,"),
        ({"no_passing": "maybe"}, "feature 1 'Canal park': no_passing 'maybe' is neither true nor false"),
        ({"holidays": "Havenmark"}, "feature 1 'Canal park': holidays: “Havenmark” is not a place"),
        ({"web": "javascript:alert(1)"}, "feature 1 'Canal park': web: is not a web address"),
        ({"contact": {"tel": 1}}, "its contact {'tel': 1} is not text"),
        ({"notes": "x" * 5000}, "notes: 5000 characters; at most 4000"),
    ],
)
def test_what_is_noted_wrongly_is_refused_by_name(noted, problem):
    assert problem in refusal_of(polygon(SQUARE), **noted)


@pytest.mark.parametrize(
    ("geometry", "problem"),
    [
        (polygon(BOW_TIE), "its outline crosses or touches itself near latitude 52.55, longitude 5.25"),
        (polygon(SQUARE[:-1]), "a ring is not closed: repeat its first position at the end"),
        (polygon(SQUARE[:3]), "a polygon needs at least 4 positions"),
        (polygon([[5.2, 52.5], [5.3, 52.5], [5.4, 52.5], [5.2, 52.5]]), "its outline encloses nothing"),
        (polygon([SQUARE[0]] * 4), "its outline encloses nothing"),
        (polygon(SQUARE, moved(HOLE, 1.0)), "hole lies outside shell"),
        (polygon(SQUARE, HOLE, HOLE), "its outline crosses or touches itself"),
        (polygon(), "a polygon needs at least one ring"),
        (polygon([]), "a polygon needs at least 4 positions"),
        ({"type": "Polygon"}, "a polygon needs at least one ring"),
        ({"type": "Polygon", "coordinates": None}, "a polygon needs at least one ring"),
        ({"type": "MultiPolygon", "coordinates": []}, "its MultiPolygon is empty"),
        ({"type": "GeometryCollection", "geometries": []}, "its GeometryCollection is empty"),
        ({"type": "GeometryCollection", "geometries": [7]}, "holds something that is no geometry"),
        (
            {"type": "GeometryCollection", "geometries": [{"type": "Point", "coordinates": [5, 52]}]},
            "is a 'Point'; here",
        ),
        ({"type": "Point", "coordinates": [5.2, 52.5]}, "is a 'Point'; here a Polygon or MultiPolygon is wanted"),
        (None, "has no geometry"),
        (
            polygon([[52.5, 105.2], [52.5, 105.3], [52.6, 105.3], [52.5, 105.2]]),
            "longitude comes first: are the two swapped?",
        ),
        (polygon([*SQUARE[:2], [52.5, 5.3], *SQUARE[3:]]), "one of its corners is wrong or swapped"),
        (polygon([[621000, 5820000], [621100, 5820000], [621100, 5820100], [621000, 5820000]]), "not in degrees"),
        (polygon([[5.2, "52.5"], *SQUARE[1:]]), "is not a position"),
        (polygon([[5.2], *SQUARE[1:]]), "is not a position"),
        (polygon([[1e400, 52.5], *SQUARE[1:]]), "holds Infinity, which is no number"),
        (polygon([[float("nan"), 52.5], *SQUARE[1:]]), "holds NaN, which is no number"),
        (
            polygon([[179.9, -17], [-179.9, -17], [-179.9, -16.8], [179.9, -16.8], [179.9, -17]]),
            "it goes over 180 degrees of longitude: cut it there",
        ),
    ],
)
def test_a_wrong_outline_is_refused_by_name(geometry, problem):
    assert problem in refusal_of(geometry)


def test_an_area_cut_at_180_degrees_comes_in():
    """As RFC 7946 section 3.1.9 asks."""
    west, east = moved(SQUARE, 174.7, -69.5), moved(SQUARE, -185.2, -69.5)
    area = read_one({"type": "MultiPolygon", "coordinates": [[west], [east]]})
    assert [rings[0][0][0] for rings in area.shape] == pytest.approx([179.9, -180.0])


def test_an_outline_of_too_many_points_is_refused():
    ring = [[5.2 + k * 1e-6, 52.5] for k in range(20_001)] + [[5.21, 52.6], [5.2, 52.5]]
    assert "20003 points; at most 20000: simplify it" in refusal_of(polygon(ring))


def test_everything_wrong_with_a_file_is_said_at_once():
    wrong = [
        feature(polygon(SQUARE), kind="zoo"),
        feature(polygon(SQUARE)),
        feature(polygon(BOW_TIE), name="Quay"),
        feature(polygon(SQUARE), name=""),
        "no feature",
    ]
    with pytest.raises(FileProblems) as problems:
        read_areas(file_of(*wrong))
    assert [problem.field for problem in problems.value.problems] == [
        "feature 1 'Canal park'",
        "feature 3 'Quay'",
        "feature 4",
        "feature 5",
    ]


def test_of_ten_thousand_wrong_features_the_first_are_named():
    with pytest.raises(FileProblems) as problems:
        read_areas(file_of(*[feature(polygon(BOW_TIE))] * 10_000))
    assert len(problems.value.problems) == MOST_PROBLEMS


def test_ten_thousand_areas_come_in():
    many = [feature(polygon(SQUARE), name=f"area {number}") for number in range(10_000)]
    assert [area.name for area in read_areas(file_of(*many))[::9999]] == ["area 0", "area 9999"]


@pytest.mark.parametrize(
    ("raw", "problem"),
    [
        (b"", "file: is not JSON"),
        (b"name,kind\nCanal park,park\n", "file: is not JSON"),
        (b"\xff\xfe{\x00}", "file: is not UTF-8 text"),
        (b"[]", "file: this JSON is not GeoJSON"),
        (b'{"type": "Topology"}', "file: is a 'Topology'; a FeatureCollection is wanted"),
        (b'{"type": "FeatureCollection"}', "file: its “features” is not a list"),
        (b"[" * 100_000, "file: is nested too deeply"),
        (
            b'{"type": "FeatureCollection", "crs": {"properties": {"name": "EPSG:28992"}}}',
            "names the coordinate system",
        ),
        (bytes(LARGEST_BYTES + 1), "is 20 MB; at most 20 MB"),
    ],
)
def test_what_is_no_geojson_is_refused(raw, problem):
    assert problem in problem_of(raw)


def test_a_file_too_large_is_refused_unread(tmp_path):
    path = tmp_path / "areas.geojson"
    with path.open("wb") as file:
        file.truncate(LARGEST_BYTES * 10)
    assert "is 200 MB; at most 20 MB" in problem_of(path)
    assert "cannot be read" in problem_of(tmp_path / "nowhere.geojson")


def test_no_areas_are_no_areas():
    assert read_areas(file_of()) == ()
    assert areas_collection(()) == {"type": "FeatureCollection", "features": []}


def test_what_goes_out_comes_back_the_same():
    parts = {"type": "MultiPolygon", "coordinates": [[SQUARE, HOLE], [moved(SQUARE, 0.2)]]}
    plain, full = (
        read_one(polygon(SQUARE)),
        read_one(parts, name="Quay <b>", no_passing="yes", notes="a\nb", holidays="DE-BE"),
    )
    collection = areas_collection((plain, full))
    assert read_areas(json.dumps(collection).encode()) == (plain, full)
    assert [each["geometry"]["type"] for each in collection["features"]] == ["Polygon", "MultiPolygon"]
    assert not any("id" in each for each in collection["features"])


def test_an_area_that_is_kept_goes_out_with_its_number_and_its_rings_turned():
    draft = read_one(polygon(SQUARE))
    backwards = replace(draft, shape=((COUNTER_CLOCKWISE[::-1],),))
    kept = Area(**{name: getattr(backwards, name) for name in backwards.__dataclass_fields__}, id=7, version=3)
    (out,) = areas_collection([kept])["features"]
    assert out["id"] == 7
    assert LinearRing(out["geometry"]["coordinates"][0]).is_ccw
    assert "version" not in out["properties"]


def outcome(source):
    try:
        return read_areas(source)
    except InputProblem as problem:
        return problem.field


@given(raw=st.binary(max_size=60) | st.text(max_size=60).map(str.encode))
def test_whatever_comes_is_read_or_refused(raw):
    assert outcome(raw) in ("file", ())


JSON = st.recursive(
    st.none() | st.booleans() | st.floats(-200, 200) | st.text(max_size=6),
    lambda inner: st.lists(inner, max_size=5) | st.dictionaries(st.sampled_from(["type", "coordinates"]), inner),
    max_leaves=12,
)


@given(geometry=JSON, kind=st.sampled_from(["Polygon", "MultiPolygon", "GeometryCollection"]))
def test_whatever_stands_for_a_geometry_is_read_or_refused_by_name(geometry, kind):
    found = outcome(file_of(feature({"type": kind, "coordinates": geometry, "geometries": geometry})))
    assert found == "feature 1 'Canal park'" or len(found) == 1
