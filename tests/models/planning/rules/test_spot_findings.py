"""What applies to a footprint at a spot: the areas under it and on the walk, its own rules, papers, the fallback."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest

from models.planning.rules.findings import spot_findings
from models.planning.rules.told import ANSWERS, forget_told, keep_told, told_words
from models.planning.rules.what_if import read_footprint
from models.planning.rules.what_if_page import what_if_page
from models.planning.rules.workshop_list import A_PAGE, workshops_page
from models.planning.rules.workshop_page import workshop_page
from models.problems import InputProblem
from models.rules.answers import Answer
from models.rules.areas import AreaDraft
from models.rules.enquiry import EnquiryDraft
from models.rules.papers import PaperDraft
from models.rules.rule import RuleDraft
from models.rules.workshop import WorkshopDraft
from models.store import rules as kept
from models.store.settings import put_setting
from models.store.versions import Clash, Missing
from tests.models.planning.grounds import at, stand
from tests.webapp.streets import square

MOMENT = at("2026-10-31T16:00")
TODAY = date(2026, 10, 17)
NOW = datetime(2026, 10, 17, 10, 0, tzinfo=UTC)
FACTS = {"source_title": "By-law", "checked_on": date(2026, 9, 1)}


@pytest.fixture
def town(plans):
    """Two spots 200 m apart, an area round each, a station between them."""
    lane, quay = stand(plans, "Lane"), stand(plans, "Quay", east_m=200.0)
    where = {spot.name: (spot.latitude_deg, spot.longitude_deg) for spot in (lane, quay)}
    middle = tuple((a + b) / 2 for a, b in zip(where["Lane"], where["Quay"], strict=True))
    with plans.writing() as s:
        for name, kind, place, passing in (
            ("Streets", "public_street", where["Lane"], False), ("Harbour", "waterfront", where["Quay"], False),
            ("Station", "transit", middle, True),
        ):  # fmt: skip
            shape = square(*place, half_deg=0.0004)
            kept.add_area(
                s, AreaDraft(name=name, kind=kind, authority=f"{name} office", shape=shape, no_passing=passing)
            )
        kept.add_rule(s, RuleDraft(area_id=1, activity="group", found="needed", over=6, lead_days=10, **FACTS))
    return plans, lane, quay


def test_the_areas_under_it_and_those_on_the_walk(town):
    store, lane, quay = town
    footprint = read_footprint({}, MOMENT)
    found = spot_findings(store, lane.id, footprint, today=date(2026, 10, 12))
    assert [area.name for area in found.areas] == ["Streets"]
    assert found.passed == ()
    walked = spot_findings(
        store, lane.id, footprint, today=TODAY, meeting_point=(quay.latitude_deg, quay.longitude_deg)
    )
    assert [area.name for area in walked.passed] == ["Station"]
    assert found.strictest == Answer.ASK_BY
    with pytest.raises(Missing):
        spot_findings(store, 99, footprint, today=TODAY)


def test_lead_times_count_the_holidays_of_the_settings(town):
    """By hand: 2 November, 26 to 30, 20 to 23 October are ten working days before Tuesday 3 November 2026, so Monday 19
    October is the last day; Austria's national day, 26 October, makes that Friday 16 October.
    """
    store, lane, _ = town
    footprint = read_footprint({}, at("2026-11-03T16:00"))

    def day() -> date | None:
        group = next(e for e in spot_findings(store, lane.id, footprint, today=TODAY).found if e.activity == "group")
        return group.strictest.by

    assert day() == date(2026, 10, 19)
    with store.writing() as s:
        put_setting(s, "holidays", "AT")
    assert day() == date(2026, 10, 16)


def test_what_was_told_is_a_rule_of_the_spot_with_its_source(town):
    store, lane, _ = town
    footprint = read_footprint({"tripod": "2"}, MOMENT)
    for answer in ANSWERS:
        rule = keep_told(store, lane.id, "tripod", answer.key, footprint, today=TODAY)
        assert (rule.spot_id, rule.found, rule.spoken, rule.checked_on) == (lane.id, answer.found, True, TODAY)
        assert "2 tripods" in rule.source_section
        assert answer.words.lower() in told_words(rule)
        forget_told(store, lane.id, rule.id, now=NOW)
    assert spot_findings(store, lane.id, footprint, today=TODAY).found[1].strictest.rule is None


def test_what_was_changed_since_is_not_taken_back(town):
    store, lane, _ = town
    rule = keep_told(store, lane.id, "group", "no", read_footprint({}, MOMENT), today=TODAY)
    with store.writing() as s:
        kept.change_rule(s, rule.id, 1, RuleDraft(spot_id=lane.id, activity="group", found="needed", **FACTS))
    with pytest.raises(Missing):
        forget_told(store, lane.id, rule.id, now=NOW)  # by now it was read, not said
    again = keep_told(store, lane.id, "group", "no", read_footprint({}, MOMENT), today=TODAY)
    with store.writing() as s:
        facts = FACTS | {"spoken": True}
        kept.change_rule(s, again.id, 1, RuleDraft(spot_id=lane.id, activity="group", found="needed", **facts))
    with pytest.raises(Clash):
        forget_told(store, lane.id, again.id, now=NOW)


@pytest.mark.parametrize(("activity", "key", "field"), [("juggling", "no", "activity"), ("group", "yes", "said")])
def test_what_cannot_have_been_told_is_named(town, activity, key, field):
    store, lane, _ = town
    with pytest.raises(InputProblem) as refused:
        keep_told(store, lane.id, activity, key, read_footprint({}, MOMENT), today=TODAY)
    assert refused.value.field == field


def test_papers_are_told_with_what_is_open_about_them(town):
    store, lane, _ = town
    page = what_if_page(store, lane.id, MOMENT, {}, NOW)
    assert [(paper.title, paper.open) for paper in page.papers] == [("Insurance", "No insurance is noted.")]
    with store.writing() as s:
        facts = {"valid_to": date(2026, 10, 30), "covers_teaching": True, "covers_models": True}
        kept.add_paper(s, PaperDraft(kind="insurance", title="Liability", **facts))
    (paper,) = what_if_page(store, lane.id, MOMENT, {}, NOW).papers
    assert paper.open == "It ends on Friday 30 October 2026, before you have packed up."


def plan(store, lane, quay, days: int, **facts) -> int:
    starts = MOMENT.instant + timedelta(days=days)
    draft = {"title": f"After {days}", "spot_id": lane.id, "starts": starts, "ends": starts + timedelta(hours=2)}
    with store.writing() as s:
        return kept.add_workshop(s, WorkshopDraft(**draft | facts)).id


def test_list_and_page_agree_on_what_is_open(town):
    store, lane, quay = town
    numbers = [
        plan(store, lane, quay, 0), plan(store, lane, quay, 7, fallback_spot_id=quay.id),
        plan(store, quay, lane, 14, fallback_spot_id=lane.id, meeting_point=(lane.latitude_deg, lane.longitude_deg)),
    ]  # fmt: skip
    with store.writing() as s:
        asked = {"state": "asked", "sent_on": TODAY, "first_day": date(2026, 11, 7), "people": 12}
        kept.add_enquiry(s, EnquiryDraft(to_whom="Streets office", area_id=1, activities=("group",), **asked))
    rows = {row.id: row for row in workshops_page(store, NOW).upcoming}
    for number in numbers:
        page = workshop_page(store, number, NOW)
        assert (rows[number].open, rows[number].strictest) == (len(page.still_open), page.strictest)
        assert rows[number].when == page.when


def test_past_called_off_and_long_lists(town):
    store, lane, quay = town
    off = plan(store, lane, quay, 0, called_off=True)
    past = plan(store, lane, quay, -30)
    (row,) = workshops_page(store, NOW).upcoming
    assert (row.id, row.open) == (off, None)
    assert [each.id for each in workshops_page(store, NOW).past] == [past]
    for days in range(A_PAGE):
        plan(store, lane, quay, days)
    first, second = workshops_page(store, NOW), workshops_page(store, NOW, 2)
    assert (first.pages, len(first.upcoming), len(second.upcoming)) == (2, A_PAGE, 1)
    assert "The next:" in first.answer
    assert "The next:" not in second.answer
    with pytest.raises(InputProblem):
        workshops_page(store, NOW, 3)
    assert workshop_page(store, past, NOW).over
