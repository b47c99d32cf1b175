"""A seating made shorter: rounds emptied into others, and long visits shortened, as long as that saves time."""

from __future__ import annotations

from models.workshop.seating import Seating, Slot

Move = tuple[Slot, Slot, int, int]
"""From, to, the person and the post."""


def improved(seating: Seating) -> Seating:
    """The same seating, changed: no round left that others could take in, none that could be a turn shorter."""
    while _one_better(seating):
        pass
    return seating


def _one_better(seating: Seating) -> bool:
    for slot in sorted(seating.slots, key=lambda slot: (len(slot.who), slot.longest)):
        if not slot.is_running and _emptied(seating, slot):
            seating.slots.remove(slot)
            return True
    return any(_shortened(seating, slot) for slot in seating.slots)


def _emptied(seating: Seating, slot: Slot) -> bool:
    """Whether all of a round went elsewhere for less than the round took; else nothing is changed."""
    spare = slot.longest
    moves: list[Move] = []
    for person, post in sorted(slot.who.items()):
        move = _cheapest(seating, slot, person, post)
        if move is None or (spare := spare - move[0]) < 0:
            _undo(moves)
            return False
        moves.append(_moved(slot, move[1], person, post))
    return True


def _shortened(seating: Seating, slot: Slot) -> bool:
    """Whether a round became a turn shorter at no cost elsewhere: one person less at each of its fullest posts."""
    longest = slot.longest
    moves: list[Move] = []
    if longest < 2:
        return False
    for post in sorted(post for post, count in slot.count.items() if count == longest):
        free = [
            (person, move[1])
            for person, at in sorted(slot.who.items())
            if at == post and not _stays(seating, slot, person)
            if (move := _cheapest(seating, slot, person, post)) is not None and move[0] == 0
        ]
        if not free:
            _undo(moves)
            return False
        person, to = free[0]
        moves.append(_moved(slot, to, person, post))
    return True


def _stays(seating: Seating, slot: Slot, person: int) -> bool:
    return slot.is_running and person in seating.left.locked


def _cheapest(seating: Seating, slot: Slot, person: int, post: int) -> tuple[int, Slot] | None:
    """Turns it costs, and the other round to shoot in."""
    best: tuple[int, Slot] | None = None
    for other in seating.slots:
        if other is slot or not seating.has_room(other, post, (person,)):
            continue
        cost = max(0, other.count.get(post, 0) + 1 - other.longest)
        if best is None or cost < best[0]:
            best = cost, other
    return best


def _moved(slot: Slot, to: Slot, person: int, post: int) -> Move:
    slot.take(person)
    to.put(person, post)
    return slot, to, person, post


def _undo(moves: list[Move]) -> None:
    for slot, to, person, post in reversed(moves):
        to.take(person)
        slot.put(person, post)
