"""A workshop moved to another time or day, everything else as it was: '20 min later', '-15 min', '17:30', '24.10.'."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta

from models.clock import to_local
from models.planning.rules import typed
from models.planning.rules.what_if import span_words
from models.planning.rules.workshops import draft_of, footprint_of, spot_of
from models.planning.workshops.durations import read_duration
from models.planning.workshops.past import must_keep_people
from models.problems import InputProblem
from models.rules.workshop import Workshop
from models.store import rules as kept
from models.store.engine import Store

FIELD = "to"
EXAMPLES = "20 min later, 15 min earlier, 17:30, 24 Oct or 24 Oct 17:30"
FURTHEST = timedelta(days=7)
"""By minutes; further off a day is named."""

_SHIFT = re.compile(r"(?P<sign>[-+−]?)\s*(?P<by>\d.*?)\s*(?P<way>later|earlier|on|back)?$")
_DAY_AND_CLOCK = re.compile(
    r"(?P<day>.*?)[,\s]*(?P<clock>\b\d{1,2}[:.h]\d{2}(?:\s*[ap]\.?m\.?)?(?:\s+[a-z]{3,5})?|\b\d{1,2}\s*[ap]\.?m\.?)$"
)


@dataclass(frozen=True, slots=True)
class Moved:
    """was, now: in words, both with their zone. back: what `move_back` takes to undo it."""

    workshop: Workshop
    was: str
    now: str
    back: str


def move_workshop(store: Store, workshop_id: int, version: int, text: str, now: datetime) -> Moved:
    """As long as before, at the same local time where only a day is typed; never to a day that erases people.

    Raises Clash, Missing, InputProblem."""
    with store.reading() as s:
        before = kept.get_workshop(s, workshop_id)
    zone = spot_of(store, before).zone
    return _put(store, before, version, read_move(text, before.starts, zone, to_local(now, zone).date()), now)


def move_back(store: Store, workshop_id: int, version: int, text: str) -> Moved:
    """Undo a move. text: its `back`. Raises Clash where somebody changed it since, Missing, InputProblem('to')."""
    with store.reading() as s:
        before = kept.get_workshop(s, workshop_id)
    try:
        starts = datetime.fromisoformat(text)
    except ValueError:
        starts = None
    if starts is None or starts.utcoffset() is None:
        raise InputProblem(FIELD, f"“{text[:40]}” is no instant to go back to.")
    return _put(store, before, version, starts)


def read_move(text: str, starts: datetime, zone: str, today: date) -> datetime:
    """When it starts (UTC) after the move. Raises InputProblem('to', ...)."""
    asked = text.strip().lower()
    if not asked:
        raise InputProblem(FIELD, f"Say where to. Type it like {EXAMPLES}.")
    shift = _shift(asked)
    if shift is not None:
        return _moved_by(shift, starts)
    local = to_local(starts, zone)
    clock = typed.clock_text(starts, zone)
    if found := _DAY_AND_CLOCK.match(asked):
        day_text, clock_text = found["day"].strip(" ,"), found["clock"].strip()
        day = _day(day_text, today) if day_text else local.date()
        return _different(typed.read_instant(FIELD, day, clock_text, zone), starts)
    day = _day(asked, today)
    return _different(typed.read_instant(FIELD, day, clock.split()[0], zone), starts)


def _put(store: Store, before: Workshop, version: int, starts: datetime, now: datetime | None = None) -> Moved:
    zone = spot_of(store, before).zone
    draft = replace(draft_of(before), starts=starts, ends=starts + (before.ends - before.starts))
    with store.writing() as s:
        if now is not None:
            must_keep_people(s, before, draft, zone, now, FIELD)
        workshop = kept.change_workshop(s, before.id, version, draft)
    was, then = (span_words(footprint_of(each, zone), zone) for each in (before, workshop))
    return Moved(workshop, was, then, before.starts.astimezone(UTC).isoformat())


def _shift(asked: str) -> timedelta | None:
    """None for what is no length with a way."""
    found = _SHIFT.match(asked)
    if not found or not (found["sign"] or found["way"]):
        return None
    try:
        minutes = read_duration(FIELD, found["by"], "min")
    except InputProblem:
        return None
    back = found["sign"] in ("-", "−") or found["way"] in ("earlier", "back")
    return timedelta(seconds=round(minutes * 60)) * (-1 if back else 1)


def _moved_by(shift: timedelta, starts: datetime) -> datetime:
    if abs(shift) > FURTHEST:
        raise InputProblem(FIELD, "is further than a week: type the day instead, like 24 Oct.")
    return _different(starts + shift, starts)


def _day(text: str, today: date) -> date:
    try:
        return typed.read_day(FIELD, text, today)
    except InputProblem:
        raise InputProblem(FIELD, f"“{text[:40]}” is no day and no time. Type it like {EXAMPLES}.") from None


def _different(moved: datetime, starts: datetime) -> datetime:
    if moved == starts:
        raise InputProblem(FIELD, "is when it starts already.")
    return moved
