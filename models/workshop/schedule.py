"""When every round, visit, turn, wide picture and rest of a rota begins and ends, in seconds.

A round lasts as long as its slowest visit; then everybody moves. A turn is its frames, one wide picture of the whole
set, and handing over. Models rest at least 5 minutes after 20 minutes on, 10 in heat or cold (common practice, no
source); standing idle for so long is a rest. Rests that must be added come before a turn, where they lengthen the whole
least (models/workshop/breaks.py); where hot flashes slow the turns that is reckoned as if no model rested.

By hand: groups {1, 2} and {3} at posts 1 and 2; 10 frames of 9 s, 20 s for the wide picture, 20 s for handing over: a
turn takes 130 s. Round 1: {1, 2} at post 1 from 0 to 260 s, {3} at post 2 from 0 to 130 s; there the model stands idle
from then on. Everybody moves for 90 s. Round 2 from 350 s: {3} at post 1 to 480 s, {1, 2} at post 2 to 610 s, the end.
The models are on for 390 s each: no rest is added.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from models.workshop.course import JUST_S, LONGEST_ON_S, Course, ModelState, TurnTimes, VisitTimes, finished_s
from models.workshop.plan import PlanDraft
from models.workshop.rota import Rota
from models.workshop.timing import Pace, frames_a_turn

REST_S, REST_HEAT_OR_COLD_S = 5 * 60.0, 10 * 60.0
"""How long a model rests: common practice, no source."""


@dataclass(frozen=True, slots=True)
class RoundTimes:
    """number: from 1. low_s, high_s: how long it lasts at the ends of the footfall's interval."""

    number: int
    starts_s: float
    ends_s: float
    visits: tuple[VisitTimes, ...]
    low_s: float
    high_s: float

    @property
    def length_s(self) -> float:
        return self.ends_s - self.starts_s

    def at(self, post: int) -> VisitTimes | None:
        return next((visit for visit in self.visits if visit.post == post), None)


@dataclass(frozen=True, slots=True)
class Rest:
    """A model's rest between two turns. round, turn: from 1, of the turn after it. waited_s: how long its group waits
    for it, 0 where the model stood idle anyway."""

    post: int
    starts_s: float
    ends_s: float
    round: int
    turn: int
    waited_s: float


@dataclass(frozen=True, slots=True)
class Schedule:
    """low_s, high_s: the whole at the ends of the footfall's interval; open: at the upper end no gap is to be expected.
    uncounted, hopeless: posts in whose hours nobody counted, or no gap is to be expected. too_long: posts where a
    single turn keeps the model on for longer than 20 minutes: fewer frames, or a rest within the turn."""

    rounds: tuple[RoundTimes, ...]
    rests: tuple[Rest, ...]
    frames: int
    starts_s: float
    ends_s: float
    low_s: float
    high_s: float
    open: bool = False
    uncounted: tuple[int, ...] = ()
    hopeless: tuple[int, ...] = ()
    too_long: tuple[int, ...] = ()

    @property
    def length_s(self) -> float:
        return self.ends_s - self.starts_s

    def turns(self) -> Iterator[tuple[RoundTimes, VisitTimes, TurnTimes]]:
        for each in self.rounds:
            for visit in each.visits:
                yield from ((each, visit, turn) for turn in visit.turns)


