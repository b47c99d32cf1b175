from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest
import sqlalchemy as sa

from models.problems import InputProblem
from models.store.engine import Store
from models.store.town import (
    FootwayRow,
    LampNear,
    building_covering,
    buildings_in,
    drop_import,
    footways_in,
    get_building,
    in_metres,
    lamps_near,
    list_imports,
    packed_walls_near,
    reaches,
    replace_import,
    trees_near,
)
from models.store.town import tables as town_tables
from models.street.plane import LocalPlane
from models.street.scene import Tree
from models.street.town import Box, BuildingDraft, FootwayDraft, LampDraft, TownDraft, TreeDraft, box_round

LATITUDE, LONGITUDE = 52.53, 5.23
HERE = (LATITUDE, LONGITUDE)
PLANE = LocalPlane(*HERE)


def at(east_m: float, north_m: float) -> tuple[float, float]:
    """Longitude, latitude of a place in metres from HERE."""
    latitude, longitude = PLANE.to_degrees(east_m, north_m)
    return float(longitude), float(latitude)


def ring(west_m: float, south_m: float, east_m: float, north_m: float) -> tuple[tuple[float, float], ...]:
    corners = ((west_m, south_m), (east_m, south_m), (east_m, north_m), (west_m, north_m))
    return tuple(at(*corner) for corner in corners)


def lamp_at(east_m: float, north_m: float) -> LampDraft:
    longitude, latitude = at(east_m, north_m)
    return LampDraft(latitude, longitude)


def tree_at(east_m: float, north_m: float) -> TreeDraft:
    longitude, latitude = at(east_m, north_m)
    return TreeDraft(latitude, longitude, 9.0, 3.0, assumed=True)


MARKET = BuildingDraft((ring(-30, -20, 30, 20), ring(-10, -10, 10, 10)), 14.0, 0.0, "levels", 1.6, "market hall")
SHED = BuildingDraft((ring(100, 0, 120, 10),), 4.0, height_source="assumed", doubt_m=4.0)
QUAY = FootwayDraft((at(-50, -25), at(0, -25), at(50, -30)), 3.5, "paving stones", True, "pedestrian")
LANE = FootwayDraft((at(200, 0), at(200, 100)))
TOWN = TownDraft(
    buildings=(MARKET, SHED),
    trees=(tree_at(40, 0), tree_at(0, -25), tree_at(900, 0)),
    footways=(QUAY, LANE),
    lamps=(lamp_at(0, 30), lamp_at(3, 4), lamp_at(600, 0)),
    attribution="© the town's own drawing office",
)


@pytest.fixture
def town(store: Store) -> Store:
    with store.writing() as s:
        replace_import(s, "havenmark", TOWN)
    return store


def rows_left(store: Store) -> dict[str, int]:
    names = ("imports", "buildings", "wall_tiles", "trees", "footways", "lamps")
    with store.reading() as s:
        tables = {name: getattr(town_tables, name) for name in names}
        return {name: s.scalar(sa.select(sa.func.count()).select_from(table)) for name, table in tables.items()}


def test_an_import_says_what_it_brought(town: Store) -> None:
    with town.reading() as s:
        (row,) = list_imports(s)
    assert (row.name, row.attribution) == ("havenmark", TOWN.attribution)
    assert (row.buildings, row.assumed_buildings, row.trees, row.footways, row.lamps) == (2, 1, 3, 2, 3)


def test_buildings_come_back_as_drawn_courtyard_and_all(town: Store) -> None:
    with town.reading() as s:
        market, shed = buildings_in(s, box_round(*HERE, 500))
        assert buildings_in(s, box_round(*HERE, 50)) == (market,)
        assert buildings_in(s, box_round(*HERE, 500), limit=1) == (market,)
        assert get_building(s, shed.id) == shed
        assert get_building(s, 999) is None
    for row, draft in ((market, MARKET), (shed, SHED)):
        assert row.import_name == "havenmark"
        assert {name: getattr(row, name) for name in BuildingDraft.__slots__} == {
            name: getattr(draft, name) for name in BuildingDraft.__slots__
        }


def test_a_building_in_local_metres_has_its_own_size(town: Store) -> None:
    with town.reading() as s:
        market = buildings_in(s, box_round(*HERE, 50))[0]
    local = in_metres(market, PLANE)
    assert local.rings[0][0] == pytest.approx((-30, -20), abs=1e-6)
    assert local.rings[1][2] == pytest.approx((10, 10), abs=1e-6)
    assert (local.top_m, local.height_source, local.doubt_m, local.name) == (14.0, "levels", 1.6, "market hall")


