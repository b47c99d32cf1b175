"""A rule's form: there and back, every problem beside its field, nothing without source and date."""

from __future__ import annotations

from datetime import date, time
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.planning.rules.rule_form import new_rule_form, read_rule_form, rule_form_of, understood_rule
from models.problems import InputProblems
from models.rules.activities import ACTIVITIES
from models.rules.checking import checked_rule
from models.rules.rule import FOUND, RuleDraft
from tests.models.planning.rules.town import TODAY, rule

GOOD = {
    "activity": "stand_ground",
    "found": "needed",
    "source_title": "By-law",
    "checked_on": "today",
    "lead": "10 working days",
}


def read(form: dict[str, str], **place: Any) -> RuleDraft:
    return read_rule_form(form, **{"area_id": 3, "spot_id": None} | place, today=TODAY)


def problems_of(form: dict[str, str]) -> dict[str, str]:
    with pytest.raises(InputProblems) as problems:
        read(form)
    return problems.value.by_field


def test_all_that_can_be_said_of_a_rule() -> None:
    form = GOOD | {
        "over": "more than 2 stands", "width_min": "5 ft", "hours": "8-18", "days": "Mon-Fri", "first_day": "1.5.2027",
        "last_day": "30.9.2027", "conditions": "weights", "fee": "EUR 20", "insurance": "EUR 1m", "source_section": "4",
        "read_by": "Ines", "source_link": "https://council.example/4", "check_again": "1 year",
    }  # fmt: skip
    assert read(form) == rule(
        area_id=3, over=2, width_min_m=1.524, from_time=time(8), to_time=time(18), weekdays=(0, 1, 2, 3, 4),
        first_day=date(2027, 5, 1), last_day=date(2027, 9, 30), conditions="weights", lead_days=10, fee="EUR 20",
        insurance="EUR 1m", source_section="4", source_link="https://council.example/4", read_by="Ines",
        checked_on=TODAY, check_again=date(2027, 10, 17),
    )  # fmt: skip


def test_a_rule_may_hang_on_a_spot() -> None:
    kept = read(GOOD, area_id=None, spot_id=7)
    assert (kept.area_id, kept.spot_id) == (None, 7)


@pytest.mark.parametrize("field", ["activity", "found", "source_title", "checked_on"])
def test_nothing_is_kept_without_what_was_found_its_source_and_its_date(field: str) -> None:
    assert set(problems_of(GOOD | {field: " "})) == {field}


def test_somebody_on_the_spot_is_a_source() -> None:
    told = read(GOOD | {"source_title": "", "spoken": "yes"})
    assert (told.spoken, told.source_title) == (True, "Told on the spot")
    assert read(GOOD | {"source_title": "Warden", "spoken": "yes"}).source_title == "Warden"


@pytest.mark.parametrize(
    ("field", "typed"),
    [
        ("activity", "juggling"),
        ("found", "maybe"),
        ("over", "some"),
        ("over", "-1"),
        ("over", "1" * 40),
        ("over", "٣"),
        ("width_min", "wide"),
        ("width_min", "0"),
        ("width_min", "-1.5"),
        ("width_min", "31 m"),
        ("hours", "8"),
        ("days", "Blursday"),
        ("first_day", "31.2."),
        ("last_day", "whenever"),
        ("lead", "soon"),
        ("checked_on", "yesterday-ish"),
        ("checked_on", "2026-12-24"),
        ("check_again", "2020-01-01"),
        ("source_link", "javascript:alert(1)"),
        ("source_title", "x" * 200),
        ("conditions", "x" * 5000),
        ("read_by", "In\x00es"),
    ],
)
def test_a_bad_field_is_named(field: str, typed: str) -> None:
    assert set(problems_of(GOOD | {field: typed})) == {field}


def test_an_end_before_its_beginning_is_named() -> None:
    assert set(problems_of(GOOD | {"first_day": "2027-05-02", "last_day": "2027-05-01"})) == {"last_day"}


def test_what_is_not_counted_has_no_number() -> None:
    assert set(problems_of(GOOD | {"activity": "teaching", "over": "3"})) == {"over"}


def test_conditions_are_said_where_there_are_some() -> None:
    assert set(problems_of(GOOD | {"found": "conditions"})) == {"conditions"}


def test_all_problems_are_named_at_once() -> None:
    assert set(problems_of({"hours": "8", "lead": "soon"})) == {
        "activity", "found", "source_title", "checked_on", "hours", "lead",
    }  # fmt: skip


def test_a_new_form_needs_a_source_and_what_was_found_only() -> None:
    form = new_rule_form(TODAY, "tripod")
    assert set(problems_of(form)) == {"found", "source_title"}
    assert new_rule_form(TODAY, "juggling")["activity"] == ""


def test_what_was_understood_is_said() -> None:
    form = {
        "over": "over 12 people", "width_min": "48 in", "hours": "22-6", "days": "Sat, Sun", "lead": "2 weeks",
        "checked_on": "today", "check_again": "6 months", "first_day": "1.5.", "last_day": "nonsense",
    }  # fmt: skip
    assert understood_rule(form, TODAY) == {
        "over": "from 13 on",
        "width_min": "1.22 m",
        "hours": "22:00 to 06:00 over midnight",
        "days": "Sat, Sun",
        "lead": "14 clear days before",
        "checked_on": "Saturday 17 October 2026",
        "check_again": "too old after Saturday 17 April 2027",
        "first_day": "Friday 1 May 2026",
    }
    assert understood_rule({}, TODAY) == {}


TEXTS = st.text(st.characters(min_codepoint=33, max_codepoint=0x17F), max_size=20)
WIDTHS = st.integers(10, 3000).map(lambda cm: cm / 100) | st.integers(4, 1100).map(
    lambda inches: round(inches * 0.0254, 4)
)
"""As they are typed: in whole centimetres or in whole inches."""
DAYS = st.dates(date(2000, 1, 1), date(2026, 10, 17))


@st.composite
def rules(draw: st.DrawFn) -> RuleDraft:
    activity = draw(st.sampled_from(list(ACTIVITIES)))
    hours = draw(st.none() | st.tuples(st.times(), st.times()))
    first, last = (time(v.hour, v.minute) for v in hours) if hours else (None, None)
    days = sorted(draw(st.tuples(DAYS, DAYS, DAYS)))
    return rule(
        activity=activity,
        found=draw(st.sampled_from([found for found in FOUND if found != "conditions"])),
        over=draw(st.none() | st.integers(0, 10_000)) if ACTIVITIES[activity].counted else None,
        width_min_m=draw(st.none() | WIDTHS),
        from_time=first if first != last else None,
        to_time=last if first != last else None,
        weekdays=tuple(sorted(draw(st.sets(st.integers(0, 6), max_size=6)))),
        first_day=draw(st.sampled_from([None, days[0]])),
        last_day=draw(st.sampled_from([None, days[1]])),
        lead_days=draw(st.none() | st.integers(0, 730)),
        conditions=draw(TEXTS),
        fee=draw(TEXTS),
        insurance=draw(TEXTS),
        source_title=draw(TEXTS.filter(bool)),
        source_section=draw(TEXTS),
        spoken=draw(st.booleans()),
        read_by=draw(TEXTS),
        checked_on=days[1],
        check_again=draw(st.sampled_from([None, days[2]])),
    )


@given(rules())
def test_a_rule_comes_back_from_its_form(draft: RuleDraft) -> None:
    good = checked_rule(draft)
    assert read_rule_form(rule_form_of(good), area_id=1, spot_id=None, today=TODAY) == good
