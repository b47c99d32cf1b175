"""The rota as first planned: even groups going round the stations, everybody shooting once at each."""

from __future__ import annotations

from collections.abc import Sequence

from models.problems import InputProblem
from models.workshop.duties import Tally, turns_of
from models.workshop.groups import groups_counts, parted, sizes_of
from models.workshop.rota import FRAMES, FRAMES_FULL, GROUP_SIZE, Post, Rota, Round, Visit

MOST_PEOPLE, MOST_POSTS = 40, 8
Places = tuple[tuple[int | None, ...], ...]
"""For every round, the place in the list of posts where each group stands, None where it rests."""


def plan_rota(
    people: Sequence[int],
    posts: Sequence[Post],
    group_size: int = GROUP_SIZE,
    *,
    groups: int | None = None,
    lent: int = 0,
) -> Rota:
    """Everyone once at every post, in as many rounds as there are groups or posts, whichever is more.

    people: 1 to 40 numbers, posts: 1 to 8. groups: how many; None for the number that leaves fewest hands lacking,
    then has sizes nearest to group_size, then takes least time. lent: helpers who can be hands at any
    one time; what a turn is short of is meant for them. Rests are the same for all. Raises InputProblem for
    people, posts, group_size or groups.
    """
    _check(people, posts, group_size, groups)
    count = groups or best_count(len(people), posts, group_size, lent=lent)
    members = parted(people, count)
    tallies = [Tally() for _ in members]
    rounds = []
    for places in _places(tuple(map(len, members)), len(posts)):
        visits = []
        for group, tally, place in zip(members, tallies, places, strict=True):
            post = None if place is None else posts[place]
            turns = () if post is None else turns_of(group, group, post, tally)
            visits.append(Visit(group, None if post is None else post.key, turns))
        rounds.append(Round(tuple(visits)))
    return Rota(tuple(posts), tuple(rounds))


def best_count(people: int, posts: Sequence[Post], group_size: int = GROUP_SIZE, *, lent: int = 0) -> int:
    """The number of groups to part so many people into; where two are as good, the smaller."""
    counts = groups_counts(people, posts, group_size, lent=lent)
    return min(counts, key=lambda groups: (_effort(sizes_of(people, groups), len(posts)), groups))


def time_of(rota: Rota) -> int:
    """Turns from start to end: of every round its longest visit."""
    return sum(each.longest for each in rota.rounds)


def effort_of(rota: Rota) -> int:
    """What is kept small when rotas are compared: turns, and one more for every round.

    Going to the next station takes about as long as a turn: common practice, no source.
    """
    return time_of(rota) + len(rota.rounds)


def usual_frames(rota: Rota, group_size: int = GROUP_SIZE) -> int:
    """Frames a turn that are usual: 10, or 8 where every group is full and so waits longest."""
    sizes = [len(visit.members) for each in rota.rounds for visit in each.visits if visit.turns]
    return FRAMES_FULL if sizes and min(sizes) >= group_size else FRAMES


def _places(sizes: tuple[int, ...], posts: int) -> Places:
    """Groups going round: the cyclic Latin square where groups and posts are as many, its first rows or columns else.

    With more groups than posts, the posts are spread along the ring of groups, so that rests lie apart; the larger
    groups stand where they shoot in as few rounds as can be.
    """
    groups = len(sizes)
    if groups <= posts:
        return tuple(tuple((group + each) % posts for group in range(groups)) for each in range(posts))
    slots = {place * groups // posts: place for place in range(posts)}
    ring = _ring_places(groups, sizes.count(sizes[0]) % groups, tuple(slots))
    return tuple(tuple(slots.get((place + each) % groups) for place in ring) for each in range(groups))


def _ring_places(groups: int, larger: int, slots: tuple[int, ...]) -> tuple[int, ...]:
    """Where each group stands in the ring, the larger ones, which come first, in rounds they share."""
    taken: list[int] = []
    busy: set[int] = set()
    for _ in range(larger):
        open_places = [place for place in range(groups) if place not in taken]
        place = min(open_places, key=lambda place: len({(slot - place) % groups for slot in slots} - busy))
        busy |= {(slot - place) % groups for slot in slots}
        taken.append(place)
    return (*taken, *(place for place in range(groups) if place not in taken))


def _effort(sizes: tuple[int, ...], posts: int) -> int:
    longest = (
        max(size for size, place in zip(sizes, places, strict=True) if place is not None)
        for places in _places(sizes, posts)
    )
    return sum(turns + 1 for turns in longest)


def _check(people: Sequence[int], posts: Sequence[Post], group_size: int, groups: int | None) -> None:
    for field, most, keys in (
        ("people", MOST_PEOPLE, list(people)),
        ("posts", MOST_POSTS, [post.key for post in posts]),
    ):
        if not keys:
            raise InputProblem(field, "none yet; a rota needs at least one")
        if len(keys) > most:
            raise InputProblem(field, f"{len(keys)}; a rota is made for at most {most}")
        if len(set(keys)) < len(keys):
            raise InputProblem(field, "one stands in the list twice")
    if any(min(post.holders, post.watchers) < 0 for post in posts):
        raise InputProblem("posts", "hands are a whole number from 0")
    if group_size < 1:
        raise InputProblem("group_size", "at least 1 person")
    if groups is not None and not 1 <= groups <= len(people):
        raise InputProblem("groups", f"{groups}; between 1 and as many as there are people")
