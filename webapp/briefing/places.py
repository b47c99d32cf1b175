"""The workshop for other programs: its places as GPX and GeoJSON for the organiser, and each reader's calendar."""

from __future__ import annotations

from flask import Response, make_response, request

from models.planning.briefing.calendar import reader_calendar
from models.planning.briefing.place_files import places_as_geojson, places_as_gpx
from models.problems import InputProblem
from models.workshop.briefing import READERS, Reader
from webapp.answering import geojson, now, store
from webapp.briefing import pages


@pages.get("/workshops/<int:workshop_id>/places.gpx")
def gpx(workshop_id: int) -> Response:
    return _file(places_as_gpx(store(), workshop_id, now()), "application/gpx+xml", f"workshop-{workshop_id}.gpx")


@pages.get("/workshops/<int:workshop_id>/places.geojson")
def places(workshop_id: int) -> Response:
    return geojson(places_as_geojson(store(), workshop_id, now()))


@pages.get("/workshops/<int:workshop_id>/workshop.ics")
def calendar(workshop_id: int) -> Response:
    """What calendars import, and import again later on. Raises InputProblem('for', ...) for an unknown reader."""
    reader = _reader(request.args.get("for") or request.args.get("reader") or READERS[0])
    made = reader_calendar(store(), workshop_id, reader, now())
    return _file(made.file, "text/calendar; charset=utf-8", f"workshop-{workshop_id}-{reader}.ics")


def _reader(typed: str) -> Reader:
    found = next((reader for reader in READERS if reader == typed), None)
    if found is None:
        raise InputProblem("for", f"is one of {', '.join(READERS)}.")
    return found


def _file(data: bytes, kind: str, name: str) -> Response:
    response = make_response(data)
    response.headers["Content-Type"] = kind
    response.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return response