@pytest.mark.parametrize(
    ("east_m", "north_m", "floor_m", "name"),
    [
        (20, 15, 0.0, "market hall"),
        (0, 0, 0.0, None),  # its courtyard
        (31, 0, 0.0, None),  # a metre outside
        (20, 15, 13.9, "market hall"),
        (20, 15, 14.0, None),  # a deck as high as its roof
    ],
)
def test_a_spot_inside_a_higher_footprint_is_noticed(
    town: Store, east_m: float, north_m: float, floor_m: float, name: str | None
) -> None:
    longitude, latitude = at(east_m, north_m)
    with town.reading() as s:
        found = building_covering(s, latitude, longitude, floor_m=floor_m)
    assert (found and found.name) == name


def test_of_two_buildings_over_a_spot_the_taller_is_named(town: Store) -> None:
    with town.writing() as s:
        replace_import(s, "parts", TownDraft((replace(MARKET, top_m=40.0, name="tower"), replace(SHED, name="low"))))
        longitude, latitude = at(20, 15)
        found = building_covering(s, latitude, longitude)
    assert found is not None
    assert found.name == "tower"


def test_trees_come_nearest_first_in_metres_and_only_within_reach(town: Store) -> None:
    with town.reading() as s:
        near = trees_near(s, *HERE, radius_m=500)
    assert [(round(tree.east_m, 3), round(tree.north_m, 3)) for tree in near] == [(0, -25), (40, 0)]
    assert near[0] == Tree(near[0].east_m, near[0].north_m, 9.0, 3.0, True)


def test_lamps_come_nearest_first_in_metres_and_only_within_reach(town: Store) -> None:
    with town.reading() as s:
        near = lamps_near(s, *HERE, radius_m=500)
        assert lamps_near(s, *HERE, radius_m=4.99) == ()
    assert near[0] == LampNear(pytest.approx(3), pytest.approx(4))
    assert near[1] == LampNear(pytest.approx(0, abs=1e-6), pytest.approx(30))
    assert len(near) == 2


def test_footways_come_with_what_is_known_and_none_for_what_is_not(town: Store) -> None:
    with town.reading() as s:
        quay, lane = footways_in(s, box_round(*HERE, 300))
        assert footways_in(s, box_round(*HERE, 60)) == (quay,)
        assert footways_in(s, box_round(*HERE, 300), limit=1) == (quay,)
    assert quay == FootwayRow(QUAY.line, 3.5, "paving stones", True, "pedestrian", id=quay.id)
    assert (lane.width_m, lane.surface, lane.lit, lane.kind) == (None, None, None, "footway")


def test_replacing_leaves_nothing_of_the_old_and_nothing_of_others_is_touched(town: Store) -> None:
    with town.writing() as s:
        replace_import(s, "other", TownDraft((SHED,)))
        replace_import(s, "havenmark", TownDraft((replace(MARKET, name="new hall"),)))
    left = rows_left(town)
    assert [left[name] for name in ("imports", "buildings", "trees", "footways", "lamps")] == [2, 2, 0, 0, 0]
    with town.reading() as s:
        assert len(packed_walls_near(s, *HERE).walls) == 8 + 4
        assert {row.name for row in buildings_in(s, box_round(*HERE, 500))} == {"new hall", ""}


def test_dropping_takes_all_an_import_brought(town: Store) -> None:
    with town.writing() as s:
        assert drop_import(s, "havenmark")
        assert not drop_import(s, "havenmark")
    assert set(rows_left(town).values()) == {0}


def test_a_number_of_a_building_never_comes_back_as_another(town: Store) -> None:
    with town.writing() as s:
        before = {row.id for row in buildings_in(s, box_round(*HERE, 500))}
        drop_import(s, "havenmark")
        replace_import(s, "havenmark", TOWN)
        after = {row.id for row in buildings_in(s, box_round(*HERE, 500))}
    assert not before & after


def test_the_stamp_changes_with_every_import_that_reaches_here_and_with_no_other(town: Store) -> None:
    def stamp() -> str:
        with town.reading() as s:
            return reaches(s).stamp(*HERE)

    def bring(name: str, draft: TownDraft) -> None:
        with town.writing() as s:
            replace_import(s, name, draft)

    seen = [stamp()]
    bring("far away", TownDraft(trees=(TreeDraft(10.0, 10.0, 9.0, 3.0),)))
    assert stamp() == seen[0]
    for name, draft in (("other", TownDraft((SHED,))), ("havenmark", TOWN), ("other", TownDraft())):
        bring(name, draft)
        assert stamp() not in seen
        seen.append(stamp())


