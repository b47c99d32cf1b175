"""Moving a workshop to another time or day, with a way back."""

from __future__ import annotations

from flask import Response, redirect, request, url_for

from models.planning.workshops.moving import Moved, move_back, move_workshop
from models.planning.workshops.past import if_past
from models.problems import InputProblem
from webapp.address import address
from webapp.answering import now, store
from webapp.forms import offer_undo, version
from webapp.workshops import pages
from webapp.workshops.parts import Move
from webapp.workshops.showing import workshop_answer


@pages.post("/workshops/<int:workshop_id>/moves")
def move(workshop_id: int) -> Response:
    made_from, typed = version(), request.form.get("to", "")
    try:
        moved = move_workshop(store(), workshop_id, made_from, typed, now())
    except InputProblem as problem:
        return workshop_answer(workshop_id, Move(typed, problem.message))
    said = f"{moved.workshop.title} is moved from {moved.was} to {moved.now}.{if_past(moved.workshop, now())}"
    return _moved(moved, said)


@pages.post("/workshops/<int:workshop_id>/moves/<int:made_from>/undoing")
def unmove(workshop_id: int, made_from: int) -> Response:
    moved = move_back(store(), workshop_id, made_from, request.args.get("to", ""))
    return _moved(moved, f"{moved.workshop.title} is back at {moved.now}.")


def _moved(moved: Moved, said: str) -> Response:
    kept = moved.workshop
    offer_undo(said, url_for("workshops.unmove", workshop_id=kept.id, made_from=kept.version, to=moved.back))
    return redirect(address("workshops.workshop", workshop_id=kept.id), 303)
