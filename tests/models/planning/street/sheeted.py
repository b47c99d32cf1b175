"""A workshop on a quay with its hazards sheet, typed as on its page."""

from __future__ import annotations

from datetime import UTC, datetime

from models.planning.street.hazards import keep_sheet
from models.planning.street.hazards_form import read_sheet_form
from models.planning.street.hazards_page import hazards_page
from models.rules.workshop import WorkshopDraft
from models.store import rules
from tests.models.planning.grounds import stand

NOW = datetime(2026, 10, 17, 14, 40, tzinfo=UTC)
STARTS, ENDS = datetime(2026, 10, 31, 16, 0, tzinfo=UTC), datetime(2026, 10, 31, 18, 0, tzinfo=UTC)


def planned(plans, starts, ends):
    spot = stand(plans, "Quay", hazards="Open water without a rail", looking_deg=250.0)
    with plans.writing() as s:
        return rules.add_workshop(s, WorkshopDraft(title="Evening", spot_id=spot.id, starts=starts, ends=ends)).id


def form_of(plans, workshop, **changes):
    return dict(hazards_page(plans, workshop, NOW).form) | changes


def kept(plans, workshop, version=0, **changes):
    return keep_sheet(plans, read_sheet_form(form_of(plans, workshop, **changes), workshop), version)


def keys(lines):
    return [line.key for line in lines]
