"""The weather of a spot: kept by day, typed by the hour, fetched on a press."""

from __future__ import annotations

from collections.abc import Mapping

from flask import Response, flash, redirect, request, url_for

from models.exchange.forecast import Refused
from models.planning.keeping import get_spot
from models.planning.street.forecast import fetch_forecast
from models.planning.street.weather import add_hours
from models.planning.street.weather_form import new_hour_form, read_hours_form, understood_hours
from models.planning.street.weather_page import weather_page
from models.problems import InputProblem, InputProblems
from webapp.address import address, read_bar, settled
from webapp.answering import answer, now, store
from webapp.street import pages
from webapp.street.fields import HOURS_FIELDS


@pages.get("/spots/<int:spot_id>/weather")
@pages.get("/spots/<int:spot_id>/weather.json", endpoint="weather_json")
def weather(spot_id: int) -> Response:
    return _page(spot_id)


@pages.post("/spots/<int:spot_id>/weather")
def add_weather(spot_id: int) -> Response:
    spot = get_spot(store(), spot_id)
    try:
        drafts = read_hours_form(request.form, spot, now())
        add_hours(store(), drafts)
    except InputProblems as problems:
        return _page(spot_id, request.form, problems.by_field)
    flash("The hour is kept." if len(drafts) == 1 else f"The {len(drafts)} hours are kept.", "done")
    return redirect(address("street.weather", spot_id=spot_id), 303)


@pages.post("/spots/<int:spot_id>/weather/forecast")
def fetch(spot_id: int) -> Response:
    """The one press that asks the network."""
    try:
        words = fetch_forecast(store(), spot_id, now=now())
    except InputProblem as problem:
        return _page(spot_id, failed=problem.message, status=502 if isinstance(problem, Refused) else 422)
    flash(words, "done")
    return redirect(address("street.weather", spot_id=spot_id), 303)


@pages.get("/spots/<int:spot_id>/weather/forecast")
def fetched(spot_id: int) -> Response:
    """Where the bar of a failed press leads."""
    return redirect(url_for("street.weather", spot_id=spot_id, **request.args.to_dict()), 303)


def _page(
    spot_id: int,
    form: Mapping[str, str] | None = None,
    wrong: Mapping[str, str] | None = None,
    *,
    failed: str = "",
    status: int = 422,
) -> Response:
    """The page with its form. wrong: by field, what is wrong with it. failed: what the forecast service said."""
    spot = get_spot(store(), spot_id)
    bar = read_bar(spot.zone, spot_id)
    troubled = bool(wrong or failed)
    if not troubled and (elsewhere := settled(bar)):
        return elsewhere
    values = {
        "bar": bar,
        "form": form or new_hour_form(bar.moment),
        "wrong": wrong or {},
        "failed": failed,
        "fields": HOURS_FIELDS,
        "understood": understood_hours(form, spot, now()) if form else {},
    }
    page = weather_page(store(), spot_id, bar.moment, now())
    return answer("weather.html", page, status=status if troubled else 422 if bar.problems else 200, **values)
