"""Batteries, and the leaf for when things go wrong: a page, and one file that needs no server."""

from __future__ import annotations

from flask import Response, make_response, render_template

from models.planning.workshops.batteries_page import batteries_page
from models.planning.workshops.leaf import leaf_page
from webapp.answering import answer, now, store
from webapp.running import pages


@pages.get("/workshops/<int:workshop_id>/batteries")
@pages.get("/workshops/<int:workshop_id>/batteries.json", endpoint="batteries_json")
def batteries(workshop_id: int) -> Response:
    return answer("batteries.html", batteries_page(store(), workshop_id, now()))


@pages.get("/workshops/<int:workshop_id>/leaf")
@pages.get("/workshops/<int:workshop_id>/leaf.json", endpoint="leaf_json")
def leaf(workshop_id: int) -> Response:
    return answer("leaf.html", leaf_page(store(), workshop_id, now()))


@pages.get("/workshops/<int:workshop_id>/leaf/file")
def leaf_file(workshop_id: int) -> Response:
    """The same in one file, to keep on a phone."""
    page = leaf_page(store(), workshop_id, now())
    response = make_response(render_template("leaf_file.html", page=page))
    response.headers["Content-Disposition"] = f'attachment; filename="if-things-go-wrong-{workshop_id}.html"'
    return response
