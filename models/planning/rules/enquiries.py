"""Enquiries: the list, and keeping, changing, moving on, taking back, deleting them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from sqlalchemy.orm import Session

from models.planning.rules.enquiry_words import activities_words, age_words, days_words, needs_reminding
from models.problems import InputProblem
from models.rules.enquiry import STATES, Enquiry, EnquiryDraft
from models.store import rules as kept
from models.store.engine import Store
from models.store.rules.enquiries import shelf
from models.store.rules.workshops import shelf as workshops
from models.store.spots import shelf as spots
from models.words.rules import STANDING_NOTE

OPEN = ("planned", "asked")
"""What still waits for somebody to do something; they come first, whole."""
SHOWN_CLOSED = 20
A_PAGE = 50


@dataclass(frozen=True, slots=True, kw_only=True)
class EnquiryRow:
    """One line. where: the area's or the spot's name. remind: asked long enough ago to ask again."""

    id: int
    to_whom: str
    state: str
    where: str
    days: str
    activities: str
    age: str
    remind: bool
    workshop_id: int | None
    workshop: str


@dataclass(frozen=True, slots=True)
class EnquiryGroup:
    """Those of one state. more: how many are not shown."""

    state: str
    words: str
    rows: tuple[EnquiryRow, ...]
    more: int


@dataclass(frozen=True, slots=True)
class EnquiriesPage:
    """state: the one that is asked for, empty for all."""

    answer: str
    groups: tuple[EnquiryGroup, ...]
    state: str
    total: int
    page: int
    pages: int
    standing_note: str


def enquiries_page(store: Store, today: date, *, state: str = "", page: int = 1) -> EnquiriesPage:
    """By state, open ones first and whole, the latest of the others; or a page of one state.

    Raises InputProblem naming 'state' or 'page'.
    """
    if state and state not in STATES:
        raise InputProblem("state", f"“{state[:40]}” is none. Choose {', '.join(STATES)}.")
    with store.reading() as s:
        found = kept.list_enquiries(s, state or None)
        pages = max(1, -(-len(found) // A_PAGE)) if state else 1
        if page > pages:
            raise InputProblem("page", f"there are only {pages} pages." if pages > 1 else "there is only one page.")
        groups = tuple(
            _group(s, each, found, today, page if state else 0) for each in STATES if not state or each == state
        )
    shown = tuple(group for group in groups if group.rows)
    return EnquiriesPage(_answer(found, today, state), shown, state, len(found), page, pages, STANDING_NOTE)


def get_enquiry(store: Store, enquiry_id: int) -> Enquiry:
    """Raises Missing."""
    with store.reading() as s:
        return kept.get_enquiry(s, enquiry_id)


def find_enquiry(store: Store, enquiry_id: int) -> Enquiry:
    """Even where it was deleted, so that what somebody typed about it is not lost. Raises Missing."""
    with store.reading() as s:
        return shelf.find(s, enquiry_id)[0]


def add_enquiry(store: Store, draft: EnquiryDraft, *, now: datetime) -> Enquiry:
    with store.writing() as s:
        return kept.add_enquiry(s, draft, now=now)


def change_enquiry(store: Store, enquiry_id: int, version: int, draft: EnquiryDraft, *, now: datetime) -> Enquiry:
    """Raises Clash where somebody changed it in between, Missing where it is gone."""
    with store.writing() as s:
        return kept.change_enquiry(s, enquiry_id, version, draft, now=now)


def move_enquiry(
    store: Store, enquiry_id: int, version: int, draft: EnquiryDraft, *, note: str, now: datetime
) -> Enquiry:
    """A step of its history. Raises Clash, Missing, and InputProblem where its state does not lead there."""
    with store.writing() as s:
        return kept.move_enquiry(s, enquiry_id, version, draft, note=note, now=now)


def take_back(store: Store, enquiry_id: int, version: int, *, now: datetime) -> Enquiry:
    """As it was before its last step. Raises Clash, Missing, and InputProblem where there is nothing to take back."""
    with store.writing() as s:
        return kept.take_back(s, enquiry_id, version, now=now)


def delete_enquiry(store: Store, enquiry_id: int, version: int, *, now: datetime) -> Enquiry:
    """Put aside, with a way back. Raises Clash, Missing."""
    with store.writing() as s:
        return kept.delete_enquiry(s, enquiry_id, version, now=now)


def restore_enquiry(store: Store, enquiry_id: int) -> Enquiry:
    with store.writing() as s:
        return kept.restore_enquiry(s, enquiry_id)


def enquiry_rows(s: Session, enquiries: Sequence[Enquiry], today: date) -> tuple[EnquiryRow, ...]:
    """Lines in the order given, with the names of what they speak of."""
    names = kept.area_names(s, {each.area_id for each in enquiries if each.area_id})
    places = {each.id: each.name for each in spots.these(s, _numbers(enquiries, "spot_id")).values()}
    titles = {each.id: each.title for each in workshops.these(s, _numbers(enquiries, "workshop_id")).values()}
    return tuple(
        _row(each, _where(each, names, places), titles.get(each.workshop_id or 0, ""), today) for each in enquiries
    )


def _numbers(enquiries: Sequence[Enquiry], name: str) -> set[int]:
    return {getattr(each, name) for each in enquiries if getattr(each, name)}


def _where(enquiry: Enquiry, names: Mapping[int, str], places: Mapping[int, str]) -> str:
    if enquiry.area_id:
        return names.get(enquiry.area_id, "")
    return places.get(enquiry.spot_id or 0, "")


def _row(enquiry: Enquiry, where: str, workshop: str, today: date) -> EnquiryRow:
    return EnquiryRow(
        id=enquiry.id,
        to_whom=enquiry.to_whom,
        state=enquiry.state,
        where=where,
        days=days_words(enquiry.first_day, enquiry.last_day),
        activities=activities_words(enquiry.activities),
        age=age_words(enquiry, today),
        remind=needs_reminding(enquiry, today),
        workshop_id=enquiry.workshop_id,
        workshop=workshop,
    )


def _group(s: Session, state: str, found: Sequence[Enquiry], today: date, page: int) -> EnquiryGroup:
    """page: of one state alone; 0 shows the beginning of it."""
    those = sorted((each for each in found if each.state == state), key=_order)
    first = (page - 1) * A_PAGE if page else 0
    shown = those[first : first + A_PAGE] if page else those if state in OPEN else those[:SHOWN_CLOSED]
    more = 0 if page else len(those) - len(shown)
    return EnquiryGroup(state, STATES[state], enquiry_rows(s, shown, today), more)


def _order(enquiry: Enquiry) -> tuple[object, ...]:
    """What waits longest first; of the others the latest day first."""
    if enquiry.state in OPEN:
        return (enquiry.sent_on or enquiry.first_day or date.max, enquiry.id)
    return (-(enquiry.first_day or date.min).toordinal(), -enquiry.id)


def _answer(found: Sequence[Enquiry], today: date, state: str) -> str:
    if state:
        return f"{len(found)} {'enquiry is' if len(found) == 1 else 'enquiries are'} {STATES[state]}."
    if not found:
        return "Nothing has been asked of anybody yet."
    asked = [each for each in found if each.state == "asked"]
    remind = sum(needs_reminding(each, today) for each in asked)
    planned = sum(each.state == "planned" for each in found)
    parts = [f"{planned} planned and not sent" if planned else "", _waiting(len(asked), remind)]
    said = "; ".join(filter(None, parts))
    return f"{said[:1].upper()}{said[1:]}." if said else "Nothing waits: every enquiry has its answer."


def _waiting(asked: int, remind: int) -> str:
    if not asked:
        return ""
    waits = f"{asked} {'waits' if asked == 1 else 'wait'} for an answer"
    them = "" if asked == 1 else "all " if remind == asked else f"{remind} of them "
    return f"{waits}, {them}long enough to ask again" if remind else waits
