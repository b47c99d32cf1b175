"""What a grant covers, and who controls two places."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time, timedelta

import pytest
from hypothesis import given

from models.rules.coverage import differences, same_guard
from models.rules.hours import Span, fills
from tests.models.rules.making import DAY, FOOTPRINTS, area, enquiries, enquiry, footprint

FULL = enquiry()
THERE = "you are there 17:00 to 19:00"
COME = "you come on Saturday 18 July 2026"


def test_a_grant_that_names_all_of_it_lacks_nothing():
    assert differences(FULL, footprint(), "stand_ground") == ()


@pytest.mark.parametrize(
    ("noted", "words"),
    [
        ({"activities": ("tripod",)}, "it does not name stand on the ground"),
        ({"activities": ()}, "it does not name stand on the ground"),
        ({"first_day": None, "last_day": None}, f"it names no days, {COME}"),
        ({"first_day": None}, f"it names no first day, {COME}"),
        ({"last_day": None}, f"it names no last day, {COME}"),
        ({"first_day": date(2026, 7, 4), "last_day": date(2026, 7, 4)}, f"it covers Saturday 4 July 2026, {COME}"),
        (
            {"first_day": date(2026, 7, 19), "last_day": date(2026, 7, 25)},
            f"it covers Sunday 19 July 2026 to Saturday 25 July 2026, {COME}",
        ),
        ({"valid_from": date(2026, 7, 19)}, f"it is valid from Sunday 19 July 2026, {COME}"),
        ({"valid_to": date(2026, 7, 17)}, f"it is valid to Friday 17 July 2026, {COME}"),
        ({"from_time": None, "to_time": None}, f"it names no hours from set-up to packed up, {THERE}"),
        ({"to_time": None}, f"it names no hours from set-up to packed up, {THERE}"),
        ({"from_time": time(17, 1)}, f"it covers 17:01 to 19:30, {THERE}"),
        ({"to_time": time(18, 59)}, f"it covers 16:30 to 18:59, {THERE}"),
        ({"people": None}, "it names no number of people, you are 9"),
        ({"people": 6}, "it covers 6 people, you are 9"),
        ({"people": 1}, "it covers 1 person, you are 9"),
    ],
)
def test_each_difference_has_both_figures_in_words(noted, words):
    assert differences(replace(FULL, **noted), footprint(), "stand_ground") == (words,)


@pytest.mark.parametrize(
    "noted",
    [
        {"people": 9},
        {"from_time": time(17), "to_time": time(19)},
        {"first_day": DAY - timedelta(days=9), "last_day": DAY},
        {"first_day": DAY, "last_day": DAY + timedelta(days=9)},
        {"valid_from": DAY, "valid_to": DAY},
        {"activities": ("stand_ground",)},
        {"from_time": time(), "to_time": time()},
    ],
)
def test_the_limits_themselves_are_covered(noted):
    assert differences(replace(FULL, **noted), footprint(), "stand_ground") == ()


def test_all_but_the_activity():
    few = replace(FULL, activities=(), people=6)
    assert differences(few, footprint()) == ("it covers 6 people, you are 9",)
    assert differences(few, footprint(), "group")[0] == "it does not name group of people"


def test_people_are_counted_whichever_the_activity():
    """The number is of everyone standing there, also for a grant that speaks of one stand."""
    few = replace(FULL, people=6)
    for activity in ("stand_ground", "group", "teaching"):
        assert differences(few, footprint(teaching=True), activity) == ("it covers 6 people, you are 9",)


def test_hours_over_midnight():
    late = footprint(starts="22:30", ends="00:30")
    night = replace(FULL, from_time=time(22), to_time=time(1))
    assert differences(night, late, "group") == ()
    assert differences(replace(night, to_time=time(0, 15)), late, "group") == (
        "it covers 22:00 to 00:15, you are there 22:30 to 00:30 on Sunday 19 July 2026",
    )
    early = footprint(starts="00:15", ends="00:45")
    assert differences(night, early, "group") == ("it covers 22:00 to 01:00, you are there 00:15 to 00:45",)
    assert differences(replace(night, first_day=DAY - timedelta(days=1)), early, "group") == ()


def test_several_differences_are_all_told():
    other = replace(FULL, people=6, first_day=date(2026, 7, 4), last_day=date(2026, 7, 4), from_time=time(18))
    assert differences(other, footprint(), "stand_ground") == (
        f"it covers Saturday 4 July 2026, {COME}",
        f"it covers 18:00 to 19:30, {THERE}",
        "it covers 6 people, you are 9",
    )


@given(enquiries(), FOOTPRINTS)
def test_nothing_is_covered_that_is_not_named(asked, visit):
    if differences(asked, visit, "stand_ground") == ():
        assert "stand_ground" in asked.activities
        assert asked.first_day <= visit.day <= asked.last_day
        assert (asked.valid_from or visit.day) <= visit.day <= (asked.valid_to or visit.day)
        assert fills(Span(from_time=asked.from_time, to_time=asked.to_time), visit)
        assert visit.doing.group <= asked.people


@given(enquiries(), FOOTPRINTS)
def test_a_narrower_grant_never_lacks_less(asked, visit):
    lacking = len(differences(asked, visit, "group"))
    for narrower in (
        replace(asked, people=None),
        replace(asked, activities=()),
        replace(asked, first_day=None),
        replace(asked, from_time=None),
        replace(asked, valid_to=min(asked.valid_to or DAY, DAY - timedelta(days=1))),
    ):
        assert len(differences(narrower, visit, "group")) >= lacking


def test_same_guard():
    old, quay = area(1, name="Old town", authority="Town council"), area(2, name="Quay", authority="Harbour office")
    park = area(3, name="Park", authority="town  Council ")
    assert same_guard((old,), (quay,)) == ()
    assert same_guard((old, quay), (old,)) == ("Old town", "Town council")
    assert same_guard((old,), (park,)) == ("Town council",)
    assert same_guard((old,), (), controller_b="TOWN COUNCIL") == ("Town council",)
    assert same_guard((), (), "Mrs Van Dam", "mrs van dam") == ("Mrs Van Dam",)
    assert same_guard((), (), "", "") == ()
    assert same_guard((area(1, authority=" "),), (area(2, authority=""),)) == ()
