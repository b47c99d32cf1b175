"""Imports: saved whole and told in sentences, or not saved at all."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from models.planning.imports import import_buildings, import_footways, import_osm, import_spots
from models.problems import InputProblem
from models.store.engine import Store, open_store, upgrade
from models.store.settings import put_setting
from models.store.spots import count_spots, find_spot, list_spots
from models.store.town import buildings_in, list_imports, packed_walls_near, trees_near
from models.street.town import Box

HELSINKI = Path(__file__).parents[2] / "data" / "helsinki" / "helsinki-centre.osm.pbf"
SENATE_SIDE = Box(south=60.168, west=24.948, north=60.171, east=24.9534)


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    store = open_store(f"sqlite:///{tmp_path / 'town.sqlite3'}")
    upgrade(store)
    yield store
    store.close()


def file_of(*features: dict[str, Any]) -> bytes:
    return json.dumps({"type": "FeatureCollection", "features": list(features)}).encode()


def house(x: float = 5.0, y: float = 52.0, **properties: Any) -> dict[str, Any]:
    ring = [[x, y], [x + 0.001, y], [x + 0.001, y + 0.001], [x, y + 0.001], [x, y]]
    return {"type": "Feature", "properties": properties, "geometry": {"type": "Polygon", "coordinates": [ring]}}


def spot(name: str, x: float, y: float, **properties: Any) -> dict[str, Any]:
    point = {"type": "Point", "coordinates": [x, y]}
    return {"type": "Feature", "properties": {"name": name, **properties}, "geometry": point}


def kept(store: Store) -> tuple[int, int]:
    """Imports and spots in the database."""
    with store.reading() as s:
        return len(list_imports(s)), count_spots(s)


def test_helsinki_whole(store: Store) -> None:
    told: list[str] = []
    report = import_osm(store, HELSINKI, progress=told.append)
    assert told[-1] == "saving"
    assert (report.name, report.trees, report.lamps) == ("helsinki-centre", 649, 586)
    assert report.words[0].startswith("Brought in as “helsinki-centre”: 577 buildings, 649 trees, 2,078 footways")
    assert report.words[1] == "They lie between latitude 60.1642 and 60.1791, longitude 24.9352 and 24.9534."
    assert report.assumed_buildings > 250
    with store.reading() as s:
        (row,) = list_imports(s)
        assert (row.buildings, row.assumed_buildings) == (report.buildings, report.assumed_buildings)
        assert "© OpenStreetMap contributors" in row.attribution
        near = packed_walls_near(s, 60.1719, 24.9414)
        assert near.buildings > 100
        assert 0 < near.assumed_buildings < near.buildings
        assert len(near.walls) > 1000
        assert len(trees_near(s, 60.1719, 24.9414)) > 50


def test_a_box_of_helsinki_and_again(store: Store) -> None:
    first = import_osm(store, HELSINKI, SENATE_SIDE, name="centre")
    again = import_osm(store, HELSINKI, SENATE_SIDE, name="centre")
    assert 0 < first.buildings < 300
    assert first.buildings == again.buildings
    assert again.words[1] == "It takes the place of the earlier import “centre”."
    assert kept(store) == (1, 0)


def test_storeys_are_as_high_as_the_settings_say(store: Store) -> None:
    with store.writing() as s:
        put_setting(s, "storey_height_m", 4.0)
        put_setting(s, "assumed_height_m", 6.0)
    import_buildings(store, file_of(house(**{"building:levels": 3}), house(5.002)), name="two")
    with store.reading() as s:
        rows = buildings_in(s, Box(51.9, 4.9, 52.1, 5.1))
        assert [(row.top_m, row.height_source) for row in rows] == [(12.0, "levels"), (6.0, "assumed")]
        assert list_imports(s)[0].assumed_buildings == 1


def test_buildings_from_a_file_are_called_after_it(store: Store, tmp_path: Path) -> None:
    path = tmp_path / "old town.geojson"
    path.write_bytes(file_of(house(name="Hall", height="40 ft")))
    report = import_buildings(store, path)
    assert report.words[0] == "Brought in as “old town (buildings)”: 1 building."
    assert "height '40 ft' is 12.2 m" in report.words[-1]


def test_footways(store: Store) -> None:
    line = {"type": "LineString", "coordinates": [[5.0, 52.0], [5.001, 52.0]]}
    way = {"type": "Feature", "properties": {"width": 2.4}, "geometry": line}
    report = import_footways(store, file_of(way), name="ways")
    assert report.footways == 1
    assert report.words == (
        "Brought in as “ways”: 1 footway.",
        "They lie between latitude 52.0000 and 52.0000, longitude 5.0000 and 5.0010.",
        "Footways: 1, of which 0 without a width.",
    )


def test_one_bad_feature_and_nothing_is_saved(store: Store) -> None:
    import_buildings(store, file_of(house(name="Hall", height=12)), name="town")
    bad = house(5.002, height=9)
    bad["geometry"]["coordinates"][0] = bad["geometry"]["coordinates"][0][:2]
    with pytest.raises(InputProblem, match="feature 2: a polygon needs at least 4 positions"):
        import_buildings(store, file_of(house(height=3), bad), name="town")
    with store.reading() as s:
        assert [(row.name, row.top_m) for row in buildings_in(s, Box(51.9, 4.9, 52.1, 5.1))] == [("Hall", 12.0)]


def test_a_file_cut_off_leaves_the_earlier_import(store: Store, tmp_path: Path) -> None:
    import_osm(store, HELSINKI, SENATE_SIDE, name="centre")
    cut = tmp_path / "centre.osm.pbf"
    cut.write_bytes(HELSINKI.read_bytes()[:300_000])
    with pytest.raises(InputProblem, match="file"):
        import_osm(store, cut, name="centre")
    with store.reading() as s:
        assert list_imports(s)[0].buildings > 0


def test_what_the_store_refuses_leaves_nothing_behind(store: Store) -> None:
    with pytest.raises(InputProblem):
        import_buildings(store, file_of(house(y=89.9995)), name="pole")
    assert kept(store) == (0, 0)


def test_spots_get_the_zone_of_their_place(store: Store) -> None:
    """A swap of latitude and longitude cannot pass: latitude 151 does not exist."""
    report = import_spots(store, file_of(spot("Quay", 151.2153, -33.8568), spot("Lane", 24.9414, 60.1719)))
    assert report.spots == 2
    assert report.words == ("2 spots brought in.", "Time zone: Australia/Sydney, Europe/Helsinki.")
    with store.reading() as s:
        assert find_spot(s, "Quay").zone == "Australia/Sydney"
        assert find_spot(s, "Quay").latitude_deg == -33.8568


def test_the_zone_can_be_set_for_all(store: Store) -> None:
    import_spots(store, file_of(spot("A", 5, 52, zone="Asia/Tokyo")), zone="Europe/Brussels")
    with store.reading() as s:
        assert list_spots(s)[0].zone == "Europe/Brussels"
    with pytest.raises(InputProblem, match="zone: 'Mars' is not known"):
        import_spots(store, file_of(spot("B", 5, 52)), zone="Mars")


def test_spots_already_there_stay_as_they_are(store: Store) -> None:
    raw = file_of(spot("Lane", 24.9414, 60.1719, hazards="vans"))
    import_spots(store, raw)
    moved = file_of(spot("LANE", 24.9415, 60.1719, hazards="none"), spot("Lane", 25.0, 60.2))
    report = import_spots(store, moved)
    assert report.words[:2] == (
        "1 spot brought in.",
        "1 spot of the same name and place were there already and stay as they are.",
    )
    with store.reading() as s:
        assert sorted((each.longitude_deg, each.hazards) for each in list_spots(s)) == [(24.9414, "vans"), (25.0, "")]


def test_one_bad_spot_and_no_spot_is_saved(store: Store) -> None:
    with pytest.raises(InputProblem, match="feature 2 'B': latitude 95 is outside -90 to 90"):
        import_spots(store, file_of(spot("A", 5, 52), spot("B", 5, 95)))
    assert kept(store) == (0, 0)


def test_a_spot_inside_a_building_is_asked_about(store: Store) -> None:
    tower, bridge = house(height=30), house(5.01, height=9, min_height=4)
    import_buildings(store, file_of(tower, bridge), name="town")
    spots = (
        spot("Inside", 5.0005, 52.0005),
        spot("Roofed", 5.0004, 52.0005, roof="arcade"),
        spot("On top", 5.0006, 52.0005, floor_m=30),
        spot("Under", 5.0105, 52.0005),
        spot("Outside", 5.005, 52.0005),
    )
    report = import_spots(store, file_of(*spots))
    assert report.words[-1] == "Inside a building, to be moved or given a roof: Inside."


def test_a_hostile_name_is_kept_as_text(store: Store) -> None:
    name = "`${1}`</script><img src=x onerror=alert(1)>"
    import_spots(store, file_of(spot(name, 5, 52)))
    report = import_buildings(store, file_of(house(name=name)), name=name)
    assert name in report.words[0]
    with store.reading() as s:
        assert list_spots(s)[0].name == name
        assert buildings_in(s, Box(51.9, 4.9, 52.1, 5.1))[0].name == name
