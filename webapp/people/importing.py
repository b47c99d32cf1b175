"""A list of people, pasted or from a CSV file: first what was understood, then, on another press, keeping it."""

from __future__ import annotations

from flask import Response, flash, make_response, redirect, render_template, request, url_for

from models.exchange.delimited import decoded
from models.planning.rules.workshops import get_workshop
from models.planning.workshops.people_import import PeoplePreview, import_people, preview_people
from models.problems import InputProblem
from webapp.answering import store
from webapp.people import pages
from webapp.people.fields import PARTS_TO_CHOOSE


@pages.get("/workshops/<int:workshop_id>/people/import")
def import_form(workshop_id: int) -> Response:
    return _page(workshop_id)


@pages.post("/workshops/<int:workshop_id>/people/import")
def preview(workshop_id: int) -> Response:
    """What the list holds; nobody is kept. The page carries the text on to the next press."""
    try:
        text = _file() or request.form.get("text", "")
    except InputProblem as problem:
        return _page(workshop_id, text=request.form.get("text", ""), problem=f"The file {problem.message}", status=422)
    if not text.strip():
        return _page(workshop_id, problem="Paste a list or choose a CSV file first.", status=422)
    found = preview_people(store(), workshop_id, text, _part())
    return _page(workshop_id, found, text, status=422 if found.refused else 200)


@pages.post("/workshops/<int:workshop_id>/people/bringing-in")
def bring_in(workshop_id: int) -> Response:
    """The same list again, this time to keep; it is read anew, so nothing slips in unread."""
    text = request.form.get("text", "")
    try:
        words = import_people(store(), workshop_id, text, _part())
    except InputProblem:
        return _page(workshop_id, preview_people(store(), workshop_id, text, _part()), text, status=422)
    flash(words, "done")
    return redirect(url_for("people.listing", workshop_id=workshop_id), 303)


def _file() -> str:
    upload = request.files.get("file")
    if upload is None:
        return ""
    with upload.stream:
        return decoded(upload.read())


def _part() -> str:
    return request.form.get("part", "attendee")


def _page(
    workshop_id: int, found: PeoplePreview | None = None, text: str = "", problem: str = "", status: int = 200
) -> Response:
    values = {
        "workshop": get_workshop(store(), workshop_id),
        "found": found,
        "text": text,
        "part": _part(),
        "parts": PARTS_TO_CHOOSE,
        "problem": problem,
    }
    return make_response(render_template("people_import.html", **values), status)
