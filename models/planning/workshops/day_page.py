"""The page for the day: where the rota stands by the clock, what happened, and a press for what happens now."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime, timedelta

from models.clock import to_local, zone_short
from models.planning.rules.typed import read_instant
from models.planning.workshops.day import Today, today_of
from models.planning.workshops.fallback import fallbacks_of
from models.planning.workshops.naming import who
from models.planning.workshops.order_blocks import bare_clock
from models.planning.workshops.order_page import MISSING_WORDS
from models.planning.workshops.rota_page import RotaPage, rota_shown
from models.planning.workshops.running import Running
from models.problems import InputProblem, InputProblems, noted
from models.rules.workshop import Workshop
from models.store.engine import Store
from models.store.spots import Spot
from models.street.spot import trimmed
from models.words import day as words
from models.words.people import Private
from models.words.running import block_words, fitting_words, lasts_words
from models.words.said import Said, said
from models.workshop.day import Moment
from models.workshop.fitting import fitting
from models.workshop.happening import OF_PERSON, Happening, HappeningDraft, Kind, checked_happening
from models.workshop.rotation import plan_rota

LONGEST_NOTE = 200
OFFERED = (*(kind for kind, _ in words.PERSON_KINDS), *(kind for kind, _ in words.STATION_KINDS), "spot lost")
BEFORE_IT = timedelta(hours=3)
"""Somebody may be missed so long before set-up."""


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
    stations set up after the day began."""

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
    others = fallbacks_of(store, running.grounds)
    return DayPage(
        workshop=workshop,
        spot=spot,
        zone=zone_short(at, spot.zone),
        answer=_answer(today, reached),
        missing=running.missing,
        happened=tuple(_happened(today)),
        round=reached[0],
        turn=reached[1],
        at=bare_clock(at, spot.zone),
        people=tuple((number, who(running, number)) for number in _nameable(today)),
        there=moment.people if moment else (),
        stations=tuple(running.station_names.items()),
        added=today.added,
        blocks=tuple(_blocks(today, now)) if worked else (),
        ways=tuple(_ways(today)),
        rota=rota_shown(today),
        fallback=others[0].name if others else "",
        if_stopped=if_stopped(running.grounds.plan.talks, others[0].name if others else ""),
    )


def if_stopped(talks: str, where: str) -> tuple[str, ...]:
    """What is done when somebody asks the group to stop."""
    named = {"talks": talks or "nobody is named yet", "where": where or "the meeting point: no fallback is chosen"}
    return tuple(line.format(**named) for line in words.STOPPED)


def read_happenings(
    store: Store, workshop_id: int, form: Mapping[str, list[str]], now: datetime
) -> list[HappeningDraft]:
    """What a form says happened, one for each person ticked. Raises InputProblems by field, Missing."""
    today = today_of(store, workshop_id, now)
    problems: dict[str, str] = {}
    typed = {name: form.get(name, [""])[0] for name in ("kind", "at", "round", "turn", "note")}
    kind, at, note, round_, turn = typed["kind"], now, "", 1, 1
    about: list[int | None] = [None]
    with noted(problems, "at"):
        at = _instant(today, typed["at"], now)
    with noted(problems, "round"):
        round_ = _whole("round", typed["round"] or "1")
    with noted(problems, "turn"):
        turn = _whole("turn", typed["turn"] or "1")
    with noted(problems, "note"):
        note = trimmed("note", typed["note"], LONGEST_NOTE)
    with noted(problems, "kind"):
        if kind not in OFFERED:
            raise InputProblem("kind", "press what happened.")
    if not problems.keys() & {"round", "turn"}:
        with noted(problems, "turn"):
            _can_be_reached(today, round_, turn)
    if "kind" not in problems:
        with noted(problems, "about"):
            about = _about(today, kind, form.get("about", []))
    if problems:
        raise InputProblems(problems)
    try:
        return [checked_happening(_draft(workshop_id, kind, at, each, round_, turn, note)) for each in about]
    except InputProblem as problem:
        raise InputProblems({problem.field: problem.message}) from problem


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


def _draft(
    workshop_id: int, kind: str, at: datetime, about: int | None, round_: int, turn: int, note: str
) -> HappeningDraft:
    known: Kind = kind  # type: ignore[assignment]  # checked_happening refuses others
    return HappeningDraft(workshop_id=workshop_id, kind=known, at=at, about=about, round=round_, turn=turn, note=note)


def _instant(today: Today, text: str, now: datetime) -> datetime:
    """A clock time on the workshop's day, or on the next for one that goes on over midnight; nothing typed is now."""
    last = today.happenings[-1].at if today.happenings else None
    at = _on_its_day(today.running, text) if text.strip() else now.replace(second=0, microsecond=0)
    if last is not None and at < last:
        raise InputProblem("at", "That is before what happened last; take that back first.")
    workshop = today.running.grounds.workshop
    if text.strip() and not workshop.starts - BEFORE_IT <= at <= workshop.ends + BEFORE_IT:
        raise InputProblem("at", f"“{text.strip()[:20]}” is far from this workshop's hours.")
    return at


