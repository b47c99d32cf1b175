"""The people of a workshop, and all releases."""

from __future__ import annotations

from flask import Response

from models.planning.workshops.people_page import people_page
from models.planning.workshops.releases import releases_page
from webapp.answering import answer, now, store
from webapp.people import pages


@pages.get("/workshops/<int:workshop_id>/people")
@pages.get("/workshops/<int:workshop_id>/people.json", endpoint="listing_json")
def listing(workshop_id: int) -> Response:
    return answer("people.html", people_page(store(), workshop_id, now()))


@pages.get("/releases")
@pages.get("/releases.json", endpoint="releases_json")
def all_releases() -> Response:
    return answer("releases.html", releases_page(store(), now()))
