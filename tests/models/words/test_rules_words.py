"""Every answer in words: what is said, that it is whole, and that none of it says that something may be done."""

from __future__ import annotations

import importlib
import inspect
from dataclasses import replace
from datetime import date, time
from functools import cache
from itertools import product

import pytest

from models.rules import activities, areas, coverage, enquiry, papers
from models.rules import rule as rule_module
from models.rules.activities import ACTIVITIES
from models.rules.answers import ActivityFindings, Answer, Finding
from models.rules.enquiry import STATES
from models.rules.rule import FOUND
from models.words import enquiry_letter, findings, rules, still_open
from models.words.never import forbidden_in
from models.words.rules import (
    ANSWER_WORDS,
    SAY,
    answer_words,
    ask_words,
    limits_words,
    say_words,
    source_words,
    way_round_words,
    why_words,
    width_asked_words,
)
from tests.models.rules.making import DAY, SPOT, area, footprint, rule
from tests.models.rules.making import enquiry as an_enquiry
from tests.models.rules.test_findings import BY, NEEDED, look, stand
from tests.models.words.strings import strings_of

TODAY = date(2026, 6, 30)
GIVEN = ("asked", "granted", "refused")
REASONS = ("nothing", "outside_rule", *FOUND, "check_again", "refused", "asked", "granted", "outside_grant")
REASONS += ("too_narrow", "width_unknown")
SPEAKING = (rules, enquiry_letter, still_open, findings, coverage, activities, areas, enquiry, papers, rule_module)
"""Modules whose strings come onto a page, a paper or a letter."""


def noted(found: str, *, spoken: bool = False):
    return rule(
        found=found, over=2, conditions="weights.", lead_days=10, fee="EUR 35", insurance="EUR 1,000,000",
        from_time=time(8), to_time=time(18), weekdays=(0, 4), first_day=date(2026, 5, 1), check_again=date(2026, 7, 1),
        source_section="section 4", read_by="Ines", spoken=spoken, width_min_m=1.5,
    )  # fmt: skip


@cache
def every_finding() -> tuple[Finding, ...]:
    """Every answer for every reason, with and without an area, a rule of each kind and an enquiry in each state."""
    kept = [None, rule(), noted("needed", spoken=True), *(noted(found) for found in FOUND)]
    asked = [None, *(an_enquiry(state) for state in STATES)]
    asked += [an_enquiry(state, sent_on=None, answered_on=None, reference="R 12", conditions="x.") for state in GIVEN]
    places = [(None, False), (area(1, contact="desk", web="https://one.example"), False), (area(2), True)]
    return tuple(
        Finding(
            activity="stand_ground", amount=amount, answer=answer, reason=reason, area=place, rule=record,
            enquiry=question, by=by, differences=lacking, passing=passing,
        )
        for answer, reason, (place, passing), record, question in product(Answer, REASONS, places, kept, asked)
        for amount, by, lacking in ((1, None, ()), (3, BY, ("it covers 6 people, you are 9",)))
    )  # fmt: skip


@cache
def every_text() -> frozenset[str]:
    said = {"", *ANSWER_WORDS.values()}
    for finding in every_finding():
        said |= {answer_words(finding, TODAY), why_words(finding), say_words(finding), ask_words(finding)}
        said |= {ask_words(finding, "Mrs Van Dam"), way_round_words((), finding)}
    for finding, held in product(every_finding()[::50], Answer):
        there = ActivityFindings("stand_held", (replace(finding, activity="stand_held", answer=held),))
        said.add(way_round_words((there,), finding))
    return frozenset(said)


def test_no_answer_says_that_something_may_be_done():
    assert len(every_text()) > 300
    assert [text for text in every_text() if forbidden_in(text)] == []


def test_every_answer_is_a_whole_sentence():
    for text in every_text() - {""} - set(ANSWER_WORDS.values()):
        assert text[0].isupper() or text[0] in "“0123456789", text
        assert text.endswith((".", ".”", "?”")), text
        for broken in ("None", "{", "}", "!", "  ", "..", " ,", "“”", "()"):
            assert broken not in text, text


def test_every_answer_and_activity_has_its_words():
    assert set(ANSWER_WORDS) == set(SAY) == set(Answer)
    assert set(rules.AMOUNTS) == set(ACTIVITIES)


@pytest.mark.parametrize("module", SPEAKING, ids=lambda module: module.__name__)
def test_no_string_says_that_something_may_be_done(module):
    texts = strings_of(inspect.getsource(module))
    assert texts
    keys = {*FOUND, *STATES, *areas.KINDS}
    assert [text for text in texts if forbidden_in(text) and text not in keys] == []
    assert [text for text in texts if "!" in text] == []


