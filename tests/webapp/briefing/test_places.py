"""The workshop for other programs: files with their own media types, and each reader's calendar."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import gpxpy
import pytest

from models.rules.footprint import Doing
from models.rules.workshop import WorkshopDraft
from models.store.rules import add_workshop
from models.store.spots import add_spot
from models.street.spot import SpotDraft
from tests.models.exchange.calendar_rules import read_calendar
from tests.webapp.conftest import HOSTILE, ZONE

DRAFT = WorkshopDraft(
    title=HOSTILE,
    spot_id=1,
    starts=datetime(2026, 10, 31, 15, 0, tzinfo=UTC),
    ends=datetime(2026, 10, 31, 17, 0, tzinfo=UTC),
    doing=Doing(group=9, models=1, stand_held=1, flash_held=1),
    meeting_point=(52.5299, 5.2301),
)


@pytest.fixture
def evening(store):
    with store.writing() as s:
        wild = add_spot(s, SpotDraft(name=HOSTILE, latitude_deg=52.5307, longitude_deg=5.2290, zone=ZONE))
        quay = add_spot(s, SpotDraft(name="Old quay", latitude_deg=52.5288, longitude_deg=5.2275, zone=ZONE))
        return add_workshop(s, replace(DRAFT, spot_id=wild.id, fallback_spot_id=quay.id)).id


def test_gpx_has_its_media_type_and_opens(client, evening):
    answer = client.get(f"/workshops/{evening}/places.gpx")
    assert (answer.status_code, answer.mimetype) == (200, "application/gpx+xml")
    assert answer.headers["Content-Disposition"] == f'attachment; filename="workshop-{evening}.gpx"'
    read = gpxpy.parse(answer.data)
    assert [each.name for each in read.waypoints] == ["Meeting point: 52.529900, 5.230100", HOSTILE, "Old quay"]
    assert len(read.routes) == 2


def test_geojson_is_of_the_same_places(client, evening):
    answer = client.get(f"/workshops/{evening}/places.geojson")
    assert (answer.status_code, answer.mimetype) == (200, "application/geo+json")
    kinds = [feature["properties"]["kind"] for feature in answer.json["features"]]
    assert kinds == ["meeting", "spot", "fallback", "walk", "to fallback"]
    assert answer.json["features"][0]["geometry"] == {"type": "Point", "coordinates": [5.2301, 52.5299]}


@pytest.mark.parametrize(("asked", "reader"), [("", "attendee"), ("?for=model", "model"), ("?for=helper", "helper")])
def test_each_reader_has_a_calendar(client, evening, asked, reader):
    answer = client.get(f"/workshops/{evening}/workshop.ics{asked}")
    assert (answer.status_code, answer.headers["Content-Type"]) == (200, "text/calendar; charset=utf-8")
    assert answer.headers["Content-Disposition"].endswith(f'workshop-{evening}-{reader}.ics"')
    assert HOSTILE in read_calendar(answer.data).parts[-1]["SUMMARY"]


def test_nobody_else_reads_it(client, evening):
    answer = client.get(f"/workshops/{evening}/workshop.ics?for=guard")
    assert answer.status_code in (400, 422)
    assert "attendee, model, helper" in answer.text


@pytest.mark.parametrize("file", ["places.gpx", "places.geojson", "workshop.ics"])
def test_there_is_none_of_a_workshop_that_is_not_there(client, file):
    assert client.get(f"/workshops/77/{file}").status_code == 404


def test_the_briefing_page_leads_to_them(client):
    page = client.get("/workshops/1/briefing").text
    for reader in ("attendee", "model", "helper"):
        assert f'href="/workshops/1/workshop.ics?reader={reader}"' in page
    assert page.count('href="/workshops/1/places.gpx"') == page.count('href="/workshops/1/places.geojson"') == 1
