"""Measure your own: what a reading of one flash says, keeping it, deleting it with a way back."""

from __future__ import annotations

from urllib.parse import urlencode

from flask import Response, flash, redirect, request, url_for

from models.planning.gear import measuring as planning
from webapp.answering import answer, now, store
from webapp.forms import offer_undo, today, version
from webapp.kit import pages
from webapp.spots.wording import forgiving


@pages.get("/kit/flashes/<item_id>/readings")
@pages.get("/kit/flashes/<item_id>/readings.json", endpoint="readings_json")
def readings(item_id: str) -> Response:
    page, problems = forgiving(lambda asked: planning.measuring_page(store(), item_id, asked, today()), request.args)
    return answer("kit_readings.html", page, status=422 if problems else 200, problems=problems)


@pages.post("/kit/flashes/<item_id>/readings")
def keep(item_id: str) -> Response:
    """The reading of this address."""
    kept = planning.keep_reading(store(), item_id, request.args, today())
    undo = url_for("kit.delete_reading", reading_id=kept.id, version=kept.version)
    offer_undo(f"Kept: guide number {kept.guide_number_m:.1f} m.", undo)
    return redirect(url_for("kit.readings", item_id=item_id), 303)


@pages.post("/kit/readings/<int:reading_id>/deletion")
def delete_reading(reading_id: int) -> Response:
    made_from = request.args.get("version", type=int)
    gone = planning.delete_reading(store(), reading_id, version() if made_from is None else made_from, now=now())
    undo = url_for("kit.restore_reading", reading_id=reading_id)
    offer_undo(f"The reading of {gone.on.day} {gone.on:%B %Y} is deleted.", undo)
    return redirect(url_for("kit.readings", item_id=gone.flash_id), 303)


@pages.post("/kit/readings/<int:reading_id>/restoration")
def restore_reading(reading_id: int) -> Response:
    back = planning.restore_reading(store(), reading_id)
    flash("The reading is back.", "done")
    return redirect(url_for("kit.readings", item_id=back.flash_id), 303)


@pages.app_template_global()
def keep_address(item_id: str) -> str:
    """Where to keep the reading that this address describes."""
    said = {name: request.args[name] for name in planning.PARAMETERS if request.args.get(name)}
    return f"{url_for('kit.keep', item_id=item_id)}?{urlencode(said)}"
