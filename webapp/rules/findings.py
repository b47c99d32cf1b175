"""What if: what must be asked before a footprint stands at a spot, and what somebody there said."""

from __future__ import annotations

from urllib.parse import urlencode

from flask import Response, flash, redirect, request, url_for
from markupsafe import Markup

from models.clock import to_local
from models.drawing.answers import answer_swatch as draw_swatch
from models.planning.answers import Moment
from models.planning.keeping import get_spot
from models.planning.rules.told import ANSWERS, forget_told, keep_told, told_words
from models.planning.rules.what_if import FOOTPRINT, read_footprint, unusual_what_if
from models.planning.rules.what_if_page import what_if_page
from models.problems import InputProblem
from models.rules.answers import Answer
from models.store.spots import Spot
from webapp.address import here, read_bar, settled
from webapp.answering import answer, now, store
from webapp.forms import offer_undo
from webapp.rules import pages
from webapp.spots.wording import forgiving


@pages.get("/spots/<int:spot_id>/rules")
@pages.get("/spots/<int:spot_id>/rules.json", endpoint="what_if_json")
def what_if(spot_id: int) -> Response:
    spot = get_spot(store(), spot_id)
    bar = read_bar(spot.zone, spot_id)
    if elsewhere := settled(bar) or _settled_footprint(spot, bar.moment):
        return elsewhere
    page, problems = forgiving(lambda asked: what_if_page(store(), spot_id, bar.moment, asked, now()), request.args)
    status = 422 if bar.problems or problems else 200
    return answer("what_if.html", page, status=status, bar=bar, problems=problems, told=ANSWERS)


@pages.post("/spots/<int:spot_id>/rules/told")
def told(spot_id: int) -> Response:
    spot = get_spot(store(), spot_id)
    bar = read_bar(spot.zone, spot_id)
    for field, message in bar.problems.items():
        raise InputProblem(field, message)
    footprint = read_footprint(request.args, bar.moment)
    activity, said = request.form.get("activity", ""), request.form.get("said", "")
    rule = keep_told(store(), spot_id, activity, said, footprint, today=to_local(now(), spot.zone).date())
    undo = url_for("rules.untell", spot_id=spot_id, rule_id=rule.id)
    offer_undo(told_words(rule), _same_words(undo))
    return _back(spot_id)


@pages.post("/spots/<int:spot_id>/rules/told/<int:rule_id>/undoing")
def untell(spot_id: int, rule_id: int) -> Response:
    forget_told(store(), spot_id, rule_id, now=now())
    flash("What was told is taken back.", "done")
    return _back(spot_id)


@pages.app_template_global()
def answer_swatch(given: Answer, words: str) -> Markup:
    """The answer's small box, named by its words."""
    return Markup(draw_swatch(given, words))  # noqa: S704  drawing escapes what it is given


def _back(spot_id: int) -> Response:
    return redirect(_same_words(url_for("rules.what_if", spot_id=spot_id)), 303)


def _same_words(path: str) -> str:
    """Another address with this one's parameters."""
    return f"{path}?{urlencode(request.args)}" if request.args else path


def _settled_footprint(spot: Spot, moment: Moment) -> Response | None:
    """Where to go instead: the footprint as an address that always means the same, usual words left out."""
    asked = {name: request.args[name] for name in FOOTPRINT if name in request.args}
    try:
        exact = unusual_what_if(store(), asked, spot, moment) if asked else {}
    except InputProblem:
        return None
    if asked == exact:
        return None
    return redirect(here(**{name: exact.get(name) for name in FOOTPRINT}), 303)
