"""The rota made anew from now: what has been shot stays shot, everyone present shoots once at each post they owe.

In order of importance: once at each post, hands at each post, least time, equal sizes; then groups are mixed as little
as can be.
"""

from __future__ import annotations

from collections.abc import Sequence

from models.problems import InputProblem
from models.workshop.improving import improved
from models.workshop.left import Home, Left, Pair, whats_left
from models.workshop.partings import Parting, partings
from models.workshop.rota import GROUP_SIZE, Post, Rota
from models.workshop.seating import Seating, as_planned, by_colours, by_size, started
from models.workshop.standing import rota_of
from models.workshop.tidying import tidied

MOST_IMPROVED, MOST_BUILT = 12, 8
"""So many of the quickest seatings are made quicker still; and of those, so many are written out and compared."""


def replan(
    before: Rota,
    posts: Sequence[Post],
    people: Sequence[int],
    shot: frozenset[Pair] = frozenset(),
    at: tuple[int, int] = (1, 1),
    group_size: int = GROUP_SIZE,
    *,
    lent: int = 0,
) -> Rota:
    """What is left from now on; without rounds where nothing is, or nobody or no post is left.

    before: the rota that was being followed. posts, people: those there are now. shot: (person, post) ever shot.
    at: round and turn, from 1, in `before`, of what comes next; of a round begun, visits with turns left go on first.
    lent: helpers who can be hands at any one time; what a turn is short of is meant for them. In every round all people
    have a place. Raises InputProblem for people or posts that stand there twice.
    """
    if len(set(people)) < len(people):
        raise InputProblem("people", "one stands in the list twice")
    if len({post.key for post in posts}) < len(posts):
        raise InputProblem("posts", "one stands in the list twice")
    left = whats_left(before, posts, people, shot, at, group_size, lent)
    if not left.owed and not left.running:
        return Rota(tuple(posts), ())
    all_partings = partings(left)
    first = sorted(_seatings(left, all_partings), key=lambda each: each[0].effort)[:MOST_IMPROVED]
    seatings = [(improved(seating), homes) for seating, homes in first]
    least = min(seating.effort for seating, _ in seatings)
    quickest = [each for each in seatings if each[0].effort == least][:MOST_BUILT]
    found = []
    for seating, parting in quickest:
        for homes in dict.fromkeys((all_partings[0], parting)):
            rota = rota_of(tidied(seating, homes), homes)
            found.append(((_uneven(homes), scattered(rota, homes), scattered(rota, left.homes)), rota))
    return min(found, key=lambda each: each[0])[1]


def scattered(rota: Rota, homes: Sequence[Home]) -> int:
    """How much groups are mixed: over all rounds, what each visit has of further groups, and what each group is spread
    over further visits. Nothing where groups keep together and to themselves."""
    home_of = {person: number for number, home in enumerate(homes) for person in home}
    mixed = 0
    for each in rota.rounds:
        seen = [{home_of[who] for who in visit.members if who in home_of} for visit in each.visits]
        mixed += sum(max(0, len(homes) - 1) for homes in seen)
        mixed += sum(map(len, seen)) - len(set().union(*seen))
    return mixed


def _uneven(homes: Sequence[Home]) -> int:
    """By how many people groups differ in size beyond the one that cannot be helped."""
    sizes = [len(home) for home in homes]
    return max(0, max(sizes) - min(sizes) - 1)


def _seatings(left: Left, all_partings: Sequence[Parting]) -> list[tuple[Seating, Parting]]:
    if not left.owed:
        return [(started(left), all_partings[0])]
    found = [(as_planned(left), all_partings[0])]
    for homes in all_partings:
        found += [(by_colours(left, homes), homes), (by_size(left, homes), homes)]
    return found
