"""Changing and deleting a spot: every change names the version it was made from."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flask import Response, flash, redirect, request, url_for

from models.planning.keeping import change_spot, delete_spot, get_spot, restore_spot, workshops_there
from models.planning.spot_form import read_spot_form, spot_form_of
from models.planning.spot_words import understood
from models.problems import InputProblems
from models.store.spots import Clash, Spot
from models.words.spot import deleted_words
from webapp.address import address
from webapp.answering import now, store
from webapp.forms import differing, form_answer, offer_undo, version
from webapp.spots import pages
from webapp.spots.fields import GROUPS


@pages.get("/spots/<int:spot_id>/edit")
def edit(spot_id: int) -> Response:
    spot = get_spot(store(), spot_id)
    return _form(spot, spot_form_of(spot.draft))


@pages.post("/spots/<int:spot_id>")
def change(spot_id: int) -> Response:
    made_from = version()
    try:
        spot = change_spot(store(), spot_id, made_from, read_spot_form(request.form))
    except InputProblems as problems:
        return _form(get_spot(store(), spot_id), request.form, problems=problems.by_field, made_from=made_from)
    except Clash as clash:
        other = differing(spot_form_of(clash.current.draft), [field.name for group in GROUPS for field in group.fields])
        return _form(clash.current, request.form, other=other, deleted=clash.deleted)
    flash(f"{spot.name} is kept as you changed it.", "done")
    return redirect(address("spots.spot", spot_id=spot.id), 303)


@pages.post("/spots/<int:spot_id>/deletion")
def delete(spot_id: int) -> Response:
    spot = get_spot(store(), spot_id)
    delete_spot(store(), spot_id, version(), now=now())
    undo = url_for("spots.restore", spot_id=spot_id)
    offer_undo(deleted_words(spot.name, workshops_there(store(), spot_id, now())), undo)
    return redirect(address("spots.listing"), 303)


@pages.post("/spots/<int:spot_id>/restoration")
def restore(spot_id: int) -> Response:
    spot = restore_spot(store(), spot_id)
    flash(f"{spot.name} is back.", "done")
    return redirect(address("spots.spot", spot_id=spot.id), 303)


def _form(spot: Spot, form: Mapping[str, str], **said: Any) -> Response:
    return form_answer("edit.html", form, spot, spot=spot, understood=understood(form), groups=GROUPS, **said)
