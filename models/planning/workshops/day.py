"""A workshop on its day: what happened so far, the rota from now on with its times, and what is kept of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from sqlalchemy.orm import Session

from models.planning.workshops.fallback import fallback_worked
from models.planning.workshops.running import (
    Running,
    Worked,
    first_round_s,
    running_of,
    with_stations,
    work,
    work_from,
)
from models.problems import InputProblem
from models.store.engine import Store
from models.store.happenings import happenings_of
from models.store.happenings import shelf as happenings
from models.store.rota_starts import RotaStart, forget_rota_start, keep_rota_start, rota_start
from models.store.rules import get_workshop
from models.store.versions import Missing
from models.workshop.day import Moment, played
from models.workshop.happening import Happening, HappeningDraft
from models.workshop.rota import Post
from models.workshop.rotation import plan_rota
from models.workshop.running_order import BEFORE, SAFETY, SET_UP, RunningOrder
from models.workshop.schedule import models_at
from models.workshop.ways import never_shot

MOST_HAPPENINGS = 500


@dataclass(frozen=True, slots=True, eq=False)
class Today:
    """running: as planned, or at the fallback where the spot was lost. moment: how things stand after all that
    happened, None where there is no rota. worked: what is left with its times, counted from `at`; as planned where
    nothing happened. began: what the rota began with; added: stations that came later, which are not in it.
    lost: (person, station) that nobody will shoot any more, of people who are still there."""

    running: Running
    happenings: tuple[Happening, ...]
    moment: Moment | None
    worked: Worked | None
    at: datetime
    began: RotaStart | None
    added: tuple[str, ...] = ()
    lost: tuple[tuple[int, int], ...] = ()

    @property
    def changed(self) -> bool:
        return bool(self.happenings)

    @property
    def is_elsewhere(self) -> bool:
        """The spot was lost."""
        return any(each.kind == "spot lost" for each in self.happenings)


def today_of(store: Store, workshop_id: int, now: datetime) -> Today:
    """Raises Missing."""
    running = running_of(store, workshop_id, now)
    with store.reading() as s:
        kept, began = happenings_of(s, workshop_id), rota_start(s, workshop_id)
    starts = running.grounds.workshop.starts
    if not kept or began is None:
        if running.worked is None:
            return Today(running, kept, None, None, starts, None)
        moment = played(running.worked.rota, ())[0]
        return Today(running, kept, moment, running.worked, starts, _begins(running))
    posts = [Post(key=k, holders=h, watchers=w) for k, h, w in began.posts]
    first = plan_rota(began.people, posts, began.group_size, lent=began.lent)
    stations = [post.key for post in first.posts]
    added = tuple(name for number, name in running.station_names.items() if number not in stations)
    running = replace(with_stations(store, running, stations), missing=())
    moments = played(first, kept, running.posts_of_model(), began.group_size, began.lent)
    running, worked = _followed(store, running, kept, moments)
    lost = (pair for pair in never_shot(first, moments[-1].shot, moments[-1].rota) if pair[0] in moments[-1].people)
    return Today(_named(running, first.people), kept, moments[-1], worked, kept[-1].at, began, added, tuple(lost))


def add_happenings(store: Store, drafts: Sequence[HappeningDraft], now: datetime) -> tuple[Happening, ...]:
    """All or none; the first ones fix what the rota began with. Raises InputProblem, Missing."""
    if not drafts:
        raise InputProblem("about", "nobody is chosen")
    workshop_id = drafts[0].workshop_id
    running = running_of(store, workshop_id, now)
    with store.writing() as s:
        if running.worked is None and rota_start(s, workshop_id) is None:
            raise InputProblem("about", "there is no rota yet: add people and stations first")
        if len(happenings_of(s, workshop_id)) + len(drafts) > MOST_HAPPENINGS:
            raise InputProblem("kind", f"at most {MOST_HAPPENINGS} are kept for a workshop")
        keep_rota_start(s, workshop_id, _begins(running))
        return tuple(happenings.add(s, draft) for draft in drafts)


def take_back(store: Store, workshop_id: int, happening_id: int, version: int, *, now: datetime) -> Happening:
    """Put aside, with a way back. Raises Clash, Missing."""
    with store.writing() as s:
        _mine(s, workshop_id, happening_id)
        gone = happenings.delete(s, happening_id, version, now=now)
        if not happenings_of(s, workshop_id):
            forget_rota_start(s, workshop_id)
        return gone


def put_back(store: Store, workshop_id: int, happening_id: int, now: datetime) -> Happening:
    """Undo a taking back. Raises Missing."""
    running = running_of(store, workshop_id, now)
    with store.writing() as s:
        _mine(s, workshop_id, happening_id)
        if running.worked is not None:
            keep_rota_start(s, workshop_id, _begins(running))
        return happenings.restore(s, happening_id)


def _mine(s: Session, workshop_id: int, happening_id: int) -> None:
    get_workshop(s, workshop_id)
    if happenings.find(s, happening_id)[0].workshop_id != workshop_id:
        raise Missing(happening_id, "happening")


def _begins(running: Running) -> RotaStart:
    posts = tuple((look.post.key, look.post.holders, look.post.watchers) for look in running.looks.values())
    return RotaStart(running.attendees, posts, running.grounds.plan.group_size, running.lent)


def _followed(
    store: Store, running: Running, kept: Sequence[Happening], moments: Sequence[Moment]
) -> tuple[Running, Worked | None]:
    """What is left after each in turn, so that models carry along how long they have been on."""
    origin = running.grounds.workshop.starts
    worked: Worked | None = work(running, moments[0].rota)
    for happening, moment in zip(kept, moments[1:], strict=True):
        states = {}
        if worked is not None and worked.rota.rounds:
            gone_s = (happening.at - origin).total_seconds()
            states = models_at(worked.schedule, gone_s, worked.case.models)
        origin = happening.at
        if happening.kind == "spot lost":
            there = fallback_worked(store, running, moment.rota, happening.at)
            if there is not None:
                running, worked = there
                origin = running.grounds.workshop.starts
                continue
        if not moment.shot and moment.rota.rounds and not _rounds_begun(running, happening):
            worked, origin = work(running, moment.rota), running.grounds.workshop.starts
            continue
        worked = _only_left(work_from(running, moment.rota, origin, states)) if moment.rota.rounds else None
    return running, worked


def _rounds_begun(running: Running, happening: Happening) -> bool:
    """Whether it happened when the first round was to have begun; before that, set-up goes on as planned."""
    first = running.grounds.workshop.starts + timedelta(seconds=first_round_s(running.grounds.plan))
    return happening.at >= first


def _only_left(worked: Worked) -> Worked:
    """Without what lies before the rounds, which is over."""
    order = worked.order
    blocks = tuple(block for block in order.blocks if block.key not in (*BEFORE, SET_UP, SAFETY))
    return replace(worked, order=RunningOrder(blocks, order.starts, order.ends, order.schedule))


def _named(running: Running, people: Sequence[int]) -> Running:
    """With names for places that the rota began with, though people were named since."""
    names = {one: f"No. {-one}" for one in people if one < 0}
    gone = {one: f"attendee {one}" for one in people if one > 0 and one not in running.names}
    return replace(running, names={**names, **gone, **running.names})
