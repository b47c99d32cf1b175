"""Erasing people for good: a page that says what goes and what stays, and the press that does it."""

from __future__ import annotations

from flask import Response, flash, make_response, redirect, render_template, request, url_for

from models.planning.workshops.erasing import erase_person, erase_put_aside, erase_workshop_people
from models.planning.workshops.erasing_page import erasing_page
from webapp.answering import now, store
from webapp.forms import number
from webapp.people import pages

ASIDE = "aside"


@pages.get("/workshops/<int:workshop_id>/people/erasure")
def erasure(workshop_id: int) -> Response:
    """Of one person (?person=3), of those put aside (?who=aside), or of everybody."""
    aside = request.args.get("who") == ASIDE
    page = erasing_page(store(), workshop_id, number(request.args.get("person")), aside=aside)
    return make_response(render_template("people_erasure.html", page=page))


@pages.post("/workshops/<int:workshop_id>/people/erasure")
def erase(workshop_id: int) -> Response:
    person_id = number(request.form.get("person"))
    if request.form.get("who") == ASIDE:
        done = erase_put_aside(store(), workshop_id, now())
    elif person_id is not None:
        done = erase_person(store(), workshop_id, person_id, now())
    else:
        done = erase_workshop_people(store(), workshop_id, now())
    flash(done.words, "done")
    listed = erasing_page(store(), workshop_id, None, aside=False).listed
    there = url_for("people.listing", workshop_id=workshop_id) if listed else url_for("workshops.listing")
    return redirect(there, 303)
