from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.problems import InputProblem
from models.workshop.rota import FRAMES, FRAMES_FULL, Post, Rota
from models.workshop.rotation import effort_of, plan_rota, time_of, usual_frames
from tests.models.workshop.rota_rules import duties, must_be_manned, must_be_sound

DUTIES = ("shoots", "light", "watch", "next", "free")
posts_of_any_kind = st.lists(st.tuples(st.integers(0, 3), st.integers(0, 2)), min_size=1, max_size=8).map(
    lambda hands: tuple(Post(key=10 + n, holders=h, watchers=w) for n, (h, w) in enumerate(hands))
)


def usual(count: int) -> tuple[Post, ...]:
    return tuple(Post(key=key) for key in range(1, count + 1))


def groups(rota: Rota) -> list[int]:
    return [len(visit.members) for visit in rota.rounds[0].visits]


def must_keep_every_law(people: int, posts: tuple[Post, ...], group_size: int) -> None:
    rota = plan_rota(range(people), posts, group_size)
    must_be_sound(rota, tuple(range(people)), Counter((who, post.key) for who in range(people) for post in posts))
    must_be_manned(rota, people)
    sizes = groups(rota)
    assert max(sizes) - min(sizes) <= 1
    assert len(rota.rounds) == max(len(sizes), len(posts))
    assert time_of(rota) <= max(sizes) * len(rota.rounds)
    must_be_fair(rota)


def must_be_fair(rota: Rota) -> None:
    """Each duty is had as often, give or take one, by all whose groups are of one size; rests, by all."""
    size_of = {who: len(visit.members) for visit in rota.rounds[0].visits for who in visit.members}
    for duty in DUTIES:
        had = duties(rota, duty)
        for size in set(size_of.values()):
            counts = [had[who] for who in size_of if size_of[who] == size]
            assert max(counts) - min(counts) <= 1, (duty, size)
    rests = Counter(dict.fromkeys(size_of, 0))
    rests.update(who for each in rota.rounds for visit in each.visits if visit.post is None for who in visit.members)
    assert max(rests.values()) - min(rests.values()) <= 1


@settings(max_examples=40, deadline=None)
@given(st.integers(1, 40), posts_of_any_kind, st.integers(1, 6))
def test_a_fresh_rota_keeps_every_law(people, posts, group_size):
    must_keep_every_law(people, posts, group_size)


@pytest.mark.slow
@settings(max_examples=1500, deadline=None)
@given(st.integers(1, 40), posts_of_any_kind, st.integers(1, 6))
def test_a_fresh_rota_keeps_every_law_over_many_sizes(people, posts, group_size):
    must_keep_every_law(people, posts, group_size)


@settings(max_examples=30, deadline=None)
@given(st.integers(2, 40), st.integers(1, 8), st.integers(1, 40))
def test_any_number_of_groups_may_be_asked_for(people, posts, count):
    rota = plan_rota(range(people), usual(posts), groups=min(count, people))
    assert len(groups(rota)) == min(count, people)
    must_be_sound(
        rota, tuple(range(people)), Counter((who, key) for who in range(people) for key in range(1, posts + 1))
    )
    must_be_fair(rota)


@settings(max_examples=20, deadline=None)
@given(st.integers(2, 14), st.integers(1, 8))
def test_nobody_shoots_first_of_a_group_much_more_often_than_the_others(people, posts):
    rota = plan_rota(range(people), usual(posts))
    first = Counter(dict.fromkeys(range(people), 0))
    first.update(visit.turns[0].shooter for each in rota.rounds for visit in each.visits if visit.turns)
    for visit in rota.rounds[0].visits:
        counts = [first[who] for who in visit.members]
        assert max(counts) - min(counts) <= 1


@pytest.mark.parametrize(
    ("people", "expected"),
    [
        (1, [1]),
        (2, [2]),
        (5, [5]),
        (6, [3, 3]),
        (7, [4, 3]),
        (8, [4, 4]),
        (9, [3] * 3),
        (12, [3] * 4),
        (14, [4, 4, 3, 3]),
    ],
)
def test_groups_are_of_three_or_a_little_more_where_each_post_takes_two_hands(people, expected):
    assert groups(plan_rota(range(people), usual(3))) == expected


def test_groups_grow_until_the_hands_of_every_post_are_there():
    rota = plan_rota(range(12), (Post(key=1), Post(key=2, holders=3, watchers=2)))
    assert groups(rota) == [6, 6]
    assert rota.short == 0


def test_where_nobody_needs_hands_a_group_of_two_is_as_good_as_one_of_four_and_quicker():
    no_hands = tuple(Post(key=key, holders=0, watchers=0) for key in (1, 2, 3))
    assert groups(plan_rota(range(4), no_hands)) == [2, 2]


def test_what_hands_are_lacking_is_said_where_there_are_too_few_people():
    rota = plan_rota([7, 8], (Post(key=1, holders=2, watchers=1),))
    assert rota.short == 2
    assert [turn.light for turn in rota.rounds[0].visits[0].turns] == [(8,), (7,)]


def test_rests_of_a_group_lie_apart():
    """Nine groups at three posts: each works in every third round."""
    rota = plan_rota(range(27), usual(3))
    for who in range(27):
        at_work = [
            number
            for number, each in enumerate(rota.rounds)
            if any(who in visit.members and visit.turns for visit in each.visits)
        ]
        assert at_work == [at_work[0], at_work[0] + 3, at_work[0] + 6]


def test_time_is_the_longest_visit_of_every_round_and_effort_one_more_for_each():
    rota = plan_rota(range(7), usual(3))
    assert (time_of(rota), effort_of(rota)) == (4 * 3, 4 * 3 + 3)


@pytest.mark.parametrize(("people", "frames"), [(2, FRAMES), (3, FRAMES_FULL), (7, FRAMES_FULL)])
def test_frames_a_turn_are_fewer_where_every_group_is_full(people, frames):
    assert usual_frames(plan_rota(range(people), usual(2))) == frames


def test_the_same_people_and_posts_give_the_same_rota():
    assert plan_rota(range(13), usual(4)) == plan_rota(list(range(13)), list(usual(4)))


@pytest.mark.parametrize(
    ("people", "posts", "more", "field"),
    [
        ([], usual(2), {}, "people"),
        ([1, 2], (), {}, "posts"),
        (range(41), usual(2), {}, "people"),
        ([1, 2], usual(9), {}, "posts"),
        ([1, 1], usual(2), {}, "people"),
        ([1, 2], (Post(key=1), Post(key=1)), {}, "posts"),
        ([1, 2], (Post(key=1, watchers=-1),), {}, "posts"),
        ([1, 2], usual(2), {"group_size": 0}, "group_size"),
        ([1, 2], usual(2), {"groups": 3}, "groups"),
        ([1, 2], usual(2), {"groups": 0}, "groups"),
    ],
)
def test_what_no_rota_can_be_made_of_is_named(people, posts, more, field):
    with pytest.raises(InputProblem) as caught:
        plan_rota(people, posts, **more)
    assert caught.value.field == field
