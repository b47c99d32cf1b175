"""What fits into the time there is, and what it costs to make it fit."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.workshop.fitting import Case, Way, fitting, most_frames
from models.workshop.rota import Post, Rota
from models.workshop.rotation import plan_rota
from models.workshop.running_order import seconds_at_fallback, short_order
from tests.models.workshop.rotas import PLAN, pace, rota_of, split, workshops


def make(people, posts) -> Rota:
    """Groups of about three."""
    groups = max(1, round(len(people) / 3))
    return rota_of(split(len(people), groups), [post.key for post in posts])


def case(people: int, posts: int, frame_s: float = 9.0) -> Case:
    keys = list(range(1, posts + 1))
    rota = make(range(people), [Post(key=key) for key in keys])
    return Case(rota, {key: pace(key, frame_s) for key in keys}, PLAN)


def test_what_fits_needs_no_ways() -> None:
    """Three turns of 8 frames of 9 s with 40 s each: 336 s a round, three rounds and two moves."""
    found = fitting(case(9, 3), 1188, make)
    assert (found.planned.frames, found.planned.length_s, found.fits, found.ways) == (8, 1188, True, ())


def test_every_way_is_costed() -> None:
    """Four groups at three stations: four rounds of 336 s, three moves of 90, and as 4 x 336 are over 20 minutes a rest
    of 300 - 90: 1824 s. 6 frames: 4 x 282 + 270 = 1398 s, no rest. A fourth station saves nothing, for every group
    still goes to it; of two there are still four rounds. Three people fewer are three groups: 3 x 336 + 180 s."""
    found = fitting(case(12, 3), 1400, make)
    assert found.over_s == 424
    told = {way.kind: (way.amount, way.saves_s, way.over_s, way.fits) for way in found.ways}
    assert told["frames"] == (6, 426, -2, True)
    assert told["station more"] == (1, 0, 424, False)
    assert told["station fewer"] == (1, 0, 424, False)
    assert told["people fewer"] == (3, 636, -212, True)
    assert found.ways[0].kind == "frames"
    assert [way.fits for way in found.ways] == sorted((way.fits for way in found.ways), reverse=True)


def way(found, kind: str) -> Way:
    return next(each for each in found.ways if each.kind == kind)


def test_the_slowest_station_is_left_out() -> None:
    base = case(6, 3)
    slow = Case(base.rota, {**base.paces, 2: pace(2, 30)}, PLAN)
    found = way(fitting(slow, 700, make), "station fewer")
    assert (found.dropped, found.schedule.length_s) == ((2,), 336 + 90 + 336)
    assert found.saves_s == fitting(slow, 700, make).planned.length_s - found.schedule.length_s


def test_where_not_even_one_frame_fits_it_says_so() -> None:
    found = fitting(case(9, 3), 100, make)
    assert found.one_frame_over_s == 3 * 3 * 49 + 180 - 100
    assert "frames" not in {each.kind for each in found.ways}
    assert way(found, "people fewer").amount == 1
    assert not any(each.fits for each in found.ways)


@settings(max_examples=40, deadline=None)
@given(workshops(most_people=10, most_posts=3), st.integers(60, 7200))
def test_one_frame_more_would_not_fit(workshop, within_s) -> None:
    one = Case(*workshop, PLAN)
    found = most_frames(one, within_s)
    if found is None:
        assert one.scheduled(1).length_s > within_s
    else:
        assert found.length_s <= within_s
        assert found.frames == 60 or one.scheduled(found.frames + 1).length_s > within_s


@pytest.mark.parametrize("people", [1, 2])
def test_the_smallest_workshops(people: int) -> None:
    found = fitting(case(people, 1), 1, make)
    assert {each.kind for each in found.ways} == ({"people fewer"} if people > 1 else set())


def test_a_fallback_shoots_as_many_frames_as_still_fit() -> None:
    """52 minutes less a walk of 5, set-up 15, safety word 5 and packing 10 leave 1020 s: three rounds of 3 x (9 n + 40)
    and 180 s of moves are 945 s with 5 frames. 40 minutes leave 300 s: one frame takes 621."""
    at = datetime(2026, 6, 6, 17, 0, tzinfo=UTC)
    ends = at + timedelta(minutes=52)
    schedule = most_frames(case(9, 3), seconds_at_fallback(PLAN, at, ends, 300), 8)
    assert schedule is not None
    assert (schedule.frames, schedule.length_s) == (5, 945)
    assert short_order(PLAN, at, ends, schedule, walk_s=300).over_s == -75
    assert most_frames(case(9, 3), seconds_at_fallback(PLAN, at, at + timedelta(minutes=40), 300), 8) is None


def test_with_rotas_as_they_are_planned() -> None:
    """Ways for fifteen people at three stations come from the planner of rotas itself."""
    posts = [Post(key=key) for key in (1, 2, 3)]
    planned = Case(plan_rota(range(15), posts), {key: pace(key) for key in (1, 2, 3)}, PLAN)
    found = fitting(planned, 0.9 * planned.scheduled().length_s, plan_rota)
    assert {each.kind for each in found.ways} == {"frames", "station more", "station fewer", "people fewer"}
    assert way(found, "frames").fits
    assert way(found, "people fewer").fits
    assert len(way(found, "people fewer").rota.people) == 15 - way(found, "people fewer").amount


def test_a_ninth_station_is_never_offered() -> None:
    posts = [Post(key=key) for key in range(1, 9)]
    planned = Case(plan_rota(range(30), posts, 2), {post.key: pace(post.key) for post in posts}, PLAN)
    assert any(visit.post is None for each in planned.rota.rounds for visit in each.visits)
    found = fitting(planned, 600, lambda people, posts: plan_rota(people, posts, 2))
    assert {each.kind for each in found.ways} == {"station fewer", "people fewer"}
