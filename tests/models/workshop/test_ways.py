from __future__ import annotations

from collections import Counter
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.workshop.rota import Post
from models.workshop.rotation import plan_rota, time_of
from models.workshop.ways import Loan, loans, never_shot, ways_from_now, ways_to_plan
from tests.models.workshop.rota_rules import must_be_manned, must_be_sound, shot_until

THREE = tuple(Post(key=key) for key in (1, 2, 3))


def test_nine_people_need_no_way_out():
    assert ways_to_plan(range(9), THREE) == ()


def test_five_people_stay_together_or_part_with_helpers_lent():
    """Each post takes three people. Together: three rounds of five turns. Three and two: three rounds of three turns,
    and the two lack one hand."""
    together, parted = ways_to_plan(range(1, 6), THREE)
    assert (together.kind, together.turns, together.lent, together.rota.short) == ("merge", 15, 0, 0)
    assert (parted.kind, parted.turns, parted.lent) == ("lend", 9, 1)
    assert [loan.hands for loan in parted.loans] == [1, 1, 1]
    assert sorted(loan.post for loan in parted.loans) == [1, 2, 3]


def test_a_station_of_four_hands_and_groups_of_three():
    """Three groups of three lack two hands at the large station, in each of three rounds of three turns. All together
    take three rounds of nine. Sharing: the large station takes five, so that one other can go on beside it, or the two
    others; 27 turns are shot two at a time at best, in no fewer than 14.
    """
    posts = (Post(key=1), Post(key=2), Post(key=3, holders=3))
    merged, shared, *_, lent = ways_to_plan(range(9), posts)
    assert (merged.kind, merged.turns, merged.loans) == ("merge", 27, ())
    assert (shared.kind, shared.turns, shared.loans) == ("share", 14, ())
    assert (lent.turns, lent.lent, lent.loans) == (9, 2, (Loan(1, 3, 2), Loan(2, 3, 2), Loan(3, 3, 2)))


def test_after_a_loss_both_are_offered_too():
    rota = plan_rota(range(1, 10), THREE)
    shared, *_, lent = ways_from_now(rota, THREE, [1, 2, 4, 5, 7, 8], shot_until(rota, (2, 1)), (2, 1))
    assert (shared.kind, shared.rota.short) == ("share", 0)
    assert lent.kind == "lend"
    assert lent.turns < shared.turns
    assert 0 < lent.lent <= 3


@settings(max_examples=25, deadline=None)
@given(st.integers(1, 20), st.lists(st.integers(0, 4), min_size=1, max_size=5))
def test_whoever_lends_more_is_quicker_and_no_round_takes_more_than_is_lent(people, held):
    posts = tuple(Post(key=key, holders=hands) for key, hands in enumerate(held))
    ways = ways_to_plan(range(people), posts)
    assert all(later.turns < way.turns for way, later in pairwise(ways))
    lending = [way for way in ways if way.kind == "lend"]
    assert all(later.lent > way.lent for way, later in pairwise(lending))
    for way in ways:
        pairs = Counter((who, post.key) for who in range(people) for post in posts)
        must_be_sound(way.rota, tuple(range(people)), pairs)
        assert time_of(way.rota) == way.turns
        assert way.loans == loans(way.rota)
        lent = [sum(loan.hands for loan in way.loans if loan.round == n) for n in range(1, len(way.rota.rounds) + 1)]
        assert max(lent) == way.lent
        if way.kind != "lend":
            must_be_manned(way.rota, people)


def test_a_station_that_takes_more_hands_than_there_are_people_lacks_them():
    rota = plan_rota([1, 2, 3], (Post(key=1), Post(key=7, holders=2)))
    assert loans(rota) == (Loan(2, 7, 1),)


@pytest.mark.parametrize(("gone", "expected"), [((), ()), ((3,), ((3, 2), (3, 3)))])
def test_what_is_never_shot_is_said(gone, expected):
    rota = plan_rota(range(1, 10), THREE)
    people = [who for who in range(1, 10) if who not in gone]
    shot = shot_until(rota, (2, 1))
    ways = ways_from_now(rota, THREE, people, shot, (2, 1))
    assert all(never_shot(rota, shot, way.rota) == expected for way in ways)
    assert never_shot(rota, frozenset(rota.shots()), rota) == ()
