"""The list of the kit by kind."""

from __future__ import annotations

from flask import Response

from models.planning.gear.listing import kit_page
from webapp.answering import answer, store
from webapp.kit import pages


@pages.get("/kit")
@pages.get("/kit.json", endpoint="listing_json")
def listing() -> Response:
    return answer("kit.html", kit_page(store()))
