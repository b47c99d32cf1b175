"""The list of workshops, and one with what is still open."""

from __future__ import annotations

from flask import Response

from models.planning.rules.workshop_list import workshops_page
from models.planning.rules.workshop_page import workshop_page
from webapp.answering import answer, now, store
from webapp.forms import page_number
from webapp.workshops import pages
from webapp.workshops.parts import Move, parts_there


@pages.get("/workshops")
@pages.get("/workshops.json", endpoint="listing_json")
def listing() -> Response:
    return answer("workshops.html", workshops_page(store(), now(), page_number()))


@pages.get("/workshops/<int:workshop_id>")
@pages.get("/workshops/<int:workshop_id>.json", endpoint="workshop_json")
def workshop(workshop_id: int) -> Response:
    return workshop_answer(workshop_id)


def workshop_answer(workshop_id: int, move: Move | None = None) -> Response:
    """The page; with a move that could not be read, 422."""
    page = workshop_page(store(), workshop_id, now())
    status = 422 if move and move.wrong else 200
    return answer("workshop.html", page, status=status, parts=parts_there(), move=move or Move())
