"""The list of workshops: those to come with what stands open about them, then those that are over."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from sqlalchemy.orm import Session

from models.clock import to_local
from models.planning.rules.coming import Coming, findings_of
from models.planning.rules.what_if import span_words
from models.planning.rules.workshop_page import open_days
from models.planning.rules.workshops import footprint_of
from models.planning.workshops.people_open import items_by_workshop
from models.problems import InputProblem
from models.rules.answers import Answer
from models.rules.coverage import same_guard
from models.rules.findings import strictest
from models.rules.still_open import OpenItem, still_open
from models.rules.working_days import calendar_of
from models.rules.workshop import Workshop
from models.store import rules as kept
from models.store.engine import Store
from models.store.settings import get_setting
from models.store.spots import Spot
from models.store.spots import shelf as spots
from models.words.findings import HEADS, open_count_words
from models.words.rules import STANDING_NOTE

A_PAGE = 30
PAST = 50


@dataclass(frozen=True, slots=True)
class WorkshopRow:
    """One line of the list. strictest, head and open are None for what is over or called off; head: its words."""

    id: int
    title: str
    when: str
    starts: datetime
    spot_id: int
    spot_name: str
    called_off: bool
    strictest: Answer | None = None
    head: str = ""
    open: int | None = None
    open_words: str = ""


@dataclass(frozen=True, slots=True)
class WorkshopsPage:
    """upcoming: soonest first. past: latest first; more_past: there are older ones."""

    answer: str
    upcoming: tuple[WorkshopRow, ...]
    past: tuple[WorkshopRow, ...]
    more_past: bool
    total: int
    page: int
    pages: int
    standing_note: str


def workshops_page(store: Store, now: datetime, page: int = 1) -> WorkshopsPage:
    """A page of the workshops to come. Raises InputProblem('page', ...) for one that is not there."""
    with store.reading() as s:
        total, everything = kept.count_workshops(s, from_=now), kept.count_workshops(s)
        off = kept.count_workshops(s, from_=now, called_off=True)
        pages = max(1, -(-total // A_PAGE))
        if page > pages:
            raise InputProblem("page", f"there are only {pages} pages." if pages > 1 else "there is only one page.")
        coming = kept.list_workshops(s, from_=now, limit=A_PAGE, offset=(page - 1) * A_PAGE)
        over = max(0, everything - total)
        past = _past(s, now, over)
        where = spots.these(s, _spot_ids((*coming, *past)))
        opened = _opened(s, [each for each in coming if not each.called_off], where, now)
    upcoming = tuple(_row(each, where[each.spot_id], opened.get(each.id), now) for each in coming)
    return WorkshopsPage(
        answer=_answer(upcoming, total - off, off, page),
        upcoming=upcoming,
        past=tuple(_row(each, where[each.spot_id], None, now) for each in past),
        more_past=over > len(past),
        total=total,
        page=page,
        pages=pages,
        standing_note=STANDING_NOTE,
    )


def _past(s: Session, now: datetime, over: int) -> Sequence[Workshop]:
    """The latest of those that are over, latest first. One that started before them and goes on may take a place."""
    found = kept.list_workshops(s, limit=2 * PAST, offset=max(0, over - PAST))
    return [workshop for workshop in reversed(found) if workshop.ends < now][:PAST]


def _spot_ids(workshops: Sequence[Workshop]) -> set[int]:
    return {number for each in workshops for number in (each.spot_id, each.fallback_spot_id) if number}


def _opened(
    s: Session, workshops: Sequence[Workshop], where: Mapping[int, Spot], now: datetime
) -> dict[int, tuple[Answer, tuple[OpenItem, ...]]]:
    """By number of the workshop, its strictest answer and what stands open; everything is read once."""
    going = [
        Coming(each, spot, footprint_of(each, spot.zone), to_local(now, spot.zone).date())
        for each in workshops
        for spot in [where[each.spot_id]]
    ]
    places = {number: (where[number].latitude_deg, where[number].longitude_deg) for number in _spot_ids(workshops)}
    around = dict(zip(places, kept.areas_at_each(s, list(places.values())), strict=True))
    of_people = items_by_workshop(s, [(each.workshop, each.spot.zone) for each in going], now)
    papers, found = kept.list_papers(s), findings_of(s, going, calendar_of(get_setting(s, "holidays")))
    opened = {}
    for each, findings in zip(going, found, strict=True):
        other = where.get(each.workshop.fallback_spot_id or 0)
        shared = (
            same_guard(around[each.spot.id], around[other.id], each.spot.controller, other.controller) if other else ()
        )
        items = still_open(findings, papers, each.footprint, has_fallback=other is not None, shared=shared)
        opened[each.workshop.id] = strictest(findings), (*items, *of_people[each.workshop.id])
    return opened


def _row(
    workshop: Workshop, spot: Spot, opened: tuple[Answer, tuple[OpenItem, ...]] | None, now: datetime
) -> WorkshopRow:
    when = span_words(footprint_of(workshop, spot.zone), spot.zone)
    plain = WorkshopRow(
        workshop.id, workshop.title, when, workshop.starts, workshop.spot_id, spot.name, workshop.called_off
    )
    if opened is None:
        return plain
    answer, items = opened
    words = open_count_words(len(items), open_days(items, now, spot.zone))
    return replace(plain, strictest=answer, head=HEADS[answer], open=len(items), open_words=words)


def _answer(upcoming: Sequence[WorkshopRow], going: int, off: int, page: int) -> str:
    """going: how many are to come and go on; off: how many were to come and are called off."""
    if not going and not off:
        return "No workshop is planned."
    many = "1 workshop is to come" if going == 1 else f"{going or 'No'} workshops are to come"
    many += f"; {off} {'is' if off == 1 else 'are'} called off." if off else "."
    first = next((row for row in upcoming if not row.called_off), None)
    if page > 1 or first is None:
        return many
    return f"{many} The next: {first.when}, {first.spot_name}. {first.head}; {first.open_words}."
