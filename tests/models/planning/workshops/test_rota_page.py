"""Who is where when: grid, sheets and slips agree; who is lent; models' own slips; no names in JSON."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import timedelta

import pytest

from models.planning.rules.workshops import draft_of
from models.planning.setups.keeping import add_setup
from models.planning.workshops.rota_page import rota_page
from models.store import rules
from models.store.people import shelf as people
from tests.models.planning.workshops.evening import NOW, SETUP, STARTS, keep_evening, keep_station
from tests.models.planning.workshops.running_evening import NAMES, add_part, happening, keep, keep_running
from webapp.answering import PlainJson


def told(thing):
    """As JSON has it."""
    from flask import Flask

    return PlainJson(Flask("test")).dumps(thing)


def test_everybody_shoots_once_at_every_station_and_the_tables_agree(plans):
    page = rota_page(plans, keep_running(plans, attendees=9, stations="ABC"), NOW)
    assert [row.who.shown for row in page.grid] == list(NAMES)
    for row in page.grid:
        assert sorted(cell.station for cell in row.cells) == ["A", "B", "C"]
    shooters = Counter(
        (sheet.name, turn.shooter.shown) for sheet in page.sheets for each in sheet.rounds for turn in each.turns
    )
    assert shooters == {(name, who): 1 for name in "ABC" for who in NAMES}
    for slip in page.slips:
        assert [line.shoots for line in slip.lines].count(True) == 3
        assert [line.starts for line in slip.lines] == sorted(line.starts for line in slip.lines)
    assert [starts for _, starts in page.rounds] == sorted(starts for _, starts in page.rounds)


def test_names_stay_out_of_json_in_every_part(plans):
    page = rota_page(plans, keep_running(plans, attendees=4, models=1, helpers=1, holders=3), NOW)
    text = told(page)
    for name in (*NAMES[:4], "Sitter 1", "Aide 1"):
        assert name not in text, name
    assert "attendee 4" in text
    assert "helper 1" in text
    assert "model 1" in text


def test_nobody_named_yet_goes_by_numbers(plans):
    workshop, setup = keep_evening(plans)
    keep_station(plans, workshop, setup_id=setup)
    page = rota_page(plans, workshop, NOW)
    assert [row.who.shown for row in page.grid] == [f"No. {k}" for k in range(1, 8)]
    assert page.sheets[0].model is None


def test_without_a_rota_it_says_why(plans):
    page = rota_page(plans, keep_evening(plans)[0], NOW)
    assert page.answer.text == "There is no rota: no station is set up for it yet."
    assert (page.grid, page.sheets, page.slips) == ((), (), ())


def test_who_rests_has_something_to_do(plans):
    """Three groups at two stations: each rests once."""
    page = rota_page(plans, keep_running(plans, attendees=9, stations="AB"), NOW)
    rests = [line for slip in page.slips for line in slip.lines if "rest." in line.words]
    assert len(rests) == 9
    assert all("Take a picture of the others at work" in line.words for line in rests)


def test_helpers_then_the_organiser_are_lent_by_name_on_sheets_and_slips(plans):
    """Two people, a station of three hands: one holds, two lack at every turn."""
    workshop = keep_running(plans, attendees=2, stations="A", helpers=1, holders=2)
    page = rota_page(plans, workshop, NOW)
    assert page.short == "At a turn up to 2 hands lack."
    assert [line.shown for line in page.lent] == [
        "Aide 1 lends a hand at A in round 1.",
        "The organiser lends a hand at A in round 1.",
    ]
    (sheet,) = page.sheets
    assert sheet.lends
    assert [[one.shown for one in turn.lent] for turn in sheet.rounds[0].turns] == [["Aide 1", "the organiser"]] * 2
    assert not [turn.lack for turn in sheet.rounds[0].turns if turn.lack]
    slips = {slip.who.shown: slip for slip in page.slips}
    assert [line.words for line in slips["Aide 1"].lines] == [
        "Meet: Foundry Lane.",
        "A, round 1: lend a hand.",
        "Group picture with all lights.",
        "Pack.",
        "Released: be counted before you leave.",
    ]
    assert slips["the organiser"].lines


def test_what_nobody_can_lend_lacks_still(plans):
    workshop = keep_running(plans, attendees=2, stations="A", holders=2, organiser_helps=False)
    page = rota_page(plans, workshop, NOW)
    assert [line.shown for line in page.lent] == ["Nobody is down to lend 2 hands at A in round 1."]
    assert [turn.lack for turn in page.sheets[0].rounds[0].turns] == ["2 hands lack"] * 2


def test_a_helper_with_nothing_to_lend_and_one_who_models_are_told_so(plans):
    workshop = keep_running(plans, helpers=1, models=1)
    slips = {slip.who.shown: slip for slip in rota_page(plans, workshop, NOW).slips}
    assert slips["Aide 1"].lines[1].words.startswith("At no station by this rota")
    assert "the organiser" not in slips


def test_groups_merged_for_want_of_hands_have_other_ways(plans):
    """Nine at three stations of three hands: two groups, or three and lent hands."""
    workshop = keep_running(plans, attendees=9, stations="ABC", holders=2, helpers=1, lent=0)
    page = rota_page(plans, workshop, NOW)
    assert page.short.startswith(
        "Groups of 3 have too few hands for these stations, so people go in 2 groups of 4 and 5"
    )
    assert page.lent == ()
    lend = [way for way in page.ways if way.words.shown.startswith("Lend")]
    assert lend
    assert "Aide 1 lends a hand at" in lend[-1].words.shown
    assert "Aide 1" not in lend[-1].words.told
    assert lend[-1].lent == 3


def test_helpers_are_lent_unless_the_plan_says_otherwise(plans):
    """Three helpers make up for the hand that each of three groups of three lacks."""
    workshop = keep_running(plans, attendees=9, stations="ABC", holders=2, helpers=3)
    page = rota_page(plans, workshop, NOW)
    assert "in 3 groups of 3 go round 3 stations" in page.answer.text
    assert page.short == "At a turn up to 1 hand lacks."
    assert {line.shown.split(" lends")[0] for line in page.lent} == {"Aide 1", "Aide 2", "Aide 3"}
    assert any(way.lent == 0 for way in page.ways)


def test_a_models_slip_says_when_on_when_resting_and_when_finished(plans):
    workshop = keep_running(plans, attendees=9, stations="ABC", models=2, pose_s=20.0)
    slips = {slip.who.shown: slip for slip in rota_page(plans, workshop, NOW).slips if slip.part == "model"}
    assert set(slips) == {"Sitter 1", "Sitter 2"}
    words = [line.words for line in slips["Sitter 1"].lines]
    assert words[1].startswith("On at A until ")
    assert any(line.startswith("Rest for ") for line in words)
    assert words[-4:-2] == ["Finished.", "Group picture with all lights."]
    assert [line.starts for line in slips["Sitter 1"].lines] == sorted(line.starts for line in slips["Sitter 1"].lines)


def test_every_slip_goes_from_meeting_to_release_and_says_where(plans):
    """Set up at 17:00 CEST; ten minutes each to meet and for a drink, no walk known."""
    workshop = keep_running(plans, models=1, helpers=1, meets_by="Under the clock. ")
    page = rota_page(plans, workshop, NOW)
    assert (page.when, page.meet) == (
        "Saturday 17 October 2026, 17:00 to 18:30 CEST, Foundry Lane",
        "Foundry Lane (Under the clock)",
    )
    assert {slip.part for slip in page.slips} == {"", "helper", "model"}
    for slip in page.slips:
        first, *_, pack, last = slip.lines
        assert (first.starts, first.words) == ("16:40", "Meet: Foundry Lane.")
        assert pack.words == "Pack."
        assert last.words.startswith("Released: ")
        assert pack.starts < last.starts
    keep(plans, happening(workshop, "not come", 2, at=STARTS + timedelta(minutes=25)))
    for slip in rota_page(plans, workshop, NOW).slips:
        assert not slip.lines[0].words.startswith("Meet"), "the day has begun"
        assert slip.lines[-1].words.startswith("Released: ")


@pytest.mark.parametrize(
    ("by", "meet", "short"),
    [
        ({}, "52.535000, 5.240000", "52.535000, 5.240000"),
        ({"meets_by": "Under the clock."}, "52.535000, 5.240000 (Under the clock)", "Under the clock"),
    ],
)
def test_where_people_meet_is_named_as_in_workshop_and_plan(plans, by, meet, short):
    workshop = keep_running(plans, **by)
    with plans.writing() as s:
        kept = rules.get_workshop(s, workshop)
        rules.change_workshop(s, workshop, kept.version, replace(draft_of(kept), meeting_point=(52.535, 5.24)))
    page = rota_page(plans, workshop, NOW)
    assert page.meet == meet
    assert page.slips[0].lines[0].words == f"Meet: {short}."


def test_a_model_who_was_erased_or_deleted_leaves_the_sheet_without_one(plans):
    workshop = keep_running(plans, models=1)
    with plans.writing() as s:
        people.delete(s, 1, 1, now=NOW)
    page = rota_page(plans, workshop, NOW)
    assert page.sheets[0].model is None
    assert not [slip for slip in page.slips if slip.part == "model"]


@pytest.mark.parametrize(("attendees", "stations"), [(1, "A"), (2, "ABC"), (5, "AB"), (13, "ABCD")])
def test_every_size_has_its_grid(plans, attendees, stations):
    page = rota_page(plans, keep_running(plans, attendees=attendees, stations=stations), NOW)
    assert len(page.grid) == attendees
    assert all(sum(bool(cell.station) for cell in row.cells) >= len(stations) for row in page.grid)


def test_sheets_carry_what_is_dialled_and_learnt(plans):
    workshop, setup = keep_evening(plans)
    other = add_setup(plans, SETUP)
    add_part(plans, workshop, "attendee", "Ana")
    keep_station(plans, workshop, setup_id=setup, lesson="Move the light first.", notes="Mind the step.")
    keep_station(plans, workshop, name="B", setup_id=other.id)
    keep_station(plans, workshop, name="C")
    first, _, bare = rota_page(plans, workshop, NOW).sheets
    assert (first.setup, first.lesson, first.notes) == ("Key and fill", "Move the light first.", "Mind the step.")
    assert first.settings
    assert len(first.powers) == 2
    assert (bare.setup, bare.settings, bare.powers) == ("", "", ())
