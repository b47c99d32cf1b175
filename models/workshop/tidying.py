"""A seating in which people of one group shoot together where they can, with rounds as long and as full as before."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from models.workshop.left import Home
from models.workshop.seating import Seating, Slot

MOST_PASSES = 6


def tidied(seating: Seating, homes: Sequence[Home]) -> Seating:
    """The same seating, changed: two people change rounds at a post wherever that brings groups closer together.

    Closer: the sum, over all visits, of the squared number of people who are of one group.
    """
    home_of = {person: number for number, home in enumerate(homes) for person in home}
    together = [
        Counter((post, home_of[person]) for person, post in slot.who.items() if person in home_of)
        for slot in seating.slots
    ]
    for _ in range(MOST_PASSES):
        changed = [
            _pass(seating, (first, second), together, home_of)
            for first in range(len(seating.slots))
            for second in range(first + 1, len(seating.slots))
        ]
        if not any(changed):
            break
    return seating


def _pass(
    seating: Seating, places: tuple[int, int], together: list[Counter[tuple[int, int]]], home_of: dict[int, int]
) -> bool:
    """Every two people who can change between two rounds; whether any did."""
    slots = [seating.slots[place] for place in places]
    by_home = [together[place] for place in places]
    changed = False
    for person, post in sorted(slots[0].who.items()):
        for other in sorted(who for who, at in slots[1].who.items() if at == post):
            homes = home_of.get(person), home_of.get(other)
            if homes[0] == homes[1] or not _can_change(seating, slots, person, other):
                continue
            moved = [(person, homes[0], 0), (other, homes[1], 1)]
            if sum(_gain(slots, by_home, *each) for each in moved) <= 0:
                continue
            for who, home, place in moved:
                _change(slots, by_home, who, home, place)
            changed = True
            break
    return changed


def _can_change(seating: Seating, slots: Sequence[Slot], person: int, other: int) -> bool:
    """Neither is bound to a visit under way; what each shoots in the other's round is at one post, or nothing."""
    locked = seating.left.locked
    if any(slot.is_running for slot in slots) and (person in locked or other in locked):
        return False
    return slots[1].who.get(person) == slots[0].who.get(other)


def _gain(
    slots: Sequence[Slot], by_home: Sequence[Counter[tuple[int, int]]], who: int, home: int | None, place: int
) -> int:
    """What the sum of squares grows by when somebody shoots in the other round, and what they shoot there in this."""
    if home is None:
        return 0
    gain = 0
    for start in (place, 1 - place):
        post = slots[start].who.get(who)
        if post is not None:
            gain += 2 * (by_home[1 - start][post, home] - by_home[start][post, home]) + 2
    return gain


def _change(
    slots: Sequence[Slot], by_home: Sequence[Counter[tuple[int, int]]], who: int, home: int | None, place: int
) -> None:
    posts = [slots[start].who.get(who) for start in (0, 1)]
    for start, post in enumerate(posts):
        if post is not None:
            slots[start].take(who)
            by_home[start][post, home or 0] -= home is not None
    for start, post in enumerate(posts):
        if post is not None:
            slots[1 - start].put(who, post)
            by_home[1 - start][post, home or 0] += home is not None
