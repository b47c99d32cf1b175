"""Deadlines as a page, as JSON and as a calendar file."""

from __future__ import annotations

from flask import Response, make_response, url_for

from models.planning.rules.deadlines import calendar_file, deadlines
from webapp.answering import answer, now, store
from webapp.deadlines import pages
from webapp.forms import page_number


@pages.get("/deadlines")
@pages.get("/deadlines.json", endpoint="listing_json")
def listing() -> Response:
    return answer("deadlines.html", deadlines(store(), now(), page=page_number()))


@pages.get("/deadlines.ics")
def calendar() -> Response:
    """What calendars import, and import again later on."""
    response = make_response(calendar_file(store(), now(), _workshop))
    response.headers["Content-Type"] = "text/calendar; charset=utf-8"
    response.headers["Content-Disposition"] = 'attachment; filename="kerbstand-deadlines.ics"'
    return response


def _workshop(workshop_id: int) -> str:
    return url_for("workshops.workshop", workshop_id=workshop_id, _external=True)
