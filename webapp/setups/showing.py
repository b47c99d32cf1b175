"""The list of setups, and one in the light of a spot, of typed EV figures, or with flash alone."""

from __future__ import annotations

from collections.abc import Mapping

from flask import Response, redirect, request

from models.planning.rules.typed import read_spot
from models.planning.setups.keeping import get_setup
from models.planning.setups.listing import setups_page, spots_to_choose
from models.planning.setups.lit import spot_asked
from models.planning.setups.page import SetupPage, setup_page
from models.problems import InputProblem
from models.store.setups import KeptSetup
from models.store.spots import Spot
from models.store.versions import Missing
from webapp.address import Bar, here, read_bar, settled
from webapp.answering import answer, store, wants_json
from webapp.setups import pages
from webapp.setups.addresses import with_words
from webapp.spots.wording import forgiving


@pages.get("/setups")
@pages.get("/setups.json", endpoint="listing_json")
def listing() -> Response:
    spot, _ = _spot()
    return answer("setups.html", setups_page(store(), spot), with_words=with_words)


@pages.get("/setups/<int:setup_id>")
@pages.get("/setups/<int:setup_id>.json", endpoint="setup_json")
def setup(setup_id: int) -> Response:
    kept = get_setup(store(), setup_id)
    if elsewhere := _settled_spot():
        return elsewhere
    spot, problems = _spot()
    bar = read_bar(spot.zone, spot.id) if spot else None
    if bar and (elsewhere := settled(bar)):
        return elsewhere
    page, wrong = _page(kept, spot, bar)
    problems |= wrong
    status = 422 if problems or (bar and bar.problems) else 200
    values = {"bar": bar, "problems": problems, "spots": spots_to_choose(store()), "with_words": with_words}
    return answer("setup.html", page, status=status, **values)


def _page(kept: KeptSetup, spot: Spot | None, bar: Bar | None) -> tuple[SetupPage, dict[str, str]]:
    """A spot whose light cannot be worked out is left out, with the reason."""

    def work(asked: Mapping[str, str]) -> SetupPage:
        there = spot if "spot" in asked else None
        return setup_page(store(), kept, asked, there, bar.moment if bar and there else None)

    return forgiving(work, request.args)


def _spot() -> tuple[Spot | None, dict[str, str]]:
    try:
        return spot_asked(store(), request.args), {}
    except (InputProblem, Missing) as problem:
        if wants_json():
            raise
        return None, {"spot": getattr(problem, "message", "There is no such spot any more.")}


def _settled_spot() -> Response | None:
    """A spot typed by name, as its number."""
    text = request.args.get("spot", "").strip()
    if not text or text.isdecimal():
        return None
    try:
        return redirect(here(spot=read_spot("spot", text, store()).id), 303)
    except InputProblem:
        return None
