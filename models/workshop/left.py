"""What is left of a rota at one moment: who still owes which post, which visits are under way, who can be a hand."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field

from models.workshop.rota import GROUP_SIZE, Post, Rota, Visit

Pair = tuple[int, int]
"""A person and a post."""
Home = tuple[int, ...]
"""People who keep together."""


@dataclass(frozen=True, slots=True)
class Left:
    """people: present. owed: still to be shot, visits under way left out. homes: who kept together so far, the absent
    left out. newcomers: present and in no home. planned: for each owed pair its round in the rota so far.
    running: by post, a visit under way and who of it still shoots, in order. locked: by person, the post of their visit
    under way. hands_in_all: people and hands lent. need: how many of them it takes to work at each post, or all.
    most: shooters of one visit, so that no crowd stands at a post for the sake of a round saved.
    """

    people: tuple[int, ...]
    posts: dict[int, Post]
    owed: frozenset[Pair]
    homes: tuple[Home, ...]
    newcomers: tuple[int, ...]
    planned: dict[Pair, int]
    running: dict[int, tuple[Visit, tuple[int, ...]]] = field(default_factory=dict)
    locked: dict[int, int] = field(default_factory=dict)
    hands_in_all: int = 0
    need: dict[int, int] = field(default_factory=dict)
    most: int = GROUP_SIZE


def whats_left(
    before: Rota,
    posts: Sequence[Post],
    people: Sequence[int],
    shot: frozenset[Pair],
    at: tuple[int, int],
    group_size: int = GROUP_SIZE,
    lent: int = 0,
) -> Left:
    """at: round and turn from 1, in `before`; a round of which no turn is shot is not under way. lent: hands lent."""
    here = set(people)
    owed = {(person, post.key) for person in people for post in posts} - shot
    homes = tuple(home for each in _parting(before, at[0]) if (home := tuple(who for who in each if who in here)))
    known = {person for home in homes for person in home}
    newcomers = tuple(person for person in people if person not in known)
    planned = {
        (turn.shooter, visit.post): number
        for number, each in enumerate(before.rounds, start=1)
        for visit in each.visits
        for turn in visit.turns
        if visit.post is not None and (turn.shooter, visit.post) in owed and number >= at[0]
    }
    need = {post.key: min(post.hands + 1, len(people) + lent) for post in posts}
    running = _under_way(before, at, frozenset(owed), here, need, lent)
    return Left(
        people=tuple(people),
        posts={post.key: post for post in posts},
        owed=frozenset(owed - {(person, post) for post, (_, who) in running.items() for person in who}),
        homes=homes,
        newcomers=newcomers,
        planned=planned,
        running=running,
        locked={person: post for post, (visit, _) in running.items() for person in visit.members if person in here},
        hands_in_all=len(people) + lent,
        need=need,
        most=max([group_size + 1, *need.values(), *(len(home) + bool(newcomers) for home in homes)]),
    )


def _parting(before: Rota, number: int) -> tuple[Home, ...]:
    """The groups of a rota: as people stand together in most rounds from this one on, or of all where none is left."""
    rounds = before.rounds[number - 1 :] or before.rounds
    partings = Counter(tuple(sorted(visit.members for visit in each.visits)) for each in rounds)
    return partings.most_common(1)[0][0] if partings else ()


def _under_way(
    before: Rota, at: tuple[int, int], owed: frozenset[Pair], here: set[int], need: dict[int, int], lent: int
) -> dict[int, tuple[Visit, tuple[int, ...]]]:
    """Visits that go on: those with turns left, but broken off where there are not the hands to go on with all.

    The one that lacks most hands is broken off first, then the one with fewest turns left; the last one goes on.
    """
    number, turn = at
    visits = before.rounds[number - 1].visits if turn > 1 and 1 <= number <= len(before.rounds) else ()
    running = {}
    for visit in visits:
        left = tuple(
            each.shooter for each in visit.turns if visit.post is not None and (each.shooter, visit.post) in owed
        )
        if left and visit.post is not None:
            running[visit.post] = (visit, left)
    standing = {post: len(here & set(visit.members)) for post, (visit, _) in running.items()}
    while len(running) > 1 and sum(max(need[post], standing[post]) for post in running) > len(here) + lent:
        del running[max(running, key=lambda post: (need[post] - standing[post], -len(running[post][1]), post))]
    return running
