"""Times of a rota: by hand, against a plain simulation of the same workshop, and what must hold of any."""

from __future__ import annotations

from itertools import chain, combinations, pairwise
from timeit import repeat

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.light.accessories import HeatRow
from models.light.kit import Flash
from models.light.setup import Light
from models.workshop.breaks import Fresh, Rules, least_breaks
from models.workshop.course import LONGEST_ON_S, ModelState, TurnTimes
from models.workshop.schedule import REST_S, Schedule, models_at, scheduled
from tests.models.workshop.rotas import PLAN, pace, rota_of, split, walkers, workshops
from tests.models.workshop.simulated import Simulation

HOT = Flash("hot", "hot flash", ((24, 20.0),), heat=(HeatRow(1, 1 / 2, 6, 240), HeatRow(1 / 4, 1 / 128, 12, 240)))


def told(schedule: Schedule) -> set[tuple[int, int, int]]:
    """Rests for which a group waits, as the people on the pavement are told."""
    return {(rest.round - 1, rest.post, rest.turn - 1) for rest in schedule.rests if rest.waited_s}


def test_the_example_by_hand() -> None:
    schedule = scheduled(rota_of([2, 1], [1, 2]), {1: pace(1), 2: pace(2)}, PLAN)
    assert (schedule.frames, schedule.length_s, schedule.rests) == (10, 610, ())
    first, second = schedule.rounds
    assert (first.starts_s, first.ends_s, second.starts_s, second.ends_s) == (0, 260, 350, 610)
    assert [(visit.post, visit.ends_s) for visit in first.visits] == [(1, 260), (2, 130)]
    assert [(visit.post, visit.ends_s) for visit in second.visits] == [(2, 610), (1, 480)]
    turn = first.visits[0].turns[1]
    assert (turn.starts_s, turn.shot_s, turn.wide_s, turn.ends_s) == (130, 220, 240, 260)


def test_a_rest_that_costs_nothing_is_taken_where_a_slower_station_is_waited_for() -> None:
    """Turns of 440 s and 240 s: post 1 works 880 s in every round, post 2 480 s. Post 2's model rests 490 s between the
    rounds anyway; post 1's needs 300 s before its third turn, less the 90 s of the move."""
    schedule = scheduled(rota_of([2, 2], [1, 2]), {1: pace(1, 40), 2: pace(2, 20)}, PLAN, frames=10)
    assert schedule.length_s == 880 + 90 + 210 + 880
    added = [rest for rest in schedule.rests if rest.waited_s]
    assert [(rest.post, rest.round, rest.turn, rest.waited_s) for rest in added] == [(1, 2, 1, 210)]
    assert [(rest.post, rest.starts_s) for rest in schedule.rests if not rest.waited_s] == [(2, 480)]


def test_heat_or_cold_asks_for_ten_minutes() -> None:
    usual, cold = (
        scheduled(rota_of([2, 2], [1, 2]), {1: pace(1, 40), 2: pace(2, 40)}, PLAN, frames=10, heat_or_cold=bad)
        for bad in (False, True)
    )
    assert cold.length_s - usual.length_s == 300


def test_a_model_that_has_worked_already_rests_sooner() -> None:
    rota, paces = rota_of([3], [1]), {1: pace(1, 26)}
    assert scheduled(rota, paces, PLAN, frames=10).rests == ()
    tired = scheduled(rota, paces, PLAN, {1: ModelState(on_s=600, idle_s=100)}, frames=10)
    assert [(rest.round, rest.turn, rest.waited_s) for rest in tired.rests] == [(1, 1, 200)]
    late = scheduled(rota, paces, PLAN, {1: ModelState(on_s=1150, idle_s=100)}, frames=10)
    assert late.rounds[0].visits[0].turns[0].waited_s == 200


def test_what_was_not_counted_and_where_no_gap_comes_is_told() -> None:
    waits = ((0.0, walkers(3)), (300.0, walkers(37)))
    paces = {1: pace(1), 2: pace(2, waits=waits)}
    schedule = scheduled(rota_of([2, 1], [1, 2]), paces, PLAN)
    assert schedule.uncounted == (1,)
    lengths = [visit.ends_s - visit.starts_s for each in schedule.rounds if (visit := each.at(2))]
    assert lengths == [160, 1000]


