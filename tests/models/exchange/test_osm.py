"""OpenStreetMap files: a hand-written one, real Helsinki counted another way, and files that are none."""

from __future__ import annotations

import hashlib
import sys
from collections import Counter
from pathlib import Path

import osmium
import pytest

from models.exchange.heights import HeightRule
from models.exchange.osm import TownRead, read_osm
from models.problems import InputProblem
from models.street.town import Box

HELSINKI = Path(__file__).parents[2] / "data" / "helsinki" / "helsinki-centre.osm.pbf"
SHA256 = "b73e9c2c82054d654209b0127f1c3287d5900d6780a6083bf3a45ead8ba3e5ee"


TOLD: list[str] = []


@pytest.fixture(scope="module")
def helsinki() -> TownRead:
    return read_osm(HELSINKI, progress=TOLD.append)


def test_the_file_is_the_one_its_readme_describes() -> None:
    assert hashlib.sha256(HELSINKI.read_bytes()).hexdigest() == SHA256


def test_helsinki_holds_what_its_readme_counted(helsinki: TownRead) -> None:
    """The figures of tests/data/helsinki/README.md."""
    expected = {"areas": 572, "height": 34, "levels": 232, "neither": 306, "courtyards": 72, "trees": 649, "lamps": 586}
    assert {key: helsinki.counts[key] for key in expected} == expected
    assert len(helsinki.town.trees) == 649
    assert len(helsinki.town.lamps) == 586


def test_helsinki_counted_by_osmium_alone(helsinki: TownRead) -> None:
    """Independent of our reader: open roofs and walkable ways straight from the file."""
    count: Counter[str] = Counter()
    for thing in osmium.FileProcessor(str(HELSINKI)).with_areas():
        if thing.is_area() and ("building" in thing.tags or "building:part" in thing.tags):
            count["roofs"] += "roof" in (thing.tags.get("building"), thing.tags.get("building:part"))
        if thing.is_way() and "building" in thing.tags:
            count["closed"] += thing.is_closed()
    assert helsinki.counts["roofs"] == count["roofs"] == 11
    assert len(helsinki.town.buildings) > 500


def test_helsinki_says_what_was_assumed(helsinki: TownRead) -> None:
    sources = Counter(building.height_source for building in helsinki.town.buildings)
    assert sources["assumed"] > 250
    assert all(building.doubt_m >= 1.0 for building in helsinki.town.buildings)
    assert helsinki.notes[0] == "Heights: 30 as given, 232 from storeys, 299 assumed."
    assert any("16 m (the middle of the heights known here)" in note for note in helsinki.notes)
    assert "© OpenStreetMap contributors" in helsinki.town.attribution


def test_helsinkis_messy_heights_are_understood(helsinki: TownRead) -> None:
    """ "12.13 m", "48.5 m" and "18.03" stand in the file as text."""
    tops = {building.top_m for building in helsinki.town.buildings if building.height_source == "surveyed"}
    assert {12.13, 48.5, 18.03} <= tops


def test_a_box_takes_a_part_and_nothing_far_outside(helsinki: TownRead) -> None:
    box = Box(south=60.168, west=24.940, north=60.171, east=24.945)
    part = read_osm(HELSINKI, box)
    assert 0 < len(part.town.buildings) < len(helsinki.town.buildings)
    assert all(box.south <= tree.latitude_deg <= box.north for tree in part.town.trees)
    for building in part.town.buildings:
        longitudes, latitudes = zip(*building.rings[0], strict=True)
        assert max(longitudes) > box.west - 0.003
        assert min(latitudes) < box.north + 0.003


def test_progress_is_told(helsinki: TownRead) -> None:
    assert TOLD[-1] == "561 buildings read; fitting parts to their outlines"


