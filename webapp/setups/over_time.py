"""When a setup works at a spot, re-dial lines over a span, and the cards to carry."""

from __future__ import annotations

from flask import Response, redirect, request

from models.planning.setups.cards import cards_page
from models.planning.setups.keeping import get_setup
from models.planning.setups.lit import spot_asked
from models.planning.setups.over_time import when_page
from models.problems import InputProblem
from webapp.address import read_bar, settled
from webapp.answering import answer, store, wants_json
from webapp.setups import pages
from webapp.setups.addresses import with_words
from webapp.spots.wording import forgiving


@pages.get("/setups/<int:setup_id>/when")
@pages.get("/setups/<int:setup_id>/when.json", endpoint="when_json")
def when(setup_id: int) -> Response:
    """Without a spot there is no day: back to where one is chosen."""
    get_setup(store(), setup_id)
    spot = spot_asked(store(), request.args)
    if spot is None and wants_json():
        raise InputProblem("spot", "say at which spot, by its number.")
    if spot is None:
        return redirect(with_words("setups.setup", setup_id=setup_id), 303)
    bar = read_bar(spot.zone, spot.id)
    if elsewhere := settled(bar):
        return elsewhere
    page, problems = forgiving(lambda asked: when_page(store(), setup_id, spot, bar.moment, asked), request.args)
    status = 422 if problems or bar.problems else 200
    return answer("setup_when.html", page, status=status, bar=bar, problems=problems, with_words=with_words)


@pages.get("/setups/<int:setup_id>/card")
@pages.get("/setups/<int:setup_id>/card.json", endpoint="card_json")
def card(setup_id: int) -> Response:
    kept, spot = get_setup(store(), setup_id), spot_asked(store(), request.args)
    bar = read_bar(spot.zone, spot.id) if spot else None
    if bar and (elsewhere := settled(bar)):
        return elsewhere
    moment = bar.moment if bar else None
    page, problems = forgiving(lambda asked: cards_page(store(), kept, asked, spot, moment), request.args)
    status = 422 if problems or (bar and bar.problems) else 200
    return answer("setup_card.html", page, status=status, bar=bar, problems=problems, with_words=with_words)
