"""Seconds a frame and a turn: by hand, with the doubt of the footfall, and what is not known."""

from __future__ import annotations

from dataclasses import replace
from math import exp

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.light.battery import ALKALINE_FACTOR, BatterySet
from models.light.kit import Camera, Flash
from models.light.setup import Light, Setup
from models.street.footfall import Rate
from models.workshop.rota import Post
from models.workshop.rotation import plan_rota
from models.workshop.timing import NO_COUNT, Pace, Span, frames_a_turn, pace_of, wait_of
from tests.models.workshop.rotas import PLAN, rota_of

FLASH = Flash("f", "flash", ((24, 20.0),))
CAMERA = Camera("c", "camera", sync_s=1 / 250)


def rate(people_per_h: float, low: float | None = None, high: float | None = None) -> Rate:
    low, high = (people_per_h if end is None else end for end in (low, high))
    return Rate(people_per_h, low, high, 10.0, people_per_h / 6)


def setup(*lights: Light) -> Setup:
    return Setup(lights=lights, camera=CAMERA)


def test_the_example_by_hand() -> None:
    pace = pace_of(1, setup(Light(role="key", flash=FLASH, power=1 / 2)), PLAN, [(0.0, wait_of(rate(240)))])
    wait_s = (exp(2 / 15) - 1 - 2 / 15) / (2 / 45)
    assert pace.recycle_s == pytest.approx(1.45)
    assert pace.frame_s() == pytest.approx(6 + wait_s)
    assert wait_s == pytest.approx(0.2092, abs=5e-5)
    assert pace.turn(PLAN, 10).middle_s == pytest.approx(102.09, abs=5e-3)


def test_the_slowest_light_holds_everyone_up_and_the_pose_is_not_added_to_it() -> None:
    old = BatterySet("a", "alkaline", "AA", recycle_factor=ALKALINE_FACTOR * 2)
    lights = Light(role="key", flash=FLASH, power=1, battery=old), Light(role="fill", flash=FLASH, power=1 / 4)
    pace = pace_of(1, setup(*lights), PLAN)
    assert (pace.recycle_s, pace.tired_s) == (pytest.approx(10), pytest.approx(15))
    assert pace.frame_s() == pytest.approx(10)
    assert pace_of(1, setup(*lights), PLAN, pose_s=12).frame_s() == 12


def test_a_light_that_is_off_fires_no_flash() -> None:
    off = Light(role="key", flash=FLASH, power=0)
    assert (pace_of(1, setup(off), PLAN).recycle_s, pace_of(1, setup(off), PLAN).lights) == (None, ())
    assert pace_of(1, None, PLAN).frame_s() == PLAN.pose_s


def test_where_nobody_counted_no_wait_is_added_and_that_is_known() -> None:
    assert wait_of(None) == NO_COUNT
    assert (NO_COUNT.counted, NO_COUNT.middle_s) == (False, 0)
    assert wait_of(rate(0, 0, 60)).counted


def test_where_no_gap_is_to_be_expected_the_wait_is_the_least_it_would_be() -> None:
    """(e^4 - 1 - 4) / (4 / 3) = 37.2 s."""
    crowd = wait_of(rate(9000, 7000, 12000))
    assert (crowd.hopeless, crowd.open) == (True, True)
    assert crowd.middle_s == crowd.high_s == pytest.approx((exp(4) - 5) * 3 / 4)
    edge = wait_of(rate(6000, 4000, 9000))
    assert (edge.hopeless, edge.open) == (False, True)
    assert edge.low_s < edge.middle_s < edge.high_s


def test_a_round_goes_by_the_hour_it_begins_in() -> None:
    quiet, busy = replace(NO_COUNT, middle_s=1, counted=True), replace(NO_COUNT, middle_s=9, counted=True)
    pace = Pace(post=1, pose_s=6, waits=((-600.0, quiet), (1800.0, busy)))
    assert [pace.frame_s(at_s) for at_s in (-900, 0, 1799, 1800, 9000)] == [7, 7, 7, 15, 15]


def test_a_turn_has_its_doubt() -> None:
    pace = pace_of(1, None, PLAN, [(0.0, replace(NO_COUNT, middle_s=3, low_s=2, high_s=5, counted=True, open=True))])
    assert pace.turn(PLAN, 10) == Span(130, 120, 150, True)


@given(st.floats(0, 20_000), st.floats(0, 20_000), st.floats(0, 1))
def test_more_walkers_never_shorten_the_wait(one, other, share) -> None:
    fewer, more = (wait_of(rate(people), 3.0, share) for people in sorted((one, other)))
    assert fewer.middle_s <= more.middle_s + 1e-9


@pytest.mark.parametrize(("sizes", "frames"), [([3, 3], 8), ([3, 2], 10), ([4, 3], 8), ([1], 10)])
def test_frames_where_every_group_is_full(sizes, frames) -> None:
    assert frames_a_turn(PLAN, rota_of(sizes, [1, 2])) == frames
    assert frames_a_turn(replace(PLAN, frames=5), rota_of(sizes, [1, 2])) == 5
    assert frames_a_turn(PLAN, plan_rota(range(2), [Post(key=1)])) == 10
