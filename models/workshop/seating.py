"""Rounds filled with people who shoot: nobody twice in a round, and no post started that cannot have its hands.

People who do not shoot in a round may stand anywhere as hands. So a round can be manned if, over its posts, what each
takes (its shooters, or its hands and one shooter, whichever is more) is no more than there are people and hands lent.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from models.workshop.left import Home, Left, Pair
from models.workshop.matching import coloured

Visitors = tuple[int, tuple[int, ...]]
"""A post and people who shoot there one after another."""


@dataclass(slots=True)
class Slot:
    """A round. who: the post of everyone who shoots in it. count: shooters of each post. extra: people of a visit under
    way who stand there and have shot."""

    who: dict[int, int] = field(default_factory=dict)
    count: dict[int, int] = field(default_factory=dict)
    extra: dict[int, int] = field(default_factory=dict)
    is_running: bool = False

    @property
    def longest(self) -> int:
        return max(self.count.values(), default=0)

    def put(self, person: int, post: int) -> None:
        self.who[person] = post
        self.count[post] = self.count.get(post, 0) + 1

    def take(self, person: int) -> None:
        post = self.who.pop(person)
        self.count[post] -= 1
        if not self.count[post]:
            del self.count[post]


@dataclass(slots=True)
class Seating:
    """Slots in order; the first is what is under way, if anything is."""

    left: Left
    slots: list[Slot]

    @property
    def effort(self) -> int:
        """Turns and one more for every round, as `rotation.effort_of`."""
        return sum(slot.longest + 1 for slot in self.slots)

    def has_room(self, slot: Slot, post: int, people: Sequence[int]) -> bool:
        coming = len(people)
        if slot.count.get(post, 0) + coming > self.left.most:
            return False
        if any(person in slot.who or (slot.is_running and person in self.left.locked) for person in people):
            return False
        need, taken = self.left.need, coming if post in slot.count else 0
        for each, count in slot.count.items():
            more = coming if each == post else 0
            taken += max(need[each], count + slot.extra.get(each, 0) + more) - more
        taken += 0 if post in slot.count else max(need[post], coming)
        return taken <= self.left.hands_in_all

    def place(self, visitors: Visitors, slots: Sequence[Slot] | None = None) -> None:
        """Into the slot that gets least longer by it, of those the one it fills best; into a new one where it must."""
        post, people = visitors
        fitting = [slot for slot in (self.slots if slots is None else slots) if self.has_room(slot, post, people)]

        def rank(slot: Slot) -> tuple[int, int]:
            count = slot.count.get(post, 0) + len(people)
            return max(0, count - slot.longest), abs(slot.longest - count)

        slot = min(fitting, key=rank, default=None)
        if slot is None:
            slot = Slot()
            self.slots.append(slot)
        for person in people:
            slot.put(person, post)


def started(left: Left) -> Seating:
    """A seating with nothing in it but what is under way."""
    if not left.running:
        return Seating(left, [])
    slot = Slot(is_running=True)
    for post, (_, shooters) in left.running.items():
        for person in shooters:
            slot.put(person, post)
        slot.extra[post] = sum(at == post for at in left.locked.values()) - len(shooters)
    return Seating(left, [slot])


def as_planned(left: Left) -> Seating:
    """Everyone in the round they were planned for, where that can be; what is open besides, wherever it fits."""
    seating = started(left)
    by_visit: dict[tuple[int, int], list[int]] = {}
    loose: list[Pair] = []
    order = {person: place for place, person in enumerate(left.people)}
    for person, post in sorted(left.owed, key=lambda pair: (order[pair[0]], pair[1])):
        number = left.planned.get((person, post))
        if number is None:
            loose.append((person, post))
        else:
            by_visit.setdefault((number, post), []).append(person)
    rounds: dict[int, Slot] = {}
    for (number, post), people in sorted(by_visit.items()):
        slot = rounds.get(number)
        if slot is None:
            slot = rounds[number] = Slot()
            seating.slots.append(slot)
        seating.place((post, tuple(people)), (slot,))
    for person, post in loose:
        seating.place((post, (person,)))
    return seating


def by_size(left: Left, homes: Sequence[Home]) -> Seating:
    """Homes go together, the longest visits placed first, each where it costs least."""
    seating = started(left)
    visits = sorted(_visits(left, homes).items(), key=lambda each: (-len(each[1]), each[0]))
    for (_, post), people in visits:
        seating.place((post, people))
    return seating


def by_colours(left: Left, homes: Sequence[Home]) -> Seating:
    """Homes go together in the fewest rounds there can be, each parted into more where hands would lack."""
    seating = started(left)
    visits = _visits(left, homes)
    edges = sorted(visits, key=lambda edge: (-len(visits[edge]), edge))
    rounds: dict[int, list[Visitors]] = {}
    for edge, colour in coloured(edges).items():
        rounds.setdefault(colour, []).append((edge[1], visits[edge]))
    for together in rounds.values():
        first = len(seating.slots)
        for visitors in sorted(together, key=lambda each: (-len(each[1]), each[0])):
            seating.place(visitors, seating.slots[first:])
    return seating


def _visits(left: Left, homes: Sequence[Home]) -> dict[tuple[int, int], tuple[int, ...]]:
    """By home and post, who of the home still owes it."""
    found = {}
    for number, home in enumerate(homes):
        for post in left.posts:
            if owing := tuple(person for person in home if (person, post) in left.owed):
                found[number, post] = owing
    return found
