"""The page of a workshop's briefing, and issuing a version of it."""

from __future__ import annotations

from flask import Response, current_app, flash, redirect, request

from models.planning.briefing.page import BriefingPage, briefing_page
from models.planning.briefing.versions import current, issue
from models.problems import InputProblem
from models.words.briefing_page import NOTHING_NEW, READER_WORDS
from models.words.briefing_parts import standing_words, version_words
from webapp.address import address
from webapp.answering import answer, now, store
from webapp.briefing import pages
from webapp.forms import number

WAYS: tuple[tuple[str, str], ...] = (
    ("shared_briefing.own_file", "One file that needs no server"),
    ("briefings.pdf", "PDF, A4"),
    ("briefings.letter", "PDF, US Letter"),
    ("briefings.calendar", "Calendar"),
)
"""Further ways to hand it out, by endpoint; each takes workshop_id and reader. Those that exist are offered."""

OWN_WAYS = (("briefings.gpx", "Places and walks as GPX"), ("briefings.places", "The same as GeoJSON"))
"""For the organiser alone, by endpoint."""


@pages.get("/workshops/<int:workshop_id>/briefing")
@pages.get("/workshops/<int:workshop_id>/briefing.json", endpoint="page_json")
def page(workshop_id: int) -> Response:
    version = number(request.args.get("version"))
    if version is None and request.args.get("version"):
        raise InputProblem("version", "is a number of a version.")
    shown = briefing_page(store(), workshop_id, now(), request.args.get("for", ""), version)
    words = {"readers": READER_WORDS, "standing": standing_words(shown.briefing), "version_words": version_words}
    return answer(
        "briefing.html", shown, ways=ways_there(), own_ways=OWN_WAYS, version=version, plans=plans_of(shown), **words
    )


@pages.post("/workshops/<int:workshop_id>/briefing/versions")
def issue_version(workshop_id: int) -> Response:
    issued = issue(store(), workshop_id, now())
    if issued is None:
        flash(NOTHING_NEW.format(number=current(store(), workshop_id, now()).version), "done")
    else:
        flash(f"Version {issued.number} is issued: it is what every reader gets from now on.", "done")
    return redirect(address("briefings.page", workshop_id=workshop_id), 303)


def plans_of(shown: BriefingPage) -> dict[int, str]:
    """The plans of setups by number, as the page shows them."""
    return {number: plan.narrow for number, plan in shown.drawings}


def ways_there() -> list[tuple[str, str]]:
    """Those that have an address."""
    return [way for way in WAYS if way[0] in current_app.view_functions]
