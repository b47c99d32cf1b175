"""The list of spots at a moment, with the map beside it."""

from __future__ import annotations

from flask import Response, request

from models.planning.answers import STATE_WORDS
from models.planning.places import read_place
from models.planning.spots import home_zone, spots_page
from models.problems import InputProblem
from webapp.address import read_bar, settled
from webapp.answering import answer, store
from webapp.spots import pages

SORTS = (("name", "Spot"), ("brightness", "Brightness"), ("reserve", "In hand"), ("distance", "Distance"))


@pages.get("/")
@pages.get("/spots.json", endpoint="listing_json")
def listing() -> Response:
    bar = read_bar(home_zone(store()))
    if elsewhere := settled(bar):
        return elsewhere
    here = request.args.get("here", "").strip()
    page = spots_page(
        store(),
        bar.moment,
        sort=_sort(),
        here=read_place(here) if here else None,
        page=_page(),
        ask=request.args,
    )
    shown = {"bar": bar, "sorts": SORTS, "states": STATE_WORDS.items(), "from_here": bool(here)}
    return answer("list.html", page, status=422 if bar.problems else 200, **shown)


def _sort() -> str:
    sort = request.args.get("sort", "name")
    if sort not in dict(SORTS):
        raise InputProblem("sort", f"“{sort}” is no order. Choose name, brightness, reserve or distance.")
    return sort


def _page() -> int:
    text = request.args.get("page", "1")
    if not text.isdecimal() or len(text) > 7 or not 1 <= int(text) <= 1_000_000:
        raise InputProblem("page", f"“{text}” is not the number of a page.")
    return int(text)
