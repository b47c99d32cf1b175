"""What must be asked of whom, by when."""

from __future__ import annotations

from datetime import date, timedelta

from hypothesis import given

from models.rules.deadlines import TO_ASK, deadlines
from tests.models.rules.making import DAY, FOOTPRINTS, TODAYS, area, enquiry, footprint, rule
from tests.models.rules.test_findings import look
from tests.models.rules.test_findings_laws import AREAS, ENQUIRIES, RULES
from tests.models.rules.test_findings_laws import look as look_at

VISIT = footprint(teaching=True)
TEN, FIVE = date(2026, 7, 3), date(2026, 7, 10)


def test_questions_to_one_place_by_one_day_are_one_letter():
    rules = [rule(lead_days=10), rule("group", lead_days=10, number=2), rule("teaching", lead_days=5, number=3)]
    found = deadlines(look(rules, visit=VISIT))
    assert [(each.area, each.by, each.activities) for each in found] == [
        (area(1), TEN, ("stand_ground", "group")),
        (area(1), FIVE, ("teaching",)),
    ]
    assert [finding.rule.id for finding in found[0].findings] == [1, 2]


def test_overdue_comes_first_and_what_has_no_date_last():
    rules = [rule("teaching", lead_days=10), rule("group", lead_days=5, number=2, area_id=2)]
    found = deadlines(look(rules, areas=(area(1), area(2)), visit=VISIT, today=TEN + timedelta(days=1)))
    assert [(each.by, each.area.id) for each in found] == [(TEN, 1), (FIVE, 2), (None, 1), (None, 2)]
    assert [each.overdue(TEN + timedelta(days=1)) for each in found] == [True, False, False, False]
    assert not found[0].overdue(TEN)


def test_what_was_asked_granted_or_refused_is_no_deadline():
    for state in ("asked", "granted"):
        assert deadlines(look([rule(lead_days=10)], [enquiry(state)])[:1]) == ()
    assert deadlines(look([rule(found="permitted"), rule("group", "not_permitted", number=2)])) == ()
    assert len(deadlines(look([rule(found="permitted", check_again=DAY - timedelta(days=1))])[:1])) == 1


@given(FOOTPRINTS, AREAS, RULES, ENQUIRIES, TODAYS)
def test_every_question_stands_in_exactly_one(visit, areas, rules, enquiries, today):
    found = look_at(visit, areas, rules, enquiries, today)
    made = deadlines(found)
    asked = [finding for each in found for finding in each.findings if finding.answer in TO_ASK]
    listed = [finding for each in made for finding in each.findings]
    assert len(listed) == len(asked)
    assert all(finding in asked for finding in listed)
    assert [each.by or date.max for each in made] == sorted(each.by or date.max for each in made)
    assert len({(each.area, each.by) for each in made}) == len(made)
