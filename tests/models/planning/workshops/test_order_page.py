"""The running order shown: blocks with light and what to mind, ways to make it fit; typed over; moved as a whole."""

from __future__ import annotations

from dataclasses import replace
from datetime import time, timedelta

import pytest

from models.planning.rules.workshops import draft_of
from models.planning.setups.keeping import add_setup, delete_setup
from models.planning.workshops.order_edit import field_of_block, keep_blocks
from models.planning.workshops.order_moved import moved_order, read_minutes
from models.planning.workshops.order_page import order_page
from models.problems import InputProblem, InputProblems
from models.rules.rule import RuleDraft
from models.store import rules
from models.store.plans import plan_of
from models.store.spots import shelf as spots
from models.store.versions import Clash, Missing
from models.workshop.plan import BlockEdit
from tests.models.planning.workshops.evening import ENDS, KEY, NOW, SETUP, count_there, keep_evening, keep_station
from tests.models.planning.workshops.running_evening import keep_running


def block(page, key):
    return next(each for each in page.blocks if each.key == key)


def test_the_answer_stands_first_with_zone_and_spare(plans):
    page = order_page(plans, keep_running(plans), NOW)
    assert page.answer.text.startswith(
        "Saturday 17 October 2026, Foundry Lane: meet at 16:40 CEST, set up at 17:00 CEST,"
    )
    assert "to spare" in page.answer.text
    assert (page.missing, page.ways, page.zone) == ((), (), "CEST")
    assert block(page, "set up").starts == "17:00"
    assert block(page, "meet").heads == "Count heads when everybody is there."


def test_without_stations_it_says_what_is_missing(plans):
    page = order_page(plans, keep_evening(plans)[0], NOW)
    assert page.answer.text.endswith("there is no running order, no station is set up for it yet.")
    assert (page.blocks, page.fallback, page.version) == ((), None, 0)


def test_rounds_carry_light_reserve_and_footfall(plans):
    workshop = keep_running(plans)
    page = order_page(plans, workshop, NOW)
    first = block(page, "round 1")
    assert [line.station for line in first.stations] == ["A", "B"]
    assert all(line.light.startswith("EV100 ") and "stop" in line.hand for line in first.stations)
    assert first.footfall == "Footfall not counted at this hour."
    assert any("not counted" in line for line in page.cautions)
    count_there(plans, 30)
    keep_blocks(plans, workshop, 0, typed("safety", minutes_safety="60"))
    assert "people an hour come by (" in block(order_page(plans, workshop, NOW), "round 1").footfall
    assert block(page, "walk").lasts == "not known"
    assert any("walk it once" in line for line in block(page, "walk").warnings)


def test_what_is_dialled_alike_is_said_once_for_all_stations(plans):
    page = order_page(plans, keep_running(plans, stations="ABC"), NOW)
    lines = block(page, "round 1").redials
    assert len(lines) == 1
    assert lines[0].startswith("A, B and C: 17:20 CEST: ")
    every = [line for each in page.blocks for line in each.redials]
    assert not [line for line in every if "as they are. Powers stay." in line]
    assert not [line for each in page.blocks for line in each.warnings if "dial again" in line]


def test_a_setup_that_never_beats_the_light_is_not_said_to_have_done_so(plans):
    """A flash 9 m away is short from the first minute on."""
    workshop = keep_running(plans)
    far = add_setup(plans, replace(SETUP, title="Far", lights=(replace(KEY, distance_m=9.0),)))
    keep_station(plans, workshop, name="C", setup_id=far.id)
    told = [line for each in order_page(plans, workshop, NOW).blocks for line in each.warnings]
    assert any("The setup at C does not beat the light" in line for line in told), told
    assert not any("no longer beats" in line for line in told)


def test_a_station_without_a_setup_and_one_whose_setup_was_deleted_do_not_stop_it(plans):
    workshop, setup = keep_evening(plans)
    keep_station(plans, workshop, name="A", setup_id=setup)
    keep_station(plans, workshop, name="B")
    delete_setup(plans, setup, 1, now=NOW)
    first = block(order_page(plans, workshop, NOW), "round 1")
    assert first.stations[0].light.startswith("EV100"), "a deleted setup stays with its station"
    assert first.stations[1].light == "light not known: no setup in the light"


def test_a_deleted_spot_and_a_workshop_called_off_are_still_shown(plans):
    workshop = keep_running(plans)
    with plans.writing() as s:
        kept = rules.get_workshop(s, workshop)
        rules.change_workshop(s, workshop, kept.version, replace(draft_of(kept), called_off=True))
        spots.delete(s, kept.spot_id, 1, now=NOW)
    page = order_page(plans, workshop, NOW)
    assert page.workshop.called_off
    assert page.blocks
    with pytest.raises(Missing):
        order_page(plans, 99, NOW)