def scheduled(
    rota: Rota,
    paces: Mapping[int, Pace],
    plan: PlanDraft,
    models: Mapping[int, ModelState] | None = None,
    *,
    starts_s: float = 0.0,
    heat_or_cold: bool = False,
    frames: int | None = None,
    with_doubt: bool = True,
) -> Schedule:
    """Every time of a rota. paces: of every post visited. models: by post, fresh where left out. starts_s: the first
    round's start, on the same count of seconds as the paces' hours. frames: a turn, None as planned. with_doubt: work
    out the ends too, which takes three times as long; else they are the middle."""
    course = Course(
        rota, paces, plan, models or {}, starts_s, frames_a_turn(plan, rota) if frames is None else frames,
        REST_HEAT_OR_COLD_S if heat_or_cold else REST_S,
    )  # fmt: skip
    middle = course.least("middle")
    low, high = (course.least(end) if with_doubt and course.doubtful else middle for end in ("low", "high"))
    rounds = tuple(
        RoundTimes(number, one.starts_s, one.ends_s, one.visits, *_ends(one.length_s, under.length_s, over.length_s))
        for number, (under, one, over) in enumerate(zip(low, middle, high, strict=True), start=1)
    )
    low_s, high_s = _ends(*(finished_s(each, starts_s) - starts_s for each in (middle, low, high)))
    met = {(visit.post, each.starts_s) for each in middle for visit in each.visits if visit.turns}
    waits = [(post, paces[post].wait_at(at_s)) for post, at_s in met if post is not None]
    return Schedule(
        rounds=rounds,
        rests=tuple(_rests(rounds, course)),
        frames=course.frames,
        starts_s=starts_s,
        ends_s=finished_s(middle, starts_s),
        low_s=low_s,
        high_s=high_s,
        open=any(wait.open for _, wait in waits),
        uncounted=tuple(sorted({post for post, wait in waits if not wait.counted})),
        hopeless=tuple(sorted({post for post, wait in waits if wait.hopeless})),
        too_long=tuple(sorted(set(_too_long(rounds)))),
    )


def models_at(schedule: Schedule, at_s: float, before: Mapping[int, ModelState] | None = None) -> dict[int, ModelState]:
    """How the models stand at a second of the schedule, to plan anew from there. before: as they stood at its start.

    A turn under way counts for as long as it has gone on.
    """
    found = {post: _Standing(one.on_s, schedule.starts_s - one.idle_s) for post, one in (before or {}).items()}
    rested = {(rest.post, rest.ends_s) for rest in schedule.rests}
    turns = [(turn, visit.post) for _, visit, turn in schedule.turns() if visit.post is not None]
    for turn, post in sorted(turns, key=lambda each: each[0].starts_s):
        if turn.starts_s >= at_s:
            continue
        stands = found.get(post, _Standing(0.0, turn.starts_s))
        on_s = 0.0 if (post, turn.starts_s) in rested else stands.on_s
        ends_s = min(turn.ends_s, at_s)
        found[post] = _Standing(on_s + ends_s - turn.starts_s, ends_s)
    return {post: ModelState(one.on_s, max(at_s - one.from_s, 0.0)) for post, one in found.items()}


@dataclass(frozen=True, slots=True)
class _Standing:
    on_s: float
    from_s: float


def _rests(rounds: tuple[RoundTimes, ...], course: Course) -> Iterator[Rest]:
    """Every rest between two turns of a model, in order of time."""
    idle_from = {post: course.starts_s - one.idle_s for post, one in course.models.items() if one.on_s}
    found = []
    for each in rounds:
        for visit in each.visits:
            for number, turn in enumerate(visit.turns, start=1):
                post = visit.post if visit.post is not None else 0
                from_s = idle_from.get(post)
                if from_s is not None and turn.starts_s - from_s >= course.rest_s - JUST_S:
                    found.append(Rest(post, from_s, turn.starts_s, each.number, number, turn.waited_s))
                idle_from[post] = turn.ends_s
    yield from sorted(found, key=lambda rest: (rest.starts_s, rest.post))


def _too_long(rounds: tuple[RoundTimes, ...]) -> Iterator[int]:
    for each in rounds:
        for visit in each.visits:
            if visit.post is not None and any(turn.length_s > LONGEST_ON_S + JUST_S for turn in visit.turns):
                yield visit.post


def _ends(middle_s: float, low_s: float, high_s: float) -> tuple[float, float]:
    """The ends, never within the middle: rests may fall otherwise there."""
    return min(low_s, middle_s), max(high_s, middle_s)
