"""What a form of the day says happened, read for everybody who is ticked; every problem by its field."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from contextlib import suppress
from datetime import datetime, timedelta

from models.clock import to_local
from models.planning.rules.typed import read_instant
from models.planning.workshops.day import Today, today_of
from models.planning.workshops.running import Running
from models.problems import InputProblem, InputProblems, noted
from models.store.engine import Store
from models.street.spot import trimmed
from models.words import day as words
from models.workshop.happening import OF_PERSON, HappeningDraft, Kind, checked_happening

LONGEST_NOTE = 200
OFFERED = (*(kind for kind, _ in words.PERSON_KINDS), *(kind for kind, _ in words.STATION_KINDS), "spot lost")
BEFORE_IT = timedelta(hours=3)
"""Somebody may be missed so long before set-up."""


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


def nameable(today: Today) -> tuple[int, ...]:
    """Those the rota began with, and attendees added since."""
    began = today.began.people if today.began else ()
    return tuple(dict.fromkeys((*began, *today.running.attendees)))


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
    known = set(nameable(today)) if kind in OF_PERSON else set(today.running.station_names)
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
