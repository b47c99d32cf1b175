"""The stations of a workshop, and their sum taken over into it."""

from __future__ import annotations

from flask import Response, flash, redirect

from models.planning.workshops.station_form import models_named
from models.planning.workshops.stations_page import stations_page
from models.planning.workshops.take_over import take_over
from models.words.stations import changed_words
from webapp.address import address
from webapp.answering import answer, now, store
from webapp.forms import version
from webapp.stations import pages


@pages.get("/workshops/<int:workshop_id>/stations")
@pages.get("/workshops/<int:workshop_id>/stations.json", endpoint="listing_json")
def listing(workshop_id: int) -> Response:
    page = stations_page(store(), workshop_id, now())
    return answer("stations.html", page, models=models_named(store(), workshop_id))


@pages.post("/workshops/<int:workshop_id>/stations/taking-over")
def taking_over(workshop_id: int) -> Response:
    workshop, taken = take_over(store(), workshop_id, version(), now())
    flash(f"Taken over into {workshop.title}: {changed_words(taken.changes)}.", "done")
    return redirect(address("stations.listing", workshop_id=workshop_id), 303)
