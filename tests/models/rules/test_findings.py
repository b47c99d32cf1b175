"""The eight answers, each by an example, and what rules and enquiries make of one another."""

from __future__ import annotations

from datetime import date, time, timedelta

import pytest

from models.rules.answers import Answer, Finding
from models.rules.findings import find, strictest
from models.rules.working_days import calendar_of
from tests.models.rules.making import DAY, SPOT, area, enquiry, footprint, rule

A = Answer
BY = date(2026, 7, 3)
"""Ten clear working days before the workshop."""
HERE = (area(1),)


def look(rules=(), enquiries=(), *, today=date(2026, 6, 30), areas=HERE, passed=(), visit=None, calendar="") -> tuple:
    return find(
        visit or footprint(),
        areas,
        rules,
        enquiries,
        today=today,
        spot_id=SPOT,
        calendar=calendar_of(calendar),
        passed=passed,
    )


def stand(*given, **noted) -> tuple[Finding, ...]:
    """All findings for the stand on the ground."""
    return look(*given, **noted)[0].findings


def answers(*given, **noted) -> list[Answer]:
    return [finding.answer for finding in stand(*given, **noted)]


NEEDED = rule(lead_days=10)


def test_1_not_permitted():
    (found,) = stand([rule(found="not_permitted")])
    assert (found.answer, found.reason, found.area, found.by) == (A.NOT_PERMITTED, "not_permitted", area(1), None)


def test_1_refused():
    (found,) = stand([], [enquiry("refused")])
    assert (found.answer, found.reason, found.enquiry.state) == (A.NOT_PERMITTED, "refused", "refused")


def test_2_too_late():
    (found,) = stand([NEEDED], today=BY + timedelta(days=1))
    assert (found.answer, found.by) == (A.TOO_LATE, BY)


def test_3_ask_by():
    (found,) = stand([NEEDED], today=BY)
    assert (found.answer, found.by, found.rule, found.amount) == (A.ASK_BY, BY, NEEDED, 1)


def test_4_not_checked():
    (found,) = stand()
    assert (found.answer, found.reason, found.area, found.rule) == (A.NOT_CHECKED, "nothing", area(1), None)


def test_5_too_old():
    (found,) = stand([rule(found="permitted", check_again=DAY - timedelta(days=1))])
    assert (found.answer, found.reason) == (A.TOO_OLD, "check_again")


def test_6_no_answer_yet():
    (found,) = stand([NEEDED], [enquiry("asked", sent_on=date(2026, 6, 29))])
    assert (found.answer, found.reason, found.rule, found.enquiry.state) == (A.NO_ANSWER_YET, "asked", NEEDED, "asked")
    assert found.by is None


def test_7_granted():
    (found,) = stand([NEEDED], [enquiry("granted", reference="R 12")], today=DAY)
    assert (found.answer, found.reason, found.rule, found.differences) == (A.GRANTED, "granted", NEEDED, ())
    assert found.enquiry.reference == "R 12"


def test_8_recorded_as_permitted():
    (found,) = stand([rule(found="permitted", check_again=DAY)])
    assert (found.answer, found.reason) == (A.RECORDED_PERMITTED, "permitted")


def test_no_area_and_no_rule_is_one_not_checked():
    (found,) = stand(areas=())
    assert (found.answer, found.area, found.reason) == (A.NOT_CHECKED, None, "nothing")


@pytest.mark.parametrize("found", ["none_found", "unknown"])
def test_no_rule_found_and_unknown_are_not_checked(found):
    (finding,) = stand([rule(found=found)])
    assert (finding.answer, finding.reason) == (A.NOT_CHECKED, found)


def test_every_activity_is_answered_in_order():
    found = look(visit=footprint(teaching=True, models=2, tripod=1))
    assert [(each.activity, each.strictest.amount) for each in found] == [
        ("stand_ground", 1),
        ("tripod", 1),
        ("group", 9),
        ("teaching", 1),
        ("models", 2),
    ]
    assert {each.strictest.answer for each in found} == {A.NOT_CHECKED}


def test_the_strictest_of_all_wins():
    assert strictest(look([rule(found="permitted"), rule("group", "needed", number=2, lead_days=1)])) == A.ASK_BY
    assert strictest(()) == A.NOT_CHECKED


