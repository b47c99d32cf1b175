"""The running order: shown, typed over, and tried at another time."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flask import Response, flash, redirect, request

from models.planning.workshops.order_edit import keep_blocks
from models.planning.workshops.order_moved import moved_order, read_minutes
from models.planning.workshops.order_page import order_page
from models.problems import InputProblem, InputProblems
from models.store.versions import Clash
from webapp.address import address
from webapp.answering import answer, now, store
from webapp.forms import version
from webapp.running import pages


@pages.get("/workshops/<int:workshop_id>/order")
@pages.get("/workshops/<int:workshop_id>/order.json", endpoint="order_json")
def order(workshop_id: int) -> Response:
    return _page(workshop_id)


@pages.post("/workshops/<int:workshop_id>/order")
def keep_order(workshop_id: int) -> Response:
    try:
        keep_blocks(store(), workshop_id, version(), request.form)
    except InputProblems as problems:
        return _page(workshop_id, status=422, problems=problems.by_field, typed=request.form)
    except Clash:
        return _page(workshop_id, status=409, clash=True, typed=request.form)
    flash("The running order is kept; the rest moved with it.", "done")
    return redirect(address("running.order", workshop_id=workshop_id), 303)


def _page(workshop_id: int, *, status: int = 200, typed: Mapping[str, str] | None = None, **said: Any) -> Response:
    by, moved, wrong = request.args.get("by", ""), None, ""
    try:
        minutes = read_minutes(by)
        moved = None if minutes is None else moved_order(store(), workshop_id, now(), minutes)
    except InputProblem as problem:
        wrong = problem.message
    page = order_page(store(), workshop_id, now())
    shown = {"problems": {}, "clash": False} | said
    return answer("order.html", page, status=status, moved=moved, by=by, by_wrong=wrong, typed=typed, **shown)
