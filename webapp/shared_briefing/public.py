"""What a link opens, for whoever was given it: the page, one file, and what keeps the page where there is no signal."""

from __future__ import annotations

from flask import (
    Response,
    abort,
    current_app,
    jsonify,
    make_response,
    render_template,
    request,
    send_from_directory,
    url_for,
)

from models.planning.briefing.calendar import reader_calendar
from models.planning.briefing.opened import Opened, opened, whole_briefing
from models.planning.briefing.shares import shared
from models.planning.briefing.versions import issued_briefing
from models.store.versions import Missing
from models.workshop.share import Share
from webapp.answering import now, store
from webapp.gate import public
from webapp.security import behind_a_link
from webapp.shared_briefing import pages
from webapp.shared_briefing.files import attached, one_file, sent
from webapp.shared_briefing.limits import limited, plain, seldom

NOTHING = ("There is nothing here", "The link is wrong, or it works no more. Ask whoever sent it.")
OFFERS = (
    ("shared_briefing.file", "One file that needs no signal"),
    ("shared_briefing.calendar", "Into my calendar"),
    ("shared_briefing.pdf", "PDF to print"),
)
"""What else a link gives, by endpoint, with its words."""


@pages.get("/b/<token>")
@limited
@public
def page(token: str) -> Response:
    told = _opened(token)
    dark = request.cookies.get("theme") == "dark"
    return make_response(render_template("shared_briefing.html", page=told, token=token, dark=dark, offers=OFFERS))


@pages.get("/b/<token>.json")
@limited
@public
def page_json(token: str) -> Response:
    """Without its drawings, so none is made."""
    share = share_behind(token)
    return jsonify(opened(issued_briefing(store(), share.workshop_id, share.reader, now())).briefing)


@pages.get("/b/<token>/file")
@limited
@public
def file(token: str) -> Response:
    told = _opened(token)
    return attached(told, one_file(told, address_of(token)))


@pages.get("/b/<token>.ics")
@limited
@seldom
@public
def calendar(token: str) -> Response:
    share = share_behind(token)
    made = reader_calendar(store(), share.workshop_id, share.reader, now(), address_of(token))
    return sent(made.file, "text/calendar", f"workshop-{share.workshop_id}-{share.reader}.ics")


@pages.get("/b/<token>/keep.js")
@limited
@public
def keeping(token: str) -> Response:
    """Served from under the link, so that it may keep that page and no other; the same script for every link."""
    behind_a_link()
    response = send_from_directory(current_app.static_folder or "", "js/keep.js")
    response.headers["Service-Worker-Allowed"] = url_for("shared_briefing.page", token=token)
    return response


def share_behind(token: str) -> Share:
    behind_a_link()
    try:
        return shared(store(), current_app.config["SECRET_KEY"], token, now())
    except Missing:
        abort(plain(*NOTHING, 404))


def _opened(token: str) -> Opened:
    share = share_behind(token)
    return whole_briefing(store(), share.workshop_id, share.reader, now())


def address_of(token: str) -> str:
    return url_for("shared_briefing.page", token=token, _external=True)
