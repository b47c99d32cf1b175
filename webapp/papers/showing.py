"""The list of papers, with what each leaves open for the workshops to come."""

from __future__ import annotations

from flask import Response

from models.planning.rules.papers import papers_page
from webapp.answering import answer, now, store
from webapp.papers import pages


@pages.get("/papers")
@pages.get("/papers.json", endpoint="listing_json")
def listing() -> Response:
    return answer("papers.html", papers_page(store(), now()))
