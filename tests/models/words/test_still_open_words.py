"""What stands open, in words: every kind, every lack, every way that is left; never that anything may be done."""

from __future__ import annotations

from datetime import date

import pytest

from models.rules.answers import Answer, Finding
from models.rules.areas import Area
from models.rules.enquiry import Enquiry
from models.rules.papers import Paper
from models.rules.rule import Rule
from models.rules.still_open import OpenItem
from models.words.never import forbidden_in
from models.words.still_open import IF_OPEN, LACKS, if_open_words, lacks_words, open_words, owed_words

SHAPE = ((((5.0, 52.0), (5.1, 52.0), (5.1, 52.1), (5.0, 52.0)),),)
AREA = Area(name="Quay", kind="waterfront", authority="Harbour office", shape=SHAPE, id=1, version=1)
RULE = Rule(
    area_id=1, activity="group", found="needed", over=6, source_title="By-law", checked_on=date(2026, 9, 1),
    id=1, version=1,
)  # fmt: skip
PAPER = Paper(
    kind="insurance", title="Liability", valid_from=date(2026, 11, 1), valid_to=date(2026, 10, 1), id=1, version=1
)
GROUP = Finding(activity="group", amount=9, answer=Answer.ASK_BY, reason="needed", area=AREA, rule=RULE)


def item(**facts):
    return OpenItem(
        **{"kind": "rule", "owed_by": "organiser", "activity": "group", "answer": Answer.ASK_BY, "finding": GROUP}
        | facts
    )


@pytest.mark.parametrize("answer", Answer)
def test_a_rule_names_what_where_and_how_it_stands(answer):
    told = open_words(item(answer=answer))
    assert told.startswith("A group of 9 people, Quay: ")
    assert forbidden_in(told) == []


@pytest.mark.parametrize("way", IF_OPEN)
def test_every_way_that_is_left_is_a_sentence(way):
    told = if_open_words(item(if_open=(way,)), people=9, fallback="Lane")
    assert told.startswith("If it stays open: ")
    assert "{" not in told
    assert forbidden_in(told) == []


def test_several_ways_are_told_best_first():
    told = if_open_words(item(if_open=("fallback", "smaller_group")), people=9, fallback="Lane")
    assert told == (
        "If it stays open: move to the fallback, Lane; or come with fewer people than 9, and ask about that number."
    )


@pytest.mark.parametrize("reason", LACKS)
def test_every_lack_of_a_paper_is_said(reason):
    paper = None if reason == "no_insurance" else PAPER
    lacking = item(kind="paper", owed_by="insurer", finding=None, answer=None, paper=paper, reasons=(reason,))
    assert "{" not in lacks_words(lacking)
    assert open_words(lacking).endswith(f"{lacks_words(lacking)}.")
    assert forbidden_in(open_words(lacking)) == []
    assert owed_words(lacking) == "your insurer"


def test_whoever_was_asked_owes_the_answer():
    enquiry = Enquiry(to_whom="Harbour master", area_id=1, id=1, version=1)
    asked = Finding(activity="group", amount=9, answer=Answer.NO_ANSWER_YET, reason="asked", area=AREA, enquiry=enquiry)
    assert owed_words(item(owed_by="authority", finding=asked)) == "Harbour master"
    assert owed_words(item()) == "you"


def test_the_same_guard_is_named():
    guard = item(kind="guard", finding=None, answer=None, names=("Quay", "Harbour office"))
    assert open_words(guard) == "Same guard, no fallback: both places fall to Quay and Harbour office."
    assert "find a fallback elsewhere" in if_open_words(guard, people=9)


@pytest.mark.parametrize(
    ("activity", "amount", "said"),
    [("obstruction", True, "keep the footway free"), ("models", 3, "do without models"),
     ("stand_ground", 2, "do without 2 stands on the ground"), ("vehicle", True, "do without a vehicle")],
)  # fmt: skip
def test_what_is_left_out_reads_well(activity, amount, said):
    found = Finding(activity=activity, amount=amount, answer=Answer.NOT_CHECKED, reason="nothing")
    left = item(finding=found, if_open=("leave_out",))
    assert if_open_words(left, people=9) == f"If it stays open: {said}."
