"""At the fallback: the walk there, a short order of what is left, and the setups in the light of the other place."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from sqlalchemy.orm import Session

from models.clock import clock_words, time_words
from models.planning.rules.findings import FallbackShown, fallback_shown
from models.planning.street.counts import footfall_at
from models.planning.street.walk import walk_between
from models.planning.workshops.grounds import Grounds
from models.planning.workshops.running import Running, Worked, first_round_s, paces_of, seen, walk_seconds
from models.planning.workshops.station_look import StationLook
from models.rules.workshop import Workshop
from models.store import rules as kept
from models.store.engine import Store
from models.store.spots import Spot
from models.store.spots import shelf as spots
from models.words import running as words
from models.words.said import counted, stops_in_hand_words
from models.workshop.batteries import batteries
from models.workshop.fitting import Case, most_frames
from models.workshop.plan import PlanDraft
from models.workshop.rota import Rota
from models.workshop.running_order import decide_by, seconds_at_fallback, short_order
from models.workshop.timing import frames_a_turn


@dataclass(frozen=True, slots=True)
class FallbackStation:
    """A station at the other place. settings, powers: its dial card for the light then, '' where it has no setup."""

    name: str
    light: str
    settings: str
    powers: tuple[str, ...]
    hand: str


@dataclass(frozen=True, slots=True)
class FallbackBlock:
    starts: str
    ends: str
    title: str


@dataclass(frozen=True, slots=True)
class FallbackOrder:
    """same_guard: what it shares with the spot, so that it is no fallback. frames: a turn that fit, None where not even
    one does, 0 where no round is left. decide_by: '' where people are there already. fits: how it fits, in words."""

    spot_id: int
    name: str
    same_guard: tuple[str, ...]
    known: bool
    leave: str
    decide_by: str
    walk: str
    frames: int | None
    fits: str
    blocks: tuple[FallbackBlock, ...]
    stations: tuple[FallbackStation, ...]


def fallbacks_of(store: Store, grounds: Grounds) -> tuple[Spot, ...]:
    """The workshop's fallback, then those of its plan, those under the same guard last; without deleted ones and the
    spot itself, where people have gone there already."""
    return tuple(other for other, _ in _judged(store, grounds))


def further_spots(s: Session, workshop: Workshop, spot: Spot, plan: PlanDraft) -> list[tuple[Spot, FallbackShown]]:
    """The same as typed, those under the same guard in their place."""
    first = () if workshop.fallback_spot_id is None else (workshop.fallback_spot_id,)
    numbers = tuple(dict.fromkeys((*first, *plan.fallback_ids)))
    there = spots.these(s, (number for number in numbers if number != spot.id))
    others = [there[number] for number in numbers if number in there and there[number].deleted_at is None]
    areas = kept.areas_at(s, spot.latitude_deg, spot.longitude_deg) if others else ()
    return [(other, fallback_shown(s, spot, areas, other)) for other in others]


def goes_to(store: Store, grounds: Grounds) -> str:
    """Where people walk when they are asked to stop; '' where no fallback is under another guard."""
    return next((other.name for other, shared in _judged(store, grounds) if not shared.same_guard), "")


def _judged(store: Store, grounds: Grounds) -> list[tuple[Spot, FallbackShown]]:
    with store.reading() as s:
        found = further_spots(s, grounds.workshop, grounds.spot, grounds.plan)
    return sorted(found, key=lambda each: bool(each[1].same_guard))


def fallback_order(
    store: Store,
    running: Running,
    *,
    rota: Rota | None = None,
    leave: datetime | None = None,
    first_round: int = 1,
) -> FallbackOrder | None:
    """At the first fallback; None without one, or where there is no rota.

    rota: what is left to shoot, None for all of it. leave: when people leave the spot; None: they never went there, and
    leave the meeting point so as to be there when the workshop was to set up. first_round: the number of the next one.
    """
    others = _judged(store, running.grounds)
    if not others or running.worked is None:
        return None
    (other, shared), workshop = others[0], running.grounds.workshop
    here = (running.grounds.spot.latitude_deg, running.grounds.spot.longitude_deg)
    start = here if leave is not None else workshop.meeting_point or here
    walk = walk_between(store, start, (other.latitude_deg, other.longitude_deg), running.grounds.plan.pace_m_s)
    walk_s = walk_seconds(walk)
    at = leave or workshop.starts - timedelta(seconds=walk_s or 0.0)
    there = _there(store, running, other, at + timedelta(seconds=walk_s or 0.0))
    worked, frames, fits = _fitted(there, rota or running.worked.rota, at, walk_s)
    decide = decide_by(running.grounds.plan, workshop.starts) if leave is None else None
    return FallbackOrder(
        spot_id=other.id,
        name=other.name,
        same_guard=shared.same_guard,
        known=shared.known,
        leave=time_words(at, other.zone),
        decide_by=time_words(decide, other.zone) if decide else "",
        walk=walk.said.text,
        frames=frames,
        fits=fits,
        blocks=tuple(_blocks(worked, other.zone, first_round)) if worked else (),
        stations=tuple(_station(running, look) for look in there.looks.values()),
    )


def fallback_worked(
    store: Store, running: Running, rota: Rota, leave: datetime
) -> tuple[Running, Worked | None] | None:
    """What is left, worked out at the first fallback, which people leave the spot for; None without one."""
    others = fallbacks_of(store, running.grounds)
    if not others:
        return None
    other, here = others[0], (running.grounds.spot.latitude_deg, running.grounds.spot.longitude_deg)
    walk = walk_between(store, here, (other.latitude_deg, other.longitude_deg), running.grounds.plan.pace_m_s)
    walk_s = walk_seconds(walk)
    there = _there(store, running, other, leave + timedelta(seconds=walk_s or 0.0))
    return there, _fitted(there, rota, leave, walk_s)[0]


def _there(store: Store, running: Running, other: Spot, arrive: datetime) -> Running:
    """The same workshop looked at from the other place, its stations at the spot's own point there."""
    grounds = running.grounds
    stations = tuple(replace(each, place=None, looking_deg=None) for each in grounds.stations)
    with store.reading() as s:
        counted = footfall_at(s, other)
    workshop = replace(grounds.workshop, spot_id=other.id, starts=arrive)
    moved = replace(grounds, workshop=workshop, spot=other, stations=stations, footfall=counted)
    looks, lights = seen(store, moved)
    return replace(running, grounds=moved, looks=looks, lights=lights, worked=None)


