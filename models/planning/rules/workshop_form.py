"""A workshop as typed in a form: every field read, every problem named at once, local times in the spot's zone."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping
from datetime import date, datetime
from functools import partial
from typing import TypeVar

from models.clock import day_words, to_local
from models.planning.moments import read_moment
from models.planning.rules import typed
from models.planning.rules.what_if import (
    DOING,
    USUAL_LASTS,
    WhatIf,
    doing_of,
    doing_texts,
    read_amount,
    read_doing,
    read_what_if,
    span_words,
)
from models.planning.rules.workshops import spot_of
from models.problems import InputProblem, InputProblems
from models.rules.checking import checked_workshop
from models.rules.footprint import Doing, Footprint
from models.rules.workshop import WorkshopDraft
from models.store.engine import Store
from models.store.spots import Spot, list_spots
from models.store.types import name_key

MOST_TO_CHOOSE = 60
FIELDS = {"starts": "from_time", "ends": "to_time", "width_left_m": "width_left", "fallback_spot_id": "fallback"}
"""Fields of the form, by those of the workshop."""

Value = TypeVar("Value")


class _Problems(dict[str, str]):
    """By field, what is wrong with it."""

    def read(self, reader: Callable[[], Value]) -> Value | None:
        """What is read, or None with the problem noted."""
        try:
            return reader()
        except InputProblem as problem:
            self[problem.field] = problem.message
            return None


def read_workshop_form(store: Store, form: Mapping[str, str], now: datetime) -> WorkshopDraft:
    """The workshop a form describes. Raises InputProblems with a message beside each field that needs another look."""
    problems = _Problems()
    spot = problems.read(lambda: typed.read_spot("spot", form.get("spot", ""), store))
    zone = spot.zone if spot else "UTC"
    span = problems.read(lambda: _span(form, zone, to_local(now, zone).date(), problems))
    doing = _doing(form, problems)
    width = problems.read(lambda: typed.read_width("width_left", form.get("width_left", "")))
    meeting = problems.read(lambda: typed.read_meeting_point("meeting_point", form.get("meeting_point", ""), store))
    fallback = problems.read(lambda: _fallback(store, form.get("fallback", ""), spot))
    if problems or spot is None or span is None or doing is None:
        raise InputProblems(problems)
    draft = WorkshopDraft(
        title=form.get("title", "").strip() or usual_title(spot),
        spot_id=spot.id,
        starts=span[0],
        ends=span[1],
        doing=doing,
        width_left_m=width,
        fallback_spot_id=fallback.id if fallback else None,
        meeting_point=meeting,
    )
    try:
        return checked_workshop(draft)
    except InputProblem as problem:
        raise InputProblems({FIELDS.get(problem.field, problem.field): problem.message}) from problem


def workshop_form_of(store: Store, draft: WorkshopDraft, spot: Spot) -> dict[str, str]:
    """What the form shows for a workshop; read back it gives the same one."""
    fallback = typed.spot_or_none(store, draft.fallback_spot_id)
    return {
        "title": draft.title,
        "spot": typed.spot_text(spot, store),
        "day": f"{to_local(draft.starts, spot.zone):%Y-%m-%d}",
        "from_time": typed.clock_text(draft.starts, spot.zone),
        "to_time": typed.ends_text(draft.starts, draft.ends, spot.zone),
        **doing_texts(draft.doing),
        "width_left": typed.width_text(draft.width_left_m),
        "meeting_point": typed.meeting_words(draft.meeting_point, store),
        "fallback": typed.spot_text(fallback, store) if fallback else "",
    }


def form_of_what_if(store: Store, spot: Spot, what_if: WhatIf) -> dict[str, str]:
    """The form for keeping a what-if as a workshop."""
    footprint = what_if.footprint
    draft = WorkshopDraft(
        title="",
        spot_id=spot.id,
        starts=footprint.starts,
        ends=footprint.ends,
        doing=footprint.doing,
        width_left_m=footprint.width_left_m,
        fallback_spot_id=what_if.fallback.id if what_if.fallback else None,
        meeting_point=what_if.meeting_point,
    )
    return workshop_form_of(store, draft, spot)


def copied_form(store: Store, workshop: WorkshopDraft, day_text: str) -> dict[str, str]:
    """The form of the same on another day, at the same local time and for as long."""
    spot = spot_of(store, workshop)
    return workshop_form_of(store, workshop, spot) | {
        "day": day_text,
        "from_time": f"{to_local(workshop.starts, spot.zone):%H:%M}",
        "to_time": typed.lasts_text(workshop.starts, workshop.ends),
    }


def new_form(store: Store, asked: Mapping[str, str], now: datetime) -> dict[str, str]:
    """The form of a new workshop: that of the what-if in an address that names a spot, else what the address knows.

    Raises Missing, or InputProblem naming a parameter.
    """
    number = asked.get("spot", "").strip()
    if not number:
        usual = doing_texts(read_doing(asked)) | {"to_time": asked.get("lasts", "") or USUAL_LASTS}
        return usual | {"day": asked.get("on", ""), "from_time": asked.get("at", "")}
    spot = typed.read_spot("spot", number, store)
    moment = read_moment(asked.get("on"), asked.get("at"), None, spot.zone, now, asked.get("fold"))
    return form_of_what_if(store, spot, read_what_if(store, asked, spot, moment))


def spots_to_choose(store: Store) -> tuple[tuple[str, str], ...]:
    """(what is typed, what is shown) of every spot, by name; none where they are too many for a list."""
    with store.reading() as s:
        spots = list_spots(s, limit=MOST_TO_CHOOSE + 1)
    if len(spots) > MOST_TO_CHOOSE:
        return ()
    same = Counter(name_key(spot.name) for spot in spots)
    unlike = {spot.id for spot in spots if same[name_key(spot.name)] == 1 and not spot.name.strip().isdecimal()}
    return tuple(
        (spot.name, spot.name) if spot.id in unlike else (str(spot.id), f"{spot.name} (no. {spot.id})")
        for spot in spots
    )


def understood(store: Store, form: Mapping[str, str], now: datetime) -> dict[str, str]:
    """By field, how what was typed is taken; fields that are empty or cannot be read are left out."""
    problems = _Problems()
    spot = problems.read(lambda: typed.read_spot("spot", form.get("spot", ""), store))
    if spot is None:
        return {}
    said = {"spot": f"{spot.name}, time zone {spot.zone}"}
    span = problems.read(lambda: _span(form, spot.zone, to_local(now, spot.zone).date(), problems))
    if span:
        starts, ends = (to_local(instant, spot.zone) for instant in span)
        said |= {"day": day_words(starts.date())}
        said |= {"to_time": span_words(Footprint(starts=starts, ends=ends), spot.zone)}
    return said


def usual_title(spot: Spot) -> str:
    return f"Workshop at {spot.name}"


def _span(form: Mapping[str, str], zone: str, today: date, problems: _Problems) -> tuple[datetime, datetime] | None:
    """Set up and packed up (UTC); None where the day or the first of them cannot be read."""
    day = problems.read(lambda: typed.read_day("day", form.get("day", ""), today))
    starts = problems.read(lambda: typed.read_instant("from_time", day or today, form.get("from_time", ""), zone))
    if day is None or starts is None:
        return None
    return starts, typed.read_ends("to_time", form.get("to_time", "").strip() or USUAL_LASTS, starts, zone)


def _doing(form: Mapping[str, str], problems: _Problems) -> Doing | None:
    texts = {name: form[name] for name in DOING if name in form}
    amounts = {name: problems.read(partial(read_amount, name, text)) for name, text in texts.items()}
    if any(amount is None for amount in amounts.values()):
        return None
    return problems.read(lambda: doing_of({name: amount for name, amount in amounts.items() if amount is not None}))


def _fallback(store: Store, text: str, spot: Spot | None) -> Spot | None:
    if not text.strip():
        return None
    found = typed.read_spot("fallback", text, store)
    if spot and found.id == spot.id:
        raise InputProblem("fallback", f"{found.name} is the spot itself. Choose another one, or none.")
    return found
