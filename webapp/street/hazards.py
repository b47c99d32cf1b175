"""The hazards sheet of a workshop: read, printed, changed line by line, started again."""

from __future__ import annotations

from collections.abc import Mapping

from flask import Response, flash, redirect, request, url_for

from models.planning.street.hazards import bring_back, keep_sheet, start_again
from models.planning.street.hazards_form import SPARE_LINES, line_count, read_sheet_form
from models.planning.street.hazards_page import hazards_page
from models.planning.street.weather_typed import understood_figures
from models.problems import InputProblems
from models.store.versions import Clash
from webapp.address import address
from webapp.answering import answer, now, store
from webapp.forms import offer_undo, version
from webapp.street import pages
from webapp.street.fields import CALL_FIELDS, LOOKED_FIELDS, WEATHER_FIELDS


@pages.get("/workshops/<int:workshop_id>/hazards")
@pages.get("/workshops/<int:workshop_id>/hazards.json", endpoint="hazards_json")
def hazards(workshop_id: int) -> Response:
    return _page(workshop_id)


@pages.post("/workshops/<int:workshop_id>/hazards")
def keep(workshop_id: int) -> Response:
    try:
        keep_sheet(store(), read_sheet_form(request.form, workshop_id), version())
    except InputProblems as problems:
        return _page(workshop_id, request.form, problems.by_field)
    except Clash:
        return _page(workshop_id, request.form, clash=True)
    flash("The hazards sheet is kept.", "done")
    return redirect(address("street.hazards", workshop_id=workshop_id), 303)


@pages.post("/workshops/<int:workshop_id>/hazards/deletion")
def start_over(workshop_id: int) -> Response:
    sheet = start_again(store(), workshop_id, version(), now=now())
    undo = url_for("street.unstart", workshop_id=workshop_id, sheet_id=sheet.id)
    offer_undo("The sheet is put aside; below stands a new one.", undo)
    return redirect(address("street.hazards", workshop_id=workshop_id), 303)


@pages.post("/workshops/<int:workshop_id>/hazards/<int:sheet_id>/restoration")
def unstart(workshop_id: int, sheet_id: int) -> Response:
    bring_back(store(), workshop_id, sheet_id)
    flash("The sheet is back.", "done")
    return redirect(address("street.hazards", workshop_id=workshop_id), 303)


def _page(
    workshop_id: int,
    typed: Mapping[str, str] | None = None,
    wrong: Mapping[str, str] | None = None,
    clash: bool = False,
) -> Response:
    page = hazards_page(store(), workshop_id, now())
    form = typed or page.form
    values = {
        "form": form,
        "wrong": wrong or {},
        "understood": understood_figures(form) if typed else {},
        "clash": clash,
        "numbers": range(1, line_count(form) + SPARE_LINES + 1),
        "version": page.version if typed is None or clash else version(),
        "weather_fields": WEATHER_FIELDS,
        "looked_fields": LOOKED_FIELDS,
        "call_fields": CALL_FIELDS,
    }
    return answer("hazards.html", page, status=422 if wrong else 409 if clash else 200, **values)
