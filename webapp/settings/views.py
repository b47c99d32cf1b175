"""The settings page: every choice with what it does and what leaves the machine."""

from __future__ import annotations

from collections.abc import Mapping

from flask import Response, flash, make_response, redirect, render_template, request, url_for

from models.planning.settings import change_settings, settings_form
from models.problems import InputProblems
from models.words.enquiry_letter import LANGUAGES
from webapp.answering import store
from webapp.maps.tiles import choices
from webapp.settings import pages


@pages.get("/settings")
def show() -> Response:
    return _page(settings_form(store()))


@pages.post("/settings")
def change() -> Response:
    try:
        change_settings(store(), _known_tiles(request.form))
    except InputProblems as problems:
        return _page(request.form, problems.by_field)
    flash("The settings are kept.", "done")
    return redirect(url_for("settings.show"), 303)


def _known_tiles(form: Mapping[str, str]) -> Mapping[str, str]:
    tiles = form.get("tiles", "")
    if tiles and tiles not in dict(choices()):
        raise InputProblems({"tiles": f"“{tiles}” is not one of the map tiles to choose from."})
    return form


def _page(form: Mapping[str, str], problems: Mapping[str, str] | None = None) -> Response:
    kept = form if problems is None else settings_form(store())
    values = {
        "form": form,
        "kept": kept,
        "problems": problems or {},
        "tile_choices": choices(),
        "languages": LANGUAGES.items(),
    }
    return make_response(render_template("settings.html", **values), 422 if problems else 200)
