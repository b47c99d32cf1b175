"""Enquiries and papers as forms: read back they are the same; words for how long ago and how long until."""

from __future__ import annotations

from datetime import date, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.planning.rules.enquiry_form import enquiry_form_of, read_enquiry_form
from models.planning.rules.enquiry_words import ago_words, days_words, needs_reminding, until_words
from models.planning.rules.paper_form import paper_form_of, read_paper_form
from models.rules.activities import ACTIVITIES
from models.rules.checking import checked_enquiry, checked_paper
from models.rules.enquiry import STATES, EnquiryDraft
from models.rules.papers import KINDS, PaperDraft
from tests.models.planning.rules.town import TODAY

DAYS = st.dates(date(2024, 1, 1), date(2026, 10, 17))
WORDS = st.text(st.characters(codec="utf-8", categories=("L", "N", "P", "Zs")), max_size=30).map(str.strip)
SOME_WORDS = WORDS.filter(lambda text: text.strip() != "")


@st.composite
def enquiries(draw) -> EnquiryDraft:
    asked, first, granted = (sorted(draw(st.tuples(DAYS, DAYS))) for _ in range(3))
    state = draw(st.sampled_from(list(STATES)))
    answer = {}
    if state not in ("planned", "asked"):
        answer = {"answered_on": asked[1], "valid_from": granted[0], "valid_to": draw(st.none() | st.just(granted[1]))}
        answer |= {"reference": draw(WORDS), "conditions": draw(WORDS)}
    opens, closes = draw(
        st.sampled_from([(None, None), (time(17), time(18, 30)), (time(22), time(0)), (time(0), time(6, 5))])
    )
    draft = EnquiryDraft(
        to_whom=draw(SOME_WORDS),
        area_id=1,
        contact=draw(WORDS),
        activities=tuple(draw(st.lists(st.sampled_from(list(ACTIVITIES)), unique=True))),
        first_day=first[0],
        last_day=first[1],
        from_time=opens,
        to_time=closes,
        people=draw(st.none() | st.integers(1, 500)),
        state=state,
        sent_on=None if state == "planned" else asked[0],
        notes=draw(WORDS),
        **answer,
    )
    return checked_enquiry(draft)


@st.composite
def papers(draw) -> PaperDraft:
    first, last = sorted(draw(st.tuples(DAYS, DAYS)))
    covers = st.none() | st.booleans()
    draft = PaperDraft(
        kind=draw(st.sampled_from(list(KINDS))),
        title=draw(SOME_WORDS),
        reference=draw(WORDS),
        insured_sum=draw(WORDS),
        valid_from=draw(st.none() | st.just(first)),
        valid_to=draw(st.none() | st.just(last)),
        covers_teaching=draw(covers),
        covers_models=draw(covers),
        count=draw(st.none() | st.integers(0, 10_000)),
        where=draw(WORDS),
        notes=draw(WORDS),
    )
    return checked_paper(draft)


@given(enquiries())
def test_the_form_of_an_enquiry_read_back_is_the_same_enquiry(draft):
    assert read_enquiry_form(enquiry_form_of(draft), draft, TODAY) == draft


@given(papers())
def test_the_form_of_a_paper_read_back_is_the_same_paper(draft):
    assert read_paper_form(paper_form_of(draft), TODAY) == draft


@pytest.mark.parametrize(
    ("days", "ago", "until"),
    [
        (0, "today", "today"),
        (1, "yesterday", "1 day over"),
        (5, "5 days ago", "5 days over"),
        (-1, "tomorrow", "tomorrow"),
        (-4, "in 4 days", "in 4 days"),
    ],
)
def test_how_long_ago_and_how_long_until(days, ago, until):
    day = TODAY - timedelta(days=days)
    assert (ago_words(day, TODAY), until_words(day, TODAY)) == (ago, until)


def test_days_in_words():
    first, last = date(2026, 10, 17), date(2026, 10, 18)
    assert days_words(first, first) == "Saturday 17 October 2026"
    assert days_words(first, last) == "Saturday 17 October 2026 to Sunday 18 October 2026"
    assert days_words(None, None) == ""


@given(DAYS, st.sampled_from(list(STATES)))
def test_only_what_was_asked_is_reminded_of_and_not_too_soon(sent_on, state):
    draft = EnquiryDraft(to_whom="Council", area_id=1, state=state, sent_on=sent_on)
    assert needs_reminding(draft, TODAY) == (state == "asked" and (TODAY - sent_on).days >= 10)
