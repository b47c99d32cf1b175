"""What changed between two versions, in words: nothing is passed over, nothing is told to those it is not for."""

from __future__ import annotations

from dataclasses import fields, replace
from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.words.briefing_changes import OTHERWISE, all_changes, changes_of, standing_of
from models.workshop.briefing import READERS, Facts
from tests.models.words.briefings import BARE, FACTS, STATION_A, STATION_B

ALL_LATER = timedelta(minutes=20)
NEARBY = replace(FACTS.spot, latitude_deg=52.5302)
OTHER = {
    "title": "Late light", "spot": NEARBY, "zone": "Europe/London", "called_off": True, "meeting": None, "indoors": "",
    "starts": FACTS.starts - ALL_LATER, "ends": FACTS.ends + ALL_LATER, "fallback": FACTS.meeting, "decide_by": None,
    "blocks": FACTS.blocks[:-1], "stations": (STATION_A,), "frames": None, "group_size": 4, "organiser": "B. Hale",
    "contact": "", "talks": "Q. Lowe", "ambulance": "2 Foundry Lane", "weather": "no rain", "light": "", "bring": (),
    "carry": ("Another paper",), "charge": (), "enquiries": FACTS.enquiries[:1], "hazards": FACTS.hazards[:1],
    "leaf": (), "paragraphs": FACTS.paragraphs | {"touch": ""}, "walk": "", "group": 10, "facilities": "",
    "wear": FACTS.wear[::-1], "bring_models": ("A hat",), "kit": (), "cells": (), "rests": (), "cautions": (),
    "redials": (),
    "emergency": "", "first_aider": "", "spares": "Q. Lowe",
    "goes_to": "",
}  # fmt: skip
"""By field, another value."""


def later(facts: Facts, by: timedelta) -> Facts:
    blocks = tuple(replace(each, starts=each.starts + by, ends=each.ends + by) for each in facts.blocks)
    decide_by = facts.decide_by + by if facts.decide_by else None
    return replace(facts, starts=facts.starts + by, ends=facts.ends + by, blocks=blocks, decide_by=decide_by)


def meeting_earlier(minutes: float) -> Facts:
    """A longer walk: everything before the set-up is earlier."""
    by = timedelta(minutes=-minutes)
    blocks = tuple(
        replace(each, starts=each.starts + by, ends=each.ends + (by if each.key != "walk" else timedelta()))
        if each.starts < FACTS.starts
        else each
        for each in FACTS.blocks
    )
    return replace(FACTS, blocks=blocks)


def test_every_field_is_another_in_the_table_above():
    told = {field.name for field in fields(Facts)} - {"workshop_id", "language"}
    assert set(OTHER) == told
    assert all(getattr(FACTS, name) != value for name, value in OTHER.items())


@pytest.mark.parametrize("field", OTHER)
def test_a_change_of_any_field_is_told(field):
    told = all_changes(FACTS, replace(FACTS, **{field: OTHER[field]}))
    assert told
    assert OTHERWISE not in told
    assert all_changes(replace(FACTS, **{field: OTHER[field]}), FACTS) not in ((), (OTHERWISE,))


@pytest.mark.parametrize("facts", [FACTS, BARE])
def test_nothing_changed_is_nothing_told(facts):
    assert all_changes(facts, facts) == ()
    assert [changes_of(facts, facts, reader) for reader in READERS] == [(), (), ()]
    assert all_changes(facts, replace(facts, language="nl")) == (OTHERWISE,)


def test_a_longer_walk_is_an_earlier_meeting_and_no_more():
    assert changes_of(FACTS, meeting_earlier(15), "attendee") == (
        "Meet 15 minutes earlier, at 16:13 CEST.",
        "Walk to the spot takes 15 minutes longer.",
    )


def test_a_workshop_that_is_later_as_a_whole_says_so_once():
    told = changes_of(FACTS, later(FACTS, ALL_LATER), "model")
    assert told == (
        "Everything is 20 minutes later: meet at 16:48 CEST, set-up at 17:20 CEST, packed up by 18:45 CEST.",
        "Whether we go elsewhere is decided by 16:50 CEST.",
    )


def test_another_day_names_both_days_and_the_hour():
    told = changes_of(FACTS, later(FACTS, timedelta(days=7)), "attendee")
    assert told[:2] == (
        "The day is now Saturday 24 October 2026; it was Saturday 17 October 2026.",
        "Meet at 16:28 CEST.",
    )


def test_another_day_over_a_clock_change_tells_the_hour_on_the_wall():
    """On 25 October 2026 the clocks of Amsterdam go back: the same hour on the wall is an hour later."""
    told = changes_of(FACTS, later(FACTS, timedelta(days=8, hours=1)), "attendee")
    assert told[1] == "Meet at 16:28 CET."
    early = changes_of(FACTS, later(FACTS, timedelta(days=8)), "model")
    assert early[1].startswith("Everything is 1 h earlier: meet at 15:28 CET, ")


def test_another_spot_is_named_with_where_it_lies():
    told = changes_of(FACTS, replace(FACTS, spot=replace(FACTS.fallback)), "model")
    assert told == ("The spot is now Old arcade, 52.53120, 5.22990; it was Foundry Lane.",)
    assert changes_of(FACTS, replace(FACTS, spot=NEARBY), "model") == (
        "The spot, Foundry Lane, lies at 52.53020, 5.23120 now.",
    )


