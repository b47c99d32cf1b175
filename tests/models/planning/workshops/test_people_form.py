"""Forms of people and releases: what is kept is shown, and read back it is the same."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.planning.workshops.people_form import (
    new_person_form,
    new_release_form,
    person_form_of,
    read_person_form,
    read_release_form,
    release_form_of,
    understood_person,
)
from models.problems import InputProblem, InputProblems
from models.workshop.person import USES, PersonDraft, ReleaseDraft, checked_person, checked_release

TODAY = date(2026, 10, 17)
ASKED = st.sampled_from(["open", "yes", "no"])
PAST = st.none() | st.dates(date(1990, 1, 1), TODAY)
DAYS = st.none() | st.dates(date(1990, 1, 1), date(2090, 1, 1))
TEXT = st.text(st.characters(codec="utf-8", exclude_categories=["Cc"]), max_size=40)


@given(st.builds(
    PersonDraft, workshop_id=st.just(3), part=st.sampled_from(["attendee", "model", "helper"]),
    name=TEXT.filter(str.strip), contact=TEXT, emergency_contact=TEXT, access_needs=TEXT, experience=TEXT,
    camera_system=TEXT, picture_consent=ASKED, stands_in=st.booleans(), adult=ASKED, guardian=TEXT,
    guardian_consent=ASKED, guardian_present=ASKED, owed_fee=TEXT, owed_travel=TEXT, paid_on=PAST,
    owed_pictures=st.none() | st.integers(1, 1000), owed_from=TEXT, owed_by=DAYS, owed_route=TEXT, delivered_on=PAST,
    notes=TEXT, erase_after=DAYS,
))  # fmt: skip
def test_a_person_is_read_back_from_their_form(draft):
    try:
        person = checked_person(draft)
    except InputProblem:
        with pytest.raises(InputProblems):
            read_person_form(person_form_of(draft), 3, TODAY)
    else:
        assert read_person_form(person_form_of(person), 3, TODAY) == person


@given(st.builds(
    ReleaseDraft, workshop_id=st.just(3), person_id=st.just(4), signed_on=PAST.filter(bool),
    by_whom=TEXT.filter(str.strip), for_whom=TEXT.filter(str.strip), uses=st.sets(st.sampled_from(USES)).map(tuple),
    lies_at=TEXT, keep_until=DAYS,
))  # fmt: skip
def test_a_release_is_read_back_from_its_form(draft):
    try:
        release = checked_release(draft)
    except InputProblem:
        with pytest.raises(InputProblems):
            read_release_form(release_form_of(draft), 3, 4, TODAY)
    else:
        assert read_release_form(release_form_of(release), 3, 4, TODAY) == release


def test_every_problem_is_named_at_once():
    form = {"name": "", "part": "boss", "adult": "?", "owed_pictures": "-3", "owed_by": "soon", "contact": "c" * 300}
    with pytest.raises(InputProblems) as problems:
        read_person_form(form, 3, TODAY)
    assert set(problems.value.by_field) == set(form)


def test_a_new_form_is_that_of_the_part_asked_for():
    assert new_person_form("model")["part"] == "model"
    assert new_person_form("<b>")["part"] == "attendee"
    under = PersonDraft(workshop_id=3, part="model", name="M.L.", adult="no", guardian="Rosa")
    assert new_release_form(under, TODAY)["by_whom"] == "Rosa"


def test_the_day_understood_is_said():
    assert understood_person({"owed_by": "17.11.2026", "paid_on": "soon"}, TODAY) == {
        "owed_by": "Tuesday 17 November 2026"
    }
