"""Who is where when: the grid, a sheet for each station, a slip for each person."""

from __future__ import annotations

from flask import Response, request

from models.planning.workshops.rota_page import rota_page
from webapp.answering import answer, now, store
from webapp.running import pages

SHOWN = ("grid", "stations", "people")


@pages.get("/workshops/<int:workshop_id>/rota")
@pages.get("/workshops/<int:workshop_id>/rota.json", endpoint="rota_json")
def rota(workshop_id: int) -> Response:
    asked = request.args.get("show", "")
    shown = asked if asked in SHOWN else "all"
    return answer("rota.html", rota_page(store(), workshop_id, now()), shown=shown)
