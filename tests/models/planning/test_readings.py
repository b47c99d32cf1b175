"""Many spots at one moment say what each says alone: states on the map, rows of the list."""

from __future__ import annotations

import pytest

from models.planning import light, map_layers, now, readings
from models.planning.light import spot_light
from models.planning.map_layers import spots_geojson
from models.planning.memory import Memory
from models.planning.now import Reading, light_now, reading_now
from models.planning.readings import readings_of
from models.planning.spots import rows_of
from models.planning.standing import Inside
from models.planning.town_states import states_of
from models.store.spots import list_spots, spots_in_view
from models.street.scene import Canopy
from models.street.skyline import InsideBuilding
from tests.models.planning.grounds import VIEW, at, block, build, equip, stand, tree

MOMENTS = [at(f"2026-{day}T{clock}") for day in ("06-21", "12-20") for clock in ("04:10", "11:40", "16:05", "23:00")]
CROWN = Canopy(120, 260, 10, 70, 0.2, 0.7, (5, 6, 7, 8, 9, 10), "limes")
INSIDE = 2
NOTES = (
    {"roof": "arcade", "lighting_class": "P3"},
    {"night_ev100": 3.0},
    {"canopies": (CROWN,)},
    {"floor_m": 30.0},
    {"zone": "Pacific/Auckland", "canopies": (CROWN,), "looking_deg": 200.0},
)


@pytest.fixture(scope="module")
def street(shared_plans):
    """Thirty spots along a street with houses, trees, roofs, a deck; two of them inside a house."""
    trees = [tree(-40 + 9 * k, 3) for k in range(8)]
    build(
        shared_plans, block(-60, 6, 20, 16, 18.0), block(-10, -30, 60, -12, 9.0), block(28, -2, 36, 2, 6.0), trees=trees
    )
    equip(shared_plans)
    for k in range(30):
        stand(shared_plans, f"Spot {k:02d}", east_m=-62 + 4.3 * k, north_m=0.5 * (k % 3), **NOTES[k % 5])
    return shared_plans


@pytest.fixture(scope="module")
def spots(street):
    with street.reading() as s:
        return list_spots(s, limit=50)


@pytest.fixture(scope="module")
def lights(street, spots):
    """Each worked out alone."""
    alone = []
    for spot in spots:
        try:
            alone.append(spot_light(street, spot, now=MOMENTS[0].instant))
        except InsideBuilding:
            alone.append(None)
    assert alone.count(None) == INSIDE
    return alone


@pytest.mark.parametrize("moment", MOMENTS, ids=str)
@pytest.mark.parametrize("oktas", [0, 8])
def test_states_of_all_are_the_states_of_each(street, spots, lights, moment, oktas):
    moment = at(f"{moment.instant:%Y-%m-%dT%H:%M}", oktas=oktas)
    with street.reading() as s:
        together = states_of(street, spots_in_view(s, VIEW), moment)
    assert [state.id for state in together] == [spot.id for spot in spots]
    for state, each in zip(together, lights, strict=True):
        if each is None:
            assert (state.state, state.state_words) == (None, "inside a building")
            continue
        alone = light_now(each, moment, None)
        assert (state.state, state.state_words, state.too_close) == (alone.state, alone.state_words, alone.too_close)


@pytest.mark.parametrize("looking", [None, 0.0, 77.0])
def test_a_reading_is_the_short_of_the_spots_own_page(lights, looking):
    for each in filter(None, lights):
        for moment in MOMENTS[1::3]:
            short, page = reading_now(each, moment, looking), light_now(each, moment, looking)
            assert (short.state, short.too_close) == (page.state, page.too_close)
            assert short.subject.ev100 == pytest.approx(page.subject.ev100, abs=1e-4)
            assert short.subject.by_facing == pytest.approx(page.subject.by_facing, abs=1e-4)
            assert short.subject.doubt_stops == pytest.approx(page.subject.doubt_stops, abs=1e-4)
            assert (short.behind is None) == (looking is None)
            if short.behind and page.behind:
                assert short.behind.ev100 == pytest.approx(page.behind.ev100, abs=1e-4)


