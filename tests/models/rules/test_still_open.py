"""What still stands open before a workshop."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from models.rules.answers import Answer
from models.rules.still_open import papers_open, still_open
from tests.models.rules.making import DAY, area, enquiry, footprint, paper, rule
from tests.models.rules.test_findings import BY, look

VISIT = footprint(teaching=True, models=1)
GOOD = (paper(),)


def opened(found, papers=GOOD, *, has_fallback=False, shared=()):
    return still_open(found, papers, VISIT, has_fallback=has_fallback, shared=shared)


def reasons(*papers, visit=VISIT):
    return [item.reasons for item in papers_open(papers, visit)]


def test_most_urgent_first():
    rules = [
        rule(lead_days=5),
        rule("group", "not_permitted", number=2),
        rule("teaching", lead_days=10, number=3),
    ]
    items = opened(look(rules, visit=VISIT))
    assert [(item.activity, item.answer) for item in items] == [
        ("group", Answer.NOT_PERMITTED),
        ("teaching", Answer.ASK_BY),
        ("stand_ground", Answer.ASK_BY),
        ("models", Answer.NOT_CHECKED),
    ]
    assert [item.by for item in items] == [None, BY, date(2026, 7, 10), None]


def test_what_is_granted_is_closed_and_all_else_is_open():
    assert [item.activity for item in opened(look([rule()], [enquiry()]))] == []
    (confirm,) = opened(look([rule(found="permitted"), rule("group", number=2)], [enquiry(activities=("group",))]))
    assert (confirm.activity, confirm.answer) == ("stand_ground", Answer.RECORDED_PERMITTED)


def test_a_grant_does_not_close_what_is_refused_beside_it():
    items = opened(look([rule(found="not_permitted")], [enquiry(activities=("stand_ground",))]))
    assert (Answer.NOT_PERMITTED, "stand_ground") in [(item.answer, item.activity) for item in items]


def test_each_place_owes_its_own_answer_once():
    old = rule(lead_days=10, check_again=date(2026, 7, 1))
    items = [item for item in opened(look([old], areas=(area(1), area(2)))) if item.activity == "stand_ground"]
    assert [(item.answer, item.finding.area.id) for item in items] == [(Answer.ASK_BY, 1), (Answer.NOT_CHECKED, 2)]


def test_an_answer_that_is_awaited_is_owed_by_who_was_asked():
    (item, *_) = opened(look([rule(lead_days=10)], [enquiry("asked", activities=("stand_ground",))]))[-1:]
    assert (item.answer, item.owed_by) == (Answer.NO_ANSWER_YET, "authority")
    assert {item.owed_by for item in opened(look())} == {"organiser"}


@pytest.mark.parametrize(
    ("activity", "has_fallback", "ways"),
    [
        ("stand_ground", True, ("fallback", "hand_held", "leave_out")),
        ("stand_ground", False, ("hand_held", "leave_out")),
        ("models", False, ("leave_out",)),
        ("teaching", True, ("fallback",)),
        ("teaching", False, ("not_run",)),
        ("group", False, ("not_run",)),
    ],
)
def test_what_is_left_if_it_stays_open(activity, has_fallback, ways):
    items = opened(look(visit=VISIT), has_fallback=has_fallback)
    assert [item.if_open for item in items if item.activity == activity] == [ways]


def test_fewer_people_where_a_number_is_what_it_hangs_on():
    over = look([rule("group", over=8)], visit=VISIT)
    assert [item.if_open for item in opened(over) if item.activity == "group"] == [("smaller_group",)]
    few = look([rule("teaching")], [enquiry(people=8)], visit=VISIT)
    assert [item.if_open for item in opened(few) if item.activity == "teaching"] == [("smaller_group",)]
    for noted in ({"people": 8, "valid_to": BY}, {"people": 9, "valid_to": BY}):
        elsewhen = look([rule("teaching")], [enquiry(**noted)], visit=VISIT)
        assert [item.if_open for item in opened(elsewhen) if item.activity == "teaching"] == [("not_run",)]


def test_hand_held_is_no_way_out_where_it_is_refused_too():
    held = footprint(stand_held=1)
    for rules, left in (
        ([rule("stand_held", "not_permitted")], ("leave_out",)),
        ([rule("stand_held", "not_permitted", area_id=2)], ("hand_held", "leave_out")),
    ):
        items = opened(look(rules, areas=(area(1), area(2)), visit=held))
        ground = [item for item in items if item.activity == "stand_ground" and item.finding.area.id == 1]
        assert [item.if_open for item in ground] == [left]


def test_where_only_the_walk_crosses_it_another_way_is_left():
    items = opened(look(passed=(area(2),)), has_fallback=True)
    assert {item.if_open[0] for item in items if item.finding.passing} == {"go_round"}
    assert not [item for item in items if item.finding.passing and "fallback" in item.if_open]


def test_a_fallback_under_the_same_guard_is_none():
    items = opened(look(visit=VISIT), has_fallback=True, shared=("Old town", "Town council"))
    assert not [item for item in items if "fallback" in item.if_open]
    assert (items[-1].kind, items[-1].names) == ("guard", ("Old town", "Town council"))
    assert "guard" not in {item.kind for item in opened(look(), has_fallback=False, shared=("Old town",))}


# Papers


def test_good_papers_leave_nothing_open():
    assert reasons(paper(), paper("grant"), paper("releases", number=3, count=4)) == []


def test_no_insurance_is_open():
    (item,) = papers_open([paper("grant")], VISIT)
    assert (item.paper, item.reasons, item.if_open, item.owed_by) == (
        None,
        ("no_insurance",),
        ("not_run",),
        "organiser",
    )


@pytest.mark.parametrize(
    ("noted", "lacking"),
    [
        ({"valid_to": DAY - timedelta(days=1)}, ("lapses",)),
        ({"valid_to": DAY}, None),
        ({"valid_to": None}, ("no_end",)),
        ({"valid_from": DAY + timedelta(days=1)}, ("begins_later",)),
        ({"valid_from": DAY}, None),
        ({"covers_teaching": None}, ("teaching_not_known",)),
        ({"covers_teaching": False}, ("not_teaching",)),
        ({"covers_models": None}, ("models_not_known",)),
        ({"covers_models": False}, ("not_models",)),
        ({"valid_to": DAY - timedelta(days=1), "covers_models": False}, ("lapses", "not_models")),
    ],
)
def test_what_insurance_lacks(noted, lacking):
    assert reasons(paper(**noted)) == ([lacking] if lacking else [])


def test_what_is_not_done_need_not_be_covered():
    assert reasons(paper(covers_teaching=False, covers_models=None), visit=footprint()) == []


def test_a_workshop_over_midnight_needs_its_papers_on_the_next_day_too():
    late = footprint(starts="22:30", ends="00:30")
    assert reasons(paper(valid_to=DAY), visit=late) == [("lapses",)]


def test_a_renewed_paper_stands_in_for_the_one_that_lapsed():
    lapsed = paper(number=2, title="Last year's", valid_to=DAY - timedelta(days=40))
    assert reasons(lapsed, paper()) == []
    grant = {"title": "Quay permit", "valid_to": DAY - timedelta(days=1)}
    assert reasons(paper(), paper("grant", number=2, **grant)) == [("lapses",)]
    assert reasons(paper(), paper("grant", number=2, **grant), paper("grant", number=3, title="Park permit")) == [
        ("lapses",)
    ]
    assert reasons(paper(), paper("grant", number=2, **grant), paper("grant", number=3, title="quay permit")) == []


def test_papers_are_due_the_day_before():
    (item,) = papers_open([paper(covers_models=None)], VISIT)
    assert (item.by, item.owed_by) == (DAY - timedelta(days=1), "insurer")
