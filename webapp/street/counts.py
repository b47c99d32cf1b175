"""The footfall of a spot, and a count added to it in one line."""

from __future__ import annotations

from collections.abc import Mapping

from flask import Response, flash, redirect, request

from models.planning.keeping import get_spot
from models.planning.street.ask import PARAMETERS
from models.planning.street.counts import add_count
from models.planning.street.counts_form import new_count_form, read_count_form, understood_count
from models.planning.street.counts_import import counts_file
from models.planning.street.counts_page import counts_page
from models.problems import InputProblems
from webapp.address import address, read_bar, settled
from webapp.answering import answer, now, store
from webapp.spots.wording import forgiving
from webapp.street import pages
from webapp.street.fields import COUNT_FIELDS


@pages.get("/spots/<int:spot_id>/counts")
@pages.get("/spots/<int:spot_id>/counts.json", endpoint="counts_json")
def counts(spot_id: int) -> Response:
    return listing(spot_id, new_count_form(get_spot(store(), spot_id), now()))


@pages.get("/spots/<int:spot_id>/counts.csv")
def counts_csv(spot_id: int) -> Response:
    response = Response(counts_file(store(), spot_id), mimetype="text/csv")
    response.headers["Content-Disposition"] = f'attachment; filename="counts-{spot_id}.csv"'
    return response


@pages.post("/spots/<int:spot_id>/counts")
def add(spot_id: int) -> Response:
    spot = get_spot(store(), spot_id)
    try:
        add_count(store(), read_count_form(request.form, spot, now()))
    except InputProblems as problems:
        return listing(spot_id, request.form, problems.by_field)
    flash("The count is kept.", "done")
    return redirect(address("street.counts", spot_id=spot_id), 303)


def listing(spot_id: int, form: Mapping[str, str], wrong: Mapping[str, str] | None = None) -> Response:
    """The page with its form; wrong: by field, what is wrong with it."""
    spot = get_spot(store(), spot_id)
    bar = read_bar(spot.zone, spot_id)
    if wrong is None and (elsewhere := settled(bar)):
        return elsewhere
    page, problems = forgiving(lambda asked: counts_page(store(), spot_id, bar.moment, asked), request.args)
    status = 422 if bar.problems or problems or wrong else 200
    values = {"form": form, "wrong": wrong or {}, "fields": COUNT_FIELDS, "own": PARAMETERS}
    values["said_words"] = {name: request.args[name] for name in PARAMETERS if request.args.get(name)}
    shown = understood_count(form, spot, now()) if wrong else {}
    return answer("counts.html", page, status=status, bar=bar, problems=problems, understood=shown, **values)
