"""Who is where when: a grid of people by rounds, a sheet for each station, a slip for each person, as things stand."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime

from models.clock import zone_short
from models.planning.workshops.day import Today, today_of
from models.planning.workshops.order_page import MISSING_WORDS, bare_clock
from models.planning.workshops.running import Running, Worked
from models.rules.workshop import Workshop
from models.store.engine import Store
from models.store.spots import Spot
from models.words import rota as words
from models.words.people import Private
from models.words.running import counted
from models.words.said import Said, said
from models.workshop.rota import Post, Rota, Visit
from models.workshop.ways import ways_to_plan


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
class TurnRow:
    """light, watch: nobody is ''. lack: hands that lack, in words."""

    starts: str
    shooter: Private
    light: tuple[Private, ...]
    watch: tuple[Private, ...]
    next_up: Private | None
    lack: str


@dataclass(frozen=True, slots=True)
class SheetRound:
    number: int
    group: int
    turns: tuple[TurnRow, ...]


@dataclass(frozen=True, slots=True)
class StationSheet:
    """settings, powers: as dialled at the start. hands: what it takes beside whoever shoots."""

    name: str
    setup: str
    model: Private | None
    settings: str
    powers: tuple[str, ...]
    lesson: str
    hands: str
    notes: str
    rounds: tuple[SheetRound, ...]


@dataclass(frozen=True, slots=True)
class SlipLine:
    starts: str
    words: str
    shoots: bool


@dataclass(frozen=True, slots=True)
class Slip:
    who: Private
    lines: tuple[SlipLine, ...]


@dataclass(frozen=True, slots=True)
class RotaPage:
    """rounds: (number, start) of each column. changed: something happened, and this is what is left. ways: where hands
    lack."""

    workshop: Workshop
    spot: Spot
    zone: str
    answer: Said
    missing: tuple[str, ...]
    changed: bool
    short: str
    ways: tuple[str, ...]
    rounds: tuple[tuple[int, str], ...]
    grid: tuple[GridRow, ...]
    sheets: tuple[StationSheet, ...]
    slips: tuple[Slip, ...]


def rota_page(store: Store, workshop_id: int, now: datetime) -> RotaPage:
    """Raises Missing."""
    return rota_shown(today_of(store, workshop_id, now))


def rota_shown(today: Today) -> RotaPage:
    running, worked = today.running, today.worked
    grounds = running.grounds
    if worked is None or today.moment is None:
        why = " and ".join(MISSING_WORDS[each] for each in running.missing)
        answer = said("", "There is no rota", f": {why}.") if why else words.rota_answer(Rota((), ()), 0, left=True)
        return RotaPage(
            workshop=grounds.workshop, spot=grounds.spot, zone="", answer=answer, missing=running.missing,
            changed=today.changed, short="", ways=(), rounds=(), grid=(), sheets=(), slips=(),
        )  # fmt: skip
    rota, first = worked.rota, today.moment.round
    helpers = sum(person.part == "helper" for person in running.people)
    return RotaPage(
        workshop=grounds.workshop,
        spot=grounds.spot,
        zone=zone_short(worked.order.starts, running.zone),
        answer=words.rota_answer(rota, worked.schedule.frames, left=today.changed),
        missing=(),
        changed=today.changed,
        short=words.short_words(rota, helpers, organiser_helps=grounds.plan.organiser_helps),
        ways=() if today.changed else tuple(_ways(running, rota)),
        rounds=tuple((first + k, _start(running, worked, k)) for k in range(len(rota.rounds))),
        grid=tuple(_grid(running, rota)),
        sheets=tuple(_sheets(running, worked, first)),
        slips=tuple(_slips(running, worked, first)),
    )


def who(running: Running, person: int) -> Private:
    """The name on the page, 'attendee 4' in JSON."""
    place = running.attendees.index(person) + 1 if person in running.attendees else person
    return Private(running.names.get(person, f"attendee {place}"), f"attendee {place}")


def _ways(running: Running, rota: Rota) -> Iterator[str]:
    if rota.short:
        for way in ways_to_plan(rota.people, rota.posts, running.grounds.plan.group_size):
            yield words.way_words(way, running.station_names)


def _start(running: Running, worked: Worked, index: int) -> str:
    block = next((each for each in worked.order.blocks if each.round == index + 1), None)
    return bare_clock(block.starts, running.zone) if block else ""


def _grid(running: Running, rota: Rota) -> Iterator[GridRow]:
    names = running.station_names
    for person in sorted(rota.people, key=lambda each: running.names.get(each, "").casefold()):
        cells = []
        for each in rota.rounds:
            group, visit = next((k, one) for k, one in enumerate(each.visits, start=1) if person in one.members)
            cells.append(_cell(person, group, visit, names))
        yield GridRow(who(running, person), tuple(cells))


def _cell(person: int, group: int, visit: Visit, names: Mapping[int, str]) -> Cell:
    if visit.post is None:
        return Cell("", "", group)
    places = [number for number, turn in enumerate(visit.turns, start=1) if turn.shooter == person]
    order = f"shoots {words.place_words(places[0])}" if places else "lends a hand"
    return Cell(names[visit.post], order, group)


def _sheets(running: Running, worked: Worked, first: int) -> Iterator[StationSheet]:
    models = {person.id: person for person in running.people}
    for number, look in running.looks.items():
        model = models.get(look.station.model_id or 0)
        post: Post = look.post
        light = running.lights.get(number)
        cards = () if light is None else tuple(f"{unit.name} {unit.power_words}" for unit in look.units)
        yield StationSheet(
            name=look.station.name,
            setup=look.setup_title,
            model=Private(model.name, "model") if model else None,
            settings=look.settings,
            powers=cards,
            lesson=look.station.lesson,
            hands=words.hands_words(post),
            notes=look.station.notes,
            rounds=tuple(_rounds(running, worked, number, first)),
        )


def _rounds(running: Running, worked: Worked, post: int, first: int) -> Iterator[SheetRound]:
    for each, times in zip(worked.rota.rounds, worked.schedule.rounds, strict=True):
        visit, timed = each.at(post), times.at(post)
        if visit is None or timed is None:
            continue
        group = each.visits.index(visit) + 1
        turns = tuple(
            TurnRow(
                starts=bare_clock(worked.order.instant(times.number, at.starts_s), running.zone),
                shooter=who(running, turn.shooter),
                light=tuple(who(running, one) for one in turn.light),
                watch=tuple(who(running, one) for one in turn.watch),
                next_up=who(running, turn.next_up) if turn.next_up is not None else None,
                lack=f"{counted(turn.short, 'hand lacks', 'hands lack')}" if turn.short else "",
            )
            for turn, at in zip(visit.turns, timed.turns, strict=True)
        )
        yield SheetRound(first + times.number - 1, group, turns)


def _slips(running: Running, worked: Worked, first: int) -> Iterator[Slip]:
    for person in sorted(worked.rota.people, key=lambda each: running.names.get(each, "").casefold()):
        yield Slip(who(running, person), tuple(_slip(running, worked, person, first)))


def _slip(running: Running, worked: Worked, person: int, first: int) -> Iterator[SlipLine]:
    names = running.station_names
    for each, times in zip(worked.rota.rounds, worked.schedule.rounds, strict=True):
        visit = next(one for one in each.visits if person in one.members)
        number = first + times.number - 1
        if visit.post is None:
            yield SlipLine(_start(running, worked, times.number - 1), f"Round {number}: {words.REST_WORDS}.", False)
            continue
        timed = times.at(visit.post)
        for turn, at in zip(visit.turns, timed.turns if timed else (), strict=True):
            duty = turn.duty_of(person) or "free"
            starts = bare_clock(worked.order.instant(times.number, at.starts_s), running.zone)
            yield SlipLine(starts, f"{names[visit.post]}, round {number}: {words.DUTY_WORDS[duty]}.", duty == "shoots")
