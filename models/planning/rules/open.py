"""What still stands open about a workshop, and the papers to carry, as pages show them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from sqlalchemy.orm import Session

from models.clock import day_words
from models.planning.rules.findings import FallbackShown, SpotFindings
from models.rules.answers import Answer
from models.rules.footprint import Footprint
from models.rules.papers import KINDS, Paper
from models.rules.still_open import OpenItem, papers_open, still_open
from models.store import rules as kept
from models.words.people import Private
from models.words.rules import amount_words, answer_words, place_words
from models.words.still_open import if_open_words, lacks_words, open_words, owed_words

LEAD = "If it stays open: "


@dataclass(frozen=True, slots=True)
class OpenShown:
    """One line: what, how it stands, who owes it, by when (None: no day is known), what is left if it stays so.
    words: of a person with the name, which files are not told.

    answer: None where it is no rule. area_id: where to ask, None for the spot itself.
    """

    kind: str
    what: str
    where: str
    words: str | Private
    owed_by: str
    by: date | None
    by_words: str
    if_open: str
    answer: Answer | None
    activity: str
    area_id: int | None


@dataclass(frozen=True, slots=True)
class OpenThing:
    """What is open of one thing, in all its places. parts: lines that share who owes it, by when, and what is left."""

    what: str
    answer: Answer | None
    parts: tuple[tuple[OpenShown, ...], ...]


@dataclass(frozen=True, slots=True)
class PaperShown:
    """A paper to carry, and what of it stands open."""

    id: int | None
    title: str
    words: str
    open: str


def open_items(
    papers: tuple[Paper, ...], footprint: Footprint, found: SpotFindings, fallback: FallbackShown | None
) -> tuple[OpenItem, ...]:
    """All that stands open, most urgent first."""
    shared = fallback.same_guard if fallback else ()
    return still_open(found.found, papers, footprint, has_fallback=fallback is not None, shared=shared)


def open_shown(
    items: Iterable[OpenItem], footprint: Footprint, fallback: FallbackShown | None, today: date
) -> tuple[OpenShown, ...]:
    other = fallback.name if fallback else ""
    return tuple(_shown(item, footprint.doing.group, other, today) for item in items)


def by_thing(items: Iterable[OpenShown]) -> tuple[OpenThing, ...]:
    """Things in order of their most urgent line, each once."""
    things: dict[str, dict[tuple[str, str, str], list[OpenShown]]] = {}
    for item in items:
        facts = (item.owed_by, item.by_words, item.if_open)
        things.setdefault(item.what, {}).setdefault(facts, []).append(item)
    return tuple(
        OpenThing(what, next(iter(parts.values()))[0].answer, tuple(tuple(lines) for lines in parts.values()))
        for what, parts in things.items()
    )


def papers_shown(s: Session, footprint: Footprint) -> tuple[PaperShown, ...]:
    """Every paper, those with something open about them first; insurance that is missing is a line too."""
    papers = kept.list_papers(s)
    lacking = {item.paper.id if item.paper else None: item for item in papers_open(papers, footprint)}
    shown = [_paper(paper, lacking.get(paper.id)) for paper in papers]
    if missing := lacking.get(None):
        shown.insert(0, PaperShown(None, "Insurance", "", _lacks(missing)))
    return tuple(sorted(shown, key=lambda paper: not paper.open))


def _shown(item: OpenItem, people: int, fallback: str, today: date) -> OpenShown:
    finding = item.finding
    kinds = {"paper": "Papers", "guard": "The fallback", "person": "People"}
    return OpenShown(
        kind=item.kind,
        what=sentence_case(amount_words(item.activity, finding.amount)) if finding else kinds[item.kind],
        where=place_words(finding) if finding else "",
        words=answer_words(finding, today) if finding else _words(item),
        owed_by=owed_words(item),
        by=item.by,
        by_words=day_words(item.by) if item.by else "no day is known: as soon as you can",
        if_open=if_open_words(item, people=people, fallback=fallback).removeprefix(LEAD),
        answer=item.answer,
        activity=item.activity,
        area_id=finding.area.id if finding and finding.area else None,
    )


def _words(item: OpenItem) -> str | Private:
    return Private(item.said, item.told) if item.kind == "person" else open_words(item)


def _paper(paper: Paper, item: OpenItem | None) -> PaperShown:
    facts = [
        KINDS[paper.kind],
        f"reference {paper.reference}" if paper.reference else "",
        f"sum {paper.insured_sum}" if paper.insured_sum else "",
        f"{paper.count} of them" if paper.count is not None else "",
        f"valid to {day_words(paper.valid_to)}" if paper.valid_to else "",
        paper.where,
    ]
    return PaperShown(
        paper.id, paper.title, ", ".join(filter(None, facts)), f"{sentence_case(lacks_words(item))}." if item else ""
    )


def _lacks(item: OpenItem | None) -> str:
    return f"{sentence_case(lacks_words(item))}." if item else ""


def sentence_case(words: str) -> str:
    """The first letter large, the others as they are."""
    return words[:1].upper() + words[1:]
