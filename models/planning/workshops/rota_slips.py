"""A slip for each person, from meeting to release: attendees and their duties, helpers and the organiser where they are
lent, models."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from models.clock import clock_words
from models.planning.workshops.lent import Lent
from models.planning.workshops.naming import by_name, who
from models.planning.workshops.running import Running, Worked
from models.words import rota as words
from models.words.people import Private
from models.words.running import lasts_words
from models.workshop.lending import ORGANISER
from models.workshop.running_order import MEET, PACK, PICTURE, RELEASE


@dataclass(frozen=True, slots=True)
class SlipLine:
    starts: str
    words: str
    shoots: bool = False


@dataclass(frozen=True, slots=True)
class Slip:
    """part: '' for an attendee."""

    who: Private
    part: str
    lines: tuple[SlipLine, ...]


def slips_shown(running: Running, worked: Worked, first: int, lent: Lent, meet: str) -> Iterator[Slip]:
    """first: the number of the rota's first round. meet: where people meet, in words."""
    before, after = tuple(_before(running, worked, meet)), tuple(_after(running, worked))

    def slip(person: int, part: str, lines: Iterator[SlipLine]) -> Slip:
        return Slip(who(running, person), part, (*before, *lines, *after))

    for person in by_name(running, worked.rota.people):
        yield slip(person, "", _attendee(running, worked, person, first))
    helpers = [person.id for person in running.people if person.part == "helper"]
    lending = {person for people in lent.values() for person in people}
    for person in (*helpers, *({ORGANISER} & lending)):
        yield slip(person, "helper" if person else "", _lender(running, worked, person, lent, first))
    posts = running.posts_of_model()
    for one in running.people:
        if one.models and one.id in posts:
            yield slip(one.id, "model", _model(running, worked, posts[one.id], first))


def _before(running: Running, worked: Worked, meet: str) -> Iterator[SlipLine]:
    """Nothing once the day has begun: the order then has no meeting."""
    block = worked.order.block(MEET)
    if block is not None:
        yield SlipLine(clock_words(block.starts, running.zone), f"Meet: {meet}.")


def _after(running: Running, worked: Worked) -> Iterator[SlipLine]:
    for key, told in ((PICTURE, words.PICTURE_WORDS), (PACK, words.PACK_WORDS), (RELEASE, words.RELEASE_WORDS)):
        block = worked.order.block(key)
        if block is not None:
            yield SlipLine(clock_words(block.starts, running.zone), told)


def _attendee(running: Running, worked: Worked, person: int, first: int) -> Iterator[SlipLine]:
    names = running.station_names
    for each, times in zip(worked.rota.rounds, worked.schedule.rounds, strict=True):
        visit = next((one for one in each.visits if person in one.members), None)
        number = first + times.number - 1
        if visit is None or visit.post is None:
            starts = running.round_clock(worked, times.number, times.starts_s)
            yield SlipLine(starts, f"Round {number}: {words.REST_WORDS}")
            continue
        timed = times.at(visit.post)
        for turn, at in zip(visit.turns, timed.turns if timed else (), strict=True):
            duty = turn.duty_of(person) or "free"
            starts = running.round_clock(worked, times.number, at.starts_s)
            yield SlipLine(starts, f"{names[visit.post]}, round {number}: {words.DUTY_WORDS[duty]}.", duty == "shoots")


def _lender(running: Running, worked: Worked, person: int, lent: Lent, first: int) -> Iterator[SlipLine]:
    places = sorted(place for place, people in lent.items() if person in people)
    for number, post in places:
        times = worked.schedule.rounds[number - 1]
        starts = running.round_clock(worked, number, times.starts_s)
        yield SlipLine(starts, f"{running.station_names[post]}, round {first + number - 1}: {words.LENDS_WORDS}")
    if not places:
        yield SlipLine("", words.FREE_HELPER)


def _model(running: Running, worked: Worked, posts: tuple[int, ...], first: int) -> Iterator[SlipLine]:
    """On, resting, and finished, in order of time."""
    found: list[tuple[datetime, str]] = []
    ends: list[datetime] = []
    for post in posts:
        spells = list(_spells(worked, post))
        found += [(starts, told) for starts, told in _on(running, spells, post, first)]
        ends += [spells[-1][2]] if spells else []
    if not ends:
        yield SlipLine("", words.MODEL_NOT_ON)
        return
    for at, told in sorted(found):
        yield SlipLine(clock_words(at, running.zone), told)
    yield SlipLine(clock_words(max(ends), running.zone), words.MODEL_FINISHED)


def _on(
    running: Running, spells: list[tuple[int, datetime, datetime, bool]], post: int, first: int
) -> Iterator[tuple[datetime, str]]:
    before: datetime | None = None
    for number, starts, ends, rested in spells:
        if rested and before is not None:
            yield before, f"Rest for {lasts_words((starts - before).total_seconds())}."
        until = clock_words(ends, running.zone)
        yield starts, f"On at {running.station_names[post]} until {until}, round {first + number - 1}."
        before = ends


def _spells(worked: Worked, post: int) -> Iterator[tuple[int, datetime, datetime, bool]]:
    """(round of the rota, from, to, whether a rest comes before), turns that follow one another as one."""
    rests = {(rest.round, rest.turn) for rest in worked.schedule.rests if rest.post == post}
    for times in worked.schedule.rounds:
        visit = times.at(post)
        turns = visit.turns if visit else ()
        if not turns:
            continue
        breaks = [k for k in range(len(turns)) if k == 0 or (times.number, k + 1) in rests]
        for k, after in zip(breaks, (*breaks[1:], len(turns)), strict=True):
            starts, ends = (
                worked.order.instant(times.number, at) for at in (turns[k].starts_s, turns[after - 1].ends_s)
            )
            yield times.number, starts, ends, (times.number, k + 1) in rests
