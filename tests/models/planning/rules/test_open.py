"""What is open, a card for each thing: every line once, things by their most urgent line, shared facts said once."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from models.planning.rules.open import OpenShown, by_thing
from models.rules.answers import Answer


def line(what="3 models", where="Quay", owed_by="you", answer=Answer.ASK_BY):
    return OpenShown(
        kind="rule", what=what, where=where, words="not checked: ask", owed_by=owed_by, by=None, by_words="soon",
        if_open="do without models", answer=answer, activity="models", area_id=1,
    )  # fmt: skip


def test_one_thing_in_two_places_has_one_card_that_says_once_who_owes_it():
    quay, lane, town = line(), line(where="Lane"), line(where="Town", owed_by="Town council")
    (thing,) = by_thing([quay, lane, town])
    assert (thing.what, thing.parts) == ("3 models", ((quay, lane), (town,)))


def test_a_thing_stands_where_its_most_urgent_line_does():
    first, second = line(answer=Answer.NOT_PERMITTED), line("Paid teaching")
    things = by_thing([first, second, line(where="Lane", answer=Answer.NOT_CHECKED)])
    assert [(thing.what, thing.answer) for thing in things] == [
        ("3 models", Answer.NOT_PERMITTED),
        ("Paid teaching", Answer.ASK_BY),
    ]


@given(
    st.lists(st.builds(line, *(st.sampled_from(texts) for texts in (("A", "B"), ("Quay", "Lane"), ("you", "them")))))
)
def test_no_line_is_lost_or_said_twice(lines):
    things = by_thing(lines)
    shown = [each for thing in things for part in thing.parts for each in part]
    assert sorted(map(repr, shown)) == sorted(map(repr, lines))
    assert len({thing.what for thing in things}) == len(things)
