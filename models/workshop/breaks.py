"""Where the models' rests go, so that the whole takes the least time longer.

A rest may come before any turn of a station; only its own group waits for it. It costs nothing where the round waits
for a slower station anyway, and two stations that rest in one round cost one rest. Searched is round by round: of two
ways to get so far, one is dropped where the other, given the time it is ahead, leaves every model at least as fresh.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from math import inf
from typing import NamedTuple

_JUST = 1e-6
MOST_WAYS = 12
"""The quickest that are followed on from round to round. Held against following all: of 1500 random workshops with up
to three stations one came out longer, by 30 s; of 150 with four to eight one, by 5 s."""

Before = tuple[int, int, int]
"""Round, post and turn, the round and the turn from 0: a model rests before it."""


class Fresh(NamedTuple):
    """A model after a round. on_s: worked since its last rest. idle_s: standing idle by now. rested: it was so long
    idle that this is a rest, and is counted on as one."""

    on_s: float = 0.0
    idle_s: float = 0.0
    rests: tuple[Before, ...] = ()
    rested: bool = False


@dataclass(frozen=True, slots=True)
class Rules:
    """Nobody works longer than longest_s without rest_s of rest. move_s: between two rounds."""

    longest_s: float
    rest_s: float
    move_s: float


class _Way(NamedTuple):
    """One way to get so far: its time, the rests it takes, and for every post the ways its model may stand."""

    total_s: float
    rests: int
    models: dict[int, list[Fresh]]


def least_breaks(
    rounds: Sequence[Mapping[int, Sequence[float]]], models: Mapping[int, Fresh], rules: Rules
) -> frozenset[Before]:
    """The rests that lengthen the whole least, and as few as that takes.

    rounds: seconds of every turn by post. models: as they stand at the start, by post; a post left out is fresh. A turn
    that is itself too long is kept whole.
    """
    posts = {post for each in rounds for post in each}
    ways = [_Way(0.0, 0, {post: [models.get(post, Fresh())] for post in posts})]
    for number, turns in enumerate(rounds):
        ways = _kept(_onward(ways, number, turns, rules, last=number == len(rounds) - 1), rules.rest_s)
    best = ways[0].models.values()
    return frozenset(before for states in best for before in _fewest(states).rests)


def _onward(
    ways: Sequence[_Way], number: int, turns: Mapping[int, Sequence[float]], rules: Rules, *, last: bool
) -> Iterator[_Way]:
    """The ways after one more round, for every length of it that lets one more rest in: the quickest first, and of
    equals the one with fewest rests. Those behind the quickest by a whole rest are left out."""
    tries: list[tuple[float, int, float]] = []
    visits = [_visits_of(way, number, turns, rules) for way in ways]
    for place, (way, each) in enumerate(zip(ways, visits, strict=True)):
        shortest_s = max((min(end_s for end_s, _ in one) for one in each.values()), default=0.0)
        ends = {end_s for one in each.values() for end_s, _ in one if shortest_s < end_s}
        lengths = (shortest_s,) if last else (shortest_s, *ends)
        tries += [(round(way.total_s + length_s, 6), place, length_s) for length_s in lengths]
    tries.sort()
    for total_s, alike in groupby(tries, key=lambda each: each[0]):
        if total_s >= tries[0][0] + rules.rest_s:
            return
        found = [_after(ways[place], visits[place], length_s, rules) for _, place, length_s in alike]
        yield from sorted(found, key=lambda way: way.rests)


def _visits_of(
    way: _Way, number: int, turns: Mapping[int, Sequence[float]], rules: Rules
) -> dict[int, list[tuple[float, Fresh]]]:
    return {
        post: [each for before in way.models[post] for each in _visits(before, number, post, works, rules)]
        for post, works in turns.items()
    }


def _after(way: _Way, visits: Mapping[int, list[tuple[float, Fresh]]], length_s: float, rules: Rules) -> _Way:
    """The way after a round of that length."""
    models = {
        post: _undominated(visits[post] if post in visits else [(0.0, one) for one in before], length_s, rules)
        for post, before in way.models.items()
    }
    rests = sum(len(_fewest(states).rests) for states in models.values())
    return _Way(way.total_s + length_s + rules.move_s, rests, models)


def _visits(
    before: Fresh, number: int, post: int, works: Sequence[float], rules: Rules
) -> Iterator[tuple[float, Fresh]]:
    """Ways through the turns of one visit: when it ends, and the model at that instant. One rest comes before a turn
    chosen, the others as late as they can."""
    idle = before.idle_s >= rules.rest_s - _JUST
    on_s = 0.0 if idle else before.on_s
    delay_s = 0.0 if idle else rules.rest_s - before.idle_s
    counted_on = ((number, post, 0),) if before.rested or (idle and before.on_s) else ()
    whole_s = sum(works)
    ways = {_late(works, on_s, rules.longest_s, {chosen}) for chosen in range(0 if on_s else 1, len(works))}
    for turns in {_late(works, on_s, rules.longest_s, set()), *ways, *_both(works, on_s, rules.longest_s)}:
        added_s = sum(rules.rest_s if turn else delay_s for turn in turns)
        left_s = sum(works[turns[-1] :]) if turns else on_s + whole_s
        rests = (*before.rests, *counted_on, *((number, post, turn) for turn in turns))
        yield whole_s + added_s, Fresh(left_s, 0.0, rests)


def _both(works: Sequence[float], on_s: float, longest_s: float) -> Iterator[tuple[int, ...]]:
    """One rest before the visit and one before a later turn."""
    if on_s:
        yield from (_late(works, on_s, longest_s, {0, chosen}) for chosen in range(1, len(works)))


def _late(works: Sequence[float], on_s: float, longest_s: float, chosen: set[int]) -> tuple[int, ...]:
    """Turns before which to rest: those chosen, and each that would take the model over."""
    turns = []
    for turn, work_s in enumerate(works):
        if turn in chosen or (on_s and on_s + work_s > longest_s + _JUST):
            turns.append(turn)
            on_s = 0.0
        on_s += work_s
    return tuple(turns)


def _undominated(visits: Sequence[tuple[float, Fresh]], length_s: float, rules: Rules) -> list[Fresh]:
    """The model after a round of that length and the move: those ways that no other is fresher than; of equals, the
    one with fewer rests."""
    after = []
    for end_s, one in visits:
        if end_s <= length_s + _JUST:
            idle_s = one.idle_s + length_s - end_s + rules.move_s
            rested = one.rested or (one.on_s > 0 and idle_s >= rules.rest_s - _JUST)
            after.append((0.0 if rested else one.on_s, -idle_s, len(one.rests), one.rests, rested))
    after.sort()
    kept: list[Fresh] = []
    most_s = -1.0
    for on_s, less_s, _, rests, rested in after:
        if -less_s > most_s + _JUST:
            kept.append(Fresh(on_s, -less_s, rests, rested))
            most_s = inf if -less_s >= rules.rest_s - _JUST else -less_s
    return kept


def _kept(ways: Iterable[_Way], rest_s: float) -> list[_Way]:
    """The quickest, without those that another is ahead of."""
    kept: list[_Way] = []
    for way in ways:
        if not any(_ahead(other, way, rest_s) for other in kept):
            kept.append(way)
            if len(kept) == MOST_WAYS:
                break
    return kept


def _ahead(one: _Way, other: _Way, rest_s: float) -> bool:
    """Whether `one`, waiting for as long as it is ahead, leaves every model at least as fresh as `other`."""
    spare_s = other.total_s - one.total_s
    if spare_s >= rest_s:
        return True
    for post, states in other.models.items():
        for on_s, idle_s, *_ in states:
            if not any(
                mine_idle_s + spare_s >= rest_s - _JUST
                or (mine_on_s <= on_s + _JUST and mine_idle_s + spare_s >= idle_s - _JUST)
                for mine_on_s, mine_idle_s, *_ in one.models[post]
            ):
                return False
    return True


def _fewest(states: Sequence[Fresh]) -> Fresh:
    return min(states, key=lambda one: len(one.rests)) if len(states) > 1 else states[0]
