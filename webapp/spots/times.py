"""Times worth booking: at one spot, or across all of them."""

from __future__ import annotations

from collections.abc import Mapping

from flask import Response, request

from models.light.windows import WANTS
from models.planning.keeping import get_spot
from models.planning.times import TimesPage, booking_times
from models.planning.times_ask import WEEKDAYS, days_text
from webapp.answering import answer, now, store
from webapp.spots import pages
from webapp.spots.wording import forgiving, settled_words


@pages.get("/spots/<int:spot_id>/times")
@pages.get("/spots/<int:spot_id>/times.json", endpoint="times_json")
def times(spot_id: int) -> Response:
    return _times(spot_id, get_spot(store(), spot_id).looking_deg)


@pages.get("/times")
@pages.get("/times.json", endpoint="times_everywhere_json")
def times_everywhere() -> Response:
    return _times(None, None)


def _times(spot_id: int | None, usual_looking_deg: float | None) -> Response:
    if elsewhere := settled_words(usual_looking_deg, days=days_text(request.args.getlist("days"))):
        return elsewhere

    def work(asked: Mapping[str, str]) -> TimesPage:
        return booking_times(store(), spot_id, asked, now())

    page, problems = forgiving(work, request.args)
    shown = {"problems": problems, "wants": WANTS, "weekdays": WEEKDAYS}
    return answer("times.html", page, status=422 if problems else 200, **shown)
