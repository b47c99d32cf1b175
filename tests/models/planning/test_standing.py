"""What stands round a kept spot and the light there: what is assumed, and what is kept and when it is thrown away."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from models.planning import light as lights
from models.planning import standing as standings
from models.planning.light import SpotLight, spot_light
from models.planning.memory import Memory
from models.planning.now import light_now
from models.planning.standing import Standing, standing_at
from models.store.caches import drop_caches
from models.store.engine import Store
from models.store.spots import Spot, change_spot
from models.street.scene import Canopy
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
