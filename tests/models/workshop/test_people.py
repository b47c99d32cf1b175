"""What is open of people, how the group is counted, and when what is personal goes."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.workshop.people import emptied, erase_day, headcount, open_of
from models.workshop.person import PERSONAL, PersonDraft, ReleaseDraft, checked_person

DAY = date(2026, 10, 31)
ANA = PersonDraft(workshop_id=1, part="attendee", name="Ana")
MODEL = PersonDraft(workshop_id=1, part="model", name="M.L.", adult="yes", picture_consent="yes")
PAPER = ReleaseDraft(workshop_id=1, person_id=1, signed_on=DAY, by_whom="M.L.", for_whom="M.L.", uses=("web",))
GUARDED = replace(MODEL, adult="no", guardian="Rosa", guardian_consent="yes", guardian_present="no")


def keys(person, releases=(PAPER,), *, over=False):
    return [item.key for item in open_of(person, releases, DAY, over=over)]


@pytest.mark.parametrize(
    ("changes", "releases", "open_"),
    [
        ({}, (PAPER,), []),
        ({}, (), ["release"]),
        ({"adult": "open"}, (), ["adult", "release"]),
        ({"picture_consent": "no"}, (PAPER,), ["pictures_refused"]),
        ({"adult": "no"}, (), ["guardian", "guardian_consent", "guardian_present", "release"]),
        ({"adult": "no"}, (PAPER,), ["guardian", "guardian_consent", "guardian_present", "release_guardian"]),
        ({"adult": "no"}, (replace(PAPER, by_whom="Rosa"),), ["guardian", "guardian_consent", "guardian_present"]),
    ],
)  # fmt: skip
def test_of_a_model_consent_and_release_are_open_until_done(changes, releases, open_):
    assert keys(replace(MODEL, **changes), releases) == open_


def test_a_guardian_who_consents_leaves_nothing_open_and_one_who_does_not_stays_so():
    signed = (replace(PAPER, by_whom="Rosa"),)
    assert keys(GUARDED, signed) == []
    assert keys(replace(GUARDED, guardian_consent="no"), signed) == ["consent_refused"]


def test_of_an_attendee_nothing_is_asked_until_they_stand_in():
    assert keys(ANA, ()) == []
    assert keys(replace(ANA, stands_in=True), ()) == ["adult", "release"]


def test_what_is_owed_is_open_once_it_is_over_until_it_is_done():
    owed = replace(MODEL, owed_fee="50 EUR", owed_pictures=5)
    assert keys(owed) == ["owed_how"]
    assert keys(owed, over=True) == ["owed_how", "pictures", "money"]
    settled = replace(owed, owed_from="Ana", owed_by=date(2026, 11, 20), owed_route="e-mail")
    assert [(item.key, item.by) for item in open_of(settled, (PAPER,), DAY, over=True)] == [
        ("pictures", date(2026, 11, 20)), ("money", None),
    ]  # fmt: skip
    assert keys(replace(settled, delivered_on=DAY, paid_on=DAY), over=True) == []


def test_everyone_who_stands_there_is_counted_once():
    people = [ANA, replace(ANA, stands_in=True), MODEL, replace(ANA, part="helper"),
              replace(GUARDED, guardian_present="yes"), replace(GUARDED, guardian_present="open"), GUARDED,
              replace(ANA, adult="no", guardian_present="yes")]  # fmt: skip
    count = headcount(people)
    assert (count.attendees, count.models, count.helpers, count.standing_in) == (3, 4, 1, 1)
    assert (count.guardians, count.guardians_open) == (1, 1)
    assert (count.group, count.before_camera) == (10, 5)  # eight, one guardian, the organiser


def test_a_day_of_ones_own_comes_before_the_setting():
    assert erase_day(ANA, DAY, 30) == date(2026, 11, 30)
    assert erase_day(replace(ANA, erase_after=date(2026, 11, 1)), DAY, 30) == date(2026, 11, 1)


@given(st.builds(
    PersonDraft, workshop_id=st.just(7), part=st.sampled_from(["attendee", "model", "helper"]), name=st.just("Zebedee"),
    **{field: st.just(f"{field} of Zebedee") for field in (
        "contact", "emergency_contact", "access_needs", "experience", "camera_system", "guardian", "owed_fee",
        "owed_travel", "owed_from", "owed_route", "notes",
    )},
    stands_in=st.booleans(), adult=st.sampled_from(["open", "yes", "no"]), owed_pictures=st.just(5),
    owed_by=st.dates(), erase_after=st.dates(),
))  # fmt: skip
def test_an_erased_person_is_empty_but_for_part_and_place(person):
    gone = replace(person, **emptied(DAY))
    assert "Zebedee" not in repr(gone)
    assert gone == PersonDraft(
        workshop_id=7, part=person.part, name="erased", stands_in=person.stands_in, erased_on=DAY
    )
    assert open_of(gone, (), DAY, over=True) == ()
    assert checked_person(gone).name == "erased"


def test_every_text_of_a_person_is_personal():
    texts = {name for name, kind in PersonDraft.__annotations__.items() if "str" in kind}
    assert texts <= set(PERSONAL)
