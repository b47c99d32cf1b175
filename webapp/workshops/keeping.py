"""Adding a workshop: from a what-if in the address, from another workshop, or from nothing."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flask import Response, flash, redirect, request

from models.planning.rules.workshop_form import copied_form, new_form, read_workshop_form, spots_to_choose, understood
from models.planning.rules.workshops import get_workshop
from models.planning.workshops.copying import add_workshop_like
from models.planning.workshops.past import if_past
from models.problems import InputProblem, InputProblems
from models.rules.workshop import Workshop
from models.words.rules import STANDING_NOTE
from webapp.address import address
from webapp.answering import now, store
from webapp.forms import form_answer, number
from webapp.workshops import pages
from webapp.workshops.fields import groups_of_fields

IN_ADDRESS = {"on": "day", "at": "from_time", "lasts": "to_time"}
"""The form's fields, by the parameters of an address."""


@pages.get("/workshops/new")
def new() -> Response:
    try:
        return form_page("workshop_new.html", new_form(store(), request.args, now()))
    except InputProblem as problem:
        asked = {IN_ADDRESS.get(name, name): text for name, text in request.args.items()}
        said = {IN_ADDRESS.get(problem.field, problem.field): problem.message}
        return form_page("workshop_new.html", new_form(store(), {}, now()) | asked, problems=said)


@pages.post("/workshops")
def add() -> Response:
    return _kept(request.form)


@pages.post("/workshops/<int:workshop_id>/copies")
def copy(workshop_id: int) -> Response:
    """What cannot be read is put right in the form of a new workshop, which still names the one it is like."""
    form = copied_form(store(), get_workshop(store(), workshop_id), request.form.get("day", ""))
    return _kept(form | {"like": str(workshop_id)})


def form_page(template: str, form: Mapping[str, str], kept: Workshop | None = None, **said: Any) -> Response:
    shown = {
        "workshop": kept,
        "understood": understood(store(), form, now()),
        "groups": groups_of_fields(spots_to_choose(store())),
        "standing_note": STANDING_NOTE,
    }
    return form_answer(template, form, kept, **said, **shown)


def _kept(form: Mapping[str, str]) -> Response:
    try:
        like = number(form.get("like"))
        workshop = add_workshop_like(store(), read_workshop_form(store(), form, now()), like)
    except InputProblems as problems:
        return form_page("workshop_new.html", form, problems=problems.by_field)
    flash(f"{workshop.title} is kept.{if_past(workshop, now())}", "done")
    return redirect(address("workshops.workshop", workshop_id=workshop.id), 303)
