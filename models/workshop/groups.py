"""Parting people into groups: as even as can be, large enough for the hands of every station, about three otherwise."""

from __future__ import annotations

from collections.abc import Sequence

from models.workshop.rota import GROUP_SIZE, Post


def sizes_of(people: int, groups: int) -> tuple[int, ...]:
    """Sizes of so many groups, the larger ones first; they differ by at most one."""
    each, larger = divmod(people, groups)
    return (each + 1,) * larger + (each,) * (groups - larger)


def parted(people: Sequence[int], groups: int) -> tuple[tuple[int, ...], ...]:
    """People in so many groups, in the order they are given in."""
    rest = list(people)
    return tuple(tuple(rest.pop(0) for _ in range(size)) for size in sizes_of(len(rest), groups))


def hands_lacking(sizes: Sequence[int], posts: Sequence[Post]) -> int:
    """Hands lacking, counted once for every turn, where each group visits each post and nobody is lent."""
    return sum(size * max(0, post.hands + 1 - size) for size in sizes for post in posts)


def lacking_at_once(sizes: Sequence[int], posts: Sequence[Post]) -> int:
    """Hands lacking in any one round at most: where the smallest groups stand at the posts that take most."""
    hands = sorted((post.hands for post in posts), reverse=True)
    return sum(max(0, most + 1 - size) for most, size in zip(hands, sorted(sizes), strict=False))


def groups_counts(
    people: int, posts: Sequence[Post], group_size: int = GROUP_SIZE, *, lent: int = 0
) -> tuple[int, ...]:
    """Numbers of groups that are as good as each other: fewest hands lacking first, then sizes nearest to group_size.

    Near is meant for people: the mean, over all of them, of how far the size of their group is off. lent: hands lent at
    any one time; as many are not counted as lacking.
    """

    def rank(groups: int) -> tuple[int, int]:
        sizes = sizes_of(people, groups)
        lacking = hands_lacking(sizes, posts) if lacking_at_once(sizes, posts) > lent else 0
        return lacking, sum(size * abs(size - group_size) for size in sizes)

    best = min(map(rank, range(1, people + 1)))
    return tuple(groups for groups in range(1, people + 1) if rank(groups) == best)
