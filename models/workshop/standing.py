"""Seatings made a rota: those who do not shoot in a round stand with their group, help where hands lack, or rest."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from models.workshop.duties import Tally, turns_of
from models.workshop.left import Home, Left
from models.workshop.rota import Rota, Round, Turn, Visit
from models.workshop.seating import Seating, Slot


def rota_of(seating: Seating, homes: Sequence[Home]) -> Rota:
    """Rounds in the order in which their visits were planned before, what is under way first."""
    left = seating.left
    tally, lent = Tally(), Counter[int]()
    order = sorted(range(len(seating.slots)), key=lambda number: (_planned(left, seating.slots[number]), number))
    rounds = tuple(_round(left, seating.slots[number], homes, tally, lent) for number in order)
    return Rota(tuple(left.posts.values()), rounds)


def _planned(left: Left, slot: Slot) -> float:
    """The mean round that its visits were planned for."""
    if slot.is_running:
        return 0.0
    numbers = [left.planned[pair] for pair in slot.who.items() if pair in left.planned]
    return sum(numbers) / len(numbers) if numbers else float("inf")


def _round(left: Left, slot: Slot, homes: Sequence[Home], tally: Tally, lent: Counter[int]) -> Round:
    standing = _standing(left, slot, homes)
    _lend(left, slot, standing, lent)
    place = {person: number for number, person in enumerate(person for home in homes for person in home)}
    visits = []
    for key, post in left.posts.items():
        if key not in slot.count:
            continue
        members = tuple(sorted((who for who, at in standing.items() if at == key), key=place.__getitem__))
        shooters = [who for who in members if slot.who.get(who) == key]
        if slot.is_running and key in left.running:
            turns = _going_on(left, key, members, shooters, tally)
        else:
            turns = turns_of(members, shooters, post, tally)
        visits.append(Visit(members, key, turns))
    for home in homes:
        if resting := tuple(who for who in home if who not in standing):
            visits.append(Visit(resting, None))
    return Round(tuple(visits))


def _standing(left: Left, slot: Slot, homes: Sequence[Home]) -> dict[int, int]:
    """By person, the post where they shoot, or where most of their group shoots; whoever is missing rests."""
    standing = dict(slot.who)
    if slot.is_running:
        standing |= left.locked
    for home in homes:
        posts = Counter(slot.who[person] for person in home if person in slot.who)
        if posts:
            most = max(posts, key=lambda post: (posts[post], -post))
            standing |= {person: most for person in home if person not in standing}
    return standing


def _lend(left: Left, slot: Slot, standing: dict[int, int], lent: Counter[int]) -> None:
    """Hands for posts that lack them: of those who rest, else of those whom another post can spare; in turn."""
    fixed = set(slot.who) | (set(left.locked) if slot.is_running else set())
    there = Counter(standing.values())
    for post in sorted(slot.count):
        while there[post] < left.need[post]:
            spare = [who for who in left.people if who not in standing] or [
                who
                for who, at in standing.items()
                if who not in fixed and at != post and there[at] > max(left.need[at], slot.count[at])
            ]
            if not spare:
                break
            person = min(spare, key=lambda who: (lent[who], left.people.index(who)))
            if person in standing:
                there[standing[person]] -= 1
            standing[person] = post
            there[post] += 1
            lent[person] += 1


def _going_on(
    left: Left, post: int, members: tuple[int, ...], shooters: Sequence[int], tally: Tally
) -> tuple[Turn, ...]:
    """The turns left of a visit under way: as they were planned, where all who stand there are the same; else in the
    same order, and then who is new."""
    visit, first = left.running[post]
    turns = tuple(turn for turn in visit.turns if turn.shooter in first)
    hands = left.posts[post].hands
    are_same = sorted(visit.members) == sorted(members) and len(shooters) == len(turns)
    if are_same and all(len(turn.light) + len(turn.watch) + turn.short == hands for turn in turns):
        tally.note(turns)
        return turns
    order = [*first, *(who for who in shooters if who not in first)]
    return turns_of(members, order, left.posts[post], tally, in_order=True)