def test_the_states_differ_enough_to_tell(street):
    with street.reading() as s:
        found = spots_in_view(s, VIEW)
    told = {state.state for moment in MOMENTS for state in states_of(street, found, moment)}
    assert told == {None, "sun", "leaves", "shade", "dusk", "lamps", "dark"}


def test_of_many_only_those_nearest_to_the_middle_get_their_brightness(street, monkeypatch):
    monkeypatch.setattr(map_layers, "MOST_BRIGHTNESS", 7)
    monkeypatch.setattr(map_layers, "BRIGHTNESS_PATIENCE_S", 60.0)
    answer = spots_geojson(street, MOMENTS[1], VIEW)
    east = {f["properties"]["name"]: f["geometry"]["coordinates"][0] for f in answer["features"]}
    bright = {f["properties"]["name"] for f in answer["features"] if "EV" in f["properties"]["words"]}
    known = [f["properties"]["name"] for f in answer["features"] if f["properties"]["state"]]
    middle = (VIEW.west + VIEW.east) / 2
    assert bright == set(sorted(known, key=lambda name: abs(east[name] - middle))[:7])
    assert answer["pending"] == 0


def test_brightness_out_of_patience_is_pending_and_comes_when_asked_again(street, monkeypatch):
    monkeypatch.setattr(map_layers, "BRIGHTNESS_PATIENCE_S", -1.0)
    waiting = spots_geojson(street, MOMENTS[2], VIEW)
    assert all(f["properties"]["state"] for f in waiting["features"] if "inside" not in f["properties"]["words"])
    assert waiting["pending"] == 30 - INSIDE
    monkeypatch.setattr(map_layers, "BRIGHTNESS_PATIENCE_S", 60.0)
    assert spots_geojson(street, MOMENTS[2], VIEW)["pending"] == 0


def test_a_list_longer_than_memory_and_patience_still_comes_to_its_end(street, spots, monkeypatch):
    """Readings are remembered, so that asking again goes on from there however little of the light itself fits."""
    work, clock = now._read, [0]

    def takes_a_second(*given):
        clock[0] += 1
        return work(*given)

    monkeypatch.setattr(now, "_read", takes_a_second)
    monkeypatch.setattr(now, "_MEMORY", Memory[Reading](most=100))
    monkeypatch.setattr(light, "_MEMORY", Memory[object](most=2))
    monkeypatch.setattr(readings, "perf_counter", lambda: clock[0])
    waiting = []
    while not waiting or waiting[-1]:
        waiting.append(sum(reading is None for reading in readings_of(street, spots, MOMENTS[1], 9)))
    assert waiting == [18, 8, 0]


def test_rows_say_inside_and_waiting_in_words(street, spots, monkeypatch):
    kinds = readings_of(street, spots, MOMENTS[1], 60)
    rows = rows_of(street, spots, MOMENTS[1], None)
    assert [isinstance(kind, Inside) for kind in kinds] == ["inside a building" in row.state_words for row in rows]
    monkeypatch.setattr("models.planning.spots.PATIENCE_S", -1.0)
    assert {row.state_words for row in rows_of(street, spots, MOMENTS[3], None)} == {
        "being worked out",
        "inside a building: move it, give its floor height, or note the roof over it",
    }


def test_a_map_that_asks_again_is_given_more_time(street, monkeypatch):
    monkeypatch.setattr(map_layers, "BRIGHTNESS_PATIENCE_S", -1.0)
    monkeypatch.setattr(map_layers, "AGAIN_PATIENCE_S", 60.0)
    moment = at("2026-03-01T10:07")
    assert spots_geojson(street, moment, VIEW)["pending"] == 30 - INSIDE
    assert spots_geojson(street, moment, VIEW, again=True)["pending"] == 0
