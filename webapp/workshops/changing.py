"""Changing a workshop, calling it off and on again, deleting it: every change names the version it was made from."""

from __future__ import annotations

from flask import Response, flash, redirect, request, url_for

from models.planning.rules.workshop_form import read_workshop_form, workshop_form_of
from models.planning.rules.workshops import (
    call_off,
    change_workshop,
    delete_workshop,
    get_workshop,
    restore_workshop,
    spot_of,
)
from models.planning.workshops.past import if_past
from models.problems import InputProblems
from models.rules.workshop import Workshop
from models.store.versions import Clash
from webapp.address import address
from webapp.answering import now, store
from webapp.forms import differing, offer_undo, version
from webapp.workshops import pages
from webapp.workshops.keeping import form_page


@pages.get("/workshops/<int:workshop_id>/edit")
def edit(workshop_id: int) -> Response:
    workshop = get_workshop(store(), workshop_id)
    return form_page("workshop_edit.html", _form_of(workshop), workshop)


@pages.post("/workshops/<int:workshop_id>")
def change(workshop_id: int) -> Response:
    made_from = version()
    try:
        draft = read_workshop_form(store(), request.form, now())
        workshop = change_workshop(store(), workshop_id, made_from, draft, now())
    except InputProblems as problems:
        kept = get_workshop(store(), workshop_id)
        said = {"problems": problems.by_field, "made_from": made_from}
        return form_page("workshop_edit.html", request.form, kept, **said)
    except Clash as clash:
        now_kept = _form_of(clash.current)
        said = {"other": differing(now_kept, now_kept), "deleted": clash.deleted}
        return form_page("workshop_edit.html", request.form, clash.current, **said)
    flash(f"{workshop.title} is kept as you changed it.{if_past(workshop, now())}", "done")
    return redirect(address("workshops.workshop", workshop_id=workshop_id), 303)


@pages.post("/workshops/<int:workshop_id>/calling-off")
def calling_off(workshop_id: int) -> Response:
    off = request.form.get("called_off") == "yes"
    workshop = call_off(store(), workshop_id, version(), called_off=off)
    flash(f"{workshop.title} is {'called off' if off else 'on again'}.", "done")
    return redirect(address("workshops.workshop", workshop_id=workshop_id), 303)


@pages.post("/workshops/<int:workshop_id>/deletion")
def delete(workshop_id: int) -> Response:
    workshop = delete_workshop(store(), workshop_id, version(), now=now())
    undo = url_for("workshops.restore", workshop_id=workshop_id)
    offer_undo(f"{workshop.title} is deleted.", undo)
    return redirect(address("workshops.listing"), 303)


@pages.post("/workshops/<int:workshop_id>/restoration")
def restore(workshop_id: int) -> Response:
    workshop = restore_workshop(store(), workshop_id)
    flash(f"{workshop.title} is back.", "done")
    return redirect(address("workshops.workshop", workshop_id=workshop_id), 303)


def _form_of(workshop: Workshop) -> dict[str, str]:
    return workshop_form_of(store(), workshop, spot_of(store(), workshop))
