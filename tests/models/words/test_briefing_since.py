"""What changed over several versions: who skipped one misses no move, nothing is said twice, wording is last."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.words.briefing_changes import changes_of, pressing
from models.words.briefing_since import (
    AS_ISSUED,
    as_issued,
    changes_since,
    instead_words,
    is_moved,
    moved_from,
    moved_since,
)
from models.words.briefing_voices import briefing_of
from models.workshop.briefing import READERS
from tests.models.words.briefings import FACTS, STATION_A, STATION_B
from tests.models.words.test_briefing_changes import ALL_LATER, NEARBY, OTHER, later

QUARTER = later(FACTS, timedelta(minutes=15))
WORDED = replace(QUARTER, talks="Q. Lowe")
QUAY = replace(FACTS.fallback, name="Old quay")


def test_whoever_last_read_the_first_version_learns_of_a_move_that_the_second_told():
    told = changes_since(((2, QUARTER), (1, FACTS)), WORDED, "attendee")
    assert told[0].startswith("Since version 1: Everything is 15 minutes later: meet at 16:43 CEST")
    assert told[-1] == "Since version 2: Who talks if we are asked to stop is now: Q. Lowe."
    assert sum("Q. Lowe" in line for line in told) == 1
    assert moved_from(((2, QUARTER), (1, FACTS)), WORDED) == FACTS
    assert moved_from(((2, QUARTER),), WORDED) is None


def test_the_version_before_alone_is_not_named():
    assert changes_since(((1, FACTS),), QUARTER, "model") == changes_of(FACTS, QUARTER, "model")
    assert changes_since((), FACTS, "model") == ()


def test_what_went_and_came_back_is_not_told_against_the_version_that_had_it():
    told = changes_since(((2, QUARTER), (1, FACTS)), FACTS, "model")
    assert told[0].startswith("Everything is 15 minutes earlier: meet at 16:28 CEST")
    assert not any("version 1" in line for line in told)


def test_much_that_is_old_and_not_pressing_is_counted():
    old = {"talks": "A", "organiser": "B", "contact": "C", "spares": "D", "emergency": "E", "weather": "F"}
    first = replace(FACTS, **old, starts=FACTS.starts - ALL_LATER)
    told = changes_since(((2, FACTS), (1, first)), FACTS, "attendee")
    assert told[-1] == "Since version 1: 6 more things changed that are neither time nor place: read it anew."
    assert told[0].startswith("Since version 1: Set-up 20 minutes later, at")


def test_wording_of_the_latest_comes_after_what_is_older():
    worded = replace(WORDED, paragraphs=FACTS.paragraphs | {"touch": "Nobody touches anybody."})
    told = changes_since(((2, WORDED), (1, FACTS)), worded, "attendee")
    assert told[0].startswith("Since version 1: Everything is 15 minutes later")
    assert told[-2:] == (
        "Since version 1: Who talks if we are asked to stop is now: Q. Lowe.",
        f"Since version 2: {changes_of(WORDED, worded, 'attendee')[0]}",
    )


@settings(max_examples=25)
@given(st.lists(st.sets(st.sampled_from(sorted(OTHER)), max_size=3), min_size=1, max_size=4), st.sampled_from(READERS))
def test_every_pressing_change_against_every_version_is_told_once_and_first(steps, reader):
    bases = [(number, replace(FACTS, **{name: OTHER[name] for name in step})) for number, step in enumerate(steps, 1)]
    told = changes_since(bases[::-1], FACTS, reader)
    lines = [line.removeprefix(f"Since version {number}: ") for line in told for number in [line[14:15]]]
    assert len(set(lines)) == len(lines)
    wanted = {line for _, was in bases for line in pressing(was, FACTS)}
    assert set(lines[: len(wanted)]) == wanted


def test_the_hour_is_told_with_what_it_was():
    assert instead_words(FACTS, QUARTER) == "Meet at 16:43 CEST instead of 16:28 CEST."
    assert instead_words(FACTS, later(FACTS, timedelta(days=7))) == (
        "Meet on Saturday 24 October 2026 at 16:28 CEST instead of Saturday 17 October 2026 at 16:28 CEST."
    )
    assert instead_words(FACTS, replace(FACTS, starts=FACTS.starts + ALL_LATER)) == (
        "Set-up is at 17:20 CEST instead of 17:00 CEST."
    )
    assert instead_words(FACTS, replace(FACTS, stations=(STATION_B, STATION_A))) == ""


def test_the_place_is_told_with_what_it_was():
    assert instead_words(FACTS, replace(FACTS, meeting=QUAY)) == "Meet at Old quay instead of Ferry quay."
    assert instead_words(FACTS, replace(FACTS, spot=QUAY)) == "The spot is now Old quay instead of Foundry Lane."
    assert instead_words(FACTS, replace(FACTS, spot=NEARBY)) == "The spot, Foundry Lane, lies elsewhere now."
    alone, moved = (replace(FACTS, meeting=None, spot=spot) for spot in (FACTS.spot, QUAY))
    assert instead_words(alone, moved) == "Meet at Old quay instead of Foundry Lane."


def test_a_move_after_the_issue_is_told_with_the_new_day_hours_and_spot():
    here = (FACTS.spot.latitude_deg, FACTS.spot.longitude_deg)
    assert not is_moved(FACTS, FACTS.starts, here)
    assert is_moved(FACTS, FACTS.starts + timedelta(days=1), here)
    assert is_moved(FACTS, FACTS.starts, (1.0, 2.0))
    said = moved_since(later(FACTS, timedelta(days=1)))
    assert "Sunday 18 October 2026, meet at 16:28 CEST, set-up at 17:00 CEST, Foundry Lane" in said


@pytest.mark.parametrize(
    ("ahead", "stale"), [(QUARTER, {"when"}), (replace(FACTS, spot=QUAY), {"when", "where"})], ids=["time", "place"]
)
def test_what_is_stale_after_a_move_says_so(ahead, stale):
    for reader in READERS:
        sections = as_issued(briefing_of(FACTS, reader, 1, None, None).sections, FACTS, ahead)
        assert {each.key for each in sections if AS_ISSUED in each.paragraphs} == stale


def test_moved_since_the_issue_the_times_of_older_versions_are_left_to_it():
    ahead = later(QUARTER, ALL_LATER)
    told = changes_since(((1, replace(FACTS, meeting=QUAY)),), QUARTER, "model", ahead)
    assert told[0].startswith("The meeting point is now Ferry quay")
    assert not any("later" in line for line in told)
