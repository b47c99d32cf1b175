"""The briefing as a PDF, shown in the browser to be printed or kept."""

from __future__ import annotations

from flask import Response, current_app, make_response, request, url_for

from models.exchange.pdf import Paper
from models.planning.briefing.paper import paper_of, read_paper
from models.planning.briefing.shares import read_reader, token_of
from webapp.answering import now, store
from webapp.briefing import pages


@pages.get("/workshops/<int:workshop_id>/briefing/<reader>.pdf")
def pdf(workshop_id: int, reader: str) -> Response:
    return _shown(workshop_id, reader, read_paper(request.args.get("paper", "")))


@pages.get("/workshops/<int:workshop_id>/briefing/<reader>/letter.pdf")
def letter(workshop_id: int, reader: str) -> Response:
    return _shown(workshop_id, reader, "us-letter")


def _shown(workshop_id: int, typed: str, paper: Paper) -> Response:
    """With the address of the reader's web page and its code, where a link to it works."""
    reader = read_reader(typed)
    token = token_of(store(), current_app.config["SECRET_KEY"], workshop_id, reader, now())
    link = url_for("shared_briefing.page", token=token, _external=True) if token else ""
    response = make_response(paper_of(store(), workshop_id, reader, now(), paper, link))
    response.headers["Content-Type"] = "application/pdf"
    response.headers["Content-Disposition"] = f'inline; filename="briefing-{workshop_id}-{reader}.pdf"'
    return response
