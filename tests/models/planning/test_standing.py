"""What stands round a kept spot and the light there: what is assumed, and what is kept and when it is thrown away."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from time import monotonic

import numpy as np
import pytest

from models.planning import light as lights
from models.planning import standing as standings
from models.planning.light import SpotLight, spot_light
from models.planning.memory import Memory
from models.planning.now import light_now
from models.planning.standing import Inside, Standing, standing_at, standings_at
from models.store.caches import drop_caches
from models.store.engine import BUSY_TIMEOUT_MS, Store, open_store
from models.store.settings import put_setting
from models.store.spots import Spot, change_spot, get_spot
from models.store.town import get_building
from models.street.scene import Canopy, SkylinePoint
from models.street.skyline import InsideBuilding
from tests.models.planning.grounds import at, block, build, equip, stand, tree

NOON = at("2026-06-21T11:40")
SOUTH_ROW = block(-30, -20, 30, -10, 12.0)
"""10 m south of the spot, 12 m high: from the eye at 1.5 m arctan(10.5 / 10) = 46.4 degrees."""


@pytest.fixture(autouse=True)
def forgetful(monkeypatch: pytest.MonkeyPatch) -> None:
    """No test finds in memory what another left there."""
    monkeypatch.setattr(standings, "_MEMORY", Memory[Standing](most=50))
    monkeypatch.setattr(lights, "_MEMORY", Memory[object](most=50))


def forget(monkeypatch: pytest.MonkeyPatch, store: Store, *, database: bool) -> None:
    monkeypatch.setattr(standings, "_MEMORY", Memory[Standing](most=50))
    monkeypatch.setattr(lights, "_MEMORY", Memory[object](most=50))
    if database:
        with store.writing() as s:
            drop_caches(s)


def figures(light: SpotLight) -> tuple[object, ...]:
    now = light_now(light, NOON, 0.0)
    return now.state, now.subject, now.behind, now.planes, now.rests_on, light.standing.building_ids


@pytest.fixture
def worked(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Every skyline and every light worked out, as it happens."""
    told: list[str] = []
    real_skyline, real_light = standings.skyline_of, lights.coefficients

    def skyline(*given, **named):
        told.append("skyline")
        return real_skyline(*given, **named)

    def light(*given, **named):
        told.append("light")
        return real_light(*given, **named)

    monkeypatch.setattr(standings, "skyline_of", skyline)
    monkeypatch.setattr(lights, "coefficients", light)
    return told


def edited(store: Store, spot: Spot, **changes: object) -> Spot:
    with store.writing() as s:
        return change_spot(s, spot.id, spot.version, replace(spot.draft, **changes))


def test_a_house_to_the_south_stands_as_high_as_worked_out_by_hand(plans):
    build(plans, SOUTH_ROW)
    standing = standing_at(plans, stand(plans))
    assert float(standing.skyline.at(180.0)) == pytest.approx(np.degrees(np.arctan(10.5 / 10)), abs=0.1)
    assert standing.assumed_buildings == ()
    assert standing.assumed_share == 0


def test_nothing_changes_when_all_that_is_kept_is_thrown_away(plans, monkeypatch):
    build(plans, SOUTH_ROW, block(10, -5, 20, 8, 9.0, height_source="assumed", doubt_m=3.0), trees=[tree(-8, -3)])
    spot = stand(plans, canopies=(Canopy(250, 290, 20, 50, 0.3, 0.7),))
    once = figures(spot_light(plans, spot, now=NOON.instant))
    assert figures(spot_light(plans, spot, now=NOON.instant)) == once
    for database in (False, True):
        forget(monkeypatch, plans, database=database)
        assert figures(spot_light(plans, spot, now=NOON.instant)) == once


def test_it_is_worked_out_once_and_a_note_changes_nothing(plans, worked, monkeypatch):
    build(plans, SOUTH_ROW)
    spot = stand(plans)
    spot_light(plans, spot, now=NOON.instant)
    assert worked == ["skyline", "light"]
    noted = edited(plans, spot, name="Elsewhere", hazards="a drain", footfall_note="few", looking_deg=90.0)
    spot_light(plans, noted, now=NOON.instant)
    forget(monkeypatch, plans, database=False)
    spot_light(plans, noted, now=NOON.instant)
    assert worked == ["skyline", "light"]


@pytest.mark.parametrize(
    "change",
    [
        {"latitude_deg": 52.53005},
        {"floor_m": 6.0},
        {"roof": "arcade"},
        {"ground_reflectance": 0.4},
        {"canopies": (Canopy(160, 200, 10, 80, 0.3, 0.7),)},
    ],
)
def test_what_bears_on_the_light_is_worked_out_anew(plans, worked, change):
    build(plans, SOUTH_ROW)
    spot = stand(plans)
    before = light_now(spot_light(plans, spot, now=NOON.instant), NOON, 180.0).behind
    after = light_now(spot_light(plans, edited(plans, spot, **change), now=NOON.instant), NOON, 180.0).behind
    assert worked.count("skyline") == 2
    assert before != after