def test_stamps_of_many_places_from_one_reading_also_across_180_degrees(store: Store) -> None:
    """Near the date line an import on either side reaches a place between."""
    with store.writing() as s:
        for name, longitude in (("west of it", 179.999), ("east of it", -179.999), ("far", 170.0)):
            replace_import(s, name, TownDraft(trees=(TreeDraft(-16.8, longitude, 9.0, 3.0),)))
        numbers = {row.name: str(row.id) for row in list_imports(s)}
        together = reaches(s)
        for longitude in (179.9995, -179.9995, 180.0):
            both = {numbers["west of it"], numbers["east of it"]}
            assert set(together.stamp(-16.8, longitude).split(".")) == both
            assert reaches(s).stamp(-16.8, longitude) == together.stamp(-16.8, longitude)
        assert together.stamp(-16.8, 170.0) == numbers["far"]
        assert together.stamp(0.0, 0.0) == ""


def test_no_two_databases_share_a_stamp(town: Store, shared_store: Store) -> None:
    """Else what one process keeps in memory for the one would pass for the other."""
    with town.reading() as s:
        here = reaches(s).stamp(*HERE)
    with shared_store.writing() as s:
        replace_import(s, "havenmark", TOWN)
        assert reaches(s).stamp(*HERE) != here


def test_an_empty_import_is_an_import(store: Store) -> None:
    with store.writing() as s:
        assert replace_import(s, "nothing there", TownDraft()).buildings == 0
        assert reaches(s).stamp(*HERE) == ""
        assert len(packed_walls_near(s, *HERE).walls) == 0
        assert (trees_near(s, *HERE), lamps_near(s, *HERE), building_covering(s, *HERE)) == ((), (), None)


def bad_towns() -> Iterator[Any]:
    shape = ring(0, 0, 9, 9)
    yield pytest.param(TownDraft((SHED, replace(SHED, rings=(shape[:2],)))), "building 2", id="two corners")
    yield pytest.param(TownDraft((replace(SHED, rings=()),)), "building 1", id="no outline")
    yield pytest.param(TownDraft((replace(MARKET, top_m=float("nan")),)), "building 1 (market hall)", id="no height")
    yield pytest.param(TownDraft((replace(SHED, rings=((*shape, (5.2, 95.0)),)),)), "building 1", id="latitude 95")
    yield pytest.param(TownDraft((replace(SHED, rings=((*shape, (5.2, float("nan"))),)),)), "building 1", id="nan")
    yield pytest.param(TownDraft((replace(SHED, name="\ud800"),)), "building 1", id="half a character")
    yield pytest.param(TownDraft(trees=(TreeDraft(52.0, 195.0, 9.0, 3.0),)), "tree 1", id="longitude 195")
    yield pytest.param(TownDraft(trees=(TreeDraft(52.0, 5.0, float("inf"), 3.0),)), "tree 1", id="endless tree")
    yield pytest.param(TownDraft(footways=(LANE, FootwayDraft((at(0, 0),)))), "footway 2", id="one point")
    yield pytest.param(TownDraft(lamps=(LampDraft(90.0, 5.0),)), "lamp 1", id="at the pole")


@pytest.mark.parametrize(("draft", "feature"), list(bad_towns()))
def test_a_bad_feature_is_named_and_what_was_there_stays(town: Store, draft: TownDraft, feature: str) -> None:
    before = rows_left(town)
    with pytest.raises(InputProblem) as problem, town.writing() as s:
        replace_import(s, "havenmark", draft)
    assert problem.value.field == feature
    assert rows_left(town) == before


def test_a_failure_halfway_leaves_what_was_there(town: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(*_: object) -> None:
        raise OSError("disk full")

    before = rows_left(town)
    monkeypatch.setattr("models.store.town.replacing.tiles_of", fails)
    with pytest.raises(OSError, match="disk full"), town.writing() as s:
        replace_import(s, "havenmark", TownDraft((SHED,)))
    assert rows_left(town) == before


def test_longitude_and_latitude_are_not_swapped(town: Store) -> None:
    """52 N, 5 E lies in the Netherlands; swapped it would be off Somalia."""
    with town.reading() as s:
        market = buildings_in(s, Box(52.0, 5.0, 53.0, 6.0))[0]
        assert buildings_in(s, Box(5.0, 52.0, 6.0, 53.0)) == ()
    longitude, latitude = market.rings[0][0]
    assert 5 < longitude < 6
    assert 52 < latitude < 53