def test_stations_and_dials_are_told_to_those_who_shoot_and_help():
    dialled = replace(FACTS, stations=(replace(STATION_A, settings="1/200 s, f/8, ISO 200"), STATION_B))
    for reader in ("attendee", "helper"):
        told = changes_of(FACTS, dialled, reader)
        assert told == ("Station A: start at 1/200 s, f/8, ISO 200, key 1/4, fill 1/16.",)
    assert changes_of(FACTS, dialled, "model") == ()


def test_stations_that_changed_alike_are_told_together():
    stations = (STATION_A, replace(STATION_A, name="B"))
    brighter = tuple(replace(each, reason="brighter") for each in stations)
    told = changes_of(replace(FACTS, stations=stations), replace(FACTS, stations=brighter), "helper")
    assert told == ("Stations A and B: light or setup is not what it was.",)


def test_an_answer_that_came_is_told_to_helpers_alone():
    answered = replace(FACTS, enquiries=(FACTS.enquiries[0], ("Quay guard", "G 1", "granted", "")))
    assert changes_of(FACTS, answered, "helper") == ("Quay guard: granted, reference G 1.",)
    assert changes_of(FACTS, answered, "attendee") == changes_of(FACTS, answered, "model") == ()


def test_a_name_filled_in_anew_is_told_once_and_a_reworded_paragraph_in_full():
    stopped = "Stop. {} talks, nobody else. R. Vale has the papers."
    before = replace(FACTS, paragraphs={"stopped": stopped.format("J. Moss")})
    after = replace(FACTS, talks="Q. Lowe", paragraphs={"stopped": stopped.format("Q. Lowe")})
    assert changes_of(before, after, "model") == ("Who talks if we are asked to stop is now: Q. Lowe.",)
    worded = replace(before, paragraphs={"stopped": "Stop. J. Moss talks."})
    assert changes_of(before, worded, "model") == ("If we are asked to stop: Stop. J. Moss talks.",)
    assert changes_of(before, replace(before, paragraphs={}), "model") == (
        "If we are asked to stop: no longer part of the briefing.",
    )


def test_called_off_moved_and_on_again():
    off = replace(FACTS, called_off=True)
    assert (standing_of(off, None), standing_of(off, FACTS), standing_of(FACTS, off)) == ("called off",) * 2 + ("on",)
    assert standing_of(later(FACTS, ALL_LATER), FACTS) == standing_of(replace(FACTS, spot=NEARBY), FACTS) == "moved"
    assert changes_of(off, FACTS, "model") == ("It is on again.",)
    assert standing_of(meeting_earlier(15), FACTS) == "on"


def test_rows_of_the_timetable_that_move_alike_are_told_together():
    by = timedelta(minutes=12)
    blocks = tuple(
        replace(each, starts=each.starts + by, ends=each.ends + by) if each.key.startswith(("round", "group")) else each
        for each in FACTS.blocks
    )
    assert changes_of(FACTS, replace(FACTS, blocks=blocks), "attendee") == (
        "These begin 12 minutes later: Round 1 at 17:32 CEST, Round 2 at 17:57 CEST, "
        "Group picture with all lights at 18:22 CEST.",
    )
    longer = tuple(replace(each, ends=each.ends + by) if "round" in each.key else each for each in FACTS.blocks)
    assert changes_of(FACTS, replace(FACTS, blocks=longer), "model") == (
        "Each takes 12 minutes longer: Round 1, Round 2.",
    )


def test_battery_plan_and_plan_b_are_told_once():
    lines = tuple(f"Line {number}" for number in range(12))
    after = replace(FACTS, cells=lines, leaf=lines, kit=lines, rests=lines, redials=lines[:2])
    once = (
        "Breaks changed.",
        "What to dial again changed.",
        "Kit list changed.",
        "The battery plan changed.",
        "Plan B changed.",
    )
    assert changes_of(FACTS, after, "helper") == once
    assert changes_of(FACTS, replace(FACTS, cells=()), "helper") == (
        "The battery plan changed: nothing is said there any more.",
    )


def test_much_of_one_kind_is_told_once():
    stations = tuple(replace(STATION_A, name=name) for name in "ABCDE")
    dialled = tuple(replace(each, settings="1/200 s, f/8, ISO 200") for each in stations)
    told = changes_of(replace(FACTS, stations=stations), replace(FACTS, stations=dialled), "helper")
    assert told == ("Setups or settings of 5 stations changed: A, B, C, D, E.",)
    worded = replace(FACTS, paragraphs={key: f"{words} Anew." for key, words in FACTS.paragraphs.items()})
    told = changes_of(FACTS, worded, "model")
    assert len(told) == 1
    assert told[0].startswith("Worded otherwise: ")
    noted = replace(FACTS, blocks=tuple(replace(each, note="Mind the kerb") for each in FACTS.blocks))
    assert len(changes_of(FACTS, noted, "attendee")) == 1


@settings(max_examples=40)
@given(st.sets(st.sampled_from(sorted(OTHER)), min_size=1, max_size=6), st.sampled_from(READERS))
def test_what_one_reader_is_told_is_told_by_all_together(names, reader):
    after = replace(FACTS, **{name: OTHER[name] for name in names})
    told = changes_of(FACTS, after, reader)
    assert set(told) <= set(all_changes(FACTS, after))
    assert all(line.strip() and line[-1] in ".!?" for line in told)