def test_moving_a_building_changes_the_answer(plans):
    build(plans, SOUTH_ROW)
    spot = stand(plans)
    winter = at("2026-12-21T11:40")
    assert light_now(spot_light(plans, spot, now=winter.instant), winter, 0.0).state == "shade"
    build(plans, block(-30, -300, 30, -290, 12.0))
    assert light_now(spot_light(plans, spot, now=winter.instant), winter, 0.0).state == "sun"


def test_inside_a_building_is_asked_about_and_never_kept(plans):
    build(plans, block(-10, -10, 10, 10, 12.0))
    spot = stand(plans)
    for _ in range(2):
        with pytest.raises(InsideBuilding):
            spot_light(plans, spot, now=NOON.instant)
    on_top = edited(plans, spot, floor_m=12.0)
    assert light_now(spot_light(plans, on_top, now=NOON.instant), NOON, 0.0).state == "sun"


def test_a_raised_part_overhead_is_the_roof_and_no_other_is_added(plans):
    build(plans, block(-10, -2, 10, 8, 9.0, bottom_m=3.0))
    arcade = standing_at(plans, stand(plans, roof="arcade"))
    open_sky = standing_at(plans, stand(plans, roof="none"))
    assert arcade.skyline.canopies == open_sky.skyline.canopies
    assert not any("edges of the roof" in words for words in arcade.assumed)


def test_a_roof_noted_where_the_town_shows_none_is_assumed_and_says_so(plans):
    standing = standing_at(plans, stand(plans, roof="arcade"))
    assert [canopy.name for canopy in standing.skyline.canopies] == ["the arcade's roof"]
    assert "the edges of the roof overhead, until you measure them (arcade)" in standing.assumed
    own = Canopy(0, 180, 30, 90, 0.0, 0.0, (), "my arcade")
    measured = standing_at(plans, stand(plans, roof="arcade", canopies=(own,)))
    assert measured.skyline.canopies == (own,)


def test_inside_a_solid_building_the_roof_noted_still_counts(plans):
    """A raised part stands over the spot too: the solid one needs the roof that was noted."""
    build(plans, block(-10, -10, 10, 10, 12.0), block(-5, -5, 5, 5, 9.0, bottom_m=4.0))
    standing = standing_at(plans, stand(plans, roof="underpass"))
    assert "the underpass roof" in [canopy.name for canopy in standing.skyline.canopies]


def test_guessed_heights_widen_the_doubt_by_how_much_of_the_skyline_they_are(plans):
    """Two houses of one size, north and south: the guessed one is half of what stands here."""
    north, south = block(-40, 10, 40, 20, 12.0), block(-40, -20, 40, -10, 12.0, height_source="assumed", doubt_m=4.0)
    far = [block(200 + 12 * k, 200, 205 + 12 * k, 205, 1.4) for k in range(20)]
    build(plans, north, south, *far)
    spot = stand(plans)
    light = spot_light(plans, spot, now=NOON.instant)
    share = np.degrees(2 * np.arctan(40 / 10)) / 360
    assert light.standing.assumed_share == pytest.approx(share, abs=0.03)
    assert light_now(light, NOON, 0.0).subject.doubt_stops == pytest.approx(
        np.sqrt(0.7**2 + (0.5 * light.standing.assumed_share) ** 2 + 0.25**2 + 0.1**2)
    )
    assert "the height of 1 of 22 buildings within 500 m was assumed" in light.standing.assumed


def test_trees_of_the_far_south_are_in_leaf_half_a_year_later(plans):
    here = {"latitude_deg": -36.85, "longitude_deg": 174.76, "zone": "Pacific/Auckland"}
    crown = replace(tree(0, 0), latitude_deg=-36.84995, longitude_deg=174.76)
    build(plans, trees=[crown])
    (canopy,) = standing_at(plans, stand(plans, **here)).skyline.canopies
    assert canopy.transmittance(1) == canopy.transmittance_leaf
    assert canopy.transmittance(7) == canopy.transmittance_bare
    assert "in leaf November to April" in " ".join(standing_at(plans, stand(plans, **here)).assumed)


def test_no_buildings_at_all_is_said(plans):
    equip(plans)
    light = spot_light(plans, stand(plans), now=NOON.instant)
    assert "no buildings loaded here: open ground taken all round" in light.standing.assumed
    assert light.standing.skyline.source == "no building seen within 500 m"
    assert (light.standing.skyline.elevation_deg == 0).all()


def test_it_comes_back_from_the_database_as_it_was(plans, monkeypatch):
    crown = Canopy(250, 290, 20, 50, 0.3, 0.7, (5, 6), "limes")
    build(plans, SOUTH_ROW, block(10, -5, 20, 8, 9.0, height_source="assumed", doubt_m=3.0), trees=[tree(-8, -3)])
    spot = stand(plans, canopies=(crown,), measured=(SkylinePoint(80, 12.3), SkylinePoint(100, 14.5)))
    once = standing_at(plans, spot)
    forget(monkeypatch, plans, database=False)
    again = standing_at(plans, spot)
    assert again is not once
    for name in ("elevation_deg", "doubt_deg", "obstacle"):
        np.testing.assert_array_equal(getattr(once.skyline, name), getattr(again.skyline, name))
    np.testing.assert_array_equal(once.sight.canopies, again.sight.canopies)
    for name in ("building_ids", "assumed_buildings", "assumed", "assumed_share"):
        assert getattr(once, name) == getattr(again, name)
    assert (again.skyline.source, again.skyline.canopies) == (once.skyline.source, once.skyline.canopies)


