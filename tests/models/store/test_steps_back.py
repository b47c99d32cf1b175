"""A step of an enquiry is taken back: what it changed is as before, what was changed since stays."""

from __future__ import annotations

from dataclasses import fields, replace
from datetime import UTC, date, datetime, time

import pytest

from models.problems import InputProblem
from models.rules.enquiry import EnquiryDraft
from models.store.rules import add_enquiry, change_enquiry, history_of, may_go_back, move_enquiry, take_back
from models.store.spots import add_spot
from models.store.versions import Clash

NOW = datetime(2026, 10, 17, 14, 40, tzinfo=UTC)
ASKED = EnquiryDraft(
    to_whom="Harbour office",
    spot_id=1,
    activities=("stand_ground", "group"),
    first_day=date(2026, 11, 7),
    last_day=date(2026, 11, 7),
    from_time=time(17),
    to_time=time(19),
    people=12,
    state="asked",
    sent_on=date(2026, 10, 1),
)
NARROWED = {"activities": ("group",), "people": 9, "from_time": time(18), "valid_to": date(2026, 11, 30)}
GRANTED = replace(ASKED, state="granted", answered_on=date(2026, 10, 16), reference="H 17", **NARROWED)


@pytest.fixture(autouse=True)
def harbour_corner(store, foundry_lane):
    with store.writing() as s:
        assert add_spot(s, foundry_lane).id == ASKED.spot_id


def draft_of(enquiry):
    return EnquiryDraft(**{each.name: getattr(enquiry, each.name) for each in fields(EnquiryDraft)})


def test_a_grant_taken_back_is_the_question_as_it_was_asked(store):
    with store.writing() as s:
        enquiry = add_enquiry(s, ASKED, now=NOW)
        assert not may_go_back(s, enquiry.id)
        granted = move_enquiry(s, enquiry.id, 1, GRANTED, note="by letter", now=NOW)
        assert may_go_back(s, enquiry.id)
        back = take_back(s, enquiry.id, granted.version, now=NOW)
        assert draft_of(back) == ASKED
        assert [(step.state, step.note) for step in history_of(s, enquiry.id)] == [
            ("asked", ""),
            ("granted", "by letter"),
            ("asked", "granted was taken back"),
        ]
        assert not may_go_back(s, enquiry.id)


def test_what_was_changed_since_stays(store):
    with store.writing() as s:
        enquiry = add_enquiry(s, ASKED, now=NOW)
        granted = move_enquiry(s, enquiry.id, 1, GRANTED, now=NOW)
        change_enquiry(s, enquiry.id, granted.version, replace(GRANTED, notes="ring before noon", reference="H 18"))
        back = take_back(s, enquiry.id, granted.version + 1, now=NOW)
    assert draft_of(back) == replace(ASKED, notes="ring before noon")


def test_with_no_step_there_is_nothing_to_take_back(store):
    with store.writing() as s:
        enquiry = add_enquiry(s, ASKED, now=NOW)
        with pytest.raises(InputProblem, match="no step to take back"):
            take_back(s, enquiry.id, 1, now=NOW)


def test_a_step_that_somebody_else_took_meanwhile_is_not_taken_back(store):
    with store.writing() as s:
        enquiry = add_enquiry(s, ASKED, now=NOW)
        move_enquiry(s, enquiry.id, 1, GRANTED, now=NOW)
    with pytest.raises(Clash), store.writing() as s:
        take_back(s, enquiry.id, 1, now=NOW)
