"""An enquiry's history, and the files that came with its answer."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
import sqlalchemy as sa

from models.problems import InputProblem
from models.rules.enquiry import NEXT, STATES, EnquiryDraft, Step
from models.store.rules import (
    StoredFile,
    add_enquiry,
    change_enquiry,
    delete_enquiry,
    delete_file,
    enquiries_for,
    file_of,
    files_of,
    history_of,
    list_enquiries,
    move_enquiry,
    restore_enquiry,
    store_file,
)
from models.store.rules.tables import files, steps
from models.store.spots import add_spot
from models.store.versions import Clash, Missing
from tests.models.store.rules_drafts import NOON

PDF = b"%PDF-1.7 " + bytes(range(256))
SENT, ANSWERED = date(2026, 10, 1), date(2026, 10, 9)
PLANNED = EnquiryDraft(to_whom="Harbour office", spot_id=1, first_day=date(2026, 11, 7))


def in_state(state):
    return replace(PLANNED, state=state, sent_on=SENT, answered_on=ANSWERED)


@pytest.fixture(autouse=True)
def harbour_corner(store, foundry_lane):
    with store.writing() as s:
        assert add_spot(s, foundry_lane).id == PLANNED.spot_id


def test_each_state_it_goes_to_is_a_step_with_its_note(store):
    later = NOON + timedelta(days=3)
    with store.writing() as s:
        enquiry = add_enquiry(s, PLANNED, note="as last year", now=NOON)
        asked = move_enquiry(s, enquiry.id, 1, in_state("asked"), note="by mail", now=later)
        granted = move_enquiry(s, enquiry.id, asked.version, in_state("granted"), now=later)
        assert granted.version == 3
    with store.reading() as s:
        assert history_of(s, enquiry.id) == (
            Step(NOON, "planned", "as last year"),
            Step(later, "asked", "by mail"),
            Step(later, "granted", ""),
        )


def test_a_change_that_goes_nowhere_is_no_step_but_a_note_is(store):
    with store.writing() as s:
        enquiry = add_enquiry(s, PLANNED, now=NOON)
        changed = change_enquiry(s, enquiry.id, 1, replace(PLANNED, notes="ring first"), now=NOON)
        noted = move_enquiry(s, enquiry.id, 2, replace(PLANNED, notes="ring first"), note="nobody there", now=NOON)
        assert (changed.notes, noted.version) == ("ring first", 3)
        assert [step.note for step in history_of(s, enquiry.id)] == ["", "nobody there"]


@pytest.mark.parametrize("before", STATES)
@pytest.mark.parametrize("after", STATES)
def test_a_state_leads_only_where_it_can(store, before, after):
    with store.writing() as s:
        enquiry = add_enquiry(s, in_state(before), now=NOON)
    if after == before or after in NEXT[before]:
        with store.writing() as s:
            assert move_enquiry(s, enquiry.id, 1, in_state(after), now=NOON).state == after
    else:
        with pytest.raises(InputProblem, match=f"state: from {before} it can go to"), store.writing() as s:
            move_enquiry(s, enquiry.id, 1, in_state(after), now=NOON)
        with store.reading() as s:
            assert list_enquiries(s) == (enquiry,)
            assert len(history_of(s, enquiry.id)) == 1


def test_a_move_from_an_older_version_clashes_and_leaves_no_step(store):
    with store.writing() as s:
        enquiry = add_enquiry(s, PLANNED, now=NOON)
        change_enquiry(s, enquiry.id, 1, replace(PLANNED, people=9))
    with pytest.raises(Clash), store.writing() as s:
        move_enquiry(s, enquiry.id, 1, in_state("asked"), note="by mail")
    with store.reading() as s:
        assert len(history_of(s, enquiry.id)) == 1


def test_listed_by_state_and_first_day_those_without_one_last(store):
    days = (date(2026, 12, 1), None, date(2026, 11, 1))
    with store.writing() as s:
        last, dayless, first = (add_enquiry(s, replace(PLANNED, first_day=day)) for day in days)
        asked = add_enquiry(s, replace(in_state("asked"), first_day=date(2026, 1, 1)))
        assert list_enquiries(s) == (asked, first, last, dayless)
        assert list_enquiries(s, "asked") == (asked,)
        assert enquiries_for(s, (), 1) == (asked, first, last, dayless)
        assert enquiries_for(s, (7,), None) == ()


def test_a_file_comes_back_byte_for_byte(store):
    with store.writing() as s:
        enquiry = add_enquiry(s, PLANNED)
        note = store_file(s, enquiry.id, "grant.pdf", "application/pdf", PDF, now=NOON)
        other = store_file(s, enquiry.id, "plan.png", "image/png", b"x", now=NOON)
    with store.reading() as s:
        assert files_of(s, enquiry.id) == (note, other)
        assert file_of(s, note.id) == StoredFile(
            id=note.id,
            enquiry_id=enquiry.id,
            added_at=NOON,
            name="grant.pdf",
            kind="application/pdf",
            size_bytes=len(PDF),
            data=PDF,
        )


def test_a_deleted_file_is_gone_and_its_number_with_it(store):
    with store.writing() as s:
        enquiry = add_enquiry(s, PLANNED)
        note = store_file(s, enquiry.id, "grant.pdf", "application/pdf", PDF)
        delete_file(s, note.id)
        assert files_of(s, enquiry.id) == ()
        for act in (file_of, delete_file):
            with pytest.raises(Missing, match="no file"):
                act(s, note.id)
        assert store_file(s, enquiry.id, "grant.pdf", "application/pdf", PDF).id > note.id


def test_a_file_goes_and_comes_back_with_its_enquiry(store):
    with store.writing() as s:
        enquiry = add_enquiry(s, PLANNED)
        note = store_file(s, enquiry.id, "grant.pdf", "application/pdf", PDF)
        delete_enquiry(s, enquiry.id, 1, now=NOON)
        with pytest.raises(Missing):
            file_of(s, note.id)
        with pytest.raises(Missing):
            store_file(s, enquiry.id, "late.pdf", "application/pdf", PDF)
        restore_enquiry(s, enquiry.id)
        assert file_of(s, note.id).data == PDF


def test_files_and_steps_are_thrown_away_with_their_enquiry(store):
    with store.writing() as s:
        enquiry, other = add_enquiry(s, PLANNED), add_enquiry(s, PLANNED)
        store_file(s, enquiry.id, "grant.pdf", "application/pdf", PDF)
        delete_enquiry(s, enquiry.id, 1, now=NOON - timedelta(days=31))
        delete_enquiry(s, other.id, 1, now=NOON)
        assert s.scalar(sa.select(sa.func.count()).select_from(files)) == 0
        assert s.scalars(sa.select(steps.c.enquiry_id)).all() == [other.id]


@pytest.mark.parametrize("number", [0, 999, 2**31, 10**30])
def test_a_file_that_nobody_kept_is_missing(store, number):
    with store.writing() as s:
        for act in (file_of, delete_file):
            with pytest.raises(Missing):
                act(s, number)
        with pytest.raises(Missing):
            store_file(s, number, "a.pdf", "application/pdf", PDF)
