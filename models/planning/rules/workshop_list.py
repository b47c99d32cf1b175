"""The list of workshops: those to come with what stands open about them, then those that are over."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy.orm import Session

from models.clock import to_local
from models.planning.rules.findings import fallback_shown, findings_at
from models.planning.rules.open import open_items
from models.planning.rules.what_if import span_words
from models.planning.rules.workshop_page import first_day
from models.planning.rules.workshops import footprint_of
from models.problems import InputProblem
from models.rules.answers import Answer
from models.rules.papers import Paper
from models.rules.workshop import Workshop
from models.store import rules as kept
from models.store.engine import Store
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
        pages = max(1, -(-total // A_PAGE))
        if page > pages:
            raise InputProblem("page", f"there are only {pages} pages." if pages > 1 else "there is only one page.")
        coming = kept.list_workshops(s, from_=now, limit=A_PAGE, offset=(page - 1) * A_PAGE)
        over = max(0, everything - total)
        past = _past(s, now, over)
        papers = kept.list_papers(s)
        upcoming = tuple(_row(s, workshop, papers, now) for workshop in coming)
        return WorkshopsPage(
            answer=_answer(upcoming, total),
            upcoming=upcoming,
            past=tuple(_plain_row(s, workshop) for workshop in past),
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


def _row(s: Session, workshop: Workshop, papers: tuple[Paper, ...], now: datetime) -> WorkshopRow:
    plain = _plain_row(s, workshop)
    if workshop.called_off:
        return plain
    spot, _ = spots.find(s, workshop.spot_id)
    footprint = footprint_of(workshop, spot.zone)
    found = findings_at(s, spot, footprint, today=to_local(now, spot.zone).date(), meeting_point=workshop.meeting_point)
    other = workshop.fallback_spot_id and spots.find(s, workshop.fallback_spot_id)[0]
    fallback = fallback_shown(s, spot, found.areas, other) if other else None
    items = open_items(papers, footprint, found, fallback)
    words = open_count_words(len(items), first_day(items, now, spot.zone))
    return WorkshopRow(
        **{name: getattr(plain, name) for name in ("id", "title", "when", "starts", "spot_id", "spot_name")},
        called_off=False,
        strictest=found.strictest,
        head=HEADS[found.strictest],
        open=len(items),
        open_words=words,
    )


def _plain_row(s: Session, workshop: Workshop) -> WorkshopRow:
    spot, _ = spots.find(s, workshop.spot_id)
    when = span_words(footprint_of(workshop, spot.zone), spot.zone)
    return WorkshopRow(
        workshop.id, workshop.title, when, workshop.starts, workshop.spot_id, spot.name, workshop.called_off
    )


def _answer(upcoming: Sequence[WorkshopRow], total: int) -> str:
    if not total:
        return "No workshop is planned."
    many = "1 workshop is to come." if total == 1 else f"{total} workshops are to come."
    going = [row for row in upcoming if not row.called_off]
    if not going:
        return f"{many} {'It is' if total == 1 else 'All on this page are'} called off."
    first = going[0]
    return f"{many} The next: {first.when}, {first.spot_name}. {first.head}; {first.open_words}."
