"""One spot at a moment."""

from __future__ import annotations

from flask import Response, request

from models.planning.keeping import get_spot
from models.planning.spot_page import spot_page
from webapp.address import read_bar, settled
from webapp.answering import answer, store
from webapp.spots import pages


@pages.get("/spots/<int:spot_id>")
@pages.get("/spots/<int:spot_id>.json", endpoint="spot_json")
def spot(spot_id: int) -> Response:
    bar = read_bar(get_spot(store(), spot_id).zone)
    if elsewhere := settled(bar):
        return elsewhere
    page = spot_page(store(), spot_id, bar.moment, request.args)
    return answer("spot.html", page, status=422 if bar.problems else 200, bar=bar)