NODES = """
<node id="1" lat="52.0000" lon="5.0000"/><node id="2" lat="52.0000" lon="5.0010"/>
<node id="3" lat="52.0010" lon="5.0010"/><node id="4" lat="52.0010" lon="5.0000"/>
<node id="5" lat="52.0003" lon="5.0003"/><node id="6" lat="52.0003" lon="5.0006"/>
<node id="7" lat="52.0006" lon="5.0006"/><node id="8" lat="52.0006" lon="5.0003"/>
<node id="9" lat="52.0020" lon="5.0020"><tag k="natural" v="tree"/><tag k="height" v="40 ft"/>
  <tag k="diameter_crown" v="8"/></node>
<node id="10" lat="52.0021" lon="5.0020"><tag k="highway" v="street_lamp"/></node>
"""
OUTLINE = '<nd ref="1"/><nd ref="2"/><nd ref="3"/><nd ref="4"/><nd ref="1"/>'
INNER = '<nd ref="5"/><nd ref="6"/><nd ref="7"/><nd ref="8"/><nd ref="5"/>'


def town_of(tmp_path: Path, *things: str, rule: HeightRule | None = None, box: Box | None = None) -> TownRead:
    path = tmp_path / "town.osm"
    path.write_text(f'<osm version="0.6">{NODES}{"".join(things)}</osm>', "utf-8")
    return read_osm(path, box, rule=rule or HeightRule())


def way(number: int, refs: str, **tags: str) -> str:
    noted = "".join(f'<tag k="{key.replace("__", ":")}" v="{value}"/>' for key, value in tags.items())
    return f'<way id="{number}">{refs}{noted}</way>'


def test_a_house_a_tree_and_a_lamp(tmp_path: Path) -> None:
    read = town_of(tmp_path, way(1, OUTLINE, building="yes", building__levels="3", name="Corner"))
    (house,) = read.town.buildings
    assert house.rings == (((5.0, 52.0), (5.001, 52.0), (5.001, 52.001), (5.0, 52.001)),)
    assert (house.top_m, house.height_source, house.name) == (pytest.approx(9.6), "levels", "Corner")
    (tree,) = read.town.trees
    assert (tree.height_m, tree.crown_radius_m, tree.assumed) == (pytest.approx(12.192), 4.0, False)
    assert (read.town.lamps[0].latitude_deg, read.town.lamps[0].longitude_deg) == (52.0021, 5.002)


def test_a_box_may_cross_the_date_line(tmp_path: Path) -> None:
    east_of_here = Box(south=51, west=170, north=53, east=-170)
    with pytest.raises(InputProblem, match="there is no building, tree, footway or street lamp in that box"):
        town_of(tmp_path, way(1, OUTLINE, building="yes"), box=east_of_here)
    all_but_that = Box(south=51, west=-169, north=53, east=169)
    assert len(town_of(tmp_path, way(1, OUTLINE, building="yes"), box=all_but_that).town.buildings) == 1


def test_the_height_of_a_storey_can_be_set(tmp_path: Path) -> None:
    read = town_of(tmp_path, way(1, OUTLINE, building="yes", building__levels="3"), rule=HeightRule(4.0, 7.0))
    assert read.town.buildings[0].top_m == 12.0
    assert "A storey is taken as 4 m" in read.notes[1]
    unknown = town_of(tmp_path, way(1, OUTLINE, building="yes"), rule=HeightRule(4.0, 7.0))
    assert (unknown.town.buildings[0].top_m, unknown.town.buildings[0].doubt_m) == (7.0, 3.5)


def test_a_courtyard_from_a_relation(tmp_path: Path) -> None:
    relation = (
        '<relation id="1"><member type="way" ref="1" role="outer"/><member type="way" ref="2" role="inner"/>'
        '<tag k="type" v="multipolygon"/><tag k="building" v="yes"/><tag k="height" v="14"/></relation>'
    )
    (house,) = town_of(tmp_path, way(1, OUTLINE), way(2, INNER), relation).town.buildings
    assert [len(ring) for ring in house.rings] == [4, 4]
    assert house.top_m == 14.0


