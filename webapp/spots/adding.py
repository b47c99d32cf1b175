"""Adding a spot: a form with the place already in it, or a search for an address."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flask import Response, current_app, flash, make_response, redirect, render_template, request

from models.exchange.addresses import Found
from models.planning.addresses import find_address
from models.planning.keeping import add_spot
from models.planning.settings import read_setting
from models.planning.spot_form import read_spot_form
from models.planning.spot_words import new_spot_form, understood
from models.problems import InputProblem, InputProblems
from webapp.address import address
from webapp.answering import now, store
from webapp.security import limiter
from webapp.spots import pages
from webapp.spots.fields import GROUPS


@pages.get("/spots/new")
def new() -> Response:
    return _form(new_spot_form(store(), request.args.get("place", "").strip()))


@pages.post("/spots")
def add() -> Response:
    try:
        spot = add_spot(store(), read_spot_form(request.form))
    except InputProblems as problems:
        return _form(request.form, problems.by_field)
    flash(f"{spot.name} is kept.", "done")
    return redirect(address("spots.spot", spot_id=spot.id), 303)


@pages.post("/spots/search")
@limiter.limit(lambda: current_app.config["RATELIMIT_ADDRESS_SEARCH"])
def search() -> Response:
    """Places an address may mean, to choose one from; nothing is asked while somebody types."""
    asked = request.form.get("address", "").strip()
    form = new_spot_form(store(), "")
    try:
        found = find_address(store(), asked, now=now())
    except InputProblem as problem:
        return _form(form, {"address": problem.message}, asked=asked)
    return _form(form, found=found, asked=asked)


def _form(
    form: Mapping[str, str],
    problems: Mapping[str, str] | None = None,
    *,
    found: tuple[Found, ...] | None = None,
    asked: str = "",
) -> Response:
    values: dict[str, Any] = {
        "form": form,
        "problems": problems or {},
        "understood": understood(form),
        "groups": GROUPS,
        "found": found,
        "asked": asked,
        "may_search": bool(read_setting(store(), "geocoder_contact")),
    }
    return make_response(render_template("new.html", **values), 422 if problems else 200)
