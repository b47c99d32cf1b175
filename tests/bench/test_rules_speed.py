"""A spot, a way and 500 spots looked up among 5,000 rule areas, with the database read anew each time.

Two peers in the same run: shapely's STRtree over all shapes, already built and in memory, which hands out no areas; and
the plain way, reading all areas and asking each. Seconds are of the processor, the best of several for each place.
"""

from __future__ import annotations

import numpy as np
import pytest
from shapely import Point, Polygon, STRtree

from models.rules.areas import AreaDraft
from models.store.engine import Store, open_store, upgrade
from models.store.rules import add_areas, areas_along, areas_at, areas_at_each, list_areas
from tests.bench.timing import best_of

pytestmark = pytest.mark.bench

AREAS, CITY_WIDE, PLACES, SPOTS = 5_000, 10, 40, 500
MOST_S = 0.02
SIZES_DEG, CORNERS = (0.001, 0.002, 0.004), (8, 30, 100)


@pytest.fixture(scope="module")
def drafts():
    """A city of some 11 by 11 km, as many streets, parks and yards as areas, and ten that cover all of it."""
    random = np.random.default_rng(3)
    middles = 52.5 + random.uniform(-0.05, 0.05, AREAS), 5.2 + random.uniform(-0.08, 0.08, AREAS)
    parts = [
        _area(number, random, latitude, longitude, SIZES_DEG[number % 3], CORNERS[number // 3 % 3])
        for number, (latitude, longitude) in enumerate(zip(*middles, strict=True))
    ]
    return parts[CITY_WIDE:] + [_area(number, random, 52.5, 5.2, 0.2, 400) for number in range(CITY_WIDE)]


@pytest.fixture(scope="module")
def store(tmp_path_factory, drafts):
    opened = open_store(f"sqlite:///{tmp_path_factory.mktemp('areas') / 'own.sqlite3'}")
    upgrade(opened)
    with opened.writing() as s:
        add_areas(s, drafts)
    yield opened
    opened.close()


@pytest.fixture(scope="module")
def places():
    random = np.random.default_rng(5)
    return list(zip(52.5 + random.uniform(-0.05, 0.05, SPOTS), 5.2 + random.uniform(-0.08, 0.08, SPOTS), strict=True))


def _area(number: int, random: np.random.Generator, latitude: float, longitude: float, size: float, corners: int):
    turns = np.linspace(0, 2 * np.pi, corners, endpoint=False)
    reach = size * random.uniform(0.7, 1.0, corners)
    ring = np.column_stack((longitude + 1.6 * reach * np.cos(turns), latitude + reach * np.sin(turns))).tolist()
    outline = tuple(map(tuple, [*ring, ring[0]]))
    return AreaDraft(name=f"Area {number:04d}", kind="public_street", authority="Office", shape=((outline,),))


def look(store: Store, latitude: float, longitude: float):
    with store.reading() as s:
        return areas_at(s, latitude, longitude)


def look_at_all(store: Store, latitude: float, longitude: float):
    here = Point(longitude, latitude)
    with store.reading() as s:
        return [area for area in list_areas(s, limit=None) if Polygon(area.shape[0][0]).covers(here)]


def test_a_spot_among_5000_areas(store, drafts, places, capsys):
    points = [Point(longitude, latitude) for latitude, longitude in places]
    tree = STRtree([Polygon(draft.shape[0][0]) for draft in drafts])
    in_tree = [tree.query(point, "covered_by") for point in points[:PLACES]]
    found = [look(store, *place) for place in places[:PLACES]]
    assert [len(areas) for areas in found] == [len(each) for each in in_tree]
    assert found[0] == tuple(look_at_all(store, *places[0]))
    each_s = [best_of(lambda place=place: look(store, *place), 5) for place in places[:PLACES]]
    usual_s, slowest_s = float(np.median(each_s)), max(each_s)
    tree_s = best_of(lambda: [tree.query(point, "covered_by") for point in points]) / SPOTS
    all_s = best_of(lambda: look_at_all(store, *places[0]), 2)
    with capsys.disabled():
        heads = f"spot among {AREAS} areas, {np.mean([len(areas) for areas in found]):.0f} hold it"
        print(f"\n{heads} | {usual_s * 1e3:.1f} ms, slowest {slowest_s * 1e3:.1f} ms | 20 ms")
        print(f"against a tree of all shapes in memory | {usual_s / tree_s:.0f} x its {tree_s * 1e3:.2f} ms")
        print(f"against reading all areas and asking each | 1/{all_s / usual_s:.0f} of its {all_s * 1e3:.0f} ms")
    assert slowest_s < MOST_S
    assert all_s / usual_s > 10


def test_a_way_and_many_spots_among_5000_areas(store, places, capsys):
    way = [places[0], (places[0][0] + 0.004, places[0][1] + 0.006), (places[0][0] + 0.003, places[0][1] + 0.012)]

    def walk():
        with store.reading() as s:
            return areas_along(s, way)

    def all_at_once():
        with store.reading() as s:
            return areas_at_each(s, places)

    way_s, many_s = best_of(walk, 5), best_of(all_at_once, 3)
    one_by_one_s = best_of(lambda: [look(store, *place) for place in places[:PLACES]], 2) * SPOTS / PLACES
    assert all_at_once()[:PLACES] == tuple(look(store, *place) for place in places[:PLACES])
    with capsys.disabled():
        print(f"\nway of 1 km among {AREAS} areas, crosses {len(walk())} | {way_s * 1e3:.1f} ms")
        print(f"{SPOTS} spots at once | {many_s * 1e3:.0f} ms, 1/{one_by_one_s / many_s:.1f} of one by one")
    assert one_by_one_s / many_s > 2
