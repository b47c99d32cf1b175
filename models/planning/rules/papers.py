"""Papers to carry: the list with what each lacks for the workshops to come, and keeping, changing, deleting them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from models.clock import day_words, to_local
from models.planning.rules.coming import Coming, coming_workshops
from models.planning.rules.enquiry_words import Fact, until_words
from models.planning.spots import home_zone
from models.rules.papers import KINDS, Paper, PaperDraft
from models.rules.still_open import OpenItem, papers_open
from models.store import rules as kept
from models.store.engine import Store
from models.words.rules import STANDING_NOTE
from models.words.still_open import lacks_words

COVERS = {None: "nobody looked", True: "yes", False: "no"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Lack:
    """What a paper lacks for workshops to come; first: the earliest of these."""

    words: str
    workshops: int
    first_id: int
    first: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperRow:
    """A paper. ended: it is past its last day."""

    id: int
    kind: str
    title: str
    facts: tuple[Fact, ...]
    ended: bool
    lacks: tuple[Lack, ...]


@dataclass(frozen=True, slots=True)
class PaperGroup:
    kind: str
    words: str
    rows: tuple[PaperRow, ...]


@dataclass(frozen=True, slots=True)
class PapersPage:
    """missing: workshops to come for which no insurance is noted at all."""

    answer: str
    groups: tuple[PaperGroup, ...]
    missing: Lack | None
    total: int
    standing_note: str


def papers_page(store: Store, now: datetime) -> PapersPage:
    """All papers by kind, each with what it lacks for which workshops."""
    today = to_local(now, home_zone(store)).date()
    with store.reading() as s:
        papers, coming = kept.list_papers(s), coming_workshops(s, now)
    lacks = _lacks(papers, coming)
    rows = [_row(paper, lacks.get(paper.id, ()), today) for paper in papers]
    groups = (PaperGroup(kind, words, tuple(row for row in rows if row.kind == kind)) for kind, words in KINDS.items())
    missing = next(iter(lacks.get(None, ())), None)
    return PapersPage(
        _answer(rows, missing, len(coming)),
        tuple(group for group in groups if group.rows),
        missing,
        len(papers),
        STANDING_NOTE,
    )


def get_paper(store: Store, paper_id: int) -> Paper:
    """Raises Missing."""
    with store.reading() as s:
        return kept.get_paper(s, paper_id)


def add_paper(store: Store, draft: PaperDraft) -> Paper:
    with store.writing() as s:
        return kept.add_paper(s, draft)


def change_paper(store: Store, paper_id: int, version: int, draft: PaperDraft) -> Paper:
    """Raises Clash where somebody changed it in between, Missing where it is gone."""
    with store.writing() as s:
        return kept.change_paper(s, paper_id, version, draft)


def delete_paper(store: Store, paper_id: int, version: int, *, now: datetime) -> Paper:
    """Put aside, with a way back. Raises Clash, Missing."""
    with store.writing() as s:
        return kept.delete_paper(s, paper_id, version, now=now)


def restore_paper(store: Store, paper_id: int) -> Paper:
    with store.writing() as s:
        return kept.restore_paper(s, paper_id)


def _lacks(papers: Sequence[Paper], coming: Iterable[Coming]) -> dict[int | None, tuple[Lack, ...]]:
    """By number of the paper, None for insurance that is missing: what it lacks, for how many, the earliest first."""
    found: dict[int | None, dict[str, list[Coming]]] = {}
    for each in coming:
        for item in papers_open(papers, each.footprint):
            said = found.setdefault(item.paper.id if item.paper else None, {})
            for reason in item.reasons:
                said.setdefault(_words(replace(item, reasons=(reason,))), []).append(each)
    return {number: tuple(_lack(words, those) for words, those in said.items()) for number, said in found.items()}


def _lack(words: str, those: Sequence[Coming]) -> Lack:
    first = those[0]
    day = f"{first.workshop.title}, {day_words(first.footprint.day)}"
    return Lack(words=words, workshops=len(those), first_id=first.workshop.id, first=day)


def _words(item: OpenItem) -> str:
    words = lacks_words(item)
    return f"{words[:1].upper()}{words[1:]}"


def _row(paper: Paper, lacks: tuple[Lack, ...], today: date) -> PaperRow:
    ended = paper.valid_to is not None and paper.valid_to < today
    return PaperRow(
        id=paper.id, kind=paper.kind, title=paper.title, facts=tuple(_facts(paper, today)), ended=ended, lacks=lacks
    )


def _facts(paper: Paper, today: date) -> list[Fact]:
    """What is noted; of insurance also what nobody noted, since it counts."""
    insures = paper.kind == "insurance"
    ends = f"{day_words(paper.valid_to)}, {until_words(paper.valid_to, today)}" if paper.valid_to else ""
    facts = [
        Fact("Sum", paper.insured_sum or "not noted", bool(paper.insured_sum)) if insures else None,
        Fact("How many", f"{paper.count}, counted; the releases themselves are not kept here") if paper.count else None,
        Fact("Reference", paper.reference) if paper.reference else None,
        Fact("Valid from", day_words(paper.valid_from)) if paper.valid_from else None,
        Fact("Valid to", ends or "not noted", bool(ends)) if ends or insures else None,
        _covers("Covers teaching", paper.covers_teaching) if insures else None,
        _covers("Covers hired models", paper.covers_models) if insures else None,
        Fact("Where it lies", paper.where) if paper.where else None,
        Fact("Notes", paper.notes) if paper.notes else None,
    ]
    return [fact for fact in facts if fact]


def _covers(label: str, covers: bool | None) -> Fact:
    return Fact(label, COVERS[covers], covers is not None)


def _answer(rows: Sequence[PaperRow], missing: Lack | None, workshops: int) -> str:
    if missing:
        many = "the workshop" if missing.workshops == 1 else f"{missing.workshops} workshops"
        return f"No insurance is noted for {many} to come."
    if not rows:
        return "No paper is noted yet."
    lacking = [row for row in rows if row.lacks]
    papers = "1 paper is noted" if len(rows) == 1 else f"{len(rows)} papers are noted"
    if lacking:
        them = "it leaves" if len(rows) == 1 else f"{len(lacking)} {'leaves' if len(lacking) == 1 else 'leave'}"
        return f"{papers}; {them} something open for a workshop to come."
    many = "the workshop" if workshops == 1 else f"the {workshops} workshops"
    return f"{papers}; none ends before {many} to come." if workshops else f"{papers}."
