"""What a form of the day says happened: every problem by its field, clock times on their day, nobody gone twice."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from models.planning.rules.workshops import draft_of
from models.planning.workshops.day import add_happenings
from models.planning.workshops.day_form import read_happenings
from models.problems import InputProblems
from models.store import rules
from tests.databases import copy_of
from tests.models.planning.workshops.evening import NOW, STARTS
from tests.models.planning.workshops.running_evening import form, happening, keep, keep_running

MINUTE = timedelta(minutes=1)


@pytest.fixture(scope="module")
def shared_day(made_once, tmp_path_factory):
    with copy_of(made_once, tmp_path_factory.mktemp("day")) as store:
        keep_running(store)
        yield store


WRONG = {
    "at": ("25:00", "soon", "17:99"),
    "round": ("0", "x", "-1", "--1", "1" * 12, "٣"),
    "turn": ("0", "two"),
    "note": ("x" * 201,),
    "about": ("99", "", "A", "--3"),
    "kind": ("flew away", "", "round done"),
}


@pytest.mark.parametrize(("field", "text"), [(field, text) for field, texts in WRONG.items() for text in texts])
def test_what_cannot_be_meant_is_named_by_its_field(shared_day, field, text):
    typed = form("left", 1, at="17:20", round="2", turn="1", note="") | {field: [text]}
    with pytest.raises(InputProblems) as raised:
        read_happenings(shared_day, 1, typed, NOW)
    assert set(raised.value.by_field) == {field}


def test_all_that_is_wrong_is_named_at_once(shared_day):
    with pytest.raises(InputProblems) as raised:
        read_happenings(shared_day, 1, form("left", at="x", round="y", turn="z", note="n" * 300), NOW)
    assert set(raised.value.by_field) == {"at", "round", "turn", "note", "about"}


def test_nothing_typed_is_now_and_what_happened_before_the_last_is_refused(plans):
    """Now is to the minute: what happens in the same minute, typed as the page fills it in, comes after it."""
    workshop = keep_running(plans)
    late = STARTS + timedelta(minutes=20, seconds=40)
    drafts = read_happenings(plans, workshop, form("left", 1, 2, at=""), late)
    assert [(each.about, each.at) for each in drafts] == [(1, STARTS + 20 * MINUTE), (2, STARTS + 20 * MINUTE)]
    add_happenings(plans, drafts, late)
    assert read_happenings(plans, workshop, form("left", 3, at="17:20"), late)
    with pytest.raises(InputProblems) as raised:
        read_happenings(plans, workshop, form("left", 3, at="17:19"), late)
    assert "before what happened last" in raised.value.by_field["at"]


def test_over_midnight_a_clock_time_belongs_to_the_next_day(plans):
    """From 23:00 to 01:00 CEST, in the night before the clocks go back."""
    workshop = keep_running(plans)
    starts = datetime(2026, 10, 24, 21, 0, tzinfo=UTC)
    with plans.writing() as s:
        draft = draft_of(rules.get_workshop(s, workshop))
        rules.change_workshop(
            s, workshop, 1, replace(draft, starts=starts, ends=starts + timedelta(hours=4, minutes=30))
        )
    for text, hours in (
        ("23:20", 21 + 1 / 3),
        ("0:20", 22 + 1 / 3),
        ("2:20 CEST", 24 + 1 / 3),
        ("2:20 CET", 25 + 1 / 3),
    ):
        (found,) = read_happenings(plans, workshop, form("left", 1, at=text), NOW)
        assert found.at == datetime(2026, 10, 24, tzinfo=UTC) + timedelta(hours=hours), text
    with pytest.raises(InputProblems) as raised:
        read_happenings(plans, workshop, form("left", 1, at="2:20"), NOW)
    assert "comes twice" in raised.value.by_field["at"]


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"round": "9", "turn": "50"}, "turn"),
        ({"round": "1", "turn": "4"}, "turn"),
        ({"round": "3", "turn": "2"}, "turn"),
        ({"at": "03:10"}, "at"),
    ],
)
def test_a_turn_or_time_that_the_rota_never_has_is_refused(plans, typed, field):
    workshop = keep_running(plans)
    with pytest.raises(InputProblems) as refused:
        read_happenings(plans, workshop, form("left", 1, **typed), NOW)
    assert list(refused.value.by_field) == [field]


def test_the_turn_after_the_last_can_be_reached(plans):
    workshop = keep_running(plans)
    assert read_happenings(plans, workshop, form("left", 1, round="3", turn="1"), NOW)[0].round == 3


def test_nobody_goes_twice_and_nobody_comes_who_is_there(plans):
    workshop = keep_running(plans)
    keep(plans, happening(workshop, "not come", 1))
    for kind, about in (("left", 1), ("not come", 1), ("came late", 2), ("station back", 1)):
        with pytest.raises(InputProblems) as refused:
            read_happenings(plans, workshop, form(kind, about, at="17:10"), NOW)
        assert list(refused.value.by_field) == ["about"]
    assert read_happenings(plans, workshop, form("came late", 1, at="17:10"), NOW)[0].about == 1
