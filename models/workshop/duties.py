"""Who does what at every turn of a visit: one shoots, others hold lights, watch the pavement or are next up."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from models.workshop.rota import Duty, Post, Turn


class Tally:
    """How often each person has had a duty, and has shot first of a group: from this the next visit is shared out."""

    def __init__(self) -> None:
        self.done: Counter[tuple[int, Duty]] = Counter()
        self.first: Counter[int] = Counter()
        self.missed_next: Counter[int] = Counter()

    def note(self, turns: Sequence[Turn]) -> None:
        for turn in turns:
            for person in (turn.shooter, *turn.light, *turn.watch, *turn.free):
                self.done[person, turn.duty_of(person) or "free"] += 1
            if turn.next_up is not None:
                self.done[turn.next_up, "next"] += 1


def turns_of(
    members: Sequence[int], shooters: Sequence[int], post: Post, tally: Tally, *, in_order: bool = False
) -> tuple[Turn, ...]:
    """The turns of a group at a post. shooters: of the members, those who shoot here; the others are hands only.
    in_order: shooters in the order given.

    Where all shoot, duties go round in a ring, so that everyone has each as often as the others; nobody is next up at
    the last turn, and whom that costs the duty changes from visit to visit. Else those who had a duty least get it.
    """
    if in_order or set(members) != set(shooters):
        return tuple(_shared_out(members, shooters, post, tally))
    turns = tuple(_ring(_opened(members, post, tally), post))
    tally.note(turns)
    return turns


def _opened(members: Sequence[int], post: Post, tally: Tally) -> tuple[int, ...]:
    """The ring of members, turned so that whoever shot first least often does so now."""
    has_next = len(members) - 1 > post.hands

    def rank(place: int) -> tuple[int, int, int]:
        person = members[place]
        return (tally.missed_next[person] if has_next else 0, tally.first[person], place)

    start = min(range(len(members)), key=rank)
    tally.first[members[start]] += 1
    if has_next:
        tally.missed_next[members[start]] += 1
    return (*members[start:], *members[:start])


def _ring(ring: tuple[int, ...], post: Post) -> Iterator[Turn]:
    has_next = len(ring) - 1 > post.hands
    for place, shooter in enumerate(ring):
        others = (*ring[place + 1 :], *ring[:place])
        first, others = (others[0], others[1:]) if has_next else (None, others)
        is_last = place == len(ring) - 1
        late = (first,) if is_last and first is not None else ()
        yield _turn(shooter, others, post, None if is_last else first, late)


def _shared_out(members: Sequence[int], shooters: Sequence[int], post: Post, tally: Tally) -> Iterator[Turn]:
    """Each turn by itself: whoever shoots next is kept free of other duties where there are enough people."""
    for place, shooter in enumerate(shooters):
        others = [person for person in members if person != shooter]
        coming = shooters[place + 1] if place + 1 < len(shooters) else None
        next_up = coming if len(others) > post.hands else None
        others = [person for person in others if person != next_up]
        light = sorted(others, key=lambda person: tally.done[person, "light"])[: post.holders]
        others = [person for person in others if person not in light]
        others.sort(key=lambda person: tally.done[person, "watch"])
        turn = _turn(shooter, (*light, *others), post, next_up)
        tally.note([turn])
        yield turn


def _turn(shooter: int, others: tuple[int, ...], post: Post, next_up: int | None, late: tuple[int, ...] = ()) -> Turn:
    """A turn with the lights held first, then the pavement watched; what hands are lacking is said."""
    light, rest = others[: post.holders], others[post.holders :]
    watch, free = rest[: post.watchers], rest[post.watchers :]
    return Turn(shooter, light, watch, next_up, (*late, *free), post.hands - len(light) - len(watch))