@settings(max_examples=60, deadline=None)
@given(workshops(), st.integers(1, 12), st.booleans())
def test_the_same_workshop_event_by_event(workshop, frames, heat_or_cold) -> None:
    agrees(workshop, frames, heat_or_cold)


@settings(max_examples=15, deadline=None)
@given(workshops(most_people=8, most_posts=3), st.integers(1, 6), st.sampled_from([1, 1 / 2, 1 / 4]))
def test_and_so_with_flashes_that_get_hot(workshop, frames, power) -> None:
    rota, paces = workshop
    hot = {
        post: pace(post, each.pose_s, lights=(Light(role="key", flash=HOT, power=power),))
        for post, each in paces.items()
    }
    agrees((rota, hot), frames, False)


def agrees(workshop, frames: int, heat_or_cold: bool) -> None:
    rota, paces = workshop
    schedule = scheduled(rota, paces, PLAN, frames=frames, heat_or_cold=heat_or_cold)
    run = Simulation(rota, paces, PLAN, frames, 600.0 if heat_or_cold else 300.0, told(schedule)).run()
    assert run.ended_s == pytest.approx(schedule.ends_s, abs=1e-3)
    said = {}
    for each, visit, turn in schedule.turns():
        where = (each.number - 1, visit.post, turn.shooter)
        said |= {("turn", *where): turn.starts_s, ("shot", *where): turn.shot_s, ("handed", *where): turn.ends_s}
    said |= {("round", each.number - 1, 0, 0): each.ends_s for each in schedule.rounds}
    assert run.log == pytest.approx(said, abs=1e-3)


@settings(max_examples=60, deadline=None)
@given(workshops(), st.integers(1, 12))
def test_nobody_is_on_for_longer_than_twenty_minutes(workshop, frames) -> None:
    schedule = scheduled(*workshop, PLAN, frames=frames)
    for post in workshop[1]:
        turns, on_s = turns_at(schedule, post), 0.0
        for before, turn in pairwise([None, *turns]):
            rested = before is None or turn.starts_s - before.ends_s >= REST_S - 1e-6
            on_s = turn.ends_s - turn.starts_s + (0.0 if rested else on_s)
            assert on_s <= LONGEST_ON_S + 1e-6 or (rested and post in schedule.too_long)


@settings(max_examples=40, deadline=None)
@given(workshops(), st.integers(1, 11), st.integers(0, 20))
def test_more_frames_or_more_walkers_never_shorten(workshop, frames, more_s) -> None:
    rota, paces = workshop
    plain = scheduled(rota, paces, PLAN, frames=frames)
    assert scheduled(rota, paces, PLAN, frames=frames + 1).length_s >= plain.length_s - 1e-6
    fuller = {
        post: pace(post, each.pose_s, waits=((0.0, walkers(each.waits[0][1].middle_s + more_s)),))
        for post, each in paces.items()
    }
    assert scheduled(rota, fuller, PLAN, frames=frames).length_s >= plain.length_s - 1e-6


@settings(max_examples=30, deadline=None)
@given(workshops(), st.integers(0, 10), st.integers(0, 20))
def test_the_doubt_holds_the_middle(workshop, under_s, over_s) -> None:
    rota, paces = workshop
    doubted = {
        post: pace(post, each.pose_s, waits=((0.0, walkers(10, 10 - under_s, 10 + over_s)),))
        for post, each in paces.items()
    }
    schedule = scheduled(rota, doubted, PLAN, frames=8)
    assert schedule.low_s <= schedule.length_s <= schedule.high_s
    for end, length_s in ((10 - under_s, schedule.low_s), (10 + over_s, schedule.high_s)):
        held = {post: pace(post, each.pose_s, waits=((0.0, walkers(end)),)) for post, each in paces.items()}
        assert scheduled(rota, held, PLAN, frames=8).length_s == pytest.approx(length_s)


