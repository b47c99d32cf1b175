"""What grants, questions and refusals make of a rule."""

from __future__ import annotations

from datetime import date, time, timedelta

import pytest

from models.rules.answers import Answer
from models.rules.enquiry import STATES
from models.rules.records import TOLD
from tests.models.rules.making import DAY, area, enquiry, footprint, rule
from tests.models.rules.test_findings import BY, NEEDED, answers, stand

A = Answer
LATE = BY + timedelta(days=1)


def told(*given, **noted) -> list[tuple[Answer, str, str]]:
    """Answer, reason and the state of the enquiry beside it."""
    return [(one.answer, one.reason, one.enquiry.state if one.enquiry else "") for one in stand(*given, **noted)]


@pytest.mark.parametrize("found", ["needed", "none_found", "unknown", "permitted", "conditions"])
def test_a_grant_that_covers_it_stands_for_all_but_what_is_not_permitted(found):
    old = rule(found=found, lead_days=10, check_again=date(2026, 7, 1))
    assert answers([old], [enquiry("granted")], today=LATE) == [A.GRANTED]


def test_a_grant_stands_beside_what_is_recorded_as_permitted():
    assert answers([rule(found="permitted")], [enquiry("granted")]) == [A.GRANTED, A.RECORDED_PERMITTED]


def test_a_grant_never_hides_that_it_is_not_permitted():
    assert answers([rule(found="not_permitted")], [enquiry("granted")]) == [A.NOT_PERMITTED, A.GRANTED]


def test_a_grant_stands_for_each_rule_of_the_place_once():
    rules = [rule(lead_days=10, check_again=date(2026, 7, 1)), rule(number=2, lead_days=3)]
    found = stand(rules, [enquiry("granted")])
    assert [(one.answer, one.rule.id) for one in found] == [(A.GRANTED, 1), (A.GRANTED, 2)]


def test_a_grant_stands_where_nothing_else_is_recorded():
    assert told([], [enquiry("granted")]) == [(A.GRANTED, "granted", "granted")]


def test_a_grant_of_one_area_says_nothing_of_another():
    found = stand([], [enquiry("granted")], areas=(area(1), area(2)))
    assert [(one.answer, one.area.id) for one in found] == [(A.NOT_CHECKED, 2), (A.GRANTED, 1)]


def test_outside_a_grant_permission_is_needed_by_the_rule_s_own_day():
    few = enquiry("granted", people=6)
    (found,) = stand([NEEDED], [few], today=BY)
    assert (found.answer, found.by, found.enquiry, found.differences) == (
        A.ASK_BY,
        BY,
        few,
        ("it covers 6 people, you are 9",),
    )
    assert told([NEEDED], [few], today=LATE) == [(A.TOO_LATE, "needed", "granted")]


@pytest.mark.parametrize("found", ["permitted", "none_found"])
def test_outside_a_grant_permission_is_needed_though_no_rule_says_so(found):
    few, record = enquiry("granted", people=6), rule(found=found)
    assert told([record], [few], today=DAY - timedelta(days=1))[0] == (A.ASK_BY, "outside_grant", "granted")
    assert told([record], [few], today=DAY)[0] == (A.TOO_LATE, "outside_grant", "granted")
    assert answers([record], [few])[1:] == answers([record])
    assert answers([], [few]) == [A.ASK_BY]


def test_a_grant_that_does_not_name_the_activity_is_told_beside_the_rule():
    other = enquiry("granted", activities=("teaching",))
    (found,) = stand([NEEDED], [other])
    assert (found.answer, found.differences) == (A.ASK_BY, ("it does not name stand on the ground",))
    assert told([], [other]) == [(A.NOT_CHECKED, "nothing", "granted")]


def test_a_grant_that_has_run_out_by_the_day_covers_nothing_of_it():
    assert answers([NEEDED], [enquiry("granted", valid_to=DAY - timedelta(days=1))]) == [A.ASK_BY]
    assert answers([NEEDED], [enquiry("granted", valid_to=DAY)]) == [A.GRANTED]


def test_a_question_sent_in_time_waits_for_its_answer_whatever_the_date():
    for today in (BY, LATE, DAY):
        assert answers([NEEDED], [enquiry("asked", sent_on=BY)], today=today) == [A.NO_ANSWER_YET]


def test_a_question_sent_too_late_stands_beside_that():
    assert answers([NEEDED], [enquiry("asked", sent_on=LATE)], today=LATE) == [A.TOO_LATE, A.NO_ANSWER_YET]


@pytest.mark.parametrize("sent", [None, BY, LATE])
def test_a_question_that_is_not_sent_yet_is_not_in_time(sent):
    before = BY - timedelta(days=1)
    assert answers([NEEDED], [enquiry("asked", sent_on=sent)], today=before) == [A.ASK_BY, A.NO_ANSWER_YET]


def test_where_no_lead_time_is_known_a_question_is_in_time_until_the_eve():
    eve = DAY - timedelta(days=1)
    for rules in ([], [rule()], [rule(found="unknown")]):
        assert answers(rules, [enquiry("asked", sent_on=eve)], today=eve) == [A.NO_ANSWER_YET]
        assert answers(rules, [enquiry("asked", sent_on=DAY)], today=DAY)[0] != A.NO_ANSWER_YET


