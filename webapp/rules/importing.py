"""Bringing in rule areas from a file: first what was understood and refused, then, on another press, keeping them."""

from __future__ import annotations

from flask import Response, flash, make_response, redirect, render_template, request, url_for

from models.planning.rules.areas_import import AreasPreview, import_areas, preview_areas
from models.problems import InputProblem
from models.rules.areas import KINDS
from webapp.answering import store
from webapp.rules import pages


@pages.get("/rules/import")
def import_form() -> Response:
    return _page()


@pages.post("/rules/import")
def preview() -> Response:
    """What the file holds; nothing is kept. The page carries the file's text on to the next press."""
    upload = request.files.get("file")
    data = upload.read() if upload else b""
    if not data.strip():
        return _page(problem="Choose a GeoJSON file first.", status=422)
    found = preview_areas(store(), data, **_otherwise())
    text = "" if found.refused else data.decode("utf-8-sig")
    return _page(found, text, status=422 if found.refused else 200)


@pages.post("/rules/areas/bringing-in")
def bring_in() -> Response:
    """The same file again, this time to keep; it is read anew, so nothing slips in unread."""
    try:
        words = import_areas(store(), request.form.get("text", "").encode(), **_otherwise())
    except InputProblem:
        found = preview_areas(store(), request.form.get("text", "").encode(), **_otherwise())
        return _page(found, status=422)
    flash(" ".join(words), "done")
    return redirect(url_for("rules.areas"), 303)


def _otherwise() -> dict[str, str]:
    """For areas that name no kind or authority of their own."""
    kind = request.form.get("kind", "")
    return {"kind": kind if kind in KINDS else "", "authority": request.form.get("authority", "").strip()}


def _page(found: AreasPreview | None = None, text: str = "", problem: str = "", status: int = 200) -> Response:
    values = {"found": found, "text": text, "problem": problem, "kinds": tuple(KINDS.items()), "form": request.form}
    return make_response(render_template("rules_import.html", **values), status)
