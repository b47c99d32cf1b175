"""The organiser's links to a briefing: made, shown with their codes, given an end, replaced."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from flask import Response, current_app, flash, redirect, request, url_for

from models.exchange.qr import qr_svg
from models.planning.briefing.opened import whole_briefing
from models.planning.briefing.shares import (
    ReaderLink,
    links_page,
    make_links,
    read_reader,
    renew_link,
    set_end,
)
from models.problems import InputProblem
from models.words.briefing_page import READER_WORDS
from webapp.address import address
from webapp.answering import answer, now, store
from webapp.config import LOOPBACK_NAMES
from webapp.forms import version
from webapp.shared_briefing import pages
from webapp.shared_briefing.files import attached, one_file

PORT = re.compile(r":\d+$")


@dataclass(frozen=True, slots=True)
class LinkShown:
    """A link with its address and code, both '' where none was made or it has ended."""

    link: ReaderLink
    readers: str
    address: str
    code: str


@pages.get("/workshops/<int:workshop_id>/briefing/links")
@pages.get("/workshops/<int:workshop_id>/briefing/links.json", endpoint="links_json")
def links(workshop_id: int) -> Response:
    return _page(workshop_id)


@pages.post("/workshops/<int:workshop_id>/briefing/links")
def make(workshop_id: int) -> Response:
    """For one kind of reader, or for all that have none."""
    make_links(store(), workshop_id, request.form.getlist("reader") or list(READER_WORDS), now())
    return _back(workshop_id, "Whoever has the link can read the briefing, and nothing else.")


@pages.post("/workshops/<int:workshop_id>/briefing/links/<reader>/renewal")
def renew(workshop_id: int, reader: str) -> Response:
    renew_link(store(), workshop_id, reader, version(), now())
    return _back(workshop_id, "The new link works; the old one never will again.")


@pages.post("/workshops/<int:workshop_id>/briefing/links/<reader>/end")
def end(workshop_id: int, reader: str) -> Response:
    typed = request.form.get("ends", "")
    try:
        set_end(store(), workshop_id, reader, version(), typed, now())
    except InputProblem as problem:
        if problem.field != "ends":
            raise
        return _page(workshop_id, status=422, problems={reader: problem.message}, typed={reader: typed})
    return _back(workshop_id, "The link's last day is kept.")


@pages.get("/workshops/<int:workshop_id>/briefing/<reader>/file")
def own_file(workshop_id: int, reader: str) -> Response:
    """To send: one file that needs no server."""
    told = whole_briefing(store(), workshop_id, read_reader(reader), now())
    return attached(told, one_file(told))


@pages.app_template_global("briefing_links")
def briefing_links(workshop_id: int) -> tuple[LinkShown, ...]:
    """For briefing_links.html, on whatever page it stands."""
    shown = links_page(store(), current_app.config["SECRET_KEY"], workshop_id, now()).links
    return tuple(map(_shown, shown))


@pages.app_template_global("only_here")
def only_here() -> bool:
    """Whether links lead to this machine alone, as it was asked for."""
    return PORT.sub("", request.host.lower()) in LOOPBACK_NAMES


def _shown(link: ReaderLink) -> LinkShown:
    works = link.token is not None and not link.over
    full = url_for("shared_briefing.page", token=link.token, _external=True) if works else ""
    readers = READER_WORDS[link.reader]
    return LinkShown(link, readers, full, qr_svg(full, f"QR code of the link for {readers}") if full else "")


def _page(
    workshop_id: int,
    *,
    status: int = 200,
    problems: Mapping[str, str] | None = None,
    typed: Mapping[str, str] | None = None,
) -> Response:
    page = links_page(store(), current_app.config["SECRET_KEY"], workshop_id, now())
    return answer("links.html", page, status=status, problems=problems or {}, typed=typed or {})


def _back(workshop_id: int, words: str) -> Response:
    flash(words, "done")
    return redirect(address("briefings.page", workshop_id=workshop_id) + "#links-head", 303)
