"""Adding, changing and deleting people: every change names the version it was made from."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flask import Response, flash, redirect, request, url_for

from models.planning.rules.workshops import get_workshop
from models.planning.workshops import people as planning
from models.planning.workshops.people_form import (
    new_person_form,
    person_form_of,
    read_person_form,
    understood_person,
)
from models.planning.workshops.people_page import kept_until
from models.problems import InputProblems
from models.store.versions import Clash
from models.workshop.person import Person
from webapp.answering import now, store
from webapp.forms import differing, form_answer, offer_undo, today, version
from webapp.people import pages
from webapp.people.fields import PERSON_GROUPS, PERSON_NAMES


@pages.get("/workshops/<int:workshop_id>/people/new")
def new(workshop_id: int) -> Response:
    return _form(workshop_id, new_person_form(request.args.get("part", "")))


@pages.post("/workshops/<int:workshop_id>/people")
def add(workshop_id: int) -> Response:
    try:
        person = planning.add_person(store(), read_person_form(request.form, workshop_id, today()))
    except InputProblems as problems:
        return _form(workshop_id, request.form, problems=problems.by_field)
    flash(f"{person.name} is on the list.", "done")
    return _listing(workshop_id)


@pages.get("/workshops/<int:workshop_id>/people/<int:person_id>/edit")
def edit(workshop_id: int, person_id: int) -> Response:
    """With ?stands_in=yes the form asks for the record of a model first."""
    person = planning.get_person(store(), workshop_id, person_id)
    asked = {"stands_in": "yes"} if request.args.get("stands_in") == "yes" else {}
    return _form(workshop_id, person_form_of(person) | asked, person)


@pages.post("/workshops/<int:workshop_id>/people/<int:person_id>")
def change(workshop_id: int, person_id: int) -> Response:
    made_from = version()
    try:
        draft = read_person_form(request.form, workshop_id, today())
        changed = planning.change_person(store(), person_id, made_from, draft)
    except InputProblems as problems:
        person = planning.get_person(store(), workshop_id, person_id)
        return _form(workshop_id, request.form, person, problems=problems.by_field, made_from=made_from)
    except Clash as clash:
        other = differing(person_form_of(clash.current), PERSON_NAMES)
        return _form(workshop_id, request.form, clash.current, other=other, deleted=clash.deleted)
    flash(f"{changed.name} is kept as you changed it.", "done")
    return _listing(workshop_id)


@pages.post("/workshops/<int:workshop_id>/people/<int:person_id>/deletion")
def delete(workshop_id: int, person_id: int) -> Response:
    deleted = planning.delete_person(store(), workshop_id, person_id, version(), now=now())
    undo = url_for("people.restore", workshop_id=workshop_id, person_id=person_id)
    offer_undo(f"{deleted.name} is off the list.", undo)
    return _listing(workshop_id)


@pages.post("/workshops/<int:workshop_id>/people/<int:person_id>/restoration")
def restore(workshop_id: int, person_id: int) -> Response:
    restored = planning.restore_person(store(), workshop_id, person_id)
    flash(f"{restored.name} is back on the list.", "done")
    return _listing(workshop_id)


def _listing(workshop_id: int) -> Response:
    return redirect(url_for("people.listing", workshop_id=workshop_id), 303)


def _form(workshop_id: int, form: Mapping[str, str], person: Person | None = None, **said: Any) -> Response:
    before_camera = form.get("part") == "model" or form.get("stands_in") == "yes"
    shown = {
        "workshop": get_workshop(store(), workshop_id),
        "person": person,
        "until": kept_until(store(), person) if person else "",
        "all_open": before_camera or bool(said),
        "standing_in": form.get("stands_in") == "yes" and form.get("part") != "model",
        "understood": understood_person(form, today()),
        "groups": PERSON_GROUPS,
    }
    return form_answer("person_form.html", form, person, **said, **shown)
