"""Changing and deleting a spot: every change names the version it was made from."""

from __future__ import annotations

from collections.abc import Mapping

from flask import Response, flash, make_response, redirect, render_template, request, url_for

from models.planning.keeping import change_spot, delete_spot, get_spot, restore_spot
from models.planning.spot_form import read_spot_form, spot_form_of
from models.planning.spot_words import understood
from models.problems import InputProblem, InputProblems
from models.store.spots import Clash, Spot
from webapp.address import address
from webapp.answering import now, store
from webapp.spots import pages
from webapp.spots.fields import GROUPS


@pages.get("/spots/<int:spot_id>/edit")
def edit(spot_id: int) -> Response:
    spot = get_spot(store(), spot_id)
    return _form(spot, spot_form_of(spot.draft))


@pages.post("/spots/<int:spot_id>")
def change(spot_id: int) -> Response:
    try:
        spot = change_spot(store(), spot_id, _version(), read_spot_form(request.form))
    except InputProblems as problems:
        return _form(get_spot(store(), spot_id), request.form, problems=problems.by_field, version=_version())
    except Clash as clash:
        return _clash(clash.current)
    flash(f"{spot.name} is kept as you changed it.", "done")
    return redirect(address("spots.spot", spot_id=spot.id), 303)


@pages.post("/spots/<int:spot_id>/deletion")
def delete(spot_id: int) -> Response:
    spot = get_spot(store(), spot_id)
    delete_spot(store(), spot_id, _version(), now=now())
    undo = url_for("spots.restore", spot_id=spot_id)
    flash({"words": f"{spot.name} is deleted.", "action": undo}, "undo")
    return redirect(address("spots.listing"), 303)


@pages.post("/spots/<int:spot_id>/restoration")
def restore(spot_id: int) -> Response:
    spot = restore_spot(store(), spot_id)
    flash(f"{spot.name} is back.", "done")
    return redirect(address("spots.spot", spot_id=spot.id), 303)


def _form(
    spot: Spot,
    form: Mapping[str, str],
    *,
    problems: Mapping[str, str] | None = None,
    version: int | None = None,
    status: int | None = None,
    other: Mapping[str, str] | None = None,
) -> Response:
    """other: by field, what is kept now where it differs from what was typed."""
    values = {"problems": problems or {}, "understood": understood(form), "groups": GROUPS, "other": other or {}}
    page = render_template("edit.html", spot=spot, form=form, version=version or spot.version, **values)
    return make_response(page, status or (422 if problems else 200))


def _clash(current: Spot) -> Response:
    kept = spot_form_of(current.draft)
    fields = [field.name for group in GROUPS for field in group.fields]
    other = {name: kept[name] for name in fields if _tidy(kept[name]) != _tidy(request.form.get(name, ""))}
    return _form(current, request.form, status=409, other=other)


def _tidy(text: str) -> str:
    return "\n".join(line.strip() for line in text.strip().splitlines())


def _version() -> int:
    text = request.form.get("version", "")
    if not text.isdecimal() or len(text) > 18:
        raise InputProblem("version", "the form did not say which version it was made from. Load it again.")
    return int(text)
