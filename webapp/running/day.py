"""On the day: where the rota stands, and a press for what happens that nobody planned."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flask import Response, flash, redirect, request, url_for

from models.planning.workshops.day import add_happenings, put_back, take_back
from models.planning.workshops.day_form import read_happenings
from models.planning.workshops.day_page import day_page
from models.problems import InputProblem, InputProblems
from models.words.day import PERSON_KINDS, STATION_KINDS
from webapp.address import address
from webapp.answering import answer, now, store
from webapp.forms import offer_undo, version
from webapp.running import pages


@pages.get("/workshops/<int:workshop_id>/day")
@pages.get("/workshops/<int:workshop_id>/day.json", endpoint="day_json")
def day(workshop_id: int) -> Response:
    return _page(workshop_id)


@pages.post("/workshops/<int:workshop_id>/happenings")
def happen(workshop_id: int) -> Response:
    try:
        drafts = read_happenings(store(), workshop_id, request.form.to_dict(flat=False), now())
        add_happenings(store(), drafts, now())
    except InputProblems as problems:
        return _page(workshop_id, status=422, problems=problems.by_field)
    except InputProblem as problem:
        return _page(workshop_id, status=422, problems={problem.field: problem.message})
    flash("It is noted, and the rota is made anew from there. What was shot stays shot.", "done")
    return redirect(address("running.day", workshop_id=workshop_id), 303)


@pages.post("/workshops/<int:workshop_id>/happenings/<int:happening_id>/deletion")
def unhappen(workshop_id: int, happening_id: int) -> Response:
    take_back(store(), workshop_id, happening_id, version(), now=now())
    undo = url_for("running.happen_again", workshop_id=workshop_id, happening_id=happening_id)
    offer_undo("It is taken back, and the rota is as it was without it.", undo)
    return redirect(address("running.day", workshop_id=workshop_id), 303)


@pages.post("/workshops/<int:workshop_id>/happenings/<int:happening_id>/restoration")
def happen_again(workshop_id: int, happening_id: int) -> Response:
    put_back(store(), workshop_id, happening_id, now())
    flash("It is noted again.", "done")
    return redirect(address("running.day", workshop_id=workshop_id), 303)


def _page(workshop_id: int, *, status: int = 200, problems: Mapping[str, str] | None = None, **said: Any) -> Response:
    shown = {"person_kinds": PERSON_KINDS, "station_kinds": STATION_KINDS, "typed": request.form}
    return answer(
        "day.html", day_page(store(), workshop_id, now()), status=status, problems=problems or {}, **shown, **said
    )
