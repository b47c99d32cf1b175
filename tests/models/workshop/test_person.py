"""People as typed: what is tidied, what is refused, and the record a stand-in model needs first."""

from __future__ import annotations

from dataclasses import fields, replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.problems import InputProblem
from models.workshop.person import (
    PERSON_CHECKS,
    RELEASE_CHECKS,
    PersonDraft,
    ReleaseDraft,
    checked_person,
    checked_release,
    lacking_to_stand_in,
)

ANA = PersonDraft(workshop_id=1, part="attendee", name="Ana")
PAPER = ReleaseDraft(
    workshop_id=1, person_id=1, signed_on=date(2026, 10, 1), by_whom="Ana", for_whom="Ana", uses=("web",)
)


def test_texts_are_trimmed_and_lines_made_one():
    person = checked_person(replace(ANA, name="  Ana \n R. ", notes=" one\ntwo ", contact="555\t0100"))
    assert (person.name, person.notes, person.contact) == ("Ana R.", "one\ntwo", "555 0100")
    assert checked_release(replace(PAPER, uses=("web", "portfolio", "web"))).uses == ("portfolio", "web")


def test_every_field_has_its_check():
    assert set(PERSON_CHECKS) == {field.name for field in fields(PersonDraft)} - {"workshop_id"}
    assert set(RELEASE_CHECKS) == {field.name for field in fields(ReleaseDraft)} - {"workshop_id", "person_id"}


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("name", " "), ("name", "x" * 121), ("name", "a\x07b"), ("name", "a\x00"), ("name", None), ("name", "\ud800"),
        ("part", "boss"), ("part", None), ("adult", ""), ("guardian_consent", True), ("stands_in", "yes"),
        ("contact", "9" * 201), ("notes", "n" * 4001), ("owed_pictures", -1), ("owed_pictures", 1001),
        ("owed_pictures", True), ("owed_pictures", 2.5), ("owed_by", "2026-10-17"), ("erase_after", date(1800, 1, 1)),
        ("erased_on", date(2200, 1, 1)),
    ],
)  # fmt: skip
def test_what_cannot_be_meant_is_refused_by_its_field(field, value):
    with pytest.raises(InputProblem) as problem:
        checked_person(replace(ANA, **{field: value}))
    assert problem.value.field == field


@pytest.mark.parametrize(
    ("field", "value"),
    [("signed_on", None), ("by_whom", ""), ("for_whom", " "), ("uses", ()), ("uses", ("billboard",)), ("uses", "web"),
     ("lies_at", "x" * 201), ("keep_until", date(2026, 9, 30))],
)  # fmt: skip
def test_a_release_is_refused_by_its_field(field, value):
    with pytest.raises(InputProblem) as problem:
        checked_release(replace(PAPER, **{field: value}))
    assert problem.value.field == field


def test_a_stand_in_needs_age_and_agreement_and_under_age_a_guardian_who_consents():
    stands = replace(ANA, stands_in=True)
    assert set(lacking_to_stand_in(stands)) == {"adult", "picture_consent"}
    under = replace(stands, adult="no", picture_consent="yes")
    assert set(lacking_to_stand_in(under)) == {"guardian", "guardian_consent"}
    assert lacking_to_stand_in(replace(under, guardian="Rosa", guardian_consent="yes")) == {}
    assert lacking_to_stand_in(replace(stands, adult="yes", picture_consent="yes")) == {}
    with pytest.raises(InputProblem):
        checked_person(stands)


def test_a_model_needs_not_stand_in():
    model = checked_person(replace(ANA, part="model", stands_in=True))
    assert (model.stands_in, model.models) == (False, True)


@given(st.builds(
    PersonDraft, workshop_id=st.just(1), part=st.sampled_from(["attendee", "model", "helper"]), name=st.text(),
    contact=st.text(), notes=st.text(), owed_pictures=st.none() | st.integers(-5, 2000), owed_by=st.none() | st.dates(),
))  # fmt: skip
def test_what_is_checked_once_stays_as_it_is(draft):
    good, refused = None, ""
    try:
        good = checked_person(draft)
    except InputProblem as problem:
        refused = problem.field
    assert refused in PERSON_CHECKS if good is None else checked_person(good) == good
