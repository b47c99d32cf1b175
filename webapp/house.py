"""The house itself: is it alive, its mark, and the reader's own light or dark."""

from __future__ import annotations

from flask import Blueprint, Response, current_app, jsonify, redirect, request, send_from_directory, url_for

from webapp.address import own_path
from webapp.gate import public

THEMES = ("auto", "light", "dark")
YEAR_S = 365 * 24 * 3600

pages = Blueprint("house", __name__)


@pages.get("/healthz")
@public
def health() -> Response:
    return jsonify(status="alive")


@pages.get("/favicon.ico")
@public
def favicon() -> Response:
    return send_from_directory(current_app.static_folder or "", "mark.svg", max_age=YEAR_S)


@pages.post("/theme")
@public
def theme() -> Response:
    """Keep the reader's choice in a cookie and go back to the page it was made on."""
    chosen = request.form.get("theme", "auto")
    response = redirect(own_path(request.form.get("back", "")) or url_for("spots.listing"), 303)
    if chosen in THEMES:
        response.set_cookie("theme", chosen, max_age=YEAR_S, samesite="Lax", httponly=True, secure=request.is_secure)
    return response


@pages.app_context_processor
def reader() -> dict[str, str]:
    chosen = request.cookies.get("theme", "auto")
    return {"theme": chosen if chosen in THEMES else "auto"}
