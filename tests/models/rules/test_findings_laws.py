"""Laws of the findings: what holds whatever is recorded."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from models.rules.activities import ACTIVITIES
from models.rules.answers import Answer
from models.rules.coverage import differences
from models.rules.findings import find, strictest
from models.rules.working_days import ask_by, calendar_of
from tests.models.rules.making import DONE, FOOTPRINTS, SPOT, TODAYS, area, enquiries, rules

AREAS = st.sampled_from([(), (area(1),), (area(1), area(2, holidays="DE-BE"))])
RULES = st.lists(rules(), max_size=5, unique_by=lambda rule: rule.id)
ENQUIRIES = st.lists(enquiries(), max_size=3, unique_by=lambda enquiry: enquiry.id)
NL = calendar_of("NL")
FEWER = settings(max_examples=60)
UNRECORDED = ("nothing", "outside_rule")


def look(visit, areas, rules, enquiries, today, passed=()):
    return find(visit, areas, rules, enquiries, today=today, spot_id=SPOT, calendar=NL, passed=passed)


def by_activity(found):
    return {each.activity: each.strictest.answer for each in found}


def place(record):
    """A finding speaks of an area or of the spot, as a rule does."""
    return record.area.id if getattr(record, "area", None) else getattr(record, "area_id", None)


@FEWER
@given(FOOTPRINTS, AREAS, RULES, ENQUIRIES, TODAYS)
def test_every_activity_is_answered_strictest_first_for_every_area(visit, areas, rules, enquiries, today):
    found = look(visit, areas, rules, enquiries, today)
    assert [each.activity for each in found] == [key for key in ACTIVITIES if key in visit.doing.amounts()]
    for each in found:
        answers = [finding.answer for finding in each.findings]
        assert answers == sorted(answers)
        assert each.strictest.answer == answers[0]
        assert {one.id for one in areas} <= {finding.area.id for finding in each.findings if finding.area}
        assert areas or each.findings
        assert {finding.activity for finding in each.findings} == {each.activity}
    assert strictest(found) == min(by_activity(found).values())


@FEWER
@given(FOOTPRINTS, AREAS, RULES, ENQUIRIES, TODAYS, st.randoms(use_true_random=False))
def test_the_order_of_what_is_recorded_never_matters(visit, areas, rules, enquiries, today, chance):
    found = look(visit, areas, rules, enquiries, today)
    for records in (areas := list(areas), rules, enquiries):
        chance.shuffle(records)
    assert look(visit, areas, rules, enquiries, today) == found


@FEWER
@given(FOOTPRINTS, AREAS, TODAYS)
def test_nothing_recorded_is_not_checked(visit, areas, today):
    for each in look(visit, areas, (), (), today):
        assert [finding.answer for finding in each.findings] == [Answer.NOT_CHECKED] * max(1, len(areas))
        assert {finding.reason for finding in each.findings} == {"nothing"}


@FEWER
@given(FOOTPRINTS, AREAS, RULES, ENQUIRIES, TODAYS, rules())
def test_another_rule_never_makes_it_less_strict(visit, areas, rules, enquiries, today, another):
    """But the first that holds at a place, which stands instead of not checked there."""
    found = look(visit, areas, rules, enquiries, today)
    more = by_activity(look(visit, areas, [*rules, replace(another, id=2_000_000)], enquiries, today))
    for each in found:
        here = [finding for finding in each.findings if place(finding) == place(another)]
        first = each.activity == another.activity and any(finding.reason in UNRECORDED for finding in here)
        assert more[each.activity] <= each.strictest.answer or first


@FEWER
@given(FOOTPRINTS, AREAS, RULES, ENQUIRIES, TODAYS, enquiries())
def test_another_enquiry_makes_it_less_strict_only_where_it_covers_this(visit, areas, rules, enquiries, today, another):
    another = replace(another, id=2_000_000)
    found = look(visit, areas, rules, enquiries, today)
    more = by_activity(look(visit, areas, rules, [*enquiries, another], today))
    for each in found:
        if more[each.activity] > each.strictest.answer:
            assert another.state in ("granted", "asked")
            assert differences(another, visit, each.activity) == ()


@FEWER
@given(FOOTPRINTS, AREAS, RULES, ENQUIRIES, TODAYS)
def test_granted_and_waiting_rest_on_an_enquiry_of_that_place_that_covers_it(visit, areas, rules, enquiries, today):
    for each in look(visit, areas, rules, enquiries, today):
        for finding in each.findings:
            if finding.answer in (Answer.GRANTED, Answer.NO_ANSWER_YET):
                asked = finding.enquiry
                assert asked.state == ("granted" if finding.answer == Answer.GRANTED else "asked")
                assert differences(asked, visit, each.activity) == finding.differences == ()
                assert (asked.area_id, asked.spot_id) == ((finding.area.id, None) if finding.area else (None, SPOT))


@FEWER
@given(FOOTPRINTS, AREAS, RULES, ENQUIRIES, TODAYS)
def test_nothing_short_of_not_checked_where_an_area_has_nothing_to_say(visit, areas, rules, enquiries, today):
    for each in look(visit, areas, rules, enquiries, today):
        if each.strictest.answer > Answer.NOT_CHECKED:
            for finding in each.findings:
                assert finding.rule or finding.enquiry
                assert finding.reason not in UNRECORDED


@FEWER
@given(FOOTPRINTS, AREAS, RULES, ENQUIRIES, TODAYS)
def test_what_is_not_permitted_at_all_stays_so_whatever_was_asked(visit, areas, rules, enquiries, today):
    for activity in {rule.activity for rule in rules} & set(visit.doing.amounts()):
        always = [
            rule
            for rule in rules
            if rule.activity == activity and rule.found == "not_permitted" and _holds_always(rule)
            if rule.spot_id or rule.area_id in {one.id for one in areas}
        ]
        if always:
            assert by_activity(look(visit, areas, rules, enquiries, today))[activity] == Answer.NOT_PERMITTED


def _holds_always(rule) -> bool:
    limits = (rule.over, rule.from_time, rule.first_day, rule.last_day)
    return limits == (None,) * 4 and not rule.weekdays


@FEWER
@given(FOOTPRINTS, AREAS, RULES, TODAYS, TODAYS)
def test_waiting_never_helps_where_nothing_was_asked(visit, areas, rules, one, other):
    sooner, later = (by_activity(look(visit, areas, rules, (), today)) for today in sorted((one, other)))
    assert all(later[activity] <= sooner[activity] for activity in sooner)


@FEWER
@given(FOOTPRINTS, AREAS, RULES, ENQUIRIES, TODAYS)
def test_the_day_to_ask_by_is_the_rule_s_and_decides_whether_it_is_too_late(visit, areas, rules, enquiries, today):
    for each in look(visit, areas, rules, enquiries, today):
        for finding in each.findings:
            if finding.reason == "needed":
                calendar = calendar_of(finding.area.holidays) if finding.area and finding.area.holidays else NL
                rule = finding.rule
                due = rule.lead_days is not None
                by = ask_by(visit.day, rule.lead_days, calendar, working=rule.lead_working) if due else None
                assert finding.by == by
                assert (finding.answer == Answer.TOO_LATE) == (today > by if by else today >= visit.day)
            else:
                assert finding.by is None


@FEWER
@given(FOOTPRINTS, AREAS, RULES, ENQUIRIES, TODAYS)
def test_a_walk_adds_answers_and_takes_none_away(visit, areas, rules, enquiries, today):
    found = look(visit, areas[:1], rules, enquiries, today)
    walked = look(visit, areas[:1], rules, enquiries, today, passed=areas)
    for each, also in zip(found, walked, strict=True):
        assert tuple(finding for finding in also.findings if not finding.passing) == each.findings
        assert {finding.area.id for finding in also.findings if finding.passing} <= {one.id for one in areas[1:]}


@FEWER
@given(FOOTPRINTS, AREAS, RULES, ENQUIRIES, TODAYS)
def test_more_people_are_never_asked_less_of(visit, areas, rules, enquiries, today):
    """But where a record begins to speak of them, and says that it was permitted."""
    strict = [rule for rule in rules if rule.over is None or rule.found in ("needed", "not_permitted")]
    larger = replace(visit, doing=replace(visit.doing, group=visit.doing.group + 4))
    fewer = by_activity(look(visit, areas, strict, enquiries, today))
    more = by_activity(look(larger, areas, strict, enquiries, today))
    assert all(more[activity] <= fewer[activity] for activity in fewer if activity in DONE)
