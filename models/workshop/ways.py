"""Where hands are short: a helper or the organiser is lent, or groups are merged and it takes longer. Both are offered.

What no way mends is said: a post that takes more hands than there are people, and what is never shot.
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
    """kind: "merge" where nobody is lent. turns: from start to end. loans: where hands are lent, or simply lack."""

    kind: Literal["lend", "merge"]
    rota: Rota
    turns: int
    loans: tuple[Loan, ...]

    @property
    def lent(self) -> int:
        """The most hands lent in any one round."""
        rounds = {loan.round for loan in self.loans}
        return max((sum(loan.hands for loan in self.loans if loan.round == each) for each in rounds), default=0)


@dataclass(frozen=True, slots=True)
class Unmanned:
    """A post that lacks hands even with everyone there. needs, has: hands beside whoever shoots."""

    post: int
    needs: int
    has: int


def ways_to_plan(people: Sequence[int], posts: Sequence[Post], group_size: int = GROUP_SIZE) -> tuple[Way, ...]:
    """Ways to plan a fresh rota where groups of about group_size lack hands; none where they do not.

    First with nobody lent and groups as large as it takes, then with more and more lent, each only where that is
    quicker than the one before. Raises InputProblem as `plan_rota`.
    """
    return _ways(lambda lent: plan_rota(people, posts, group_size, lent=lent), posts)


def ways_from_now(
    before: Rota,
    posts: Sequence[Post],
    people: Sequence[int],
    shot: frozenset[Pair] = frozenset(),
    at: tuple[int, int] = (1, 1),
    group_size: int = GROUP_SIZE,
) -> tuple[Way, ...]:
    """The same for what is left from now; arguments as of `replan`."""
    return _ways(lambda lent: replan(before, posts, people, shot, at, group_size, lent=lent), posts)


def loans(rota: Rota) -> tuple[Loan, ...]:
    """Visits that lack hands, in order of rounds."""
    return tuple(
        Loan(number, visit.post, short)
        for number, each in enumerate(rota.rounds, start=1)
        for visit in each.visits
        if visit.post is not None and (short := max(turn.short for turn in visit.turns))
    )


def unmanned(rota: Rota) -> tuple[Unmanned, ...]:
    """Posts that nobody who is there can mend: they take more hands than are left beside whoever shoots."""
    has = len(rota.people) - 1
    shot_at = {post for _, post in rota.shots()}
    return tuple(Unmanned(post.key, post.hands, has) for post in rota.posts if post.key in shot_at and post.hands > has)


def never_shot(first: Rota, shot: frozenset[Pair], now: Rota) -> tuple[Pair, ...]:
    """(person, post) of the first rota that is neither shot nor to come: the person has left, or the post is lost."""
    return tuple(sorted(set(first.shots()) - shot - set(now.shots())))


def _ways(made: Callable[[int], Rota], posts: Sequence[Post]) -> tuple[Way, ...]:
    """made: the rota with so many lent."""
    most = sum(post.hands for post in posts)
    free = made(most)
    if not free.short:
        return ()
    found = [_way(made(0), 0)]
    for lent in range(1, most + 1):
        if found[-1].turns <= time_of(free):
            break
        way = _way(made(lent), lent)
        if way.turns < found[-1].turns:
            found = [each for each in found if each.lent < way.lent or each.kind == "merge"] + [way]
    return tuple(found)


def _way(rota: Rota, lent: int) -> Way:
    return Way("lend" if lent else "merge", rota, time_of(rota), loans(rota))
