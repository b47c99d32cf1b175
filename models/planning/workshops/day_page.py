"""The page for the day: where the rota stands by the clock, what happened, and a press for what happens now."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from functools import partial

from models.clock import clock_words, time_words, zone_short
from models.planning.workshops.day import Today, today_of
from models.planning.workshops.day_form import nameable
from models.planning.workshops.fallback import goes_to
from models.planning.workshops.minding import minding_of
from models.planning.workshops.naming import who
from models.planning.workshops.rota_page import RotaPage, rota_shown
from models.planning.workshops.running import planned
from models.rules.workshop import Workshop
from models.store.engine import Store
from models.store.spots import Spot
from models.words import day as words
from models.words.people import Private
from models.words.running import block_words, fitting_words, lasts_words, missing_words
from models.words.said import Said, said
from models.workshop.day import Moment
from models.workshop.fitting import fitting
from models.workshop.happening import OF_PERSON, Happening


@dataclass(frozen=True, slots=True)
class HappeningShown:
    id: int
    version: int
    at: str
    words: Private
    note: str


@dataclass(frozen=True, slots=True)
class BlockLeft:
    starts: str
    ends: str
    title: str
    lasts: str
    now: bool


@dataclass(frozen=True, slots=True)
class DayPage:
    """round, turn: how far the rota has got by the clock, filled into the form; at: the local time now, where the
    workshop is under way, else its start. people: who can be named, by number; there: those in the rota now. added:
    stations set up after the day began. wind: where it is too strong to leave a stand alone."""

    workshop: Workshop
    spot: Spot
    zone: str
    answer: Said
    missing: tuple[str, ...]
    happened: tuple[HappeningShown, ...]
    round: int
    turn: int
    at: str
    people: tuple[tuple[int, Private], ...]
    there: tuple[int, ...]
    stations: tuple[tuple[int, str], ...]
    added: tuple[str, ...]
    wind: tuple[str, ...]
    lost: tuple[Private, ...]
    blocks: tuple[BlockLeft, ...]
    ways: tuple[str, ...]
    rota: RotaPage
    fallback: str
    if_stopped: tuple[str, ...]


def day_page(store: Store, workshop_id: int, now: datetime) -> DayPage:
    """Raises Missing."""
    today = today_of(store, workshop_id, now)
    running, worked, moment = today.running, today.worked, today.moment
    spot, workshop = running.grounds.spot, running.grounds.workshop
    at = min(max(now, today.at), workshop.ends)
    reached = progress(today, at) if moment else (1, 1)
    fallback, mind = goes_to(store, running.grounds), minding_of(store, running)
    return DayPage(
        workshop=workshop,
        spot=spot,
        zone=zone_short(at, spot.zone),
        answer=_answer(today, reached),
        missing=running.missing,
        happened=tuple(_happened(today)),
        round=reached[0],
        turn=reached[1],
        at=clock_words(at, spot.zone),
        people=tuple((number, who(running, number)) for number in nameable(today)),
        there=moment.people if moment else (),
        stations=tuple(running.station_names.items()),
        added=today.added,
        wind=mind.loud if worked else (),
        lost=tuple(_lost(today)),
        blocks=tuple(_blocks(today, now)) if worked else (),
        ways=tuple(_ways(today)),
        rota=rota_shown(today, mind),
        fallback=fallback,
        if_stopped=if_stopped(running.grounds.plan.talks, fallback),
    )


def if_stopped(talks: str, where: str) -> tuple[str, ...]:
    """What is done when somebody asks the group to stop."""
    there = where or "the meeting point: no fallback under another guard is chosen"
    named = {"talks": talks or "nobody is named yet", "where": there}
    return tuple(line.format(**named) for line in words.STOPPED)


def progress(today: Today, at: datetime) -> tuple[int, int]:
    """Round and turn that come next at an instant, by the times worked out."""
    moment, worked = today.moment, today.worked
    if moment is None or worked is None or not worked.rota.rounds:
        return (moment.round, moment.turn) if moment else (1, 1)
    for times in worked.schedule.rounds:
        turns = [visit.turns for visit in times.visits if visit.turns]
        longest = max(turns, key=len, default=())
        for number, turn in enumerate(longest, start=1):
            if worked.order.instant(times.number, turn.ends_s) > at:
                first = moment.turn - 1 if times.number == 1 else 0
                return moment.round + times.number - 1, number + first
    return moment.round + len(worked.schedule.rounds), 1


def _answer(today: Today, reached: tuple[int, int]) -> Said:
    moment, worked = today.moment, today.worked
    if moment is None:
        why = missing_words(today.running.missing)
        return said("", "There is no rota", f": {why}.")
    order = worked.order if worked else None
    packed = time_words(order.packed, today.running.zone) if order else ""
    return words.day_answer(moment, order, packed, (*reached, _shot_by(moment, reached)))


def _shot_by(moment: Moment, reached: tuple[int, int]) -> int:
    """How many turns of what was left are shot when a round and turn come next."""
    number, turn = reached
    count = 0
    for at, each in enumerate(moment.rota.rounds, start=moment.round):
        begins = moment.turn if at == moment.round else 1
        shot = max(turn - begins, 0) if at == number else None
        for visit in each.visits if at <= number else ():
            count += len(visit.turns) if shot is None else min(shot, len(visit.turns))
    return count


def _happened(today: Today) -> Iterator[HappeningShown]:
    running = today.running
    for each in today.happenings:
        name = _subject(today, each)
        shown, told = (words.happened_words(each.kind, text, each.round, each.turn) for text in (name.shown, name.told))
        yield HappeningShown(each.id, each.version, clock_words(each.at, running.zone), Private(shown, told), each.note)


def _subject(today: Today, happening: Happening) -> Private:
    about = happening.about or 0
    if happening.kind in OF_PERSON:
        return who(today.running, about)
    name = today.running.station_names.get(about, str(about)) if happening.kind.startswith("station") else str(about)
    return Private(name, name)


def _blocks(today: Today, now: datetime) -> Iterator[BlockLeft]:
    if today.worked is None:
        return
    moment: Moment | None = today.moment
    for block in today.worked.order.blocks:
        number = block.round and block.round + (moment.round if moment else 1) - 1
        title = f"Round {number}" if number else block_words(block, elsewhere=today.is_elsewhere)
        starts, ends = (clock_words(at, today.running.zone) for at in (block.starts, block.ends))
        yield BlockLeft(starts, ends, title, lasts_words(block.length_s), block.starts <= now < block.ends)


def _lost(today: Today) -> Iterator[Private]:
    """Who never gets which station, a sentence for each station."""
    for post, name in today.running.station_names.items():
        people = [who(today.running, person) for person, at in today.lost if at == post]
        if people:
            shown, told = [one.shown for one in people], [one.told for one in people]
            yield Private(words.never_words(name, shown), words.never_words(name, told))


def _ways(today: Today) -> Iterator[str]:
    """How what is left would fit, where it does not."""
    worked = today.worked
    if worked is None or worked.order.fits or not worked.rota.rounds:
        return
    rounds = [block for block in worked.order.blocks if block.round is not None]
    within_s = (rounds[-1].ends - rounds[0].starts).total_seconds() - worked.order.over_s
    if today.changed:
        found = fitting(worked.case, within_s, partial(planned, today.running))
        frames = [way for way in found.ways if way.kind == "frames"]
        yield fitting_words(found, today.running.station_names)[0]
        yield from (f"{way.amount} frames a turn from now on would fit." for way in frames)