def _fitted(there: Running, rota: Rota, leave: datetime, walk_s: float | None) -> tuple[Worked | None, int | None, str]:
    """What is left with the most frames a turn that fit, and how it fits in words."""
    plan, ends = there.grounds.plan, there.grounds.workshop.ends
    if not rota.rounds:
        return None, 0, "Nothing is left to shoot: pack and walk back."
    arrive = there.grounds.workshop.starts
    case = Case(
        rota=rota, paces=paces_of(there, plan, arrive), plan=plan, starts_s=first_round_s(plan),
        heat_or_cold=there.feels.heat_or_cold,
    )  # fmt: skip
    within_s = seconds_at_fallback(plan, leave, ends, walk_s)
    schedule = most_frames(case, within_s, frames_a_turn(plan, rota))
    if schedule is None:
        over_s = case.scheduled(1, with_doubt=False).length_s - within_s
        return None, None, f"Not even one frame a turn fits: {words.lasts_words(over_s)} too long."
    order = short_order(plan, leave, ends, schedule, walk_s=walk_s)
    fits = f"{counted(schedule.frames, 'frame', 'frames')} a turn: it {words.over_words(order.over_s)}."
    return Worked(case, schedule, order, batteries(schedule, case.paces, plan)), schedule.frames, fits


def _blocks(worked: Worked, zone: str, first_round: int) -> Iterator[FallbackBlock]:
    for block in worked.order.blocks:
        starts, ends = (clock_words(at, zone) for at in (block.starts, block.ends))
        title = f"Round {block.round + first_round - 1}" if block.round else words.block_words(block, elsewhere=True)
        yield FallbackBlock(starts, ends, title)


def _station(running: Running, look: StationLook) -> FallbackStation:
    light = look.power_words.text
    hand = "" if look.reserve_stops is None else stops_in_hand_words(look.reserve_stops)
    powers = tuple(f"{unit.name} {unit.power_words}" for unit in look.units)
    return FallbackStation(running.station_names[look.station.id], light, look.settings, powers, hand)
