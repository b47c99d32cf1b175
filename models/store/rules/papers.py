"""Papers to carry, by kind and title."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy.orm import Session

from models.rules.checking import checked_paper
from models.rules.papers import KINDS, Paper, PaperDraft
from models.store.rules.tables import papers
from models.store.types import name_key
from models.store.versions import Shelf

shelf = Shelf[PaperDraft, Paper](what="paper", table=papers, kept=Paper, check=checked_paper)


def add_paper(s: Session, draft: PaperDraft) -> Paper:
    return shelf.add(s, draft)


def get_paper(s: Session, paper_id: int) -> Paper:
    return shelf.get(s, paper_id)


def list_papers(s: Session) -> tuple[Paper, ...]:
    """All of them, in the order of KINDS, then by title."""
    kinds = list(KINDS)
    found = shelf.list(s, order_by=(papers.c.id,))
    return tuple(sorted(found, key=lambda paper: (kinds.index(paper.kind), name_key(paper.title))))


def change_paper(s: Session, paper_id: int, version: int, draft: PaperDraft) -> Paper:
    return shelf.change(s, paper_id, version, draft)


def delete_paper(s: Session, paper_id: int, version: int, *, now: datetime | None = None) -> Paper:
    return shelf.delete(s, paper_id, version, now=now)


def restore_paper(s: Session, paper_id: int) -> Paper:
    return shelf.restore(s, paper_id)
