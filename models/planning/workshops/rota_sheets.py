"""A sheet for each station: what is dialled, what is learnt, and who does what in every turn."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from models.planning.workshops.lent import Lent
from models.planning.workshops.naming import who
from models.planning.workshops.running import Running, Worked
from models.words import rota as words
from models.words.people import Private
from models.words.said import counted


@dataclass(frozen=True, slots=True)
class TurnRow:
    """light, watch: nobody is empty. lent: from outside the group. lack: hands that lack still, in words."""

    starts: str
    shooter: Private
    light: tuple[Private, ...]
    watch: tuple[Private, ...]
    next_up: Private | None
    lent: tuple[Private, ...]
    lack: str


@dataclass(frozen=True, slots=True)
class SheetRound:
    number: int
    group: int
    turns: tuple[TurnRow, ...]


@dataclass(frozen=True, slots=True)
class StationSheet:
    """settings, powers: as dialled at the start. hands: what it takes beside whoever shoots. waits: somebody is next up
    without another duty. lends: somebody is lent here, or hands lack. no_picture: why none is taken of the model."""

    name: str
    setup: str
    model: Private | None
    no_picture: Private | None
    settings: str
    powers: tuple[str, ...]
    lesson: str
    hands: str
    notes: str
    waits: bool
    lends: bool
    rounds: tuple[SheetRound, ...]


def sheets_shown(
    running: Running, worked: Worked, first: int, lent: Lent, no_picture: Mapping[int, Private]
) -> Iterator[StationSheet]:
    """first: the number of the rota's first round. no_picture: by number of the station."""
    people = {person.id for person in running.people}
    for number, look in running.looks.items():
        model = look.station.model_id
        cards = (f"{unit.name} {unit.power_words}" for unit in look.units if number in running.lights)
        rounds = tuple(_rounds(running, worked, number, first, lent))
        yield StationSheet(
            name=look.station.name,
            setup=look.setup_title,
            model=who(running, model) if model in people and model is not None else None,
            no_picture=no_picture.get(number),
            settings=look.settings,
            powers=tuple(cards),
            lesson=look.station.lesson,
            hands=words.hands_words(look.post),
            notes=look.station.notes,
            waits=any(turn.next_up for each in rounds for turn in each.turns),
            lends=any(turn.lent or turn.lack for each in rounds for turn in each.turns),
            rounds=rounds,
        )


def _rounds(running: Running, worked: Worked, post: int, first: int, lent: Lent) -> Iterator[SheetRound]:
    for each, times in zip(worked.rota.rounds, worked.schedule.rounds, strict=True):
        visit, timed = each.at(post), times.at(post)
        if visit is None or timed is None:
            continue
        rows = []
        for turn, at in zip(visit.turns, timed.turns, strict=True):
            lenders = lent.get((times.number, post), ())[: turn.short]
            lacks = turn.short - len(lenders)
            row = TurnRow(
                starts=running.round_clock(worked, times.number, at.starts_s),
                shooter=who(running, turn.shooter),
                light=tuple(who(running, one) for one in turn.light),
                watch=tuple(who(running, one) for one in turn.watch),
                next_up=who(running, turn.next_up) if turn.next_up is not None else None,
                lent=tuple(who(running, one) for one in lenders),
                lack=counted(lacks, "hand lacks", "hands lack") if lacks else "",
            )
            rows.append(row)
        yield SheetRound(first + times.number - 1, each.visits.index(visit) + 1, tuple(rows))
