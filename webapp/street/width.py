"""The clear width at a spot: what a station on the pavement leaves for those who walk by."""

from __future__ import annotations

from flask import Response, request

from models.planning.keeping import get_spot
from models.planning.street.width_ask import PARAMETERS
from models.planning.street.width_page import width_page
from webapp.address import read_bar, settled
from webapp.answering import answer, now, store
from webapp.spots.wording import forgiving
from webapp.street import pages


@pages.get("/spots/<int:spot_id>/width")
@pages.get("/spots/<int:spot_id>/width.json", endpoint="width_json")
def width(spot_id: int) -> Response:
    bar = read_bar(get_spot(store(), spot_id).zone, spot_id)
    if elsewhere := settled(bar):
        return elsewhere
    page, problems = forgiving(lambda asked: width_page(store(), spot_id, bar.moment, asked, now()), request.args)
    status = 422 if bar.problems or problems else 200
    said_words = {name: request.args[name] for name in PARAMETERS if request.args.get(name)}
    return answer("width.html", page, status=status, bar=bar, problems=problems, own=PARAMETERS, said_words=said_words)
