"""The plan of a workshop: how it is run, on one page that is its form."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flask import Response, flash, redirect, request

from models.planning.rules.workshop_form import spots_to_choose
from models.planning.workshops.plan import change_plan, plan_page
from models.planning.workshops.plan_form import plan_form_of, understood
from models.problems import InputProblems
from models.store.versions import Clash
from webapp.address import address
from webapp.answering import answer, store, wants_json
from webapp.forms import differing, form_answer, version
from webapp.workshops import pages
from webapp.workshops.plan_fields import plan_groups


@pages.get("/workshops/<int:workshop_id>/plan")
@pages.get("/workshops/<int:workshop_id>/plan.json", endpoint="plan_json")
def plan(workshop_id: int) -> Response:
    return _page(workshop_id)


@pages.post("/workshops/<int:workshop_id>/plan")
def keep_plan(workshop_id: int) -> Response:
    made_from = version()
    try:
        change_plan(store(), workshop_id, made_from, request.form)
    except InputProblems as problems:
        return _page(workshop_id, request.form, problems=problems.by_field, made_from=made_from)
    except Clash as clash:
        now_kept = plan_form_of(store(), clash.current)
        return _page(workshop_id, request.form, other=differing(now_kept, now_kept))
    flash("The plan is kept.", "done")
    return redirect(address("workshops.plan", workshop_id=workshop_id), 303)


def _page(workshop_id: int, typed: Mapping[str, str] | None = None, **said: Any) -> Response:
    page = plan_page(store(), workshop_id)
    if wants_json():
        return answer("workshop_plan.html", page)
    form = page.form if typed is None else typed
    names = tuple(name for name, _ in spots_to_choose(store()))
    shown = {"page": page, "understood": understood(form), "groups": plan_groups(names)}
    return form_answer("workshop_plan.html", form, page, **said, **shown)
