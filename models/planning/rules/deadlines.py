"""Deadlines: what is due before the workshops to come, as one list to turn over, and as notes for a calendar."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from functools import partial
from typing import Any

from sqlalchemy.orm import Session

from models.clock import day_words, to_local
from models.exchange.calendar_file import Entry, deadlines_calendar
from models.planning.rules.coming import Coming, coming_workshops, findings_of
from models.planning.rules.dues import (
    NOT_KNOWN,
    Asking,
    Dues,
    OldRecord,
    PaperDue,
    Question,
    dues,
    old_record,
    paper_due,
    question_of,
)
from models.planning.rules.enquiries import EnquiryRow, enquiry_rows
from models.planning.rules.enquiry_words import activities_words, until_words
from models.planning.rules.what_if import span_words
from models.planning.spots import home_zone
from models.problems import InputProblem
from models.rules.working_days import calendar_of
from models.store import rules as kept
from models.store.engine import Store
from models.store.rules import CalendarNote
from models.store.settings import get_setting
from models.words.rules import STANDING_NOTE
from models.words.said import counted, listed

A_PAGE = 60
ALARM_DAYS = (7, 1)
TITLES = {
    "ask": "To be asked",
    "waiting": "No answer yet",
    "unchecked": "Not checked: ask, nobody knows how long before",
    "papers": "Papers that end before a workshop",
    "old": "Records that are too old",
}
"""The kinds in the order of the page."""

Due = Question | EnquiryRow | PaperDue | OldRecord


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A kind of what is due, as far as it stands on this page; total: on all pages."""

    key: str
    title: str
    total: int
    items: tuple[Due, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DeadlinesPage:
    """calendars: by whose working days it was counted. without_day: how many questions the calendar file leaves out."""

    answer: str
    sections: tuple[Section, ...]
    workshops: int
    calendars: tuple[str, ...]
    without_day: int
    total: int
    page: int
    pages: int
    standing_note: str


def deadlines(store: Store, now: datetime, *, page: int = 1) -> DeadlinesPage:
    """A page of what is due. Raises InputProblem('page', ...) for one that is not there."""
    today = to_local(now, home_zone(store)).date()
    with store.reading() as s:
        coming, due = _due(s, now, today)
        rows = _rows(s, due, today)
        total = sum(len(items) for _, items, _ in rows)
        pages = max(1, -(-total // A_PAGE))
        if page > pages:
            raise InputProblem("page", f"there are only {pages} pages." if pages > 1 else "there is only one page.")
        return DeadlinesPage(
            answer=_answer(coming, due, today),
            sections=_sections(rows, (page - 1) * A_PAGE),
            workshops=len(coming),
            calendars=_calendars(s, due),
            without_day=len(due.unchecked) + sum(asking.by is None for asking in due.ask),
            total=total,
            page=page,
            pages=pages,
            standing_note=STANDING_NOTE,
        )


def calendar_file(store: Store, now: datetime, address: Callable[[int], str]) -> bytes:
    """All questions with a day as an iCalendar file; those of the last file that are settled since are cancelled.

    address: of a workshop's page by its number.
    """
    today = to_local(now, home_zone(store)).date()
    with store.reading() as s:
        _, due = _due(s, now, today)
        dated = {_about(asking): asking for asking in reversed(due.ask) if asking.by}  # of two the earlier one
        place = get_setting(s, "holidays")
        notes = [_note(about, asking, place) for about, asking in dated.items()]
    with store.writing() as s:
        numbered = kept.number_entries(s, notes, today=today)
    entries = [
        Entry(
            uid=entry.uid,
            day=entry.day,
            title=f"Settled: {entry.title}" if entry.settled_on else entry.title,
            description=entry.description,
            alarm_days=ALARM_DAYS,
            url=address(dated[entry.about].coming.workshop.id) if entry.about in dated else "",
            cancelled=entry.settled_on is not None,
            sequence=entry.sequence,
        )
        for entry in numbered
    ]
    return deadlines_calendar(entries, now=now, name="Kerbstand: to be asked")


def _due(s: Session, now: datetime, today: date) -> tuple[tuple[Coming, ...], Dues]:
    coming = coming_workshops(s, now)
    found = findings_of(s, coming, calendar_of(get_setting(s, "holidays")))
    together = list(zip(coming, found, strict=True))
    return coming, dues(together, kept.list_enquiries(s, "asked"), kept.list_papers(s), today)


Rows = tuple[str, Sequence[Any], Callable[[Any], tuple[Due, ...]]]
"""A kind, all there is of it, and how some of it is put into words."""


def _rows(s: Session, due: Dues, today: date) -> tuple[Rows, ...]:
    def each(words: Callable[[Any], Due]) -> Callable[[Any], tuple[Due, ...]]:
        return lambda some: tuple(map(words, some))

    return (
        ("ask", due.ask, each(question_of)),
        ("waiting", due.waiting, lambda some: enquiry_rows(s, some, today)),
        ("unchecked", due.unchecked, each(question_of)),
        ("papers", due.papers, each(partial(paper_due, today=today))),
        ("old", due.old, each(partial(old_record, today=today))),
    )


def _sections(rows: Sequence[Rows], first: int) -> tuple[Section, ...]:
    """What stands on the page that begins at this place of the whole list."""
    sections, before = [], 0
    for key, items, words in rows:
        start, stop = max(0, first - before), max(0, first + A_PAGE - before)
        if some := items[start:stop]:
            sections.append(Section(key=key, title=TITLES[key], total=len(items), items=words(some)))
        before += len(items)
    return tuple(sections)


def _calendars(s: Session, due: Dues) -> tuple[str, ...]:
    """That of the settings first, then those that areas keep of their own."""
    own = {asking.area.holidays for asking in due.ask if asking.area and asking.area.holidays}
    places = dict.fromkeys((get_setting(s, "holidays"), *sorted(own)))
    return tuple(calendar_of(place).words for place in places)


def _about(asking: Asking) -> str:
    """The same whatever is said of it, and its own for each question of one workshop."""
    where = f"area {asking.area.id}" if asking.area else "spot"
    return f"workshop {asking.coming.workshop.id}, {where}, {asking.activities[0]}"


def _note(about: str, asking: Asking, place: str) -> CalendarNote:
    """place: whose holidays count where the area keeps none of its own."""
    coming, own = asking.coming, asking.area.holidays if asking.area else ""
    workshop, whom = coming.workshop, asking.whom or NOT_KNOWN
    lines = (
        f"About: {activities_words(asking.activities)}.",
        f"For: {workshop.title}, {span_words(coming.footprint, coming.spot.zone)}, {coming.spot.name}.",
        f"Ask: {', '.join(filter(None, (whom, asking.contact)))}.",
        f"Counted in {calendar_of(own or place).words}.",
        STANDING_NOTE,
    )
    title = f"Ask {whom} about {workshop.title}"
    return CalendarNote(about=about, day=asking.by or coming.today, title=title, description="\n".join(lines))


def _answer(coming: Sequence[Coming], due: Dues, today: date) -> str:
    if not coming and not due.waiting:
        return "No workshop is to come, so no question has a date."
    said = " ".join(filter(None, (_asks(due, today), _others(due))))
    many = "1 workshop" if len(coming) == 1 else f"{len(coming)} workshops"
    return said or f"Every question about the {many} to come is asked or answered on record."


def _asks(due: Dues, today: date) -> str:
    over = sum(asking.overdue for asking in due.ask)
    now = sum(asking.by is None and not asking.overdue for asking in due.ask)
    counts = [_many(over, "question") + " overdue"] * bool(over)
    counts += [_many(now, "" if over else "question") + " to be asked now"] * bool(now)
    parts = [listed(counts)] * bool(counts)
    later = next((asking for asking in due.ask if asking.by and not asking.overdue), None)
    if later and later.by:
        whom = later.whom or NOT_KNOWN
        parts.append(f"the next is due by {day_words(later.by)}, {until_words(later.by, today)}: ask {whom}")
    said = "; ".join(parts)
    return f"{said[:1].upper()}{said[1:]}." if said else ""


def _many(count: int, what: str) -> str:
    """'1 question is', '3 questions are', '2 are'."""
    return f"{counted(count, what) if what else count} {'is' if count == 1 else 'are'}"


def _others(due: Dues) -> str:
    counted = (
        (len(due.waiting), "enquiry waits for an answer", "enquiries wait for an answer"),
        (len(due.unchecked), "place is not checked", "places are not checked"),
        (len(due.papers), "paper ends too early", "papers end too early"),
        (len(due.old), "record is too old", "records are too old"),
    )
    parts = [f"{count} {one if count == 1 else several}" for count, one, several in counted if count]
    return f"{listed(parts)}." if parts else ""