def test_answers_stand_strictest_first_then_by_the_area_s_name():
    areas = (area(1, name="Quay"), area(2, name="Bridge"), area(3, name="Arcade"))
    found = stand([rule(found="permitted"), rule(number=2, area_id=2), rule(number=3, area_id=3)], areas=areas)
    assert [(finding.answer, finding.area.name) for finding in found] == [
        (A.ASK_BY, "Arcade"),
        (A.ASK_BY, "Bridge"),
        (A.RECORDED_PERMITTED, "Quay"),
    ]


def test_of_equal_answers_the_earliest_day_to_ask_by_stands_first_and_a_day_before_none():
    areas = (area(1, name="Arcade"), area(2, name="Bridge"), area(3, name="Quay"))
    rules = [rule(), rule(number=2, area_id=2, lead_days=2), rule(number=3, area_id=3, lead_days=5)]
    found = stand(rules, areas=areas)
    assert {finding.answer for finding in found} == {A.ASK_BY}
    assert [(finding.area.name, finding.by) for finding in found] == [
        ("Quay", date(2026, 7, 10)),  # 5 clear working days, 13 to 17 July; 12 July is a Sunday
        ("Bridge", date(2026, 7, 15)),
        ("Arcade", None),
    ]


def test_of_equal_answers_a_rule_stands_before_a_grant_for_something_else():
    areas = (area(1, name="Market"), area(2, name="Town"))
    few = enquiry("granted", people=4)
    found = stand([rule(area_id=2)], [few], areas=areas)
    assert [(finding.answer, finding.area.name, finding.reason) for finding in found] == [
        (A.ASK_BY, "Town", "needed"),
        (A.ASK_BY, "Market", "outside_grant"),
    ]


# Where and when a rule holds


def test_a_threshold_begins_above_its_number():
    over = rule("group", "needed", over=9, lead_days=1)
    nine, ten = (look([over], visit=footprint(group=people))[-1].strictest for people in (9, 10))
    assert (nine.answer, nine.reason, nine.rule) == (A.NOT_CHECKED, "outside_rule", over)
    assert ten.answer == A.ASK_BY


def test_outside_its_hours_a_rule_answers_nothing():
    evening = rule(found="not_permitted", from_time=time(19), to_time=time(22))
    (found,) = stand([evening])
    assert (found.answer, found.reason, found.rule) == (A.NOT_CHECKED, "outside_rule", evening)
    assert answers([evening], visit=footprint(ends="19:30")) == [A.NOT_PERMITTED]


def test_a_rule_that_does_not_hold_is_silent_beside_one_that_does():
    night = rule(number=2, found="not_permitted", from_time=time(22), to_time=time(6))
    assert answers([NEEDED, night]) == [A.ASK_BY]


def test_recorded_as_permitted_for_part_of_the_time_answers_nothing():
    part = rule(found="permitted", from_time=time(8), to_time=time(18))
    assert [finding.reason for finding in stand([part])] == ["outside_rule"]
    assert answers([part], visit=footprint(starts="16:00", ends="18:00")) == [A.RECORDED_PERMITTED]


def test_rules_of_the_same_hours_hold_each_in_their_own_way():
    """From 17:00 to 19:00 a rule until 18:00 binds, and what it was permitted until then does not reach."""
    hours = {"from_time": time(8), "to_time": time(18)}
    found = look([rule(found="permitted", **hours), rule("group", number=2, **hours)])
    assert [each.strictest.answer for each in found] == [A.NOT_CHECKED, A.ASK_BY]


def test_weekdays_and_days():
    saturday, sunday = (rule(found="not_permitted", weekdays=(day,)) for day in (5, 6))
    assert (answers([saturday]), answers([sunday])) == ([A.NOT_PERMITTED], [A.NOT_CHECKED])
    season = rule(found="not_permitted", first_day=DAY + timedelta(days=1))
    assert answers([season]) == [A.NOT_CHECKED]


# Dates