@pytest.mark.parametrize(
    ("was", "seeded"),
    [
        ("Not checked: ask.", "Not checked: you may begin."),
        ("Permission needed: ask ", "No permission needed: begin "),
        ("Carry it.", "You are cleared."),
        (": confirm.", ": it is OK to shoot."),
        ("Recorded as permitted on", "Permitted on"),
    ],
)
def test_bad_wording_would_be_seen(was, seeded, tmp_path, monkeypatch):
    """A fault put into the words on purpose is caught in the strings and in what is said."""
    source = inspect.getsource(rules)
    assert was in source
    (tmp_path / "seeded_rules.py").write_text(source.replace(was, seeded), "utf-8")
    monkeypatch.syspath_prepend(tmp_path)
    faulty = importlib.import_module("seeded_rules")
    monkeypatch.delitem(importlib.sys.modules, "seeded_rules")
    assert any(forbidden_in(text) for text in strings_of(inspect.getsource(faulty)))
    assert any(forbidden_in(faulty.answer_words(finding, TODAY)) for finding in every_finding()[::7])


# What is said of each of the eight


def first(*given, **more) -> Finding:
    return stand(*given, **more)[0]


GRANTED = an_enquiry("granted", reference="R 12")


@pytest.mark.parametrize(
    ("finding", "words"),
    [
        (first([rule(found="not_permitted")]), "Recorded as not permitted."),
        (first([], [an_enquiry("refused")]), "Refused on Saturday 20 June 2026."),
        (
            first([NEEDED], today=date(2026, 7, 4)),
            "Permission needed, and the day to ask by, Friday 3 July 2026, has passed.",
        ),
        (first([rule()], today=DAY), "Permission needed, and it is too late to ask."),
        (first([NEEDED]), "Permission needed: ask by Friday 3 July 2026, in 3 days."),
        (first([rule()]), "Permission needed: ask now. No lead time is recorded."),
        (first(), "Not checked: ask."),
        (first([rule(found="unknown")]), "Not checked: ask."),
        (
            first([rule(found="permitted", check_again=BY)]),
            "Record too old: check again. It was checked on Monday 12 January 2026.",
        ),
        (first([NEEDED], [an_enquiry("asked")]), "Asked on Monday 1 June 2026, no answer yet."),
        (
            first([NEEDED], [GRANTED]),
            "Granted on Saturday 20 June 2026, and it covers this: reference R 12. Carry it.",
        ),
        (first([rule(found="permitted")]), "Recorded as permitted on Monday 12 January 2026: confirm."),
        (
            first([rule(found="conditions")]),
            "Recorded as permitted on Monday 12 January 2026, with conditions: confirm.",
        ),
    ],
)
def test_the_eight_answers(finding, words):
    assert answer_words(finding, TODAY) == words


@pytest.mark.parametrize(("today", "near"), [(BY, "which is today"), (date(2026, 7, 2), "which is tomorrow")])
def test_a_day_that_is_near_is_said_so(today, near):
    assert answer_words(first([NEEDED], today=today), today) == f"Permission needed: ask by Friday 3 July 2026, {near}."


def test_why_names_the_source_and_the_record():
    assert why_words(first([noted("needed")], visit=footprint(starts="09:00", ends="11:00", stand_ground=3))) == (
        "Streets By-law, section 4 (read by Ines on Monday 12 January 2026): permission needed, for more than "
        "2 stands; Monday and Friday; from Friday 1 May 2026 on; 08:00 to 18:00. Your plan lies outside that."
    )
    assert why_words(first([rule(lead_days=1, conditions="weights", fee="EUR 35", insurance="EUR 1,000,000")])) == (
        "Streets By-law (read on Monday 12 January 2026): permission needed. Conditions: “weights”. "
        "To be asked 1 clear working day before. Fee: EUR 35. Insurance asked for: EUR 1,000,000."
    )


def test_what_was_said_on_the_spot_is_shown_as_that():
    told = rule(source_title="Guard at the gate", spoken=True, read_by="Ines")
    assert source_words(told) == (
        "Guard at the gate (said on the spot on Monday 12 January 2026, noted by Ines; nothing in writing)"
    )


def test_why_says_that_nothing_is_recorded():
    assert why_words(first(areas=())) == "No rule area touches this spot, and nothing is recorded for the spot itself."
    assert why_words(first()) == "Nothing is recorded about 1 stand on the ground for Area 1."


def test_why_names_each_difference_of_a_grant():
    few = replace(GRANTED, people=6, valid_to=BY)
    assert why_words(first([], [few])) == (
        "Office 1 granted something else on Saturday 20 June 2026, reference R 12: it is valid to Friday "
        "3 July 2026, you come on Saturday 18 July 2026; it covers 6 people, you are 9."
    )


def test_conditions_of_a_grant_are_said():
    granted = first([NEEDED], [replace(GRANTED, conditions="Carry the letter.")])
    assert why_words(granted).endswith(
        "Office 1 granted it on Saturday 20 June 2026: reference R 12. Conditions: “Carry the letter”."
    )


def test_an_enquiry_that_is_planned_for_another_day_is_not_told_as_if_it_were_for_this_one():
    other = date(2027, 5, 8)
    why = why_words(first([NEEDED], [an_enquiry("planned", first_day=other, last_day=other)]))
    assert why.endswith(
        "An enquiry to Office 1 is planned and not sent, and not about this: "
        "it covers Saturday 8 May 2027, you come on Saturday 18 July 2026."
    )


