"""Changing and deleting an enquiry: every change names the version it was made from."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flask import Response, flash, redirect, request, url_for

from models.planning.rules.enquiries import change_enquiry, delete_enquiry, find_enquiry, get_enquiry, restore_enquiry
from models.planning.rules.enquiry_form import (
    activity_field,
    enquiry_form_of,
    read_enquiry_form,
    understood_enquiry,
)
from models.problems import InputProblems
from models.rules.activities import ACTIVITIES
from models.rules.enquiry import Enquiry
from models.store.versions import Clash
from webapp.answering import now, store
from webapp.enquiries import fields, pages
from webapp.forms import differing, form_answer, offer_undo, today, version


@pages.get("/enquiries/<int:enquiry_id>/edit")
def edit(enquiry_id: int) -> Response:
    enquiry = get_enquiry(store(), enquiry_id)
    return _form(enquiry, enquiry_form_of(enquiry))


@pages.post("/enquiries/<int:enquiry_id>")
def change(enquiry_id: int) -> Response:
    enquiry, made_from = find_enquiry(store(), enquiry_id), version()
    try:
        draft = read_enquiry_form(request.form, enquiry, today())
        changed = change_enquiry(store(), enquiry_id, made_from, draft, now=now())
    except InputProblems as problems:
        return _form(enquiry, request.form, problems=problems.by_field, made_from=made_from)
    except Clash as clash:
        return _clash(clash)
    flash(f"The enquiry to {changed.to_whom} is kept as you changed it.", "done")
    return redirect(url_for("enquiries.enquiry", enquiry_id=enquiry_id), 303)


@pages.post("/enquiries/<int:enquiry_id>/deletion")
def delete(enquiry_id: int) -> Response:
    deleted = delete_enquiry(store(), enquiry_id, version(), now=now())
    undo = url_for("enquiries.restore", enquiry_id=enquiry_id)
    offer_undo(f"The enquiry to {deleted.to_whom} is deleted.", undo)
    return redirect(url_for("enquiries.listing"), 303)


@pages.post("/enquiries/<int:enquiry_id>/restoration")
def restore(enquiry_id: int) -> Response:
    restored = restore_enquiry(store(), enquiry_id)
    flash(f"The enquiry to {restored.to_whom} is back.", "done")
    return redirect(url_for("enquiries.enquiry", enquiry_id=enquiry_id), 303)


def _clash(clash: Clash) -> Response:
    kept = dict.fromkeys(map(activity_field, ACTIVITIES), "") | enquiry_form_of(clash.current)
    other = differing(kept, (*fields.form_names(clash.current.state), *map(activity_field, ACTIVITIES)))
    return _form(clash.current, request.form, other=other, deleted=clash.deleted)


def _form(enquiry: Enquiry, form: Mapping[str, str], **said: Any) -> Response:
    shown = {"enquiry": enquiry, "understood": understood_enquiry(form, today()), "fields": fields}
    return form_answer("enquiry_edit.html", form, enquiry, **said, **shown)
