"""The light at one moment: lamps known and not, doubts, and one figure whichever way it is asked for."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from models.clock import unix_s
from models.light.lamps import LIGHTING_CLASS_LX
from models.planning.facings import behind_ev, behind_parts, face_ev, sun_arrives
from models.planning.light import light_series, spot_light
from models.planning.now import light_now
from models.street.scene import Canopy
from models.units import ev100_from_illuminance, luminance_from_ev100
from tests.models.planning.grounds import at, block, build, stand

NOON = at("2026-06-21T11:40")
NIGHT = at("2026-12-21T23:00")
LANE = (block(-30, 6, 30, 18, 14.0), block(-30, -18, 30, -6, 14.0))


@pytest.fixture(scope="module")
def lane(shared_plans):
    """A lane from west to east, 12 m wide between rows of 14 m; no lamps noted."""
    build(shared_plans, *LANE)
    return spot_light(shared_plans, stand(shared_plans), now=NOON.instant)


def with_notes(light, **notes):
    return replace(light, spot=replace(light.spot, **notes))


@pytest.mark.parametrize("reading", [-1.0, 2.0, 5.5])
def test_a_night_reading_is_what_the_face_reads_at_night(lane, reading):
    now = light_now(with_notes(lane, night_ev100=reading), NIGHT, 90.0)
    assert now.state == "lamps"
    assert now.subject.ev100 == pytest.approx(reading, abs=0.05)
    assert now.subject.doubt_stops < 1


def test_a_lighting_class_lights_level_ground_and_half_of_that_a_face(lane):
    """P3 is 7.5 lx on the ground on average (EN 13201-2, from memory)."""
    now = light_now(with_notes(lane, lighting_class="P3"), NIGHT, 90.0)
    assert float(now.series.light.illuminance_lx[0, 8]) == pytest.approx(LIGHTING_CLASS_LX["P3"], rel=0.05)
    expected = ev100_from_illuminance(7.5 * 0.5 * 1.12)
    assert now.subject.ev100 == pytest.approx(expected, abs=0.1)


def test_lamps_that_nobody_noted_are_a_wide_doubt_from_ev_0_to_5(lane):
    now = light_now(lane, NIGHT, 90.0)
    assert now.state == "dark"
    low, high = (now.subject.ev100 + sign * now.subject.doubt_stops for sign in (-1, 1))
    assert now.subject.unknown == (0.0, 5.0)
    assert light_now(with_notes(lane, night_ev100=2.0), NIGHT, 90.0).subject.unknown is None
    assert light_now(lane, NOON, 90.0).subject.unknown is None
    assert -0.5 < low < 0.0
    assert 5.0 < high < 5.5
    assert now.behind is not None
    assert now.behind.doubt_stops > 2.5
    assert "after dark the lamps: not known here, so somewhere from EV 0 to 5" in now.rests_on.assumed
    assert now.rests_on.doubt_stops == now.subject.doubt_stops


def test_lamps_add_to_daylight_and_never_switch_it(lane):
    """P5, 3 lx on the ground: 0.56 of that on every face from lighting-up time on, nothing before."""
    dusk = unix_s(at("2026-10-17T16:30").instant) + 30.0 * np.arange(180)
    lit = light_series(with_notes(lane, lighting_class="P5"), dusk, 0, ())
    unlit = light_series(with_notes(lane, night_ev100=-20.0), dusk, 0, ())
    added = lit.light.illuminance_lx[:, :8] - unlit.light.illuminance_lx[:, :8]
    assert (lit.lamps_on == (lit.elevation_deg < -3)).all()
    assert 10 < lit.lamps_on.sum() < 170
    assert added[lit.lamps_on] == pytest.approx(3.0 * 0.56, abs=0.01)
    assert (added[~lit.lamps_on] == 0).all()


def test_by_day_unknown_lamps_put_nothing_in_doubt(lane):
    assert light_now(lane, NOON, 90.0).subject == light_now(with_notes(lane, lighting_class="P1"), NOON, 90.0).subject


@pytest.mark.parametrize("looking", [0.0, 45.0, 100.0, 359.5])
def test_the_same_figure_whichever_way_it_is_asked_for(lane, looking):
    now = light_now(lane, NOON, looking)
    one = light_series(lane, np.array([unix_s(NOON.instant)]), 0, (looking,))
    assert now.subject.ev100 == pytest.approx(float(face_ev(one.light, looking)[0]), abs=1e-5)
    assert now.behind is not None
    assert now.behind.ev100 == pytest.approx(float(behind_ev(one.light, looking)[0]), abs=1e-5)


def test_without_a_bearing_it_is_the_brightest_of_eight_with_their_range(lane):
    now = light_now(lane, NOON, None)
    planes = [plane.ev100 for plane in now.planes]
    assert now.subject.ev100 == max(planes)
    assert now.subject.by_facing == (min(planes), max(planes))
    assert now.behind is None


def test_the_face_of_a_camera_that_looks_north_is_turned_south(shared_plans):
    """On open ground with the sun in the south."""
    field = spot_light(shared_plans, stand(shared_plans, north_m=9000.0), now=NOON.instant)
    december = at("2026-12-21T11:40")
    assert light_now(field, december, 0.0).subject.ev100 > light_now(field, december, 180.0).subject.ev100 + 3


def test_what_is_behind_adds_up_to_the_backdrop(lane):
    for looking in (0.0, 90.0, 230.0):
        now = light_now(lane, NOON, looking)
        parts = behind_parts(now.series.light, looking)
        assert sum(part.share for part in parts) == pytest.approx(1.0, abs=1e-4)
        assert [part.share for part in parts] == sorted((part.share for part in parts), reverse=True)
        total = sum(part.share * luminance_from_ev100(part.ev100) for part in parts)
        assert now.behind is not None
        assert total == pytest.approx(luminance_from_ev100(now.behind.ev100), rel=1e-3)


def test_golden_light_on_the_wall_behind_counts_though_the_face_has_none(lane):
    """In June the low sun of the evening stands in the north-west and lights the front of the south row."""
    evening = unix_s(at("2026-06-21T18:00").instant) + 300.0 * np.arange(25)
    behind, away = (light_series(lane, evening, 0, (looking,)) for looking in (135.0, 0.0))
    own = behind.sun.transmittance > 0.5
    lit = behind.light.part_share[:, 0, 0] > 0.05
    assert (lit & ~own).any()
    assert sun_arrives(behind)[lit].all()
    assert (sun_arrives(away) == (own | (away.light.part_share[:, 0, 0] > 0.05))).all()
    assert (sun_arrives(light_series(lane, evening, 0, ())) == own).all()


def test_leaves_follow_the_local_month_of_the_spot(plans):
    """Midday on 1 May in Auckland is still 30 April in UTC; the crown is bare from May on."""
    crown = Canopy(0, 360, 5, 90, 0.1, 0.9, (11, 12, 1, 2, 3, 4), "planes")
    here = {"latitude_deg": -36.85, "longitude_deg": 174.76, "zone": "Pacific/Auckland"}
    light = spot_light(plans, stand(plans, canopies=(crown,), **here), now=NOON.instant)
    noon = at("2026-05-01T00:20", "Pacific/Auckland")
    series = light_series(light, np.array([unix_s(noon.instant + timedelta(days=k)) for k in (-1, 0)]), 0, ())
    assert series.sun.transmittance == pytest.approx([0.1, 0.9], abs=1e-6)
    alone = light_now(light, noon, None)
    assert float(alone.series.sun.transmittance[0]) == pytest.approx(0.9, abs=1e-6)


def test_in_a_mixed_series_each_season_has_its_own_leaves(plans):
    crown = Canopy(0, 360, 5, 90, 0.05, 0.9, (5, 6, 7, 8, 9, 10), "limes")
    light = spot_light(plans, stand(plans, canopies=(crown,)), now=NOON.instant)
    assert light.fixed(in_leaf=False) is not light.fixed(in_leaf=True)
    two = [at("2026-04-29T11:40"), at("2026-05-02T11:40")]
    mixed = light_series(light, np.array([unix_s(moment.instant) for moment in two]), 8, (0.0,))
    for k, moment in enumerate(two):
        alone = light_now(light, replace(moment, oktas=8), 0.0)
        assert float(face_ev(mixed.light, 0.0)[k]) == pytest.approx(alone.subject.ev100, abs=1e-4)
    assert face_ev(mixed.light, 0.0)[0] > face_ev(mixed.light, 0.0)[1] + 1
