"""Rule areas: the list with its map, one area, and the forms that add and change them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flask import Response, flash, redirect, request, url_for

from models.planning.rules import areas as planning
from models.planning.rules.area_form import area_form_of, read_area_form, understood_area
from models.planning.rules.far import far_words
from models.planning.rules.map_areas import areas_to_take
from models.problems import InputProblems
from models.rules.areas import Area
from models.store.versions import Clash
from webapp.answering import answer, geojson, now, store
from webapp.forms import differing, form_answer, offer_undo, page_number, today, version
from webapp.rules import pages
from webapp.rules.fields import AREA_FIELDS, AREA_GROUPS, FAR, NO_PASSING, SHAPE


@pages.get("/rules")
@pages.get("/rules.json", endpoint="areas_json")
def areas() -> Response:
    page = planning.areas_page(store(), today(), page=page_number())
    return answer("rules_areas.html", page, around=planning.around(store()))


@pages.get("/rules/areas.geojson")
def areas_geojson() -> Response:
    """Every area as a file to take away."""
    response = geojson(areas_to_take(store()))
    response.headers["Content-Disposition"] = 'attachment; filename="rule-areas.geojson"'
    return response


@pages.get("/rules/areas/<int:area_id>")
@pages.get("/rules/areas/<int:area_id>.json", endpoint="area_json")
def area(area_id: int) -> Response:
    return answer("rules_area.html", planning.area_page(store(), area_id, today()))


@pages.get("/rules/areas/new")
def new_area() -> Response:
    return _form({"kind": "public_street"})


@pages.post("/rules/areas")
def add_area() -> Response:
    try:
        draft = read_area_form(request.form, lambda shape: far_words(store(), shape))
        added = planning.add_area(store(), draft)
    except InputProblems as problems:
        return _form(request.form, problems=problems.by_field)
    flash(f"{added.name} is kept. Record what was found out about it.", "done")
    return redirect(url_for("rules.area", area_id=added.id), 303)


@pages.get("/rules/areas/<int:area_id>/edit")
def edit_area(area_id: int) -> Response:
    found = planning.get_area(store(), area_id)
    return _form(area_form_of(found), found)


@pages.post("/rules/areas/<int:area_id>")
def change_area(area_id: int) -> Response:
    found = planning.find_area(store(), area_id)
    try:
        draft = read_area_form(request.form, lambda shape: far_words(store(), shape, found.shape))
        changed = planning.change_area(store(), area_id, version(), draft)
    except InputProblems as problems:
        return _form(request.form, found, problems=problems.by_field, made_from=version())
    except Clash as clash:
        other = differing(area_form_of(clash.current), AREA_FIELDS)
        return _form(request.form, clash.current, other=other, deleted=clash.deleted)
    flash(f"{changed.name} is kept as you changed it.", "done")
    return redirect(url_for("rules.area", area_id=area_id), 303)


@pages.post("/rules/areas/<int:area_id>/deletion")
def delete_area(area_id: int) -> Response:
    deleted = planning.delete_area(store(), area_id, version(), now=now())
    undo = url_for("rules.restore_area", area_id=area_id)
    offer_undo(f"{deleted.name} is deleted, and its rules with it.", undo)
    return redirect(url_for("rules.areas"), 303)


@pages.post("/rules/areas/<int:area_id>/restoration")
def restore_area(area_id: int) -> Response:
    restored = planning.restore_area(store(), area_id)
    flash(f"{restored.name} is back.", "done")
    return redirect(url_for("rules.area", area_id=area_id), 303)


def _form(form: Mapping[str, str], area: Area | None = None, **said: Any) -> Response:
    shown = {
        "area": area,
        "understood": understood_area(form),
        "groups": AREA_GROUPS,
        "shape_field": SHAPE,
        "no_passing": NO_PASSING,
        "far": FAR,
        "around": planning.box_of([area]) if area else planning.around(store()),
    }
    return form_answer("rules_area_form.html", form, area, **said, **shown)