@settings(max_examples=40, deadline=None)
@given(workshops(most_people=12, most_posts=3), st.integers(1, 12), st.floats(0, 1), st.integers(0, 900))
def test_planned_anew_from_any_moment_nobody_is_on_for_too_long(workshop, frames, share, on_s) -> None:
    """Cut at a turn's end: what went before and what comes after together hold the rule."""
    rota, paces = workshop
    tired = {post: ModelState(on_s) for post in paces}
    before = scheduled(rota, paces, PLAN, tired, frames=frames)
    at_s = share * before.length_s
    models = models_at(before, at_s, tired)
    after = scheduled(rota, paces, PLAN, models, frames=frames, starts_s=at_s)
    for post in paces:
        worked = [(turn.starts_s, min(turn.ends_s, at_s)) for turn in turns_at(before, post) if turn.starts_s < at_s]
        stands, (last_on_s, stopped_s) = models[post], worked_since_rest(worked, on_s, 0.0)
        assert (stands.on_s, stands.idle_s) == pytest.approx((last_on_s, at_s - stopped_s), abs=1e-3)
        if stands.on_s <= LONGEST_ON_S:
            first = turns_at(after, post)[0]
            rested = first.starts_s - stopped_s >= REST_S - 1e-6
            work_s = first.length_s + (0 if rested else last_on_s)
            assert work_s <= LONGEST_ON_S + 1e-6 or not last_on_s or rested


def turns_at(schedule: Schedule, post: int) -> list[TurnTimes]:
    return [turn for _, visit, turn in schedule.turns() if visit.post == post]


def worked_since_rest(worked: list[tuple[float, float]], on_s: float, stopped_s: float) -> tuple[float, float]:
    """Seconds worked since the last rest, and when the model stopped."""
    for starts_s, ends_s in worked:
        on_s = ends_s - starts_s + (0.0 if starts_s - stopped_s >= REST_S - 1e-6 else on_s)
        stopped_s = ends_s
    return on_s, stopped_s


@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.dictionaries(st.sampled_from([1, 2]), st.lists(st.integers(1, 6), min_size=1, max_size=2), min_size=1),
        min_size=1,
        max_size=3,
    ),
    st.integers(0, 8),
    st.integers(0, 2),
)
def test_no_other_choice_of_rests_takes_less(rounds, on_s, move_s) -> None:
    """Longest on 8, rest 5: every choice of turns to rest before is tried."""
    rules, models = Rules(8, 5, move_s), {1: Fresh(on_s, 0)}
    spots = [
        (n, post, turn) for n, each in enumerate(rounds) for post, works in each.items() for turn in range(len(works))
    ]
    every = chain.from_iterable(combinations(spots, size) for size in range(len(spots) + 1))
    totals = [total for chosen in every if (total := lasts(rounds, set(chosen), rules, on_s)) is not None]
    assert lasts(rounds, least_breaks(rounds, models, rules), rules, on_s) == min(totals)


def lasts(rounds, rests, rules: Rules, on_s: float) -> float | None:
    """How long it takes with those rests; None where somebody works for too long."""
    at_s, stopped, on = 0.0, {1: 0.0}, {1: on_s}
    for number, each in enumerate(rounds):
        ends = [at_s]
        for post, works in each.items():
            now_s = at_s
            for turn, work_s in enumerate(works):
                fresh_s = stopped.get(post, float("-inf")) + rules.rest_s
                now_s = max(now_s, fresh_s) if (number, post, turn) in rests else now_s
                on[post] = work_s + (0 if now_s >= fresh_s else on.get(post, 0))
                if on[post] > rules.longest_s and on[post] != work_s:
                    return None
                now_s = stopped[post] = now_s + work_s
            ends.append(now_s)
        at_s = max(ends) + rules.move_s
    return at_s


@pytest.mark.bench
def test_how_fast() -> None:
    rota, paces = rota_of(split(15, 5), [1, 2, 3]), {post: pace(post, 9 + 5 * post) for post in (1, 2, 3)}
    taken_s = min(repeat(lambda: scheduled(rota, paces, PLAN), number=1, repeat=9))
    print(f"15 people at 3 stations: times worked out in {1000 * taken_s:.1f} ms")
    assert taken_s < 0.02
