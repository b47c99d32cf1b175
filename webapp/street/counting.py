"""Changing a count, deleting it and bringing it back: every change names the version it was made from."""

from __future__ import annotations

from collections.abc import Mapping

from flask import Response, flash, make_response, redirect, render_template, request, url_for

from models.planning.keeping import get_spot
from models.planning.street.counts import change_count, delete_count, get_count, restore_count
from models.planning.street.counts_form import FIELDS, count_form_of, read_count_form, understood_count
from models.problems import InputProblems
from models.store.street import KeptCount
from models.store.versions import Clash
from webapp.address import address
from webapp.answering import now, store
from webapp.forms import differing, offer_undo, version
from webapp.street import pages
from webapp.street.fields import COUNT_FIELDS


@pages.get("/spots/<int:spot_id>/counts/<int:count_id>/edit")
def edit_count(spot_id: int, count_id: int) -> Response:
    count = get_count(store(), spot_id, count_id)
    return _form(count, count_form_of(count, get_spot(store(), spot_id).zone), made_from=count.version)


@pages.post("/spots/<int:spot_id>/counts/<int:count_id>")
def change(spot_id: int, count_id: int) -> Response:
    made_from, spot = version(), get_spot(store(), spot_id)
    try:
        change_count(store(), spot_id, count_id, made_from, read_count_form(request.form, spot, now()))
    except InputProblems as problems:
        return _form(get_count(store(), spot_id, count_id), request.form, problems.by_field, made_from=made_from)
    except Clash as clash:
        other = differing(count_form_of(clash.current, spot.zone), FIELDS)
        values = {"made_from": clash.current.version, "other": other, "deleted": clash.deleted}
        return _form(clash.current, request.form, status=409, **values)
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


def _form(
    count: KeptCount,
    form: Mapping[str, str],
    problems: Mapping[str, str] | None = None,
    *,
    made_from: int,
    status: int | None = None,
    other: Mapping[str, str] | None = None,
    deleted: bool = False,
) -> Response:
    """other: by field, what is kept now where it differs from what was typed."""
    spot = get_spot(store(), count.spot_id)
    values = {
        "spot": spot,
        "count": count,
        "form": form,
        "problems": problems or {},
        "other": other or {},
        "fields": COUNT_FIELDS,
        "understood": understood_count(form, spot, now()),
    }
    page = render_template("count_edit.html", version=made_from, clash=status == 409, deleted=deleted, **values)
    return make_response(page, status or (422 if problems else 200))