def test_a_question_leaves_an_old_record_and_what_is_not_permitted():
    asked = enquiry("asked", sent_on=BY)
    old = rule(found="needed", lead_days=10, check_again=date(2026, 7, 1))
    assert answers([old], [asked], today=BY) == [A.TOO_OLD, A.NO_ANSWER_YET]
    assert answers([rule(found="not_permitted")], [asked], today=BY) == [A.NOT_PERMITTED, A.NO_ANSWER_YET]
    assert answers([rule(found="permitted")], [asked], today=BY) == [A.NO_ANSWER_YET, A.RECORDED_PERMITTED]


def test_a_question_about_something_else_changes_nothing_and_is_told():
    for noted in ({"people": 6}, {"activities": ("teaching",)}, {"to_time": time(18)}):
        (found,) = stand([NEEDED], [enquiry("asked", **noted)])
        assert (found.answer, found.enquiry.state, len(found.differences)) == (A.ASK_BY, "asked", 1)


@pytest.mark.parametrize("state", ["planned", "withdrawn", "lapsed"])
def test_what_is_planned_withdrawn_or_lapsed_changes_nothing_and_is_told(state):
    assert told([NEEDED], [enquiry(state)]) == [(A.ASK_BY, "needed", state)]
    assert told([], [enquiry(state)]) == [(A.NOT_CHECKED, "nothing", state)]
    assert told([NEEDED], [enquiry(state, activities=("teaching",))]) == [(A.ASK_BY, "needed", "")]


@pytest.mark.parametrize(
    ("noted", "refuses"),
    [
        ({}, True),
        ({"activities": ()}, True),
        ({"first_day": None, "last_day": None}, True),
        ({"first_day": DAY - timedelta(days=5), "last_day": None}, True),
        ({"people": 3, "from_time": None, "to_time": None}, True),
        ({"last_day": DAY - timedelta(days=1), "first_day": None}, False),
        ({"first_day": DAY + timedelta(days=1), "last_day": None}, False),
        ({"activities": ("tripod",)}, False),
    ],
)
def test_a_refusal_refuses_all_that_it_does_not_limit(noted, refuses):
    expected = [A.NOT_PERMITTED, A.ASK_BY] if refuses else [A.ASK_BY]
    assert answers([NEEDED], [enquiry("refused", **noted)]) == expected


def test_a_refusal_is_said_once():
    assert told([NEEDED], [enquiry("refused")]) == [(A.NOT_PERMITTED, "refused", "refused"), (A.ASK_BY, "needed", "")]


def test_a_refusal_for_other_days_is_told():
    other = enquiry("refused", first_day=date(2026, 7, 4), last_day=date(2026, 7, 4))
    assert told([NEEDED], [other]) == [(A.ASK_BY, "needed", "refused")]


def test_a_refusal_speaks_beside_a_grant():
    both = [enquiry("granted"), enquiry("refused", number=2)]
    assert answers([NEEDED], both) == [A.NOT_PERMITTED, A.GRANTED]
    assert answers([], both) == [A.NOT_PERMITTED, A.GRANTED]


def test_of_two_enquiries_the_best_speaks():
    outside, grant, asked = (
        enquiry("granted", number=1, people=6),
        enquiry("granted", number=2),
        enquiry("asked", number=3),
    )
    order = [grant, asked, outside, enquiry("planned", number=4), enquiry("lapsed", number=5)]
    for best in range(len(order)):
        found = stand([NEEDED], list(reversed(order[best:])))
        assert [one.enquiry for one in found] == [order[best]]


def test_of_two_questions_the_one_sent_in_time_speaks():
    good, late = enquiry("asked", number=1, sent_on=BY), enquiry("asked", number=2, sent_on=LATE)
    assert answers([NEEDED], [late, good], today=LATE) == [A.NO_ANSWER_YET]


OTHER_DAY = {"first_day": date(2026, 6, 6), "last_day": date(2026, 6, 6)}


def test_of_two_of_one_kind_the_one_for_the_day_is_told_however_much_it_lacks():
    near, far = enquiry(number=1, people=6, to_time=time(18), valid_to=BY), enquiry(number=2, **OTHER_DAY)
    (found,) = stand([NEEDED], [near, far])
    assert (found.enquiry, len(found.differences)) == (near, 3)


def test_of_two_for_other_days_the_latest_is_told():
    first, latest = (enquiry(number=number, **OTHER_DAY) for number in (1, 2))
    for both in ([first, latest], [latest, first]):
        assert [one.enquiry for one in stand([NEEDED], both)] == [latest]


def test_a_grant_for_another_day_and_another_activity_is_told():
    other = enquiry(activities=("teaching",), **OTHER_DAY)
    (found,) = stand([NEEDED], [other])
    assert (found.answer, found.enquiry, len(found.differences)) == (A.ASK_BY, other, 2)


def test_a_refusal_for_the_day_does_not_hide_what_else_is_told():
    lapsed = enquiry("lapsed", number=2, **OTHER_DAY)
    assert told([NEEDED], [enquiry("refused"), lapsed]) == [
        (A.NOT_PERMITTED, "refused", "refused"),
        (A.ASK_BY, "needed", "lapsed"),
    ]


def test_a_different_hour_is_a_different_visit():
    """The same grant, one hour later: set-up to packed up must lie in it."""
    later = footprint(starts="18:00", ends="20:00")
    assert answers([NEEDED], [enquiry("granted")], visit=later) == [A.ASK_BY]


def test_every_state_has_its_turn():
    assert set(TOLD) == set(STATES)
