"""Bringing in counts from a CSV file: first what was understood and refused, then, on another press, keeping them."""

from __future__ import annotations

from flask import Response, flash, make_response, redirect, render_template, request

from models.planning.keeping import get_spot
from models.planning.street.counts_import import CountsPreview, import_counts, preview_counts
from models.problems import InputProblem
from webapp.address import address
from webapp.answering import now, store
from webapp.street import pages


@pages.get("/spots/<int:spot_id>/counts/import")
def import_form(spot_id: int) -> Response:
    return _page(spot_id)


@pages.post("/spots/<int:spot_id>/counts/import")
def preview(spot_id: int) -> Response:
    """What the file holds; nothing is kept. The page carries the file's text on to the next press."""
    upload = request.files.get("file")
    data = upload.read() if upload else b""
    if not data.strip():
        return _page(spot_id, problem="Choose a CSV file first.", status=422)
    found = preview_counts(store(), spot_id, data, now())
    text = "" if found.refused else data.decode("utf-8-sig")
    return _page(spot_id, found, text, status=422 if found.refused else 200)


@pages.post("/spots/<int:spot_id>/counts/bringing-in")
def bring_in(spot_id: int) -> Response:
    """The same file again, this time to keep; it is read anew, so nothing slips in unread."""
    data = request.form.get("text", "").encode()
    try:
        words = import_counts(store(), spot_id, data, now())
    except InputProblem:
        return _page(spot_id, preview_counts(store(), spot_id, data, now()), status=422)
    flash(words, "done")
    return redirect(address("street.counts", spot_id=spot_id), 303)


def _page(
    spot_id: int, found: CountsPreview | None = None, text: str = "", problem: str = "", status: int = 200
) -> Response:
    values = {"spot": get_spot(store(), spot_id), "found": found, "text": text, "problem": problem}
    return make_response(render_template("counts_import.html", **values), status)
