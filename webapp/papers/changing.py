"""Adding, changing and deleting papers: every change names the version it was made from."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flask import Response, flash, redirect, request, url_for

from models.planning.rules import papers as planning
from models.planning.rules.paper_form import paper_form_of, read_paper_form, understood_paper
from models.problems import InputProblems
from models.rules.papers import KINDS, Paper
from models.store.versions import Clash
from webapp.answering import now, store
from webapp.forms import differing, form_answer, offer_undo, today, version
from webapp.papers import pages
from webapp.papers.fields import GROUPS, NAMES


@pages.get("/papers/new")
def new() -> Response:
    kind = request.args.get("kind", "")
    return _form({"kind": kind if kind in KINDS else "insurance"})


@pages.post("/papers")
def add() -> Response:
    try:
        paper = planning.add_paper(store(), read_paper_form(request.form, today()))
    except InputProblems as problems:
        return _form(request.form, problems=problems.by_field)
    flash(f"{paper.title} is kept.", "done")
    return redirect(url_for("papers.listing"), 303)


@pages.get("/papers/<int:paper_id>/edit")
def edit(paper_id: int) -> Response:
    paper = planning.get_paper(store(), paper_id)
    return _form(paper_form_of(paper), paper)


@pages.post("/papers/<int:paper_id>")
def change(paper_id: int) -> Response:
    made_from = version()
    try:
        changed = planning.change_paper(store(), paper_id, made_from, read_paper_form(request.form, today()))
    except InputProblems as problems:
        paper = planning.get_paper(store(), paper_id)
        return _form(request.form, paper, problems=problems.by_field, made_from=made_from)
    except Clash as clash:
        other = differing(paper_form_of(clash.current), NAMES)
        return _form(request.form, clash.current, other=other, deleted=clash.deleted)
    flash(f"{changed.title} is kept as you changed it.", "done")
    return redirect(url_for("papers.listing"), 303)


@pages.post("/papers/<int:paper_id>/deletion")
def delete(paper_id: int) -> Response:
    deleted = planning.delete_paper(store(), paper_id, version(), now=now())
    undo = url_for("papers.restore", paper_id=paper_id)
    offer_undo(f"{deleted.title} is deleted.", undo)
    return redirect(url_for("papers.listing"), 303)


@pages.post("/papers/<int:paper_id>/restoration")
def restore(paper_id: int) -> Response:
    restored = planning.restore_paper(store(), paper_id)
    flash(f"{restored.title} is back.", "done")
    return redirect(url_for("papers.listing"), 303)


def _form(form: Mapping[str, str], paper: Paper | None = None, **said: Any) -> Response:
    shown = {"paper": paper, "understood": understood_paper(form, today()), "groups": GROUPS}
    return form_answer("paper_form.html", form, paper, **said, **shown)
