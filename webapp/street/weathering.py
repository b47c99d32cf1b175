"""Changing a typed hour of weather, deleting it and bringing it back: every change names its version."""

from __future__ import annotations

from flask import Response, flash, redirect, request, url_for

from models.planning.keeping import get_spot
from models.planning.street.weather import change_hour, delete_hour, get_hour, restore_hour
from models.planning.street.weather_form import hour_form_of, read_hours_form, understood_hours
from models.problems import InputProblems
from models.store.spots import Spot
from models.store.versions import Clash
from models.store.weather import KeptHour
from webapp.address import address
from webapp.answering import now, store
from webapp.forms import differing, form_answer, offer_undo, version
from webapp.street import pages
from webapp.street.fields import ONE_HOUR_FIELDS

NAMES = tuple(field.name for field in ONE_HOUR_FIELDS)


@pages.get("/spots/<int:spot_id>/weather/<int:hour_id>/edit")
def edit_hour(spot_id: int, hour_id: int) -> Response:
    hour, spot = get_hour(store(), spot_id, hour_id), get_spot(store(), spot_id)
    return form_answer("weather_edit.html", hour_form_of(hour, spot.zone), hour, **_shown(spot, hour))


@pages.post("/spots/<int:spot_id>/weather/<int:hour_id>")
def change_weather(spot_id: int, hour_id: int) -> Response:
    made_from, spot = version(), get_spot(store(), spot_id)
    try:
        (draft,) = read_hours_form({**request.form, "hours": "1"}, spot, now())
        change_hour(store(), spot_id, hour_id, made_from, draft)
    except InputProblems as problems:
        hour = get_hour(store(), spot_id, hour_id)
        said = {"problems": problems.by_field, "made_from": made_from}
        return form_answer("weather_edit.html", request.form, hour, **said, **_shown(spot, hour))
    except Clash as clash:
        other = differing(hour_form_of(clash.current, spot.zone), NAMES)
        said = {"other": other, "deleted": clash.deleted}
        return form_answer("weather_edit.html", request.form, clash.current, **said, **_shown(spot, clash.current))
    flash("The hour is kept as you changed it.", "done")
    return redirect(address("street.weather", spot_id=spot_id), 303)


@pages.post("/spots/<int:spot_id>/weather/<int:hour_id>/deletion")
def delete_weather(spot_id: int, hour_id: int) -> Response:
    delete_hour(store(), spot_id, hour_id, version(), now=now())
    offer_undo("The hour is deleted.", url_for("street.restore_weather", spot_id=spot_id, hour_id=hour_id))
    return redirect(address("street.weather", spot_id=spot_id), 303)


@pages.post("/spots/<int:spot_id>/weather/<int:hour_id>/restoration")
def restore_weather(spot_id: int, hour_id: int) -> Response:
    try:
        restore_hour(store(), spot_id, hour_id)
        flash("The hour is back.", "done")
    except InputProblems:
        flash("That hour was typed anew meanwhile: the older one stays deleted.", "done")
    return redirect(address("street.weather", spot_id=spot_id), 303)


def _shown(spot: Spot, hour: KeptHour) -> dict[str, object]:
    typed = request.form if request.method == "POST" else hour_form_of(hour, spot.zone)
    return {"spot": spot, "hour": hour, "fields": ONE_HOUR_FIELDS, "understood": understood_hours(typed, spot, now())}
