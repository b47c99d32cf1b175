"""Where hands are short: groups are merged, or share hands, or a helper or the organiser is lent. All are offered.

What is never shot, whichever way is taken, is told apart.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

from models.workshop.left import Pair
from models.workshop.replan import replan
from models.workshop.rota import GROUP_SIZE, Post, Rota
from models.workshop.rotation import plan_rota, time_of


@dataclass(frozen=True, slots=True)
class Loan:
    """Hands lent to a visit. round: from 1, in the rota of the way."""

    round: int
    post: int
    hands: int


@dataclass(frozen=True, slots=True)
class Way:
    """kind: "merge", fewer and larger groups; "share", groups help each other out, and merge where that is quicker;
    "lend", from outside. turns: from start to end. loans: where hands are lent, or simply lack."""

    kind: Literal["merge", "share", "lend"]
    rota: Rota
    turns: int
    loans: tuple[Loan, ...]

    @property
    def lent(self) -> int:
        """The most hands lent in any one round."""
        rounds = {loan.round for loan in self.loans}
        return max((sum(loan.hands for loan in self.loans if loan.round == each) for each in rounds), default=0)


def ways_to_plan(people: Sequence[int], posts: Sequence[Post], group_size: int = GROUP_SIZE) -> tuple[Way, ...]:
    """Ways to plan a fresh rota where groups of about group_size lack hands; none where they do not.

    Merged groups first, then shared hands, then more and more hands lent, each only where it is quicker than the one
    before. Raises InputProblem as `plan_rota`.
    """
    most = sum(post.hands for post in posts)
    free = plan_rota(people, posts, group_size, lent=most)
    if not free.short:
        return ()
    found = [_way("merge", plan_rota(people, posts, group_size))]
    shared = _way("share", replan(free, posts, people, group_size=group_size))
    if shared.turns < found[0].turns:
        found.append(shared)
    return _with_loans(found, time_of(free), most, lambda lent: plan_rota(people, posts, group_size, lent=lent))


def ways_from_now(
    before: Rota,
    posts: Sequence[Post],
    people: Sequence[int],
    shot: frozenset[Pair] = frozenset(),
    at: tuple[int, int] = (1, 1),
    group_size: int = GROUP_SIZE,
) -> tuple[Way, ...]:
    """The same for what is left from now, shared hands first; arguments as of `replan`."""
    most = sum(post.hands for post in posts)
    free = replan(before, posts, people, shot, at, group_size, lent=most)
    if not free.short:
        return ()
    found = [_way("share", replan(before, posts, people, shot, at, group_size))]
    return _with_loans(
        found, time_of(free), most, lambda lent: replan(before, posts, people, shot, at, group_size, lent=lent)
    )


def loans(rota: Rota) -> tuple[Loan, ...]:
    """Visits that lack hands, in order of rounds."""
    return tuple(
        Loan(number, visit.post, short)
        for number, each in enumerate(rota.rounds, start=1)
        for visit in each.visits
        if visit.post is not None and (short := max(turn.short for turn in visit.turns))
    )


def never_shot(first: Rota, shot: frozenset[Pair], now: Rota) -> tuple[Pair, ...]:
    """(person, post) of the first rota that is neither shot nor to come: the person has left, or the post is lost."""
    return tuple(sorted(set(first.shots()) - shot - set(now.shots())))


def _with_loans(found: list[Way], least: int, most: int, made: Callable[[int], Rota]) -> tuple[Way, ...]:
    """Ways with ever more hands lent, up to most, until one takes as few turns as can be. made: a rota with so many."""
    for lent in range(1, most + 1):
        if found[-1].turns <= least:
            break
        way = _way("lend", made(lent))
        if way.turns < found[-1].turns:
            found = [each for each in found if each.lent < way.lent or each.kind != "lend"] + [way]
    return tuple(found)


def _way(kind: Literal["merge", "share", "lend"], rota: Rota) -> Way:
    return Way(kind, rota, time_of(rota), loans(rota))
