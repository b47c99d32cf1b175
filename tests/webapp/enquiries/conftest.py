"""Foundry Lane under an area with rules, a workshop there, and an enquiry about it."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time

import pytest

from models.rules.enquiry import EnquiryDraft
from models.rules.footprint import Doing
from models.rules.workshop import WorkshopDraft
from models.store import rules as kept
from tests.databases import filled
from tests.webapp.conftest import NOW
from tests.webapp.streets import keep_streets

WORKSHOP = WorkshopDraft(
    title="Evening light",
    spot_id=1,
    starts=datetime(2026, 10, 31, 16, 0, tzinfo=UTC),
    ends=datetime(2026, 10, 31, 17, 30, tzinfo=UTC),
    doing=Doing(group=9, models=1, stand_ground=0, stand_held=1, flash_held=1),
    width_left_m=1.8,
)
ENQUIRY = EnquiryDraft(
    to_whom="Highways office",
    area_id=1,
    workshop_id=1,
    contact="Permits, permits@streets.example",
    activities=("group", "teaching"),
    first_day=date(2026, 10, 31),
    last_day=date(2026, 10, 31),
    from_time=time(17),
    to_time=time(18, 30),
    people=9,
)
ASKED = replace(ENQUIRY, state="asked", sent_on=date(2026, 10, 1))
GRANTED = replace(ASKED, state="granted", answered_on=date(2026, 10, 15), reference="H 17")


@pytest.fixture(scope="session")
def streets_once(spots_once, tmp_path_factory):
    def fill(store):
        keep_streets(store)
        with store.writing() as s:
            kept.add_workshop(s, WORKSHOP)

    return filled(spots_once, tmp_path_factory.mktemp("streets"), fill)


@pytest.fixture
def begun(request, spots_once, streets_once):
    """Streets for those who ask for them."""
    return streets_once if "streets" in request.fixturenames else spots_once


@pytest.fixture
def streets(store):
    """Area 1 over spot 1, and workshop 1 there."""
    return store


@pytest.fixture
def planned(streets):
    return keep(streets, ENQUIRY)


@pytest.fixture
def asked(streets):
    return keep(streets, ASKED)


def keep(store, draft):
    with store.writing() as s:
        return kept.add_enquiry(s, draft, now=NOW)


def now_kept(store, number=1):
    with store.reading() as s:
        return kept.get_enquiry(s, number)


def history(store, number=1):
    with store.reading() as s:
        return [(step.state, step.note) for step in kept.history_of(s, number)]
