"""Adding, changing, retiring and bringing back a piece of kit: one form for every kind."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flask import Response, flash, make_response, redirect, render_template, request, url_for

from models.planning.gear import keeping
from models.planning.gear.fields import GearKind
from models.planning.gear.form import form_of, form_of_none, read_piece, understood
from models.problems import InputProblem, InputProblems
from models.store.kit import KitClash, KitEntry
from webapp.answering import store
from webapp.forms import differing, offer_undo, version
from webapp.kit import pages


@pages.get("/kit/<kind_name>/new")
def new(kind_name: str) -> Response:
    """An empty form, or one filled like another piece."""
    kind = keeping.kind_called(kind_name)
    like = request.args.get("like", "")
    if not like:
        return _form(kind, form_of_none(kind))
    filled = form_of(kind, keeping.get_piece(store(), kind, like).item)
    return _form(kind, filled | {"name": f"{filled['name'][:112]}, another"})


@pages.post("/kit/<kind_name>")
def add(kind_name: str) -> Response:
    kind = keeping.kind_called(kind_name)
    try:
        piece = read_piece(kind, request.form, keeping.new_id(store(), kind, request.form.get("name", "")))
        keeping.add_piece(store(), piece)
    except InputProblems as problems:
        return _form(kind, request.form, problems=problems.by_field)
    except InputProblem as problem:
        return _form(kind, request.form, problems={"name": problem.message})
    flash(f"{piece.name} is in the kit.", "done")
    return redirect(url_for("kit.listing", _anchor=kind.name), 303)


@pages.get("/kit/<kind_name>/<item_id>/edit")
def edit(kind_name: str, item_id: str) -> Response:
    kind = keeping.kind_called(kind_name)
    entry = keeping.get_piece(store(), kind, item_id)
    return _form(kind, form_of(kind, entry.item), entry)


@pages.post("/kit/<kind_name>/<item_id>")
def change(kind_name: str, item_id: str) -> Response:
    kind, made_from = keeping.kind_called(kind_name), version()
    entry = keeping.get_piece(store(), kind, item_id)
    try:
        piece = read_piece(kind, request.form, item_id)
        keeping.change_piece(store(), made_from, piece, retired=entry.retired)
    except InputProblems as problems:
        return _form(kind, request.form, entry, problems=problems.by_field, made_from=made_from)
    except KitClash as clash:
        return _clash(kind, clash)
    flash(f"{piece.name} is kept as you changed it.", "done")
    return redirect(url_for("kit.listing", _anchor=kind.name), 303)


@pages.post("/kit/<kind_name>/<item_id>/retirement")
def retire(kind_name: str, item_id: str) -> Response:
    kind = keeping.kind_called(kind_name)
    try:
        retired = keeping.retire(store(), kind, item_id, version())
    except KitClash as clash:
        return _form(kind, form_of(kind, clash.current.item), clash.current, other={}, status=409)
    undo = url_for("kit.bring_back", kind_name=kind.name, item_id=item_id)
    offer_undo(f"{retired.item.name} is retired.", undo)
    return redirect(url_for("kit.listing", _anchor=kind.name), 303)


@pages.post("/kit/<kind_name>/<item_id>/return")
def bring_back(kind_name: str, item_id: str) -> Response:
    kind = keeping.kind_called(kind_name)
    back = keeping.bring_back(store(), kind, item_id)
    flash(f"{back.item.name} is back in the kit.", "done")
    return redirect(url_for("kit.listing", _anchor=kind.name), 303)


def _clash(kind: GearKind, clash: KitClash) -> Response:
    now_kept = form_of(kind, clash.current.item)
    return _form(kind, request.form, clash.current, other=differing(now_kept, now_kept), status=409)


def _form(
    kind: GearKind,
    form: Mapping[str, str],
    entry: KitEntry[Any] | None = None,
    *,
    problems: Mapping[str, str] | None = None,
    made_from: int | None = None,
    other: Mapping[str, str] | None = None,
    status: int = 200,
) -> Response:
    """other: by field, what is kept now where it differs from what was typed."""
    page = render_template(
        "kit_form.html",
        kind=kind,
        entry=entry,
        form=form,
        problems=problems or {},
        understood=understood(kind, form),
        other=other,
        version=made_from or (entry.version if entry else None),
    )
    return make_response(page, 422 if problems else status)
