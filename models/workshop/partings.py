"""Ways to part the people who are present into groups that keep together: they compete when a rota is made anew."""

from __future__ import annotations

from collections.abc import Iterator

from models.workshop.groups import parted
from models.workshop.left import Home, Left

Parting = tuple[Home, ...]


def partings(left: Left) -> tuple[Parting, ...]:
    """Each once, the ones that change least first; none with a group too large."""
    return tuple(homes for homes in dict.fromkeys(_all(left)) if max(map(len, homes)) <= left.most)


def joined(left: Left) -> Parting:
    """The groups there were; whoever is new goes to the smallest, one after another."""
    homes = [list(home) for home in left.homes]
    for person in left.newcomers:
        if homes:
            min(homes, key=len).append(person)
        else:
            homes.append([person])
    return _kept(homes)


def _all(left: Left) -> Iterator[Parting]:
    yield joined(left)
    if left.newcomers:
        yield (*left.homes, *parted(left.newcomers, -(-len(left.newcomers) // left.most)))
        for number in range(len(left.homes)):
            yield _with(left, number)
    yield from _moved_over(joined(left))
    yield from _merged(joined(left))
    order = {person: place for place, person in enumerate(person for home in joined(left) for person in home)}
    by_debt = sorted(left.people, key=lambda person: (_debt(left, person), order[person]))
    for count in range(1, len(left.people) + 1):
        yield parted(by_debt, count)


def _with(left: Left, number: int) -> Parting:
    """All who are new in one group."""
    homes = [list(home) for home in left.homes]
    homes[number] += left.newcomers
    return _kept(homes)


def _moved_over(parting: Parting) -> Iterator[Parting]:
    """Single people moved from the largest group to the smallest, until sizes differ by at most one."""
    homes = [list(home) for home in parting]
    while homes:
        large, small = max(homes, key=len), min(homes, key=len)
        if len(large) - len(small) < 2:
            return
        small.append(large.pop())
        yield _kept(homes)


def _merged(parting: Parting) -> Iterator[Parting]:
    """The two smallest groups made one, again and again; and each such parting with single people moved over."""
    homes = [list(home) for home in parting]
    while len(homes) > 1:
        small, next_small = sorted(homes, key=len)[:2]
        homes = [home for home in homes if home is not small and home is not next_small] + [next_small + small]
        yield _kept(homes)
        yield from _moved_over(_kept(homes))


def _debt(left: Left, person: int) -> tuple[int, ...]:
    return tuple(post for post in left.posts if (person, post) in left.owed)


def _kept(homes: list[list[int]]) -> Parting:
    return tuple(tuple(home) for home in homes if home)