def test_hours_of_a_rule_stand_at_their_minute(plans):
    workshop = keep_running(plans)
    with plans.writing() as s:
        spot_id = rules.get_workshop(s, workshop).spot_id
        rule = {"spot_id": spot_id, "source_title": "Notice", "checked_on": NOW.date(), "found": "needed"}
        rules.add_rules(
            s,
            [RuleDraft(**rule, activity="flash_held", from_time=time(17, 30), to_time=time(17, 40))],
        )
    page = order_page(plans, workshop, NOW)
    told = [line for each in page.blocks for line in each.warnings if "its hours" in line]
    assert [line[:5] for line in told] == ["17:30", "17:40"]
    assert "its hours begin here" in told[0]
    assert "A rule of this spot" in told[1]
    assert "begin or end on the way" in page.windows_note


def test_what_takes_too_long_has_ways_each_with_what_would_be_changed(plans):
    page = order_page(plans, keep_running(plans, attendees=9, stations="ABC", frames=40, pose_s=20.0), NOW)
    first, *ways = page.ways
    assert ("too long" in first.words, first.kind) == (True, "")
    assert {way.kind for way in ways} <= {"frames", "station more", "station fewer", "people fewer"}
    assert any(way.kind == "frames" for way in ways)
    assert "too long" in page.answer.text


def test_weather_that_nobody_knows_is_told_beside_the_rests(plans):
    page = order_page(plans, keep_running(plans, attendees=2), NOW)
    assert page.feels.startswith("How warm it is in that hour is not known, and taken as neither")
    assert page.rests == ("No model is on for 20 minutes without standing idle for long enough.",)


def typed(*keys, **fields):
    return {"blocks": "|".join(keys), **fields}


def test_minutes_and_notes_move_the_rest(plans):
    workshop = keep_running(plans)
    plan = keep_blocks(
        plans, workshop, 0, typed("set up", "pack", minutes_set_up="25 min", note_pack=" wet \n cloths ")
    )
    assert plan.blocks == (BlockEdit("set up", 25.0), BlockEdit("pack", None, "wet cloths"))
    page = order_page(plans, workshop, NOW)
    shown = block(page, "set up")
    assert (shown.ends, shown.lasts, shown.worked_out, shown.minutes) == ("17:25", "25 minutes", "15 minutes", "25 min")
    assert block(page, "pack").note == "wet cloths"
    assert block(page, "safety").starts == "17:25"
    again = keep_blocks(plans, workshop, page.version, typed("set up", minutes_set_up=""))
    assert again.blocks == (BlockEdit("pack", None, "wet cloths"),), "what is not named stays"


def test_every_wrong_field_is_named_and_nothing_is_half_saved(plans):
    workshop = keep_running(plans)
    fields = {field_of_block("round 1", "minutes"): "soon", field_of_block("meet", "minutes"): "9 h",
              field_of_block("pack", "note"): "x" * 201, field_of_block("set up", "minutes"): "12"}  # fmt: skip
    with pytest.raises(InputProblems) as raised:
        keep_blocks(plans, workshop, 0, typed("meet", "set up", "round 1", "pack", **fields))
    assert set(raised.value.by_field) == {"minutes_round_1", "minutes_meet", "note_pack"}
    with plans.reading() as s:
        assert plan_of(s, workshop).blocks == ()


def test_who_types_over_an_older_plan_clashes(plans):
    workshop = keep_running(plans)
    keep_blocks(plans, workshop, 0, typed("meet", minutes_meet="5"))
    with pytest.raises(Clash):
        keep_blocks(plans, workshop, 0, typed("meet", minutes_meet="7"))
    with pytest.raises(Missing):
        keep_blocks(plans, 99, 0, typed())


def test_what_was_typed_for_a_round_that_is_gone_is_named(plans):
    workshop = keep_running(plans, blocks=(BlockEdit("round 9", 5.0),))
    assert order_page(plans, workshop, NOW).left_over == ("round 9",)


@pytest.mark.parametrize(("text", "minutes"), [("20", 20), (" -15 min ", -15), ("−5", -5), ("+7", 7), ("", None)])
def test_minutes_to_move_by_are_read(text, minutes):
    assert read_minutes(text) == minutes


@pytest.mark.parametrize("text", ["0", "soon", "721", "--3", "1.5", "٣", "9" * 30, "<b>"])
def test_minutes_that_cannot_be_meant_are_refused(text):
    with pytest.raises(InputProblem) as raised:
        read_minutes(text)
    assert raised.value.field == "by"


def test_moved_it_says_what_gets_better_and_worse_and_keeps_nothing(plans):
    """An hour nearer to dusk the flash has more in hand; from there, an hour earlier takes as much away."""
    workshop = keep_running(plans)
    found = moved_order(plans, workshop, NOW, 60)
    assert (found.minutes, found.starts) == (60, "18:00")
    assert any("A has" in line and "instead of" in line for line in found.better), found
    with plans.writing() as s:
        kept = rules.get_workshop(s, workshop)
        assert kept.ends == ENDS
        later = timedelta(hours=1)
        rules.change_workshop(s, workshop, 1, replace(draft_of(kept), starts=kept.starts + later, ends=ENDS + later))
    back = moved_order(plans, workshop, NOW, -60)
    assert any("A has" in line for line in back.worse), back


def test_what_cannot_be_worked_out_is_not_moved(plans):
    assert moved_order(plans, keep_evening(plans)[0], NOW, 20) is None
