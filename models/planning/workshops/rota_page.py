"""Who is where when: a grid of people by rounds, a sheet for each station, a slip for each person, as things stand."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache

from models.clock import clock_words, zone_short
from models.planning.workshops.day import Today, today_of
from models.planning.workshops.lent import lenders_of, lent_words
from models.planning.workshops.minding import Minding, minding_of
from models.planning.workshops.naming import by_name, who
from models.planning.workshops.rota_sheets import StationSheet, sheets_shown
from models.planning.workshops.rota_slips import Slip, slips_shown
from models.planning.workshops.running import Running, Worked
from models.rules.workshop import Workshop
from models.store.engine import Store
from models.store.spots import Spot
from models.words import rota as words
from models.words.people import Private
from models.words.running import missing_words
from models.words.said import Said, said
from models.workshop.lending import lent_by
from models.workshop.rota import Post, Rota, Visit
from models.workshop.ways import Way, loans, ways_to_plan


@dataclass(frozen=True, slots=True)
class Cell:
    """One person in one round. station: '' where the person rests. order: when they shoot in it, '' where not."""

    station: str
    order: str
    group: int


@dataclass(frozen=True, slots=True)
class GridRow:
    who: Private
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class WayOffered:
    """lent: the hands to plan with for it to be so, None where no number of them makes it."""

    words: Private
    lent: int | None


@dataclass(frozen=True, slots=True)
class RotaPage:
    """rounds: (number, start) of each column. changed: something happened, and this is what is left. short: that hands
    lack, or would in groups as planned; lent: who is lent where; ways: other ways to have hands enough. version: of the
    plan, 0 where none is kept. when: day, time and spot; meet: where people meet; no_picture: cautions."""

    workshop: Workshop
    spot: Spot
    when: str
    meet: str
    zone: str
    answer: Said
    missing: tuple[str, ...]
    changed: bool
    no_picture: tuple[Private, ...]
    short: str
    lent: tuple[Private, ...]
    ways: tuple[WayOffered, ...]
    version: int
    rounds: tuple[tuple[int, str], ...]
    grid: tuple[GridRow, ...]
    sheets: tuple[StationSheet, ...]
    slips: tuple[Slip, ...]


def rota_page(store: Store, workshop_id: int, now: datetime) -> RotaPage:
    """Raises Missing."""
    today = today_of(store, workshop_id, now)
    return rota_shown(today, minding_of(store, today.running), with_ways=True)


def rota_shown(today: Today, mind: Minding, *, with_ways: bool = False) -> RotaPage:
    """with_ways: look for other ways to have hands enough too, which takes long where people are many."""
    running, worked = today.running, today.worked
    grounds = running.grounds
    if worked is None or today.moment is None:
        why = missing_words(running.missing)
        answer = said("", "There is no rota", f": {why}.") if why else words.rota_answer(Rota((), ()), 0, left=True)
        return RotaPage(
            workshop=grounds.workshop, spot=grounds.spot, zone="", answer=answer, missing=running.missing,
            when=mind.when, meet=mind.meet, changed=today.changed, no_picture=(), short="", lent=(), ways=(), version=0,
            rounds=(), grid=(), sheets=(), slips=(),
        )  # fmt: skip
    rota, first, size = worked.rota, today.moment.round, grounds.plan.group_size
    lacking = loans(rota)
    lent = lent_by(lacking, lenders_of(running))
    ways = tuple(_ways(running, rota)) if with_ways and not today.changed else ()
    return RotaPage(
        workshop=grounds.workshop,
        spot=grounds.spot,
        when=mind.when,
        meet=mind.meet,
        zone=zone_short(worked.order.starts, running.zone),
        answer=words.rota_answer(rota, worked.schedule.frames, left=today.changed),
        missing=(),
        changed=today.changed,
        no_picture=mind.pictures(running),
        short=words.short_words(rota, size, merged=bool(ways) and _merged(rota, size)),
        lent=lent_words(running, lacking, first),
        ways=ways,
        version=grounds.plan_version,
        rounds=tuple((first + k, _start(running, worked, k)) for k in range(len(rota.rounds))),
        grid=tuple(_grid(running, rota)),
        sheets=tuple(sheets_shown(running, worked, first, lent, mind.no_picture)),
        slips=tuple(slips_shown(running, worked, first, lent, mind.meet_short)),
    )


def _merged(rota: Rota, group_size: int) -> bool:
    """Whether any group is larger than planned."""
    return any(len(visit.members) > group_size for each in rota.rounds for visit in each.visits)


@lru_cache(maxsize=16)
def _ways_to_plan(people: tuple[int, ...], posts: tuple[Post, ...], group_size: int) -> tuple[Way, ...]:
    return ways_to_plan(people, posts, group_size)


def _ways(running: Running, rota: Rota) -> Iterator[WayOffered]:
    """Other ways to have hands enough than the rota shown, where groups as planned would lack them."""
    for way in _ways_to_plan(rota.people, rota.posts, running.grounds.plan.group_size):
        if way.rota.rounds == rota.rounds:
            continue
        line = words.way_words(way, running.station_names)
        lent = lent_words(running, way.loans)
        told = Private(" ".join((line, *(one.shown for one in lent))), " ".join((line, *(one.told for one in lent))))
        yield WayOffered(told, None if way.kind == "share" else way.lent)


def _start(running: Running, worked: Worked, index: int) -> str:
    block = worked.order.block(f"round {index + 1}")
    return clock_words(block.starts, running.zone) if block else ""


def _grid(running: Running, rota: Rota) -> Iterator[GridRow]:
    names = running.station_names
    for person in by_name(running, rota.people):
        cells = []
        for each in rota.rounds:
            visits = ((k, one) for k, one in enumerate(each.visits, start=1) if person in one.members)
            group, visit = next(visits, (0, None))
            cells.append(_cell(person, group, visit, names))
        yield GridRow(who(running, person), tuple(cells))


def _cell(person: int, group: int, visit: Visit | None, names: Mapping[int, str]) -> Cell:
    if visit is None or visit.post is None:
        return Cell("", "", group)
    places = [number for number, turn in enumerate(visit.turns, start=1) if turn.shooter == person]
    order = f"shoots {words.place_words(places[0])}" if places else "lends a hand"
    return Cell(names[visit.post], order, group)
