"""The briefing behind a link as a PDF."""

from __future__ import annotations

from flask import Response, request

from models.planning.briefing.paper import paper_of, read_paper
from webapp.answering import now, store
from webapp.gate import public
from webapp.shared_briefing import pages
from webapp.shared_briefing.files import sent
from webapp.shared_briefing.limits import limited, seldom
from webapp.shared_briefing.public import address_of, share_behind


@pages.get("/b/<token>.pdf")
@limited
@seldom
@public
def pdf(token: str) -> Response:
    share, paper = share_behind(token), read_paper(request.args.get("paper", ""))
    made = paper_of(store(), share.workshop_id, share.reader, now(), paper, address_of(token))
    return sent(made, "application/pdf", f"briefing-{share.workshop_id}-{share.reader}.pdf")