def test_a_part_stands_in_its_outline(tmp_path: Path) -> None:
    tower = way(2, INNER, building__part="yes", height="30")
    read = town_of(tmp_path, way(1, OUTLINE, building="yes", height="10"), tower)
    assert sorted((house.top_m, len(house.rings)) for house in read.town.buildings) == [(10.0, 2), (30.0, 1)]
    assert "1 building parts stand in place of their outlines" in " ".join(read.notes)


def test_what_has_no_walls_above_ground_is_left_out_and_counted(tmp_path: Path) -> None:
    read = town_of(
        tmp_path,
        way(1, OUTLINE, building="roof"),
        way(2, INNER, building="yes", layer="-1"),
        way(3, INNER, building="no"),
        way(4, INNER, building="yes", location="underground"),
        way(5, '<nd ref="1"/><nd ref="2"/>', highway="footway"),
    )
    assert read.town.buildings == ()
    assert (read.counts["roofs"], read.counts["underground"], read.counts["not built"]) == (1, 2, 1)


def test_ways_with_width_surface_and_light(tmp_path: Path) -> None:
    line = '<nd ref="1"/><nd ref="2"/>'
    read = town_of(
        tmp_path,
        way(1, line, highway="footway", width="8 ft", surface="sett", lit="yes"),
        way(2, line, highway="steps", lit="disused"),
        way(3, line, highway="footway", tunnel="yes"),
        way(4, line, highway="footway", tunnel="building_passage", covered="no"),
        way(5, line, highway="motorway"),
        way(6, line, highway="residential", foot="no"),
        way(7, line, highway="construction"),
    )
    first, steps, passage = read.town.footways
    assert (first.width_m, first.surface, first.lit, first.kind) == (pytest.approx(2.4384), "sett", True, "footway")
    assert (steps.width_m, steps.lit, steps.kind) == (None, False, "steps")
    assert passage.kind == "footway"
    assert (read.counts["ways hidden"], read.counts["passages"]) == (1, 1)


def test_a_way_that_leaves_the_file_keeps_the_stretches_inside(tmp_path: Path) -> None:
    refs = '<nd ref="1"/><nd ref="2"/><nd ref="999"/><nd ref="3"/><nd ref="4"/><nd ref="998"/><nd ref="5"/>'
    read = town_of(tmp_path, way(1, refs, highway="path"))
    assert [len(path.line) for path in read.town.footways] == [2, 2]


def test_an_outline_that_leaves_the_file_is_missing_and_said(tmp_path: Path) -> None:
    read = town_of(tmp_path, way(1, OUTLINE.replace('"3"', '"999"'), building="yes"))
    assert read.town.buildings == ()
    assert "1 outlines are not closed in this file" in " ".join(read.notes)


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("text.txt", b"hello"),
        ("empty.osm", b""),
        ("cut.osm", b'<osm version="0.6"><node id="1" lat="5'),
        ("html.osm", b"<html><body>429 Too many requests</body></html>"),
        ("noise.osm.pbf", bytes(range(256)) * 20),
        ("cut.osm.pbf", HELSINKI.read_bytes()[:200_000]),
        ("swapped.osm", b'<osm version="0.6"><node id="1" lat="195" lon="5"><tag k="natural" v="tree"/></node></osm>'),
    ],
)
def test_a_file_that_is_none_is_refused(tmp_path: Path, name: str, content: bytes) -> None:
    path = tmp_path / name
    path.write_bytes(content)
    with pytest.raises(InputProblem) as raised:
        read_osm(path)
    assert raised.value.field == "file"


def test_a_missing_file_is_said(tmp_path: Path) -> None:
    with pytest.raises(InputProblem, match=r"file: is no OpenStreetMap file that can be read: .*No such file"):
        read_osm(tmp_path / "none.osm.pbf")


def test_without_the_package_it_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "osmium", None)
    with pytest.raises(InputProblem, match=r"pip install 'kerbstand\[osm\]'"):
        read_osm(HELSINKI)