def test_no_lead_time_can_be_asked_until_the_day():
    no_lead = rule()
    assert stand([no_lead], today=DAY - timedelta(days=1))[0].by is None
    assert answers([no_lead], today=DAY - timedelta(days=1)) == [A.ASK_BY]
    assert answers([no_lead], today=DAY) == [A.TOO_LATE]


def test_holidays_of_the_area_come_before_those_of_the_settings():
    may = footprint(day=date(2026, 5, 9))
    lead = rule(lead_days=5)

    def by(holidays: str, settings: str) -> date | None:
        return stand([lead], areas=(area(1, holidays=holidays),), visit=may, calendar=settings)[0].by

    assert by("", "NL") == date(2026, 5, 1)
    assert by("DE-BE", "NL") == by("GB-ENG", "NL") == by("", "DE-BE") == date(2026, 4, 30)


def test_days_of_the_calendar():
    assert stand([rule(lead_days=14, lead_working=False)])[0].by == BY


@pytest.mark.parametrize(
    ("found", "expected"),
    [
        ("needed", [A.ASK_BY, A.TOO_OLD]),
        ("not_permitted", [A.NOT_PERMITTED, A.TOO_OLD]),
        ("permitted", [A.TOO_OLD]),
        ("conditions", [A.TOO_OLD]),
        ("none_found", [A.NOT_CHECKED, A.TOO_OLD]),
        ("unknown", [A.NOT_CHECKED, A.TOO_OLD]),
    ],
)
def test_an_old_record_keeps_its_answer_but_where_it_was_permitted(found, expected):
    assert answers([rule(found=found, check_again=DAY - timedelta(days=1))]) == expected


def test_a_record_is_old_by_today_or_by_the_day_whichever_is_later():
    until = rule(found="permitted", check_again=DAY)
    assert answers([until], today=DAY) == [A.RECORDED_PERMITTED]
    assert answers([until], today=DAY + timedelta(days=1)) == [A.TOO_OLD]


# The spot itself, and the walk to it


def test_the_spot_itself_speaks_where_it_has_a_rule_that_holds():
    own = rule(found="not_permitted", number=2, spot_id=SPOT)
    found = stand([NEEDED, own])
    assert [(finding.answer, finding.area and finding.area.id) for finding in found] == [
        (A.NOT_PERMITTED, None),
        (A.ASK_BY, 1),
    ]
    assert answers([NEEDED, rule(found="not_permitted", number=2, spot_id=SPOT + 1)]) == [A.ASK_BY]
    assert answers([NEEDED, rule(found="not_permitted", number=2, spot_id=SPOT, weekdays=(0,))]) == [A.ASK_BY]


def test_the_spot_speaks_through_an_enquiry():
    assert answers([NEEDED], [enquiry("refused", spot_id=SPOT, activities=())]) == [A.NOT_PERMITTED, A.ASK_BY]
    assert answers([NEEDED], [enquiry("granted", spot_id=SPOT)]) == [A.ASK_BY, A.GRANTED]
    assert answers([NEEDED], [enquiry("planned", spot_id=SPOT)]) == [A.ASK_BY]


def test_a_spot_in_no_area_says_what_its_own_record_says():
    outside = rule(found="not_permitted", spot_id=SPOT, weekdays=(0,))
    assert [finding.reason for finding in stand([outside], areas=())] == ["outside_rule"]


def test_an_area_that_only_the_walk_crosses_speaks_of_what_is_carried():
    station = area(2, name="Station", no_passing=True)
    visit = footprint(teaching=True, models=1)
    found = look([rule(number=2, area_id=2, found="not_permitted")], areas=HERE, passed=(station, area(1)), visit=visit)
    by_activity = {each.activity: [(one.answer, one.passing) for one in each.findings] for each in found}
    assert by_activity == {
        "stand_ground": [(A.NOT_PERMITTED, True), (A.NOT_CHECKED, False)],
        "group": [(A.NOT_CHECKED, False), (A.NOT_CHECKED, True)],
        "teaching": [(A.NOT_CHECKED, False)],
        "models": [(A.NOT_CHECKED, False)],
    }


def test_the_walk_does_not_stand_in_for_the_place():
    assert [(one.passing, one.reason) for one in stand(areas=(), passed=(area(2),))] == [
        (False, "nothing"),
        (True, "nothing"),
    ]