def test_an_enquiry_beside_the_rule_is_told():
    for state, words in (
        ("planned", "An enquiry to Office 1 is planned and not sent."),
        ("lapsed", "An earlier enquiry to Office 1 has lapsed."),
        ("withdrawn", "An earlier enquiry to Office 1 was withdrawn."),
    ):
        assert why_words(first([NEEDED], [an_enquiry(state)])).endswith(words)
    elsewhen = an_enquiry("refused", first_day=BY, last_day=BY)
    assert why_words(first([NEEDED], [elsewhen])).endswith(
        "Office 1 refused it on Saturday 20 June 2026 for other days."
    )


def test_whom_to_ask():
    told = area(1, authority="Town council", contact="desk@town.example.", web="https://town.example")
    assert ask_words(first(areas=(told,))) == "Ask Town council, desk@town.example, https://town.example."
    assert ask_words(first(areas=()), "Mrs Van Dam") == "Ask Mrs Van Dam."
    assert ask_words(first(areas=())) == "Find out who controls this ground, and ask them."
    own = first([], [an_enquiry("asked", spot_id=SPOT, contact="at the gate")], areas=())
    assert ask_words(own) == "Ask Office 1, at the gate."


def test_what_to_say():
    assert say_words(first(visit=footprint(stand_ground=3))) == (
        "“Is there a rule about 3 stands on the ground here? Whom do we ask, how long before, and what does it cost?”"
    )
    assert say_words(first([NEEDED], [an_enquiry("asked")])) == (
        "“We wrote on Monday 1 June 2026 about 1 stand on the ground. "
        "Is there an answer, or is there something you still need?”"
    )


def test_a_hand_held_stand_is_something_to_ask_about():
    found = look([NEEDED])
    words = way_round_words(found, found[0].strictest)
    assert words == (
        "Something to ask about instead: a hand-held stand, its feet folded and its weight off the ground, "
        "held by a person all the time. On record there: not looked up for this footprint."
    )
    held = look([NEEDED], visit=footprint(stand_held=1))
    assert way_round_words(held, held[0].strictest).endswith("On record there: not checked: ask.")


def test_a_way_round_is_named_only_where_there_is_one():
    refused = look([NEEDED, rule("stand_held", "not_permitted", number=2)], visit=footprint(stand_held=1))
    assert way_round_words(refused, refused[0].strictest) == ""
    elsewhere = look(
        [NEEDED, rule("stand_held", "not_permitted", number=2, area_id=2)],
        visit=footprint(stand_held=1),
        areas=(area(1), area(2)),
    )
    assert way_round_words(elsewhere, elsewhere[0].strictest)
    group = look()[-1]
    assert (group.activity, way_round_words(look(), group.strictest)) == ("group", "")
    granted = look([NEEDED], [GRANTED])
    assert way_round_words(granted, granted[0].strictest) == ""


def test_where_only_the_walk_crosses_it_the_way_round_is_another_way():
    station = area(2, name="Station", no_passing=True)
    found = stand([rule(area_id=2, found="not_permitted")], passed=(station,))[0]
    assert way_round_words((), found) == "Something to look for: another way there, round Station."
    assert why_words(found).startswith("On the walk there, through Station.")


def test_limits():
    assert limits_words(rule()) == ""
    assert limits_words(rule(over=1)) == "more than one"
    assert limits_words(rule("group", over=9, weekdays=(5,), last_day=DAY)) == (
        "more than 9 people; Saturday; to Saturday 18 July 2026"
    )


def test_a_width_that_is_to_be_left():
    passage = rule("obstruction", "not_permitted", width_min_m=1.5)
    assert width_asked_words(passage) == "1.50 m to be left for walkers"
    assert width_asked_words(rule()) == ""
    assert limits_words(passage) == "less than 1.50 m left for walkers"
    assert limits_words(rule(found="permitted", width_min_m=0.915)) == "at least 0.915 m left for walkers"
    assert limits_words(rule(width_min_m=1.5)) == "", "what is needed is needed whatever is left"
    narrow = look([passage], visit=replace(footprint(), width_left_m=1.2))[-1].strictest
    assert why_words(narrow).endswith(": not permitted. It speaks of less than 1.50 m left for walkers.")
    unknown = look([passage])[-1].strictest
    assert why_words(unknown) == (
        "Streets By-law (read on Monday 12 January 2026): it asks for 1.50 m to be left for walkers, and the width "
        "left is not measured: measure it and put it into the plan."
    )
    assert answer_words(unknown, TODAY) == "Not checked: measure the width left, then ask."
    assert say_words(unknown) == "“How much of the pavement must stay free here, measured from where to where?”"
    beside = look([rule(width_min_m=1.5)], visit=replace(footprint(), width_left_m=1.2))
    assert why_words(beside[-1].strictest).endswith("1.50 m to be left for walkers, and less is left by your plan.")
    assert "It asks for 1.50 m to be left for walkers." in why_words(beside[0].strictest)
