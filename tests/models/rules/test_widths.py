"""Widths that rules want left: what a narrower plan becomes, and what nobody measured."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.problems import InputProblem
from models.rules.answers import Answer
from models.rules.checking import checked_rule
from models.rules.findings import find, strictest
from models.rules.rule import FOUND
from models.rules.working_days import calendar_of
from tests.models.rules.making import DAY, HOURS, PLACES, SPOT, area, enquiry, footprint, rule

A = Answer
HERE = (area(1),)
FREE_PASSAGE = rule("obstruction", "not_permitted", width_min_m=1.5)


def look(rules, left_m=None, *, enquiries=(), areas=HERE, **doing):
    """By activity, the answers and their reasons, strictest first."""
    visit = replace(footprint(**doing), width_left_m=left_m)
    found = find(
        visit, areas, rules, enquiries, today=date(2026, 6, 30), spot_id=SPOT, calendar=calendar_of(""), passed=()
    )
    return {each.activity: [(one.answer, one.reason) for one in each.findings] for each in found}


def test_less_than_the_rule_wants_is_an_obstruction_though_nobody_called_it_one():
    assert look([FREE_PASSAGE], 1.49)["obstruction"] == [(A.NOT_PERMITTED, "not_permitted")]
    assert "obstruction" not in look([FREE_PASSAGE], 1.5)
    assert "obstruction" not in look([FREE_PASSAGE], 1.4999), "to the millimetre"
    asked = rule("obstruction", "needed", width_min_m=1.5, lead_days=10)
    assert look([asked], 1.2)["obstruction"] == [(A.ASK_BY, "needed")]


def test_a_width_that_nobody_measured_is_asked_for():
    assert look([FREE_PASSAGE])["obstruction"] == [(A.NOT_CHECKED, "width_unknown")]
    assert look([FREE_PASSAGE], obstruction=True)["obstruction"] == [(A.NOT_PERMITTED, "not_permitted")]


def test_an_obstruction_that_leaves_enough_is_outside_the_rule_and_not_checked():
    assert look([FREE_PASSAGE], 2.0, obstruction=True)["obstruction"] == [(A.NOT_CHECKED, "outside_rule")]


@pytest.mark.parametrize("found", ["permitted", "conditions"])
def test_what_is_lenient_holds_only_where_its_width_is_left(found):
    stand = rule("stand_ground", found, width_min_m=1.5, conditions="1.5 m")
    assert look([stand], 1.5) == {
        "stand_ground": [(A.RECORDED_PERMITTED, found)],
        "group": [(A.NOT_CHECKED, "nothing")],
    }
    narrow = look([stand], 1.2)
    assert narrow["stand_ground"] == [(A.NOT_CHECKED, "outside_rule")]
    assert narrow["obstruction"] == [(A.NOT_CHECKED, "too_narrow")]
    unknown = look([stand])
    assert unknown["stand_ground"] == [(A.NOT_CHECKED, "outside_rule")]
    assert unknown["obstruction"] == [(A.NOT_CHECKED, "width_unknown")]


def test_what_is_strict_about_something_else_holds_whatever_is_left():
    stand = rule("stand_ground", "needed", width_min_m=1.5, lead_days=10)
    assert look([stand], 3.0)["stand_ground"] == look([stand], 1.0)["stand_ground"] == [(A.ASK_BY, "needed")]
    assert "obstruction" not in look([stand], 3.0)
    assert look([stand], 1.0)["obstruction"] == [(A.NOT_CHECKED, "too_narrow")]
    assert "obstruction" not in look([rule("tripod", "needed", width_min_m=1.5)], 1.0), "no tripod is there"


def test_only_in_its_hours_and_at_its_place():
    at_night = replace(FREE_PASSAGE, from_time=time(22), to_time=time(6))
    assert "obstruction" not in look([at_night], 1.0)
    assert "obstruction" not in look([replace(FREE_PASSAGE, area_id=2)], 1.0)
    own = replace(FREE_PASSAGE, area_id=None, spot_id=SPOT)
    assert look([own], 1.0)["obstruction"] == [(A.NOT_PERMITTED, "not_permitted")]
    assert look([FREE_PASSAGE, replace(own, id=2, found="needed")], 1.0)["obstruction"] == [
        (A.NOT_PERMITTED, "not_permitted"),
        (A.ASK_BY, "needed"),
    ], "the strictest first, all are shown"


def test_an_old_record_says_so_and_a_grant_covers_what_was_needed():
    old = replace(FREE_PASSAGE, check_again=date(2026, 7, 1))
    assert (A.TOO_OLD, "check_again") in look([old], 1.0)["obstruction"]
    needed = rule("obstruction", "needed", width_min_m=1.5)
    granted = look([needed], 1.2, enquiries=[enquiry("granted")])
    assert granted["obstruction"] == [(A.GRANTED, "granted")]
    assert look([FREE_PASSAGE], 1.2, enquiries=[enquiry("granted")])["obstruction"][0][0] == A.NOT_PERMITTED


@given(
    st.lists(
        st.builds(
            lambda activity, found, width, number, hours, place: rule(
                activity, found, width_min_m=width, number=number, from_time=hours[0], to_time=hours[1], **place
            ),
            st.sampled_from(["obstruction", "stand_ground", "group"]),
            st.sampled_from(list(FOUND)),
            st.none() | st.sampled_from([0.9, 1.2, 1.5, 2.0]),
            st.integers(1, 10**6),
            HOURS,
            PLACES,
        ),
        max_size=4,
    ),
    st.lists(st.floats(0, 3), min_size=2, max_size=2),
)
def test_leaving_less_never_eases_the_answer_and_neither_does_not_measuring(rules, widths):
    narrow, wide = sorted(widths)
    found = [
        strictest(
            find(replace(footprint(), width_left_m=left), (area(1), area(2)), rules, (), today=DAY, spot_id=SPOT,
                 calendar=calendar_of(""))
        )
        for left in (narrow, wide, None)
    ]  # fmt: skip
    assert found[0] <= found[1]
    assert found[2] <= max(found[1], A.NOT_CHECKED)


@pytest.mark.parametrize("width", [0, -1.0, 0.05, 201, float("nan"), float("inf"), "1.5", True])
def test_a_width_that_cannot_be_meant_is_named(width):
    with pytest.raises(InputProblem) as problem:
        checked_rule(replace(FREE_PASSAGE, width_min_m=width))
    assert problem.value.field == "width_min_m"
