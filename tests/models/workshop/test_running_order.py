"""Blocks from meeting to release: by hand, typed over, moved, at a fallback."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.problems import InputProblem
from models.workshop.plan import BlockEdit
from models.workshop.running_order import (
    RunningOrder,
    decide_by,
    running_order,
    seconds_at_fallback,
    seconds_for_rounds,
    short_order,
    unknown_edits,
)
from models.workshop.schedule import Schedule, scheduled
from tests.models.workshop.rotas import PLAN, pace, rota_of, walkers

STARTS = datetime(2026, 6, 6, 17, 0, tzinfo=UTC)
ENDS = STARTS + timedelta(minutes=45)
KEYS = ["meet", "drink", "walk", "set up", "safety", "round 1", "round 2", "group picture", "pack", "release"]


def schedule(low_s: float = 0.0, high_s: float = 0.0, starts_s: float = 0.0) -> Schedule:
    waits = ((0.0, walkers(0.0, -low_s, high_s)),)
    return scheduled(rota_of([2, 1], [1, 2]), {1: pace(1, waits=waits), 2: pace(2)}, PLAN, starts_s=starts_s)


def order(*edits: BlockEdit, back_s: float | None = None, **asked: bool) -> RunningOrder:
    plan = replace(PLAN, blocks=edits)
    return running_order(plan, STARTS, ENDS, schedule(), walk_s=720, back_s=back_s, **asked)


def clock(order: RunningOrder) -> dict[str, str]:
    return {block.key: f"{block.starts:%H:%M:%S}" for block in order.blocks}


def test_the_example_by_hand() -> None:
    found = order()
    assert clock(found) == {
        "meet": "16:28:00", "drink": "16:38:00", "walk": "16:48:00", "set up": "17:00:00", "safety": "17:15:00",
        "round 1": "17:20:00", "round 2": "17:25:50", "group picture": "17:30:10", "pack": "17:35:10",
        "release": "17:45:10",
    }  # fmt: skip
    assert (found.packed, found.over_s, found.fits) == (ENDS + timedelta(seconds=10), 10, False)
    assert [block.key for block in found.blocks if block.heads] == ["meet", "walk", "release"]
    assert found.instant(2, 480) == STARTS + timedelta(minutes=20, seconds=480)


def test_a_walk_back_counts_heads_once_more() -> None:
    found = order(back_s=600, walks_back=True)
    assert [block.key for block in found.blocks] == [*KEYS, "walk back"]
    assert (found.blocks[-1].heads, found.blocks[-1].length_s) == (True, 600)


def test_a_way_that_is_not_known_takes_no_time_and_says_so() -> None:
    found = running_order(PLAN, STARTS, ENDS, schedule())
    walk = found.block("walk")
    assert walk is not None
    assert (walk.known, walk.length_s, walk.ends) == (False, 0, STARTS)
    typed = running_order(replace(PLAN, walk_min=7), STARTS, ENDS, schedule()).block("walk")
    assert typed is not None
    assert (typed.known, typed.length_s) == (True, 420)


def test_typing_a_round_shorter_than_it_takes_says_by_how_much() -> None:
    found = order(BlockEdit("round 1", 4, "only a taste"))
    block = found.block("round 1")
    assert block is not None
    assert (block.typed, block.length_s, block.short_s, block.note) == (True, 240, 110, "only a taste")
    assert found.instant(2, 350) == STARTS + timedelta(minutes=24)
    assert found.fits


def test_a_longer_walk_meets_earlier_and_leaves_the_set_up() -> None:
    assert clock(order(BlockEdit("walk", 22))) == clock(order()) | {
        "meet": "16:18:00", "drink": "16:28:00", "walk": "16:38:00",
    }  # fmt: skip


@pytest.mark.parametrize("minutes", [-1, 1441, float("nan"), float("inf")])
def test_minutes_that_cannot_be_meant(minutes: float) -> None:
    with pytest.raises(InputProblem) as caught:
        order(BlockEdit("pack", minutes))
    assert caught.value.field == "pack"


def test_an_edit_of_a_round_that_is_gone_is_told() -> None:
    found = order(BlockEdit("round 5", 10))
    assert clock(found) == clock(order())
    assert unknown_edits(replace(PLAN, blocks=(BlockEdit("round 5", 10), BlockEdit("pack", 5))), found) == (
        BlockEdit("round 5", 10),
    )


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(KEYS), st.integers(0, 120))
def test_an_edit_moves_only_what_follows_and_before_the_set_up_only_what_comes_before(key, minutes) -> None:
    plain, edited = order(), order(BlockEdit(key, minutes))
    place = KEYS.index(key)
    for number, (was, now) in enumerate(zip(plain.blocks, edited.blocks, strict=True)):
        stays = number < place if place >= 3 else number > place
        if stays:
            assert (was.starts, was.ends) == (now.starts, now.ends)
        elif number != place:
            assert now.length_s == was.length_s
    assert sum(block.length_s for block in edited.blocks) == pytest.approx(edited.length_s)
    assert all(one.ends == after.starts for one, after in zip(edited.blocks, edited.blocks[1:], strict=False))
    assert edited.length_s - plain.length_s == pytest.approx(60 * minutes - plain.blocks[place].length_s)


def test_what_is_left_for_rounds_is_what_they_then_take() -> None:
    within_s = seconds_for_rounds(replace(PLAN, blocks=(BlockEdit("pack", 5),)), STARTS, ENDS)
    assert within_s == (45 - 15 - 5 - 5 - 5) * 60
    assert order(BlockEdit("pack", 5)).over_s == schedule().length_s - within_s


def test_the_doubt_of_the_footfall_stands_in_the_rounds() -> None:
    found = running_order(PLAN, STARTS, ENDS, schedule(2, 6), walk_s=0).block("round 1")
    assert found is not None
    assert (found.low_s, found.worked_out_s, found.high_s) == (310, 350, 470)


def test_a_fallback_has_its_own_short_order() -> None:
    at = STARTS + timedelta(minutes=30)
    found = short_order(replace(PLAN, blocks=(BlockEdit("pack", 50),)), at, ENDS, schedule(starts_s=900), walk_s=300)
    assert clock(found) == {
        "walk": "17:30:00", "set up": "17:35:00", "safety": "17:50:00", "round 1": "17:55:00", "round 2": "18:00:50",
        "pack": "18:05:10", "release": "18:15:10",
    }  # fmt: skip
    assert found.over_s == schedule().length_s - seconds_at_fallback(PLAN, at, ENDS, 300)
    assert found.instant(1, 900) == STARTS + timedelta(minutes=55)
    assert decide_by(PLAN, STARTS) == STARTS - timedelta(minutes=30)
