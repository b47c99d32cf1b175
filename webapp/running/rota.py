"""Who is where when: the grid, a sheet for each station, a slip for each person."""

from __future__ import annotations

from flask import Response, flash, redirect, request

from models.planning.workshops.order_edit import keep_lent
from models.planning.workshops.rota_page import rota_page
from models.store.versions import Clash
from webapp.address import address
from webapp.answering import answer, now, store
from webapp.forms import version
from webapp.running import pages

SHOWN = ("grid", "stations", "people")


@pages.get("/workshops/<int:workshop_id>/rota")
@pages.get("/workshops/<int:workshop_id>/rota.json", endpoint="rota_json")
def rota(workshop_id: int) -> Response:
    asked = request.args.get("show", "")
    shown = asked if asked in SHOWN else "all"
    return answer("rota.html", rota_page(store(), workshop_id, now()), shown=shown)


@pages.post("/workshops/<int:workshop_id>/lending")
def lend(workshop_id: int) -> Response:
    """Plan with so many hands lent to the groups."""
    try:
        plan = keep_lent(store(), workshop_id, version(), request.form.get("lent", ""))
    except Clash:
        flash("Somebody changed how this workshop is run meanwhile. Look again, then choose.", "wrong")
    else:
        flash(f"The rota is planned with {plan.lent or 'no'} {'hand' if plan.lent == 1 else 'hands'} lent.", "done")
    return redirect(address("running.rota", workshop_id=workshop_id), 303)
