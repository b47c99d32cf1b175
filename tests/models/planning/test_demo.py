"""The demo town: what it must hold, where its spots stand, and when its database is built anew."""

from __future__ import annotations

import json
import shutil
import sqlite3
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from shapely import LineString, Point, Polygon, get_parts, union_all

from models.light.battery import BatterySet
from models.light.kit import Camera, Flash, Modifier, Trigger
from models.planning.demo import HAVENMARK, files_stamp, open_demo
from models.planning.street.counts import footfall_of
from models.problems import InputProblem
from models.store.engine import Store
from models.store.kit import list_kit
from models.store.spots import Spot, add_spot, count_spots, find_spot, list_spots
from models.store.town import BuildingRow, buildings_in, in_metres, list_imports, packed_walls_near, trees_near
from models.street.plane import LocalPlane
from models.street.scene import lowered
from models.street.skyline import MEASURED, skyline_of
from models.street.town import Box

EVERYWHERE = Box(52.5, 5.2, 52.56, 5.26)
PLANE = LocalPlane(52.53, 5.23)


@pytest.fixture(scope="module")
def town(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    store = open_demo(tmp_path_factory.mktemp("demo") / "demo.sqlite3")
    yield store
    store.close()


@pytest.fixture(scope="module")
def spots(town: Store) -> dict[str, Spot]:
    with town.reading() as s:
        return {spot.name: spot for spot in list_spots(s)}


@pytest.fixture(scope="module")
def buildings(town: Store) -> tuple[BuildingRow, ...]:
    with town.reading() as s:
        return buildings_in(s, EVERYWHERE)


def footprint(building: BuildingRow) -> Polygon:
    rings = in_metres(building, PLANE).rings
    return Polygon(rings[0], rings[1:])


def place_of(spot: Spot) -> Point:
    east, north = PLANE.to_metres(spot.latitude_deg, spot.longitude_deg)
    return Point(float(east), float(north))


def ground_features() -> dict[str, Polygon]:
    shapes = {}
    for feature in json.loads((HAVENMARK / "ground.geojson").read_text("utf-8"))["features"]:
        ring = np.array(feature["geometry"]["coordinates"][0])
        shapes[feature["properties"]["name"]] = Polygon(np.column_stack(PLANE.to_metres(ring[:, 1], ring[:, 0])))
    return shapes


def test_it_holds_what_a_town_needs(town: Store, spots: dict[str, Spot]) -> None:
    with town.reading() as s:
        (row,) = list_imports(s)
        assert (row.name, row.attribution) == ("Havenmark", "Havenmark, an invented town")
        assert row.buildings >= 150
        assert f"{row.buildings} footprints" in (HAVENMARK / "README.md").read_text("utf-8")
        assert 0 < row.assumed_buildings < row.buildings / 10
        assert min(row.trees, row.footways, row.lamps) >= 40
        kit = tuple(list_kit(s, kind) for kind in (Flash, Modifier, Camera, Trigger, BatterySet))
        assert [len(pieces) for pieces in kit] == [4, 9, 2, 2, 4]
        first = kit[0][0]
        assert first.name == "small flash, guide number 20"
        assert first.guide_numbers[0][1] == 20
    assert len(spots) == 10


def test_it_lies_in_the_lake_in_amsterdams_zone(spots: dict[str, Spot], buildings: tuple[BuildingRow, ...]) -> None:
    assert {spot.zone for spot in spots.values()} == {"Europe/Amsterdam"}
    corners = [point for building in buildings for point in building.rings[0]]
    assert all(5.222 < longitude < 5.238 and 52.526 < latitude < 52.534 for longitude, latitude in corners)


def test_every_spot_has_its_scouting_notes(spots: dict[str, Spot]) -> None:
    for spot in spots.values():
        for field in ("footfall_note", "shade_note", "surface_note", "hazards", "facilities", "controller"):
            assert len(getattr(spot, field)) > 4, (spot.name, field)
        assert spot.wall_surface
        assert spot.ground_surface
    assert sum(bool(spot.measured) for spot in spots.values()) == 2
    assert sum(bool(spot.canopies) for spot in spots.values()) >= 3
    assert sum(spot.night_ev100 is not None for spot in spots.values()) >= 2
    assert sum(spot.lighting_class is not None for spot in spots.values()) >= 4
    assert {spot.roof for spot in spots.values()} == {"none", "arcade", "underpass"}


def test_spots_stand_in_the_open_on_land_or_where_they_say(
    spots: dict[str, Spot], buildings: tuple[BuildingRow, ...]
) -> None:
    ground = ground_features()
    shapes = {building.id: footprint(building) for building in buildings}
    for spot in spots.values():
        here = place_of(spot)
        assert ground["Havenmark island"].contains(here), spot.name
        assert not ground["Rope Canal"].contains(here), spot.name
        solid = [shapes[b.id] for b in buildings if b.bottom_m < 2 and b.top_m > spot.floor_m]
        assert min(shape.distance(here) for shape in solid) > 0.8, spot.name
        over = {b.name for b in buildings if b.bottom_m >= 2 and shapes[b.id].contains(here)}
        assert bool(over) == (spot.roof != "none"), spot.name
    deck = next(b for b in buildings if b.name == "Hall Deck car park")
    assert footprint(deck).contains(place_of(spots["Hall Deck, top floor"]))
    assert deck.top_m == spots["Hall Deck, top floor"].floor_m


def test_no_two_houses_stand_in_one_another(buildings: tuple[BuildingRow, ...]) -> None:
    """A lantern on a roof apart: it starts where the roof ends."""
    shapes = [footprint(b) for b in buildings if b.name != "Market Hall lantern"]
    assert all(shape.is_valid for shape in shapes)
    overlap = sum(shape.area for shape in shapes) - union_all(shapes).area
    assert overlap < 0.002 * union_all(shapes).area


def test_foundry_lane_is_nine_metres_wide(buildings: tuple[BuildingRow, ...]) -> None:
    west, east = (footprint(next(b for b in buildings if b.name == name)) for name in ("Old Brewery", "Old Foundry"))
    for north in (35, 45, 58, 70, 80):
        across = LineString([(95, north), (125, north)])
        gaps = get_parts(across.difference(west).difference(east))
        between = next(gap for gap in gaps if west.distance(gap) < 0.1 and east.distance(gap) < 0.1)
        assert between.length == pytest.approx(9.1, abs=0.2)  # the line crosses the lane a little aslant


def test_streets_are_nine_to_twenty_metres_wide(buildings: tuple[BuildingRow, ...]) -> None:
    """Widths as noted, and no house stands in a street; Market Hall and arcade are open ground of their own."""
    noted = json.loads((HAVENMARK / "footways.geojson").read_text("utf-8"))["features"]
    streets = [f for f in noted if f["properties"]["highway"] in ("residential", "living_street", "service")]
    assert len(streets) >= 10
    built = union_all([footprint(b) for b in buildings if b.bottom_m < 2])
    for street in streets:
        width = street["properties"]["width"]
        assert 9 <= width <= 20
        line = np.array(street["geometry"]["coordinates"])
        middle = LineString(np.column_stack(PLANE.to_metres(line[:, 1], line[:, 0])))
        carriage = middle.buffer(width / 2 - 0.5, cap_style="flat")
        assert carriage.intersection(built).area < 0.01 * carriage.area, street["properties"]["name"]


def test_skylines_are_those_of_the_places(town: Store, spots: dict[str, Spot]) -> None:
    """A quay that looks west over water, a deep lane, an open deck, a court measured all round."""

    def skyline(name: str):  # type: ignore[no-untyped-def]
        spot = spots[name]
        with town.reading() as s:
            walls = packed_walls_near(s, spot.latitude_deg, spot.longitude_deg).walls
        return skyline_of(lowered(walls, spot.floor_m), spot.canopies, spot.measured)

    quay, lane, deck, court = map(skyline, ("West Quay", "Foundry Lane", "Hall Deck, top floor", "Almshouse Court"))
    assert quay.at([240, 270, 300]).max() < 1
    assert quay.at([80, 100]).min() > 20
    assert lane.at([80, 270]).min() > 60
    assert np.median(deck.elevation_deg) < 6
    assert (court.obstacle == MEASURED).all()
    assert skyline("Town Hall Arcade").roof
    assert skyline("Station Road underpass").roof


def test_the_avenue_has_two_rows_of_trees(town: Store, spots: dict[str, Spot]) -> None:
    spot = spots["Linden Walk"]
    with town.reading() as s:
        trees = trees_near(s, spot.latitude_deg, spot.longitude_deg, 60)
    along = np.array(
        [np.cos(np.radians(67)), -np.sin(np.radians(67))]
    )  # across the walk, which runs to about 67 degrees
    beside = np.array([(tree.east_m, tree.north_m) for tree in trees if tree.crown_radius_m < 4.5]) @ along
    assert (beside > 3).sum() >= 5
    assert (beside < -3).sum() >= 5


def test_the_files_are_what_the_plan_draws(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from sample_locations import draw_havenmark

    shutil.copy(HAVENMARK / "spots.geojson", tmp_path)
    monkeypatch.setattr(draw_havenmark, "FOLDER", tmp_path)
    draw_havenmark.main()
    for name in ("buildings", "footways", "lamps", "trees", "ground", "areas"):
        drawn, shipped = (json.loads((at / f"{name}.geojson").read_text())["features"] for at in (tmp_path, HAVENMARK))
        assert [feature["properties"] for feature in drawn] == [feature["properties"] for feature in shipped], name
        for new, old in zip(drawn, shipped, strict=True):  # 2e-7 degrees: two centimetres, where the libraries round
            assert np.allclose(corners(new), corners(old), atol=2e-7, rtol=0)


def corners(feature: dict[str, Any]) -> list[list[float]]:
    coordinates = feature["geometry"]["coordinates"]
    kind = feature["geometry"]["type"]
    return [point for ring in coordinates for point in ring] if kind == "Polygon" else coordinates


def test_what_was_typed_stays_while_the_files_stay(tmp_path: Path) -> None:
    path = tmp_path / "deep" / "demo.sqlite3"
    store = open_demo(path)
    with store.writing() as s:
        add_spot(s, replace(find_spot(s, "Linden Walk").draft, name="My own"))
    store.close()
    again = open_demo(path)
    with again.reading() as s:
        assert count_spots(s) == 11
    again.close()


def test_other_files_build_it_anew(tmp_path: Path) -> None:
    folder = tmp_path / "town"
    shutil.copytree(HAVENMARK, folder)
    path = tmp_path / "demo.sqlite3"
    first = open_demo(path, folder)
    with first.writing() as s:
        add_spot(s, replace(find_spot(s, "Linden Walk").draft, name="My own"))
    first.close()
    for spots in (folder / "spots.geojson", folder / "counts.csv"):
        spots.write_text(spots.read_text("utf-8").replace("Foundry Yard", "Forge Yard"), "utf-8")
    assert files_stamp(folder) != files_stamp()
    second = open_demo(path, folder)
    with second.reading() as s:
        assert count_spots(s) == 10
        assert find_spot(s, "Forge Yard").id == 9
    second.close()


def test_a_build_that_was_broken_off_is_done_again(tmp_path: Path) -> None:
    path = tmp_path / "demo.sqlite3"
    folder = tmp_path / "town"
    shutil.copytree(HAVENMARK, folder)
    (folder / "kit.toml").write_text("[[flash]]\n", "utf-8")
    with pytest.raises(InputProblem):
        open_demo(path, folder)
    store = open_demo(path)
    with store.reading() as s:
        assert (count_spots(s), len(list_kit(s, Flash))) == (10, 4)
    store.close()


@pytest.mark.parametrize("content", ["a database of somebody's", "text"])
def test_no_other_file_is_ever_overwritten(tmp_path: Path, content: str) -> None:
    path = tmp_path / "mine.sqlite3"
    if content == "text":
        path.write_text("my diary, which is long enough to be looked at by SQLite " * 20)
    else:
        other = sqlite3.connect(path)
        other.execute("CREATE TABLE diary (line TEXT)")
        other.execute("INSERT INTO diary VALUES ('today')")
        other.commit()
        other.close()
    before = path.read_bytes()
    with pytest.raises(InputProblem, match="is not a demo database; move it away first"):
        open_demo(path)
    if content == "text":
        assert path.read_bytes() == before
    else:
        with sqlite3.connect(path) as kept:
            assert kept.execute("SELECT line FROM diary").fetchall() == [("today",)]
        kept.close()


def test_every_spot_was_counted_on_two_kinds_of_day(tmp_path: Path) -> None:
    store = open_demo(tmp_path / "demo.sqlite3")
    with store.reading() as s:
        spots = list_spots(s)
    found, _ = footfall_of(store, spots)
    store.close()
    assert {spot.id for spot in spots} == set(found)
    assert all(len({kind for kind, _ in each.rates}) >= 2 for each in found.values())
