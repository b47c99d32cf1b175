"""The whole workshop moved by some minutes: everything reckoned anew for then, and what gets better and worse."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np

from models.clock import clock_words
from models.planning.workshops.minutes import Minutes, minutes_of
from models.planning.workshops.running import Running, Worked, running_of
from models.problems import InputProblem
from models.store.engine import Store
from models.words.running import lasts_words
from models.words.running_warnings import warnings_said
from models.words.said import counted, stops_in_hand_words
from models.workshop.warnings import Warned, warnings_of

FURTHEST_MIN = 720
NOTICED_STOPS = 0.3
"""Of reserve gained or lost that is worth a word: our planning rule."""
NOTICED_S = 60.0


@dataclass(frozen=True, slots=True)
class MovedOrder:
    """minutes: later, below 0 earlier. starts: set-up then. fits: whether it then ends in time; it moves as a whole."""

    minutes: int
    starts: str
    better: tuple[str, ...]
    worse: tuple[str, ...]


def read_minutes(text: str) -> int | None:
    """'20', '-15', '20 min'; None for nothing typed. Raises InputProblem('by')."""
    typed = text.strip().lower().replace("−", "-").removesuffix("min").removesuffix("minutes").strip().lstrip("+")
    if not typed:
        return None
    if not re.fullmatch(r"-?[0-9]{1,4}", typed):
        raise InputProblem("by", f"“{text.strip()[:20]}” is no number of minutes. Type it like 20 or -15.")
    if not 0 < abs(int(typed)) <= FURTHEST_MIN:
        raise InputProblem("by", f"give minutes from 1 to {FURTHEST_MIN}, with a minus for earlier.")
    return int(typed)


def moved_order(store: Store, workshop_id: int, now: datetime, minutes: int) -> MovedOrder | None:
    """None where there is no order. Raises Missing."""
    was = running_of(store, workshop_id, now)
    then = running_of(store, workshop_id, now, timedelta(minutes=minutes))
    if was.worked is None or then.worked is None:
        return None
    sides = [(one, one.worked, minutes_of(store, one, one.worked.order)) for one in (was, then) if one.worked]
    better, worse = _compared(*sides)
    return MovedOrder(minutes, clock_words(then.grounds.workshop.starts, then.zone), tuple(better), tuple(worse))


Side = tuple[Running, Worked, Minutes]


def _compared(was: Side, then: Side) -> tuple[list[str], list[str]]:
    better: list[str] = []
    worse: list[str] = []
    for words, gain in _figures(was, then):
        (better if gain > 0 else worse).append(words)
    before, after = (_warned(side) for side in (was, then))
    better += [f"No longer: {words}" for words in _only_in(before, after, was[0])]
    worse += [f"New: {words}" for words in _only_in(after, before, then[0])]
    return better, worse


def _figures(was: Side, then: Side) -> Iterator[tuple[str, float]]:
    """Sentences, each with its gain, above 0 for better."""
    for number, name in was[0].station_names.items():
        before, after = _least_reserve(was, number), _least_reserve(then, number)
        if before is not None and after is not None and abs(after - before) >= NOTICED_STOPS:
            words = f"{name} has {stops_in_hand_words(after)} at its weakest instead of {stops_in_hand_words(before)}."
            yield words, after - before
    before_s, after_s = was[1].schedule.length_s, then[1].schedule.length_s
    if abs(after_s - before_s) >= NOTICED_S:
        yield f"The rounds take {lasts_words(after_s)} instead of {lasts_words(before_s)}.", before_s - after_s
    rates = [side[0].grounds.rate(side[1].order.starts) for side in (was, then)]
    people = [None if rate is None else rate.people_per_h for rate in rates]
    if people[0] is not None and people[1] is not None and round(people[0]) != round(people[1]):
        told = f"{counted(round(people[1]), 'person', 'people')} an hour come by at set-up instead of {people[0]:.0f}."
        yield told, people[0] - people[1]


def _least_reserve(side: Side, number: int) -> float | None:
    """Over the rounds; None where it is not known."""
    rounds = [block for block in side[1].order.blocks if block.round is not None]
    one = next((each for each in side[2].stations if each.post == number), None)
    if one is None or not rounds:
        return None
    first, last = side[2].place(rounds[0].starts), side[2].place(rounds[-1].ends)
    least = float(np.min(np.asarray(one.reserve_stops[first : last + 1])))
    return least if np.isfinite(least) else None


def _warned(side: Side) -> tuple[Warned, ...]:
    _, worked, minutes = side
    return warnings_of(worked.order, minutes.stations, minutes.windows, worked.cells, minutes.dark)


def _only_in(these: Sequence[Warned], those: Sequence[Warned], running: Running) -> Iterator[str]:
    """Warnings without a fellow of the same kind at the same station among the others, each once."""
    known = {(each.kind, each.post, each.what) for each in those}
    first: dict[tuple[str, int | None, str], Warned] = {}
    for each in these:
        key = (each.kind, each.post, each.what)
        if key not in known:
            first.setdefault(key, each)
    for at, words in warnings_said(tuple(first.values()), running.station_names):
        yield f"{clock_words(at, running.zone)} {words}"