def _can_be_reached(today: Today, number: int, turn: int) -> None:
    """A round and turn that lie in what is left, or the one after the last."""
    moment = today.moment
    if moment is None or (number, turn) <= (moment.round, moment.turn):
        return
    last = moment.round + len(moment.rota.rounds)
    if number >= last:
        if (number, turn) != (last, 1):
            raise InputProblem("turn", f"The rota has no round {number}, turn {turn}: it ends with round {last - 1}.")
        return
    gone = moment.turn - 1 if number == moment.round else 0
    longest = moment.rota.rounds[number - moment.round].longest + gone
    if turn > longest:
        raise InputProblem("turn", f"Round {number} has {longest} turns, not {turn}.")


def _on_its_day(running: Running, text: str) -> datetime:
    workshop, zone = running.grounds.workshop, running.zone
    day, last_day = (to_local(at, zone).date() for at in (workshop.starts, workshop.ends))
    if day != last_day:
        with suppress(InputProblem):
            at = read_instant("at", day, text, zone)
            if at >= workshop.starts - BEFORE_IT:
                return at
    return read_instant("at", last_day, text, zone)


def _about(today: Today, kind: str, texts: list[str]) -> list[int | None]:
    if kind == "spot lost":
        return [None]
    numbers = [_whole("about", text, lowest=-40) for text in texts]
    known = set(_nameable(today)) if kind in OF_PERSON else set(today.running.station_names)
    if kind == "model left":
        models = {each.id: each.model_id for each in today.running.grounds.stations}
        found = [models.get(number) for number in numbers]
        if not found or None in found:
            raise InputProblem("about", "no model is named for that station: say that the station is lost.")
        return found
    if not numbers:
        raise InputProblem("about", "choose who or which station.")
    if set(numbers) - known:
        raise InputProblem("about", "is nobody and no station of this workshop.")
    _changes_something(today, kind, numbers)
    return list(numbers)


def _changes_something(today: Today, kind: str, numbers: Sequence[int]) -> None:
    """Nobody goes twice, nobody comes who is there; so with stations."""
    moment = today.moment
    if moment is None:
        return
    there = set(moment.people) if kind in OF_PERSON else {post.key for post in moment.posts}
    comes = kind in ("came late", "station back")
    if any((number in there) == comes for number in numbers):
        raise InputProblem("about", "is in the rota already." if comes else "is not in the rota any more.")


def _whole(field: str, text: str, lowest: int = 1) -> int:
    typed = text.strip().replace("−", "-")
    if not re.fullmatch(r"-?[0-9]{1,9}", typed) or int(typed) < lowest:
        raise InputProblem(field, f"“{text.strip()[:20]}” is no number from {lowest} on.")
    return int(typed)


def _nameable(today: Today) -> tuple[int, ...]:
    """Those the rota began with, and attendees added since."""
    began = today.began.people if today.began else ()
    return tuple(dict.fromkeys((*began, *today.running.attendees)))


def _answer(today: Today, reached: tuple[int, int]) -> Said:
    moment, worked = today.moment, today.worked
    if moment is None:
        why = " and ".join(MISSING_WORDS[each] for each in today.running.missing)
        return said("", "There is no rota", f": {why}.")
    zone = today.running.zone
    order = worked.order if worked else None
    packed = f"{bare_clock(order.packed, zone)} {zone_short(order.packed, zone)}" if order else ""
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
        yield HappeningShown(each.id, each.version, bare_clock(each.at, running.zone), Private(shown, told), each.note)


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
        starts, ends = (bare_clock(at, today.running.zone) for at in (block.starts, block.ends))
        yield BlockLeft(starts, ends, title, lasts_words(block.length_s), block.starts <= now < block.ends)


def _ways(today: Today) -> Iterator[str]:
    """How what is left would fit, where it does not."""
    worked = today.worked
    if worked is None or worked.order.fits or not worked.rota.rounds:
        return
    plan = today.running.grounds.plan
    rounds = [block for block in worked.order.blocks if block.round is not None]
    within_s = (rounds[-1].ends - rounds[0].starts).total_seconds() - worked.order.over_s
    if today.changed:
        found = fitting(worked.case, within_s, lambda people, posts: plan_rota(people, posts, plan.group_size))
        frames = [way for way in found.ways if way.kind == "frames"]
        yield fitting_words(found, today.running.station_names)[0]
        yield from (f"{way.amount} frames a turn from now on would fit." for way in frames)
