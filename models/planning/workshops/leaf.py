"""The leaf for when things go wrong, worked out beforehand: fewer people or stations, the spot lost, asked to stop."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

from models.clock import clock_words, time_words, zone_short
from models.planning.rules.what_if import span_words
from models.planning.rules.workshops import footprint_of
from models.planning.workshops.day_page import if_stopped
from models.planning.workshops.fallback import FallbackOrder, fallback_order, goes_to
from models.planning.workshops.minding import minding_of
from models.planning.workshops.naming import who
from models.planning.workshops.running import Running, Worked, happened, planned, running_of, work
from models.rules.workshop import Workshop
from models.store.engine import Store
from models.store.spots import Spot
from models.words.people import Private
from models.words.running import lasts_words, missing_words, over_words
from models.words.said import Said, counted, said
from models.workshop.day import played
from models.workshop.happening import HappeningDraft
from models.workshop.rota import Rota
from models.workshop.running_order import RunningOrder

MOST_FEWER, LOST_AFTER = 3, (1, 2)


@dataclass(frozen=True, slots=True)
class LeafRound:
    """cells: by station, the numbers of those who shoot there, in order of their turns; '' where it stands idle."""

    number: int
    starts: str
    cells: tuple[str, ...]
    rests: str


@dataclass(frozen=True, slots=True)
class LeafRota:
    """People go by numbers, 1 to as many as there are: whoever is there takes the next."""

    title: str
    words: str
    stations: tuple[str, ...]
    rounds: tuple[LeafRound, ...]


@dataclass(frozen=True, slots=True)
class Owed:
    station: str
    people: tuple[Private, ...]


@dataclass(frozen=True, slots=True)
class LeafLost:
    """The spot lost after a round: who still owes which station, and what goes on elsewhere (None: no fallback)."""

    after: int
    leave: str
    owed: tuple[Owed, ...]
    order: FallbackOrder | None


@dataclass(frozen=True, slots=True)
class LeafPage:
    workshop: Workshop
    spot: Spot
    when: str
    zone: str
    answer: Said
    missing: tuple[str, ...]
    wind: tuple[str, ...]
    no_picture: tuple[Private, ...]
    fewer: tuple[LeafRota, ...]
    station_fewer: LeafRota | None
    lost: tuple[LeafLost, ...]
    if_stopped: tuple[str, ...]
    meeting: str
    ambulance: str
    changed: bool = False


def leaf_page(store: Store, workshop_id: int, now: datetime) -> LeafPage:
    """Raises Missing."""
    return leaf_shown(store, running_of(store, workshop_id, now))


def leaf_shown(store: Store, running: Running) -> LeafPage:
    grounds, worked = running.grounds, running.worked
    workshop, spot = grounds.workshop, grounds.spot
    where, mind = goes_to(store, grounds), minding_of(store, running)
    return LeafPage(
        workshop=workshop,
        spot=spot,
        when=span_words(footprint_of(workshop, spot.zone), spot.zone),
        zone=zone_short(workshop.starts, spot.zone),
        answer=_answer(running, where),
        missing=running.missing,
        wind=mind.loud,
        no_picture=mind.pictures(running),
        fewer=tuple(_fewer(running)) if worked else (),
        station_fewer=_station_fewer(running) if worked else None,
        lost=tuple(_lost(store, running, worked)) if worked else (),
        if_stopped=if_stopped(grounds.plan.talks, where),
        meeting=grounds.plan.meets_by,
        ambulance=grounds.plan.ambulance,
        changed=happened(store, workshop.id),
    )


def _answer(running: Running, where: str) -> Said:
    if running.missing:
        why = missing_words(running.missing)
        return said("", "Nothing can be worked out beforehand yet", f": {why}.")
    place = f"goes on at {where}" if where else "has nowhere to go: choose a fallback"
    return said("Worked out beforehand: up to three people fewer, a station fewer, and a lost spot, which ", place, ".")


def _fewer(running: Running) -> Iterator[LeafRota]:
    people = len(running.attendees)
    for missing in range(1, min(MOST_FEWER, people - 1) + 1):
        rota = planned(running, range(1, people - missing + 1))
        title = f"{counted(missing, 'person', 'people')} fewer: {people - missing} there"
        yield _table(running, title, work(running, rota))


def _station_fewer(running: Running) -> LeafRota | None:
    posts = [look.post for look in running.looks.values()]
    if len(posts) < 2:
        return None
    rota = planned(running, range(1, len(running.attendees) + 1), posts[:-1])
    gone = running.station_names[posts[-1].key]
    title = f"One station fewer: without {gone} (where another is lost, {gone} takes its place in the table)"
    return _table(running, title, work(running, rota))


def _table(running: Running, title: str, worked: Worked) -> LeafRota:
    rota = worked.rota
    stations = [post.key for post in rota.posts]
    rounds = []
    for number, each in enumerate(rota.rounds, start=1):
        cells = []
        for post in stations:
            visit = each.at(post)
            cells.append(", ".join(str(turn.shooter) for turn in visit.turns) if visit else "")
        resting = [str(person) for visit in each.visits if visit.post is None for person in visit.members]
        block = worked.order.block(f"round {number}")
        starts = clock_words(block.starts, running.zone) if block else ""
        rounds.append(LeafRound(number, starts, tuple(cells), ", ".join(resting)))
    return LeafRota(title, _summary(rota, worked), tuple(running.station_names[key] for key in stations), tuple(rounds))


def _summary(rota: Rota, worked: Worked) -> str:
    frames = counted(worked.schedule.frames, "frame", "frames")
    lack = f" Up to {counted(rota.short, 'hand lacks', 'hands lack')} at a turn: lend a helper." if rota.short else ""
    lasts, over = lasts_words(worked.schedule.length_s), over_words(worked.order.over_s)
    return f"{frames} a turn, the rounds take {lasts}: {over}.{lack}"


def _lost(store: Store, running: Running, worked: Worked) -> Iterator[LeafLost]:
    for after in LOST_AFTER:
        if after >= len(worked.rota.rounds):
            break
        leave = _round_ends(worked.order, after)
        happening = HappeningDraft(
            workshop_id=running.grounds.workshop.id, kind="spot lost", at=leave, round=after + 1, turn=1
        )
        moment = played(worked.rota, [happening], group_size=running.grounds.plan.group_size, lent=running.lent)[-1]
        order = fallback_order(store, running, rota=moment.rota, leave=leave, first_round=after + 1)
        yield LeafLost(after, time_words(leave, running.zone), tuple(_owed(running, moment.rota)), order)


def _round_ends(order: RunningOrder, number: int) -> datetime:
    block = order.block(f"round {number}")
    return block.ends if block else order.starts


def _owed(running: Running, left: Rota) -> Iterator[Owed]:
    shots: Sequence[tuple[int, int]] = tuple(left.shots())
    for post, name in running.station_names.items():
        people = tuple(who(running, person) for person, at in shots if at == post)
        if people:
            yield Owed(name, people)
