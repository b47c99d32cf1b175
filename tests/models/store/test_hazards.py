"""Hazards sheets: kept with their workshop, the latest one holds, gone with it."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from models.problems import InputProblem
from models.rules.workshop import WorkshopDraft
from models.store import rules
from models.store.hazards import Looked, SheetDraft, TypedHour, sheet_of, shelf
from models.store.spots import add_spot
from models.street.spot import SpotDraft
from models.workshop.hazards import HazardLine

NOW = datetime(2026, 10, 17, 14, 40, tzinfo=UTC)
LINE = HazardLine(key="wind", what=" Wind ", done="Weight", who="Bo", is_done=True, rests="always")


@pytest.fixture
def workshop(store):
    with store.writing() as s:
        spot = add_spot(s, SpotDraft(name="Lane", latitude_deg=52.5, longitude_deg=5.2, zone="UTC"))
        draft = WorkshopDraft(title="Evening", spot_id=spot.id, starts=NOW, ends=NOW + timedelta(hours=1))
        return rules.add_workshop(s, draft).id


def test_a_sheet_comes_back_as_it_was_kept(store, workshop):
    draft = SheetDraft(
        workshop_id=workshop,
        lines=(LINE,),
        first_aider=" Ida ",
        looked=Looked(water=False),
        hour=TypedHour(gust_m_s=9.0),
    )
    with store.writing() as s:
        shelf.add(s, draft)
        back = sheet_of(s, workshop)
        assert sheet_of(s, workshop + 1) is None
    assert (back.lines[0].what, back.lines[0].is_done, back.first_aider) == ("Wind", True, "Ida")
    assert (back.looked, back.hour) == (draft.looked, draft.hour)


def test_it_goes_when_its_workshop_goes_for_good(store, workshop):
    with store.writing() as s:
        shelf.add(s, SheetDraft(workshop_id=workshop, lines=()))
        rules.delete_workshop(s, workshop, 1, now=NOW)
        assert sheet_of(s, workshop) is not None
        rules.workshops.shelf.purge(s, now=NOW + timedelta(days=31))
        assert sheet_of(s, workshop) is None


@pytest.mark.parametrize(
    ("field", "changes"),
    [("oktas", {"hour": TypedHour(oktas=9)}), ("gust_m_s", {"hour": TypedHour(wind_m_s=9, gust_m_s=2)}),
     ("lines 1", {"lines": (HazardLine(what=" ", done="", who=""),)}), ("workshop_id", {"workshop_id": 99})],
)  # fmt: skip
def test_what_cannot_be_meant_is_refused_by_its_field(store, workshop, field, changes):
    given = {"workshop_id": workshop, "lines": (LINE,)} | changes
    with store.writing() as s, pytest.raises(InputProblem) as problem:
        shelf.add(s, SheetDraft(**given))
    assert problem.value.field == field
