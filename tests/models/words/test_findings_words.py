"""What was found, said first: the strictest, how the others stand, the day to ask by; never permission."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.rules.activities import ACTIVITIES
from models.rules.answers import ActivityFindings, Answer, Finding
from models.words.findings import (
    COUNTED,
    HEADS,
    OpenDays,
    ask_first,
    findings_answer,
    findings_line,
    open_answer,
    open_count_words,
)
from models.words.never import forbidden_in

DAY = date(2026, 10, 2)
NAMES = {key: activity.words for key, activity in ACTIVITIES.items()}


def found(*answers: tuple[str, Answer, date | None]) -> tuple[ActivityFindings, ...]:
    return tuple(
        ActivityFindings(key, (Finding(activity=key, amount=1, answer=answer, reason="needed", by=by),))
        for key, answer, by in answers
    )


every = st.lists(
    st.tuples(st.sampled_from(list(ACTIVITIES)), st.sampled_from(Answer), st.none() | st.dates(DAY, date(2027, 1, 1))),
    min_size=1, unique_by=lambda each: each[0],
)  # fmt: skip


def test_there_are_words_for_every_answer():
    assert set(HEADS) == set(COUNTED) == set(Answer)
    assert len(set(HEADS.values())) == len(Answer)


@given(every)
def test_the_strictest_is_said_first_and_all_are_counted(answers):
    told = findings_line(found(*answers), NAMES)
    first = min(answer for _, answer, _ in answers)
    assert told.text.startswith(f"{HEADS[first]}: ")
    assert told.parts[0] == (f"{HEADS[first]}:", True)
    assert all(NAMES[key] in told.text for key, answer, _ in answers if answer == first)
    others = [answer for _, answer, _ in answers if answer != first]
    for answer in set(others):
        count = others.count(answer)
        assert f"{count} {COUNTED[answer][count > 1]}" in told.text
    assert forbidden_in(told.text) == []


@given(every)
def test_the_first_day_to_ask_by_is_that_of_the_most_urgent_question(answers):
    days = [by for _, answer, by in answers if answer == Answer.ASK_BY and by]
    first = ask_first(found(*answers))
    assert (first is None) == (not days)
    if first:
        assert first[0] == min(days)
        assert set(first[1]) == {key for key, a, by in answers if a == Answer.ASK_BY and by == min(days)}


def test_a_sentence_to_read():
    answers = (
        ("stand_ground", Answer.ASK_BY, DAY), ("group", Answer.ASK_BY, DAY + timedelta(days=7)),
        ("teaching", Answer.NOT_CHECKED, None), ("models", Answer.NOT_CHECKED, None),
        ("tripod", Answer.NOT_PERMITTED, None),
    )  # fmt: skip
    assert findings_answer("Saturday 17 October 2026, Foundry Lane", found(*answers), NAMES).text == (
        "Saturday 17 October 2026, Foundry Lane. Recorded as not permitted: tripod. "
        "Besides, 2 need permission and 2 are not checked. Ask by Friday 2 October 2026 about stand on the ground."
    )


FRIDAY, MONDAY = date(2026, 10, 23), date(2026, 10, 19)


@pytest.mark.parametrize(
    ("count", "days", "said"),
    [
        (0, OpenDays(), "nothing open on record"),
        (1, OpenDays(), "1 thing open"),
        (1, OpenDays(FRIDAY), "1 thing open, by Friday 23 October 2026"),
        (3, OpenDays(FRIDAY), "3 things open, the first by Friday 23 October 2026"),
        (1, OpenDays(None, 1, MONDAY), "1 thing open, overdue since Monday 19 October 2026"),
        (3, OpenDays(None, 1, MONDAY), "3 things open, 1 of them overdue, since Monday 19 October 2026"),
        (3, OpenDays(FRIDAY, 2, MONDAY), "3 things open, 2 of them overdue, the first since Monday 19 October 2026; "
         "the next by Friday 23 October 2026"),
        (2, OpenDays(None, 2, MONDAY), "2 things open, all of them overdue, the first since Monday 19 October 2026"),
    ],
)  # fmt: skip
def test_what_is_open_is_counted_and_what_is_overdue_comes_first(count, days, said):
    assert open_count_words(count, days) == said


@pytest.mark.parametrize("answer", Answer)
@pytest.mark.parametrize("count", [0, 1, 7])
def test_the_answer_of_a_workshop_never_says_that_it_may_be_held(answer, count):
    told = open_answer("Then, there", answer, count, OpenDays(FRIDAY))
    assert told.text.startswith("Then, there. ")
    assert forbidden_in(told.text) == []
