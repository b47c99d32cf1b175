"""A rota run through at one end of the footfall's doubt: every turn, every rest of a model, every hot flash."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import inf

from models.workshop.breaks import Before, Fresh, Rules, least_breaks
from models.workshop.heating import Buckets
from models.workshop.plan import PlanDraft
from models.workshop.rota import Rota, Round, Visit
from models.workshop.timing import End, Pace

LONGEST_ON_S = 20 * 60.0
"""A model is on for no longer without a rest: common practice, no source."""
JUST_S = 1e-6


@dataclass(frozen=True, slots=True)
class ModelState:
    """A model where the schedule begins: seconds worked since the last rest, and standing idle since."""

    on_s: float = 0.0
    idle_s: float = 0.0


@dataclass(frozen=True, slots=True)
class TurnTimes:
    """waited_s: before it, for the model's rest. shot_s: when its frames are shot; wide_s: when the wide picture is.
    heat_s: of its time, what hot flashes take."""

    shooter: int
    starts_s: float
    shot_s: float
    wide_s: float
    ends_s: float
    waited_s: float = 0.0
    heat_s: float = 0.0

    @property
    def length_s(self) -> float:
        return self.ends_s - self.starts_s


@dataclass(frozen=True, slots=True)
class VisitTimes:
    """post: None for a group that rests, from the round's start to its end."""

    members: tuple[int, ...]
    post: int | None
    starts_s: float
    ends_s: float
    turns: tuple[TurnTimes, ...] = ()


@dataclass(frozen=True, slots=True)
class Timed:
    starts_s: float
    ends_s: float
    visits: tuple[VisitTimes, ...]

    @property
    def length_s(self) -> float:
        return self.ends_s - self.starts_s


@dataclass(slots=True)
class _Model:
    """on_s: worked since its last rest; idle_from_s: when it last stopped working."""

    on_s: float
    idle_from_s: float
    buckets: Buckets


@dataclass(frozen=True, slots=True)
class Course:
    rota: Rota
    paces: Mapping[int, Pace]
    plan: PlanDraft
    models: Mapping[int, ModelState]
    starts_s: float
    frames: int
    rest_s: float

    @property
    def doubtful(self) -> bool:
        return any(wait.low_s < wait.high_s for pace in self.paces.values() for _, wait in pace.waits)

    def least(self, end: End) -> list[Timed]:
        """The rounds with rests where they lengthen the whole least."""
        without = self.run(end, longest_s=inf)
        late = self.run(end)
        if finished_s(late, 0.0) <= finished_s(without, 0.0) + JUST_S:
            return late
        works = [
            {visit.post: [turn.length_s for turn in visit.turns] for visit in each.visits if visit.post is not None}
            for each in without
        ]
        fresh = {post: Fresh(one.on_s, one.idle_s) for post, one in self.models.items()}
        chosen = self.run(end, least_breaks(works, fresh, Rules(LONGEST_ON_S, self.rest_s, self.plan.move_s)))
        return min(chosen, late, key=lambda each: finished_s(each, 0.0))

    def run(self, end: End, rests: frozenset[Before] = frozenset(), longest_s: float = LONGEST_ON_S) -> list[Timed]:
        """Every time, with those rests and, as late as it can be, each further one without which a model would be on
        for too long."""
        models = {post: self._model(post) for post in self.paces}
        at_s, timed = self.starts_s, []
        for number, each in enumerate(self.rota.rounds):
            timed.append(self._round(each, number, at_s, models, end, rests, longest_s))
            at_s = timed[-1].ends_s + self.plan.move_s
        return timed

    def _model(self, post: int) -> _Model:
        state = self.models.get(post, ModelState())
        return _Model(state.on_s, self.starts_s - state.idle_s, Buckets(self.paces[post].lights))

    def _round(
        self, each: Round, number: int, at_s: float, models: dict[int, _Model], end: End, rests: frozenset[Before],
        longest_s: float,
    ) -> Timed:  # fmt: skip
        visits = []
        for visit in each.visits:
            turns: tuple[TurnTimes, ...] = ()
            if visit.post is not None:
                frame_s = self.paces[visit.post].frame_s(at_s, end)
                before = {turn for round_, post, turn in rests if (round_, post) == (number, visit.post)}
                turns = tuple(self._turns(visit, models[visit.post], frame_s, at_s, before, longest_s))
            visits.append(VisitTimes(visit.members, visit.post, at_s, turns[-1].ends_s if turns else at_s, turns))
        ends_s = max((visit.ends_s for visit in visits), default=at_s)
        return Timed(at_s, ends_s, tuple(self._through(visit, ends_s) for visit in visits))

    @staticmethod
    def _through(visit: VisitTimes, ends_s: float) -> VisitTimes:
        return visit if visit.post is not None else VisitTimes(visit.members, None, visit.starts_s, ends_s)

    def _turns(
        self, visit: Visit, model: _Model, frame_s: float, at_s: float, rests: set[int], longest_s: float
    ) -> Iterator[TurnTimes]:
        for number, turn in enumerate(visit.turns):
            rested_s = max(at_s, model.idle_from_s + self.rest_s)
            if number not in rests and rested_s > at_s + JUST_S:
                times, buckets = self._turn(turn.shooter, model.buckets, frame_s, at_s, at_s)
                fits = not model.on_s or model.on_s + times.ends_s - at_s <= longest_s + JUST_S
                starts_s = at_s if fits else rested_s
            else:
                starts_s = rested_s
            if starts_s >= rested_s - JUST_S:
                model.on_s = 0.0
            times, buckets = self._turn(turn.shooter, model.buckets, frame_s, at_s, starts_s)
            model.on_s += times.ends_s - starts_s
            model.idle_from_s = at_s = times.ends_s
            model.buckets = buckets
            yield times

    def _turn(
        self, shooter: int, before: Buckets, frame_s: float, ready_s: float, starts_s: float
    ) -> tuple[TurnTimes, Buckets]:
        if before.idle:
            shot_s = starts_s + self.frames * frame_s
            wide_s = shot_s + self.plan.wide_s
            return TurnTimes(
                shooter, starts_s, shot_s, wide_s, wide_s + self.plan.handover_s, starts_s - ready_s
            ), before
        buckets, shot_s = before.copy(), starts_s
        for _ in range(self.frames):
            shot_s = buckets.fire(shot_s + frame_s)
        wide_s = buckets.fire(shot_s + self.plan.wide_s)
        heat_s = wide_s - starts_s - self.frames * frame_s - self.plan.wide_s
        ends_s = wide_s + self.plan.handover_s
        return TurnTimes(shooter, starts_s, shot_s, wide_s, ends_s, starts_s - ready_s, heat_s), buckets


def finished_s(timed: list[Timed], starts_s: float) -> float:
    return timed[-1].ends_s if timed else starts_s
