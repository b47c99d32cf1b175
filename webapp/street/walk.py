"""The walk from a spot to another spot, a meeting point or coordinates."""

from __future__ import annotations

from flask import Response, request

from models.planning.street.walk_page import PARAMETERS, walk_page
from webapp.answering import answer, now, store
from webapp.spots.wording import forgiving
from webapp.street import pages


@pages.get("/spots/<int:spot_id>/walk")
@pages.get("/spots/<int:spot_id>/walk.json", endpoint="walk_json")
def walk(spot_id: int) -> Response:
    page, problems = forgiving(lambda asked: walk_page(store(), spot_id, asked, now()), request.args)
    said_words = {name: request.args[name] for name in PARAMETERS if request.args.get(name)}
    status = 422 if problems else 200
    return answer("walk.html", page, status=status, problems=problems, own=PARAMETERS, said_words=said_words)
