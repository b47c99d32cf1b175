"""What every rota must keep, looked at from outside: nothing here is worked out by the code that makes rotas."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise

from models.workshop.rota import Post, Rota, Round, Visit

Pair = tuple[int, int]


def must_be_sound(rota: Rota, people: tuple[int, ...], owed: Counter[Pair]) -> None:
    """Everyone shoots once at each post they owe, nobody is in two places, nobody is left without a place, every duty
    stands with somebody who is there, and what hands are lacking is said."""
    assert Counter(rota.shots()) == owed
    posts = {post.key: post for post in rota.posts}
    for each in rota.rounds:
        must_have_one_place(each, people)
        assert each.longest, "a round in which nobody shoots"
        for visit in each.visits:
            if visit.post is None:
                assert not visit.turns
            else:
                must_share_duties(visit, posts[visit.post])


def must_have_one_place(each: Round, people: tuple[int, ...]) -> None:
    assert sorted(person for visit in each.visits for person in visit.members) == sorted(people)
    at = [visit.post for visit in each.visits if visit.post is not None]
    assert len(at) == len(set(at)), "two groups at one post"


def must_share_duties(visit: Visit, post: Post) -> None:
    assert visit.turns, "a visit in which nobody shoots"
    for turn in visit.turns:
        said = [turn.shooter, *turn.light, *turn.watch, *turn.free]
        said += [] if turn.next_up is None else [turn.next_up]
        assert sorted(said) == sorted(visit.members)
        assert len(turn.light) <= post.holders
        assert len(turn.watch) <= post.watchers
        assert turn.short == post.hands - len(turn.light) - len(turn.watch)
        assert not turn.short or (not turn.free and turn.next_up is None), "hands lack while somebody is free"
    for turn, coming in pairwise(visit.turns):
        assert turn.next_up in (None, coming.shooter)


def must_be_manned(rota: Rota, people: int) -> None:
    """No turn lacks a hand that anybody present could be."""
    posts = {post.key: post for post in rota.posts}
    for each in rota.rounds:
        for visit in each.visits:
            for turn in visit.turns:
                assert visit.post is not None
                assert turn.short == max(0, posts[visit.post].hands + 1 - people)


def shot_until(rota: Rota, at: Pair) -> frozenset[Pair]:
    """(person, post) of what is shot when the turn `at` (round and turn, from 1) comes next."""
    return frozenset(
        (turn.shooter, visit.post)
        for number, each in enumerate(rota.rounds, start=1)
        for visit in each.visits
        for place, turn in enumerate(visit.turns, start=1)
        if visit.post is not None and (number, place) < at
    )


def duties(rota: Rota, duty: str) -> Counter[int]:
    """By person, how often they have it; everyone stands in it."""
    count = Counter(dict.fromkeys(rota.people, 0))
    for each in rota.rounds:
        for visit in each.visits:
            for turn in visit.turns:
                count.update(who for who in visit.members if turn.duty_of(who) == duty)
    return count
