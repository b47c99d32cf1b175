"""The same workshop run event by event, by other code than the schedule's: a heap of events, and people who react.

Nobody here knows a timetable. A group arrives; its next shooter asks the model; the model comes, or says that it rests
first; frames are fired one by one, then the wide picture, then the trigger is handed on; who is done waits until the
last group is done; then everybody walks on.
"""

from __future__ import annotations

import heapq
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from itertools import count

from models.light.heat import Fired, wait_s
from models.workshop.plan import PlanDraft
from models.workshop.rota import Rota
from models.workshop.timing import Pace

SLACK = 1e-6


@dataclass
class Model:
    worked_s: float = 0.0
    stopped_s: float = float("-inf")
    fired: list[Fired] = field(default_factory=list)


class Simulation:
    """log: (what, round from 0, post, shooter) to the second at which it happens."""

    def __init__(
        self, rota: Rota, paces: Mapping[int, Pace], plan: PlanDraft, frames: int, rest_s: float,
        told: set[tuple[int, int, int]], longest_s: float = 1200.0,
    ) -> None:  # fmt: skip
        self.rota, self.paces, self.plan, self.frames = rota, paces, plan, frames
        self.rest_s, self.told, self.longest_s = rest_s, told, longest_s
        self.models = {post: Model() for post in paces}
        self.events: list[tuple[float, int, Callable[[float], None]]] = []
        self.order, self.busy, self.round, self.ended_s = count(), 0, -1, 0.0
        self.log: dict[tuple[str, int, int, int], float] = {}

    def run(self) -> Simulation:
        self.at(0.0, self.next_round)
        while self.events:
            now, _, act = heapq.heappop(self.events)
            act(now)
        return self

    def at(self, when: float, act: Callable[[float], None]) -> None:
        heapq.heappush(self.events, (when, next(self.order), act))

    def next_round(self, now: float) -> None:
        self.round += 1
        if self.round == len(self.rota.rounds):
            return
        working = [visit for visit in self.rota.rounds[self.round].visits if visit.turns]
        self.busy = len(working)
        for visit in working:
            queue = [turn.shooter for turn in visit.turns]
            self.at(now, self.asks(visit.post, queue, 0))
        if not working:
            self.all_done(now)

    def all_done(self, now: float) -> None:
        self.ended_s = now
        self.log["round", self.round, 0, 0] = now
        self.at(now + self.plan.move_s, self.next_round)

    def asks(self, post: int, queue: list[int], turn: int) -> Callable[[float], None]:
        def ask(now: float) -> None:
            model = self.models[post]
            fresh_at = model.stopped_s + self.rest_s
            if now < fresh_at - SLACK and ((self.round, post, turn) in self.told or self.too_much(post, now)):
                self.at(fresh_at, self.begins(post, queue, turn))
            else:
                self.begins(post, queue, turn)(now)

        return ask

    def too_much(self, post: int, now: float) -> bool:
        """Whether a whole turn from now would take the model over; tried on a copy of what the flashes have fired."""
        model = self.models[post]
        done = self.last_flash(post, now, list(model.fired)) + self.plan.handover_s
        return model.worked_s > 0 and model.worked_s + done - now > self.longest_s + SLACK

    def last_flash(self, post: int, now: float, fired: list[Fired]) -> float:
        for step in [self.frame_s(post)] * self.frames + [self.plan.wide_s]:
            now = self.flash(post, now + step, fired)
        return now

    def frame_s(self, post: int) -> float:
        pace = self.paces[post]
        return max(pace.pose_s, pace.recycle_s or 0) + pace.waits[0][1].middle_s

    def flash(self, post: int, now: float, fired: list[Fired]) -> float:
        lights = self.paces[post].lights
        due = now + max((wait_s(one.flash, fired, one.power, now) for one in lights), default=0.0)
        if lights:
            fired.append(Fired(due, lights[0].power))
        return due

    def begins(self, post: int, queue: list[int], turn: int) -> Callable[[float], None]:
        def begin(now: float) -> None:
            model = self.models[post]
            if now >= model.stopped_s + self.rest_s - SLACK:
                model.worked_s = 0.0
            self.log["turn", self.round, post, queue[turn]] = now
            self.at(now, self.frame(post, queue, turn, 0, now))

        return begin

    def frame(self, post: int, queue: list[int], turn: int, shot: int, began: float) -> Callable[[float], None]:
        def fire(now: float) -> None:
            if shot < self.frames:
                done = self.flash(post, now + self.frame_s(post), self.models[post].fired)
                self.at(done, self.frame(post, queue, turn, shot + 1, began))
            else:
                self.log["shot", self.round, post, queue[turn]] = now
                done = self.flash(post, now + self.plan.wide_s, self.models[post].fired)
                self.at(done + self.plan.handover_s, self.hands_on(post, queue, turn, began))

        return fire

    def hands_on(self, post: int, queue: list[int], turn: int, began: float) -> Callable[[float], None]:
        def hand(now: float) -> None:
            model = self.models[post]
            model.worked_s, model.stopped_s = model.worked_s + now - began, now
            self.log["handed", self.round, post, queue[turn]] = now
            if turn + 1 < len(queue):
                self.asks(post, queue, turn + 1)(now)
                return
            self.busy -= 1
            if not self.busy:
                self.all_done(now)

        return hand
