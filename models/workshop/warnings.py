"""What a running order warns of: sun that comes or goes, light that moves away from the setup, rules whose hours end,
cells and flashes, footfall, and the way back in the dark.

Light is given minute by minute; what is not known is warned of as such and never taken for good.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import groupby
from math import ceil, isnan
from typing import Literal, TypeVar

from models.light.redial import REDIAL_STOPS
from models.workshop.batteries import Batteries
from models.workshop.running_order import PACK, PICTURE, RELEASE, SET_UP, WALK_BACK, RunningOrder

HEAT_FROM_S = 1.0
"""A hot flash that holds a visit up for less is passed over."""
MINUTE = timedelta(minutes=1)
T = TypeVar("T")
R = TypeVar("R")

Kind = Literal[
    "sun reaches", "sun leaves", "sun not known", "reserve lacks", "reserve gone", "reserve not known", "light moved",
    "light not known", "window begins", "window ends", "set runs out", "cells tired", "flash rests", "walk back dark",
    "dark not known", "not counted", "no gap", "turn too long", "block too short", "way not known", "over time",
]  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class StationLight:
    """One station from `starts` on, one entry a minute. sun: whether it is on the model, None where that is not known.
    reserve_stops: in hand of its setup; moved_stops: the light against what the setup was planned for, + brighter; nan
    where not known. An empty sequence is not known throughout."""

    post: int
    starts: datetime
    sun: Sequence[bool | None] = ()
    reserve_stops: Sequence[float] = ()
    moved_stops: Sequence[float] = ()


@dataclass(frozen=True, slots=True)
class RuleWindow:
    """An end of the hours that a rule or an answer names, or where they begin. name: as the page has it."""

    name: str
    at: datetime
    begins: bool = False


@dataclass(frozen=True, slots=True)
class Dark:
    """Whether it is dark, one entry a minute from `starts`; None where not known."""

    starts: datetime
    dark: Sequence[bool | None]


@dataclass(frozen=True, slots=True)
class Warned:
    """block: key of the block it falls into. at: UTC. post: None where it is about no one station.

    amount, limit by kind: stops short, or moved and the step from which that counts; minutes still to go when a window
    begins or ends; flashes fired from a set; seconds ready when tired; seconds a hot flash takes; seconds a block is
    short, or the whole is over. what: the rule's name, or the light's role.
    """

    block: str
    kind: Kind
    at: datetime
    post: int | None = None
    amount: float = 0.0
    limit: float = 0.0
    what: str = ""


def warnings_of(
    order: RunningOrder,
    lights: Sequence[StationLight] = (),
    windows: Sequence[RuleWindow] = (),
    cells: Batteries | None = None,
    dark: Dark | None = None,
) -> tuple[Warned, ...]:
    """All warnings of a running order, in order of time. lights: of the stations that are looked at. dark: None where a
    walk back is not to be judged."""
    found = [
        *(warning for light in lights for warning in _of_light(order, light)),
        *_of_windows(order, windows),
        *(_of_cells(order, cells) if cells else ()),
        *_of_times(order),
        *(_of_dark(order, dark) if dark else ()),
    ]
    return tuple(sorted(found, key=lambda warning: (warning.at, warning.post or 0, warning.kind)))


def _of_light(order: RunningOrder, light: StationLight) -> Iterator[Warned]:
    """From set-up to the group picture."""
    span = _works(order)
    before: bool | None = None
    for value, at in _runs(span, light.starts, light.sun, lambda sun: sun):
        if value is None:
            yield _warning(order, "sun not known", at, light.post)
        elif value and at > span[0]:
            yield _warning(order, "sun reaches", at, light.post)
        elif before:
            yield _warning(order, "sun leaves", at, light.post)
        before = value
    beaten = False
    for short, at in _runs(span, light.starts, light.reserve_stops, lambda left: None if isnan(left) else left < 0):
        if short is None:
            yield _warning(order, "reserve not known", at, light.post)
        elif short:
            least = min(_until(span, light.starts, light.reserve_stops, at, lambda stops: stops < 0))
            yield _warning(order, "reserve gone" if beaten else "reserve lacks", at, light.post, -least)
        beaten = beaten or short is False
    for way, at in _runs(span, light.starts, light.moved_stops, _moved_way):
        if way is None:
            yield _warning(order, "light not known", at, light.post)
        elif way:
            most = max(abs(stops) for stops in _until(span, light.starts, light.moved_stops, at, _moved_way))
            yield _warning(order, "light moved", at, light.post, way * most, REDIAL_STOPS)


def _of_windows(order: RunningOrder, windows: Sequence[RuleWindow]) -> Iterator[Warned]:
    for window in windows:
        if order.starts <= window.at < order.packed:
            left_min = (order.packed - window.at) / MINUTE
            kind: Kind = "window begins" if window.begins else "window ends"
            yield _warning(order, kind, window.at, None, left_min, what=window.name)


def _of_cells(order: RunningOrder, cells: Batteries) -> Iterator[Warned]:
    for unit in cells.units:
        for change in unit.changes:
            at = order.instant(change.round, change.at_s)
            yield _warning(order, "set runs out", at, unit.post, change.flashes, unit.a_set or 0, unit.role)
        for slow in unit.slow:
            at = order.instant(slow.round, slow.at_s)
            yield _warning(order, "cells tired", at, unit.post, slow.recycle_s, what=unit.role)
        picture = order.block(PICTURE)
        if unit.before_picture and picture is not None:
            yield _warning(order, "set runs out", picture.starts, unit.post, 0, unit.a_set or 0, unit.role)


def _of_times(order: RunningOrder) -> Iterator[Warned]:
    plan = order.schedule
    seen: set[tuple[Kind, int]] = set()
    kinds: tuple[tuple[Kind, tuple[int, ...]], ...] = (
        ("not counted", plan.uncounted), ("no gap", plan.hopeless), ("turn too long", plan.too_long),
    )  # fmt: skip
    for each in plan.rounds:
        for visit in each.visits:
            if visit.post is None or not visit.turns:
                continue
            at = order.instant(each.number, visit.turns[0].starts_s)
            for kind, posts in kinds:
                if visit.post in posts and (kind, visit.post) not in seen:
                    seen.add((kind, visit.post))
                    yield _warning(order, kind, at, visit.post)
            hot = [turn for turn in visit.turns if turn.heat_s > HEAT_FROM_S]
            if hot:
                first = order.instant(each.number, hot[0].starts_s)
                yield _warning(order, "flash rests", first, visit.post, sum(turn.heat_s for turn in hot))
    for block in order.blocks:
        if block.short_s > 0:
            yield Warned(block.key, "block too short", block.starts, None, block.short_s)
        if not block.known:
            yield Warned(block.key, "way not known", block.starts)
    if not order.fits:
        yield Warned(PACK, "over time", order.ends, None, order.over_s)


def _of_dark(order: RunningOrder, dark: Dark) -> Iterator[Warned]:
    """On the walk back, or when people are released where nobody walks back together."""
    block = order.block(WALK_BACK) or order.block(RELEASE)
    if block is None:
        return
    span = block.starts, max(block.ends, block.starts + MINUTE)
    for value, at in _runs(span, dark.starts, dark.dark, lambda is_dark: is_dark):
        if value is not False:
            yield Warned(block.key, "dark not known" if value is None else "walk back dark", at)
            return


def _moved_way(stops: float) -> int | None:
    """1 brighter, -1 darker by a step that asks for dialling again, 0 less than that."""
    return None if isnan(stops) else 0 if abs(stops) < REDIAL_STOPS - 1e-9 else 1 if stops > 0 else -1


def _works(order: RunningOrder) -> tuple[datetime, datetime]:
    """From set-up to the end of the group picture."""
    first = order.block(SET_UP)
    last = order.block(PICTURE) or order.block(PACK)
    return first.starts if first else order.starts, last.ends if last else order.ends


def _within(starts: datetime, series: Sequence[T], first: datetime, last: datetime) -> Iterator[tuple[T, datetime]]:
    """The minutes that touch a span, each with its instant; the first may have begun before it."""
    low = max(int((first - starts) / MINUTE), 0) if first >= starts else 0
    high = min(ceil((last - starts) / MINUTE), len(series))
    yield from ((series[at], starts + at * MINUTE) for at in range(low, high))


def _runs(
    span: tuple[datetime, datetime], starts: datetime, series: Sequence[T], judged: Callable[[T], R]
) -> Iterator[tuple[R | None, datetime]]:
    """Stretches of one judgement over a span, with the instant each begins; None where nothing is given."""
    first, last = span
    minutes = [(judged(value), at) for value, at in _within(starts, series, first, last)]
    known_from = minutes[0][1] if minutes else last
    known_to = minutes[-1][1] + MINUTE if minutes else last
    if known_from > first and (not minutes or minutes[0][0] is not None):
        yield None, first
    for value, stretch in groupby(minutes, key=lambda each: each[0]):
        yield value, max(next(stretch)[1], first)
    if known_to < last and minutes[-1][0] is not None:
        yield None, known_to


def _until(
    span: tuple[datetime, datetime], starts: datetime, series: Sequence[T], at: datetime, judged: Callable[[T], object]
) -> list[T]:
    """The values from that instant on for as long as they are judged alike."""
    minutes = _within(starts, series, at, span[1])
    _, stretch = next(groupby((value for value, _ in minutes), key=judged))
    return list(stretch)


def _warning(
    order: RunningOrder, kind: Kind, at: datetime, post: int | None = None, amount: float = 0.0, limit: float = 0.0,
    what: str = "",
) -> Warned:  # fmt: skip
    block = order.at(at) or min(order.blocks, key=lambda each: abs((each.starts - at).total_seconds()))
    return Warned(block.key, kind, at, post, amount, limit, what)
