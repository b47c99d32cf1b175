"""A briefing on paper: what its readers are told, with the sketch, the plans of its setups and the code of its page."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from models.drawing.plan_parts import PlanView
from models.drawing.plan_view import draw_plan_view
from models.exchange.pdf import Paper, briefing_pdf
from models.exchange.pdf_sheet import Plan
from models.exchange.qr import qr_svg
from models.planning.briefing.plans import plan_views
from models.planning.briefing.sketch import sketch_of
from models.planning.briefing.versions import current
from models.problems import InputProblem
from models.store.engine import Store
from models.words.paper import CODE_WORDS
from models.workshop.briefing import Reader

TYPED: dict[str, Paper] = {"": "a4", "a4": "a4", "letter": "us-letter", "us-letter": "us-letter"}


def paper_of(
    store: Store, workshop_id: int, reader: Reader, now: datetime, paper: Paper = "a4", link: str = ""
) -> bytes:
    """The briefing as a PDF. link: the full address of its web page, "" where there is none. Raises Missing."""
    told = current(store, workshop_id, now)
    briefing = told.briefing(reader)
    return briefing_pdf(
        briefing,
        sketch_svg=sketch_of(store, workshop_id, told, now) if any(each.sketch for each in briefing.sections) else "",
        drawings={setup: _plan(view) for setup, view in plan_views(store, workshop_id, briefing, now).items()},
        qr_svg=qr_svg(link, CODE_WORDS) if link else "",
        link=link,
        paper=paper,
    )


def read_paper(text: str) -> Paper:
    """Raises InputProblem('paper')."""
    found = TYPED.get(text.strip().lower())
    if found is None:
        raise InputProblem("paper", f"“{text}” is no size of paper here: a4 or letter.")
    return found


def _plan(view: PlanView) -> Plan:
    """What is written under it elsewhere stands beside it here, in letters that can be read."""
    return Plan(draw_plan_view(replace(view, bare=True), "narrow"), view.title, view.said_under)
