"""A sheet filled in anew: edits and own lines stay, the untouched follows, nothing stands twice."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from models.workshop.hazards import HazardLine, renewed

KEYS = ("wind", "cold", "heat", "water", "drop")
words = st.sampled_from(("weight", "hold", "down"))
sheets = st.dictionaries(st.sampled_from(KEYS), words, max_size=5).map(
    lambda found: tuple(HazardLine(key=key, what=key, done=done, who="Bo") for key, done in found.items())
)


def test_untouched_follows_edited_stays_taken_out_stays_out_new_comes_last():
    wind, cold, water = (HazardLine(key=key, what=key, done="usual", who="Bo") for key in KEYS[:2] + KEYS[3:4])
    own = HazardLine(what="mine", done="x", who="me")
    edited = replace(water, done="rope")
    blown = replace(wind, done="down")
    drop = HazardLine(key="drop", what="drop", done="usual", who="Bo")
    lines = renewed((own, edited, replace(wind, is_done=True)), (wind, cold, water), (blown, cold, drop))
    assert lines == (own, edited, blown, drop)


@given(sheets, sheets)
def test_a_sheet_left_as_prefilled_becomes_the_new_one(before, after):
    assert set(renewed(before, before, after)) == set(after)


@given(sheets, sheets, sheets)
def test_no_hazard_stands_twice_and_nothing_known_before_comes_back_by_itself(lines, before, after):
    found = [line.key for line in renewed(lines, before, after)]
    assert len(found) == len(set(found))
    had, was = {line.key for line in lines}, {line.key for line in before}
    assert not {key for key in found if key not in had} & was


@given(sheets, sheets)
def test_the_same_hour_changes_nothing(lines, usual):
    assert renewed(lines, usual, usual) == lines
