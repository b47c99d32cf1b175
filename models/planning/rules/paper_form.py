"""A paper to carry as typed in a form: every field read, every problem named at once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields
from datetime import date

from models.planning.rules.fields import Reader, day_reader, day_text, read_fields, text_reader, understood_days
from models.planning.rules.typed import read_count
from models.problems import InputProblem, InputProblems
from models.rules.checking import checked_paper
from models.rules.papers import PaperDraft

FIELDS = tuple(field.name for field in fields(PaperDraft))
DAYS = ("valid_from", "valid_to")
COVERS = ("covers_teaching", "covers_models")
COVERS_WORDS = {"": "nobody looked", "yes": "yes", "no": "no"}
MOST_RELEASES = 10_000


def read_paper_form(form: Mapping[str, str], today: date) -> PaperDraft:
    """The paper a form describes. Raises InputProblems with a message beside each field that needs another look."""
    readers: dict[str, Reader] = {name: text_reader(name) for name in FIELDS}
    readers |= {name: day_reader(name, today) for name in DAYS}
    readers |= {name: _covers_reader(name) for name in COVERS}
    readers |= {"title": _title, "count": _count}
    try:
        return checked_paper(PaperDraft(**read_fields(form, readers)))  # type: ignore[arg-type]
    except InputProblem as problem:
        raise InputProblems({problem.field: problem.message}) from None


def paper_form_of(paper: PaperDraft) -> dict[str, str]:
    """What the form shows for a paper; read back it gives the same one."""
    shown = {name: str(getattr(paper, name)) for name in FIELDS}
    shown |= {name: day_text(getattr(paper, name)) for name in DAYS}
    shown |= {name: covers_text(getattr(paper, name)) for name in COVERS}
    return shown | {"count": "" if paper.count is None else str(paper.count)}


def understood_paper(form: Mapping[str, str], today: date) -> dict[str, str]:
    """By field, how what was typed is taken; what is empty or cannot be read is left out."""
    return understood_days(form, DAYS, today)


def covers_text(covers: bool | None) -> str:
    return "" if covers is None else "yes" if covers else "no"


def _covers_reader(name: str) -> Reader:
    def read(text: str) -> dict[str, object]:
        if text not in COVERS_WORDS:
            raise InputProblem(name, "choose yes, no, or that nobody looked.")
        return {name: None if not text else text == "yes"}

    return read


def _title(text: str) -> dict[str, object]:
    if not text.strip():
        raise InputProblem("title", "give the paper a title.")
    return {"title": text.strip()}


def _count(text: str) -> dict[str, object]:
    return {"count": read_count("count", text, 0, MOST_RELEASES) if text.strip() else None}