def test_every_obstacle_is_a_building_that_stands_there(plans):
    """Numbers on the skyline lead to the houses in the town's table, however many are out of sight."""
    hidden = [block(-20 + k, -60, -19 + k, -50, 5.0) for k in range(20)]
    build(plans, *hidden, SOUTH_ROW, block(30, -5, 40, 8, 9.0, height_source="assumed", doubt_m=3.0))
    standing = standing_at(plans, stand(plans))
    south, east = (int(standing.skyline.obstacle[k]) for k in (360, 180))
    with plans.reading() as s:
        tops = [get_building(s, standing.building_ids[k]).top_m for k in (south, east)]
    assert tops == [12.0, 9.0]
    assert standing.assumed_buildings == (east,)
    assert len(standing.building_ids) == 2


def test_many_at_once_are_what_each_is_alone(plans, monkeypatch):
    build(plans, SOUTH_ROW, block(95, -10, 105, 10, 12.0))
    spots = [stand(plans, f"Spot {k}", east_m=10.0 * k) for k in range(12)]
    together = standings_at(plans, spots, patience_s=60)
    forget(monkeypatch, plans, database=False)
    from_database = standings_at(plans, spots, patience_s=60)
    forget(monkeypatch, plans, database=True)
    for spot, *many in zip(spots, together, from_database, strict=True):
        if isinstance(many[0], Inside):
            assert many[0] == many[1]
            with pytest.raises(InsideBuilding):
                standing_at(plans, spot)
        else:
            alone = standing_at(plans, spot)
            for each in many:
                np.testing.assert_array_equal(each.skyline.elevation_deg, alone.skyline.elevation_deg)
                assert each.building_ids == alone.building_ids
    assert [type(each) for each in together].count(Inside) == 1


def test_where_patience_runs_out_the_rest_is_not_known_and_asking_again_finds_it(plans):
    build(plans, SOUTH_ROW)
    spots = [stand(plans, f"Spot {k}", east_m=3.0 * k) for k in range(3)]
    assert standings_at(plans, spots, patience_s=-1) == (None, None, None)
    assert None not in standings_at(plans, spots, patience_s=60)
    assert None not in standings_at(plans, spots, patience_s=-1)


def test_a_locked_database_costs_no_answer_and_little_time(plans, worked, monkeypatch):
    build(plans, SOUTH_ROW)
    spot, other = stand(plans), stand(plans, "There", east_m=5.0)
    with plans.writing() as s:
        put_setting(s, "turbidity", 3.0)
        started = monotonic()
        assert spot_light(plans, spot, now=NOON.instant).standing.skyline.source
        assert spot_light(plans, other, now=NOON.instant).standing.skyline.source
        assert monotonic() - started < BUSY_TIMEOUT_MS / 1000
    forget(monkeypatch, plans, database=False)
    spot_light(plans, spot, now=NOON.instant)
    assert worked.count("light") == 3


def test_a_database_that_may_only_be_read_answers_too(plans, tmp_path):
    build(plans, SOUTH_ROW)
    spot = stand(plans)
    written = light_now(spot_light(plans, spot, now=NOON.instant), NOON, 0.0)
    readable = open_store(f"sqlite:///file:{plans.engine.url.database}?mode=ro&uri=true")
    with readable.reading() as s:
        kept = get_spot(s, spot.id)
    moved = replace(kept, longitude_deg=kept.longitude_deg + 1e-9)
    read = light_now(spot_light(readable, moved, now=NOON.instant), NOON, 0.0)
    assert read.subject.ev100 == pytest.approx(written.subject.ev100, abs=1e-3)
    readable.close()


def test_six_threads_that_ask_for_one_spot_work_it_out_once(plans, worked):
    build(plans, SOUTH_ROW)
    spot = stand(plans)
    with ThreadPoolExecutor(6) as pool:
        lights = list(pool.map(lambda _: spot_light(plans, spot, now=NOON.instant), range(6)))
    assert worked == ["skyline", "light"]
    assert len({id(light.fixed(in_leaf=True)) for light in lights}) == 1


def test_a_spot_at_a_pole_breaks_no_list(plans):
    pole, other = stand(plans, "Pole", latitude_deg=90.0, longitude_deg=0.0, zone="UTC"), stand(plans)
    assert [type(each) for each in standings_at(plans, [pole, other], patience_s=60)] == [Standing, Standing]
    assert light_now(spot_light(plans, pole, now=NOON.instant), NOON, None).state == "sun"
