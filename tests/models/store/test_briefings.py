"""Texts of briefings by workshop and for all, and versions that stay as they were issued."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from models.problems import InputProblem
from models.rules.workshop import WorkshopDraft
from models.store.briefings import (
    LONGEST_ITEM,
    LONGEST_LINE,
    LONGEST_PARAGRAPH,
    MOST_ITEMS,
    Texts,
    TextsDraft,
    checked_texts,
    issued_of,
    keep_issued,
    keep_texts,
    latest_two,
    recent_of,
    texts_of,
)
from models.store.rules.workshops import add_workshop, delete_workshop
from models.store.spots import add_spot
from models.store.versions import KEEP_DELETED, Clash, Missing
from models.street.spot import SpotDraft
from tests.models.words.briefings import ENDS, FACTS, STARTS


def add_two(s):
    """Two workshops, numbered 1 and 2."""
    spot = add_spot(s, SpotDraft(name="Lane", latitude_deg=52.5, longitude_deg=5.2, zone="Europe/Amsterdam"))
    for title in ("First", "Second"):
        add_workshop(s, WorkshopDraft(title=title, spot_id=spot.id, starts=STARTS, ends=ENDS))


def draft(workshop_id, **texts):
    return TextsDraft(workshop_id=workshop_id, texts=tuple(texts.items()))


def test_texts_are_kept_for_all_and_for_one_apart(store):
    with store.writing() as s:
        add_two(s)
        assert not isinstance(texts_of(s, 1), Texts)
        for workshop_id in (None, 1, 2):
            kept = keep_texts(s, 0, draft(workshop_id, touch=f"Of {workshop_id}"))
            assert (kept.workshop_id, kept.version) == (workshop_id, 1)
    with store.reading() as s:
        assert [texts_of(s, each).by_key for each in (None, 1, 2)] == [
            {"touch": "Of None"},
            {"touch": "Of 1"},
            {"touch": "Of 2"},
        ]


@pytest.mark.parametrize("workshop_id", [None, 1])
def test_whoever_was_slower_clashes(store, workshop_id):
    with store.writing() as s:
        add_two(s)
        with pytest.raises(Missing):
            keep_texts(s, 3, draft(workshop_id))
        first = keep_texts(s, 0, draft(workshop_id, touch="Mine"))
        with pytest.raises(Clash):
            keep_texts(s, 0, draft(workshop_id, touch="Yours"))
        keep_texts(s, first.version, draft(workshop_id, touch=""))
        with pytest.raises(Clash):
            keep_texts(s, first.version, draft(workshop_id, touch="Late"))
        assert texts_of(s, workshop_id).by_key == {"touch": ""}


def test_texts_of_no_workshop_are_refused(store):
    with store.writing() as s, pytest.raises(InputProblem) as caught:
        keep_texts(s, 0, draft(77))
    assert caught.value.field == "workshop_id"


def test_texts_are_trimmed_and_put_in_order():
    good = checked_texts(draft(None, contact=" R.  Vale\n0555 ", bring=" A card \n\n  a  hat\n", touch=" \n "))
    assert good.texts == (("touch", ""), ("bring", "A card\na hat"), ("contact", "R. Vale 0555"))


@pytest.mark.parametrize(
    ("key", "text"),
    [
        ("touch", "x" * (LONGEST_PARAGRAPH + 1)),
        ("touch", "a\x00b"),
        ("touch", "\ud800"),
        ("touch", 7),
        ("bring", "\n".join("x" for _ in range(MOST_ITEMS + 1))),
        ("bring", "x" * (LONGEST_ITEM + 1)),
        ("contact", "x" * (LONGEST_LINE + 1)),
    ],
)
def test_a_text_that_cannot_be_kept_names_its_key(key, text):
    with pytest.raises(InputProblem) as caught:
        checked_texts(draft(None, **{key: text}))
    assert caught.value.field == key


def test_a_text_that_no_briefing_has_is_refused():
    with pytest.raises(InputProblem, match="no text 'rules'"):
        checked_texts(draft(None, rules="Anything goes"))


def test_versions_are_numbered_for_each_workshop_and_read_back_as_issued(store):
    later = replace(FACTS, talks="Q. Lowe")
    other = replace(FACTS, workshop_id=2)
    with store.writing() as s:
        add_two(s)
        assert latest_two(s, 1) == ()
        for number, facts in enumerate((FACTS, later, FACTS), start=1):
            assert keep_issued(s, facts, STARTS + timedelta(days=number)).number == number
        assert keep_issued(s, other, STARTS).number == 1
    with store.reading() as s:
        issued = issued_of(s, 1)
        assert [(each.number, each.facts) for each in issued] == [(3, FACTS), (2, later), (1, FACTS)]
        assert issued[0].at == STARTS + timedelta(days=3)
        assert latest_two(s, 1) == issued[:2]
        day = timedelta(days=1)
        assert recent_of(s, 1, STARTS + 3 * day, 1) == issued[:1]
        assert recent_of(s, 1, STARTS + 2.5 * day, 1) == issued[:2], "the second was the latest then"
        assert recent_of(s, 1, STARTS + 3 * day, 2) == issued[:2]
        assert recent_of(s, 1, STARTS - day, 1) == issued
        assert [each.facts for each in issued_of(s, 2)] == [other]


def test_texts_and_versions_go_for_good_with_their_workshop(store):
    with store.writing() as s:
        add_two(s)
        keep_texts(s, 0, draft(1, touch="x"))
        keep_issued(s, FACTS, STARTS)
        delete_workshop(s, 1, 1, now=STARTS)
        assert len(issued_of(s, 1)) == 1
        delete_workshop(s, 2, 1, now=STARTS + KEEP_DELETED + timedelta(days=1))
        assert issued_of(s, 1) == ()
        assert texts_of(s, 1).texts == ()
