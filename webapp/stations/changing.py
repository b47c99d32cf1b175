"""Adding and changing a station, deleting it with a way back: every change names the version it was made from."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flask import Response, flash, redirect, request, url_for

from models.planning.rules.workshops import get_workshop
from models.planning.workshops.station_form import (
    form_needs,
    new_station_form,
    read_station_form,
    station_form_of,
    understood,
)
from models.planning.workshops.stations import (
    add_station,
    change_station,
    delete_station,
    get_station,
    restore_station,
)
from models.problems import InputProblem, InputProblems
from models.store.versions import Clash
from models.words.rules import STANDING_NOTE
from models.workshop.station import Station
from webapp.address import address
from webapp.answering import now, store
from webapp.forms import differing, form_answer, offer_undo, version
from webapp.stations import pages
from webapp.stations.fields import PLACE, station_groups


@pages.get("/workshops/<int:workshop_id>/stations/new")
def new(workshop_id: int) -> Response:
    return _form(workshop_id, new_station_form(store(), workshop_id))


@pages.post("/workshops/<int:workshop_id>/stations")
def add(workshop_id: int) -> Response:
    get_workshop(store(), workshop_id)
    try:
        station = add_station(store(), read_station_form(store(), workshop_id, request.form))
    except InputProblems as problems:
        return _form(workshop_id, request.form, problems=problems.by_field)
    except InputProblem as problem:
        return _form(workshop_id, request.form, problems=_named(problem))
    flash(f"Station {station.name} is kept.", "done")
    return _to_list(workshop_id)


@pages.get("/workshops/<int:workshop_id>/stations/<int:station_id>/edit")
def edit(workshop_id: int, station_id: int) -> Response:
    station = get_station(store(), workshop_id, station_id)
    return _form(workshop_id, station_form_of(store(), station), station)


@pages.post("/workshops/<int:workshop_id>/stations/<int:station_id>")
def change(workshop_id: int, station_id: int) -> Response:
    made_from = version()
    try:
        station = change_station(store(), station_id, made_from, read_station_form(store(), workshop_id, request.form))
    except Clash as clash:
        now_kept = station_form_of(store(), clash.current)
        other = differing(now_kept, now_kept)
        return _form(workshop_id, request.form, clash.current, other=other, deleted=clash.deleted)
    except (InputProblem, InputProblems) as found:
        problems = found.by_field if isinstance(found, InputProblems) else _named(found)
        kept = get_station(store(), workshop_id, station_id)
        return _form(workshop_id, request.form, kept, problems=problems, made_from=made_from)
    flash(f"Station {station.name} is kept as you changed it.", "done")
    return _to_list(workshop_id)


@pages.post("/workshops/<int:workshop_id>/stations/<int:station_id>/deletion")
def delete(workshop_id: int, station_id: int) -> Response:
    station = delete_station(store(), workshop_id, station_id, version(), now=now())
    undo = url_for("stations.restore", workshop_id=workshop_id, station_id=station_id)
    offer_undo(f"Station {station.name} is deleted.", undo)
    return _to_list(workshop_id)


@pages.post("/workshops/<int:workshop_id>/stations/<int:station_id>/restoration")
def restore(workshop_id: int, station_id: int) -> Response:
    station = restore_station(store(), workshop_id, station_id)
    flash(f"Station {station.name} is back.", "done")
    return _to_list(workshop_id)


def _to_list(workshop_id: int) -> Response:
    return redirect(address("stations.listing", workshop_id=workshop_id), 303)


def _named(problem: InputProblem) -> dict[str, str]:
    return {{"setup_id": "setup", "model_id": "model"}.get(problem.field, problem.field): problem.message}


def _form(workshop_id: int, form: Mapping[str, str], kept: Station | None = None, **said: Any) -> Response:
    needs = form_needs(store(), workshop_id, kept.setup_id if kept else None)
    shown = {
        "workshop": get_workshop(store(), workshop_id),
        "station": kept,
        "spot": needs.spot,
        "around": needs.around,
        "understood": understood(form),
        "groups": station_groups(needs.setups, needs.models),
        "place_field": PLACE,
        "standing_note": STANDING_NOTE,
    }
    return form_answer("station_form.html", form, kept, **said, **shown)
