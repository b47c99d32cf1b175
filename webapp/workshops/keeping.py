"""Adding a workshop: from a what-if in the address, from another workshop, or from nothing."""

from __future__ import annotations

from collections.abc import Mapping

from flask import Response, flash, make_response, redirect, render_template, request

from models.planning.rules.workshop_form import copied_form, new_form, read_workshop_form, spots_to_choose, understood
from models.planning.rules.workshops import add_workshop, get_workshop
from models.planning.spot_form import InputProblems
from models.words.rules import STANDING_NOTE
from webapp.address import address
from webapp.answering import now, store
from webapp.workshops import pages
from webapp.workshops.fields import groups_of_fields


@pages.get("/workshops/new")
def new() -> Response:
    return form_page("workshop_new.html", new_form(store(), request.args, now()))


@pages.post("/workshops")
def add() -> Response:
    return _kept(request.form)


@pages.post("/workshops/<int:workshop_id>/copies")
def copy(workshop_id: int) -> Response:
    return _kept(copied_form(store(), get_workshop(store(), workshop_id), request.form.get("day", "")))


def form_page(
    template: str,
    form: Mapping[str, str],
    problems: Mapping[str, str] | None = None,
    *,
    status: int | None = None,
    **values: object,
) -> Response:
    """The form as a page; with problems it answers 422."""
    shown = {
        "form": form,
        "problems": problems or {},
        "understood": understood(store(), form, now()),
        "groups": groups_of_fields(spots_to_choose(store())),
        "standing_note": STANDING_NOTE,
    }
    return make_response(render_template(template, **shown, **values), status or (422 if problems else 200))


def _kept(form: Mapping[str, str]) -> Response:
    try:
        workshop = add_workshop(store(), read_workshop_form(store(), form, now()))
    except InputProblems as problems:
        return form_page("workshop_new.html", form, problems.by_field)
    flash(f"{workshop.title} is kept.", "done")
    return redirect(address("workshops.workshop", workshop_id=workshop.id), 303)
