"""One spot at one moment: the answer, the drawings, the working."""

from __future__ import annotations

from flask import Response, make_response, render_template, request
from markupsafe import Markup

from models.drawing.scale import BRIGHTNESS, swatch
from models.planning.keeping import get_spot
from models.planning.spot_notes import spot_notes
from models.planning.spot_page import QUANTITIES, spot_page
from models.problems import InputProblem
from models.store.spots import Spot
from models.words.said import ev_words, signed_minus
from webapp.address import Bar, read_bar, settled
from webapp.answering import answer, now, store, wants_json
from webapp.spots import pages
from webapp.spots.wording import forgiving, settled_words


@pages.get("/spots/<int:spot_id>")
@pages.get("/spots/<int:spot_id>.json", endpoint="spot_json")
def spot(spot_id: int) -> Response:
    kept = get_spot(store(), spot_id)
    bar = read_bar(kept.zone, spot_id)
    if elsewhere := settled(bar) or settled_words(kept.looking_deg):
        return elsewhere
    try:
        page, problems = forgiving(lambda asked: spot_page(store(), spot_id, bar.moment, asked, now()), request.args)
    except InputProblem as problem:
        if wants_json():
            raise
        return _unlit(kept, bar, problem)
    status = 422 if bar.problems or problems else 200
    return answer("spot.html", page, status=status, bar=bar, problems=problems, quantities=QUANTITIES)


def _unlit(kept: Spot, bar: Bar, problem: InputProblem) -> Response:
    """A spot whose light cannot be worked out: why, its notes, and the way to put it right."""
    values = {"spot": kept, "bar": bar, "problem": problem, "notes": spot_notes(kept)}
    return make_response(render_template("spot_unlit.html", **values), 422)


@pages.app_template_global()
def ev_swatch(ev100: float) -> Markup:
    """A box of an EV's colour on the brightness scale."""
    return Markup(swatch(BRIGHTNESS, ev100, ev_words(ev100)))  # noqa: S704  drawing escapes what it is given


@pages.app_template_filter("tenths")
def tenths(value: float) -> str:
    """'12.4', '−0.3', never '-0.0'."""
    return signed_minus(value, 1)
