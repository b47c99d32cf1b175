"""Changing a count, deleting it and bringing it back: every change names the version it was made from."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flask import Response, flash, redirect, request, url_for

from models.planning.keeping import get_spot
from models.planning.street.counts import change_count, delete_count, get_count, restore_count
from models.planning.street.counts_form import FIELDS, count_form_of, read_count_form, understood_count
from models.problems import InputProblems
from models.store.street import KeptCount
from models.store.versions import Clash
from webapp.address import address
from webapp.answering import now, store
from webapp.forms import differing, form_answer, offer_undo, version
from webapp.street import pages
from webapp.street.fields import COUNT_FIELDS


@pages.get("/spots/<int:spot_id>/counts/<int:count_id>/edit")
def edit_count(spot_id: int, count_id: int) -> Response:
    count = get_count(store(), spot_id, count_id)
    return _form(count, count_form_of(count, get_spot(store(), spot_id).zone))


@pages.post("/spots/<int:spot_id>/counts/<int:count_id>")
def change(spot_id: int, count_id: int) -> Response:
    made_from, spot = version(), get_spot(store(), spot_id)
    try:
        change_count(store(), spot_id, count_id, made_from, read_count_form(request.form, spot, now()))
    except InputProblems as problems:
        count = get_count(store(), spot_id, count_id)
        return _form(count, request.form, problems=problems.by_field, made_from=made_from)
    except Clash as clash:
        other = differing(count_form_of(clash.current, spot.zone), FIELDS)
        return _form(clash.current, request.form, other=other, deleted=clash.deleted)
    flash("The count is kept as you changed it.", "done")
    return redirect(address("street.counts", spot_id=spot_id), 303)


@pages.post("/spots/<int:spot_id>/counts/<int:count_id>/deletion")
def delete(spot_id: int, count_id: int) -> Response:
    delete_count(store(), spot_id, count_id, version(), now=now())
    undo = url_for("street.restore", spot_id=spot_id, count_id=count_id)
    offer_undo("The count is deleted.", undo)
    return redirect(address("street.counts", spot_id=spot_id), 303)


@pages.post("/spots/<int:spot_id>/counts/<int:count_id>/restoration")
def restore(spot_id: int, count_id: int) -> Response:
    restore_count(store(), spot_id, count_id)
    flash("The count is back.", "done")
    return redirect(address("street.counts", spot_id=spot_id), 303)


def _form(count: KeptCount, form: Mapping[str, str], **said: Any) -> Response:
    spot = get_spot(store(), count.spot_id)
    shown = {
        "spot": spot,
        "count": count,
        "fields": COUNT_FIELDS,
        "understood": understood_count(form, spot, now()),
    }
    return form_answer("count_edit.html", form, count, **said, **shown)
