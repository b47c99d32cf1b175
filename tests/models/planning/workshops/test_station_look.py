"""What a station rests on: light, width, crowding, rules at its exact place, hands; unknown is told, never guessed."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from math import log2

import pytest

from models.planning.setups.keeping import add_setup, delete_setup
from models.planning.workshops.grounds import grounds_of
from models.planning.workshops.station_look import holders_of, station_look
from models.rules.answers import Answer
from models.rules.areas import AreaDraft
from models.rules.rule import RuleDraft
from models.store import rules
from models.words import stations as words
from models.workshop.rota import Post
from tests.models.planning.workshops.evening import ENDS, LANE, NOW, SETUP, count_there, keep_evening, keep_station


def look(store, workshop_id, at=None):
    grounds = grounds_of(store, workshop_id, NOW)
    return station_look(store, grounds, grounds.stations[0], at)


def test_a_station_with_all_that_it_rests_on(plans):
    workshop, setup = keep_evening(plans)
    count_there(plans, 40)
    kept = keep_station(plans, workshop, setup_id=setup, depth_m=1.5, width_m=2.0, pose_s=8.0)
    found = look(plans, workshop, ENDS)
    assert (found.setup_title, found.works, found.looking_deg, found.off_m) == ("Key and fill", True, 270.0, 0.0)
    assert found.width_left_m == pytest.approx(3.5 - 0.45 - 1.5)
    assert (found.width_from, found.obstructs, found.crowd.crowd) == ("typed", True, "room to pass")
    assert found.post == Post(key=kept.id, holders=1, watchers=1)
    assert [(unit.name, unit.units, unit.a_frame, unit.held) for unit in found.units] == [
        ("key", 1, 1, True),
        ("fill", 1, 1, False),
    ]
    assert found.recycle_s == max(unit.recycle_s for unit in found.units)
    assert sum(found.fires.values()) == 2
    assert (found.pose_s, found.strictest, found.notes) == (8.0, Answer.NOT_CHECKED, ())
    assert found.reserve_stops > 0


def test_light_follows_the_instant(plans):
    workshop, setup = keep_evening(plans)
    keep_station(plans, workshop, setup_id=setup, depth_m=1.0)
    early, late = look(plans, workshop), look(plans, workshop, ENDS)
    assert late.reserve_stops > early.reserve_stops
    assert (early.works, late.works) == (False, True)


def test_what_is_not_known_is_told(plans):
    workshop, _ = keep_evening(plans, pavement_width_m=None, looking_deg=None)
    keep_station(plans, workshop, watchers=0)
    found = look(plans, workshop)
    assert (found.works, found.reserve_stops, found.recycle_s, found.width_left_m, found.crowd) == (None,) * 5
    assert (found.units, found.holders, found.obstructs, found.pose_s) == ((), 1, False, 6.0)
    assert found.power_words.text == words.NO_SETUP
    assert found.notes == (words.NOBODY_WATCHES, words.PAVEMENT_NOT_MEASURED, words.NO_BEARING)


def test_a_depth_nobody_measured_is_not_guessed_on_open_ground(plans):
    workshop, setup = keep_evening(plans)
    keep_station(plans, workshop, setup_id=setup)
    found = look(plans, workshop)
    assert found.width_left_m is None
    assert words.DEPTH_NOT_MEASURED in found.notes


def test_rules_are_those_of_the_exact_place(plans):
    workshop, _ = keep_evening(plans)
    east = LANE[1] + 0.0006
    ring = tuple((east + x * 0.0002, LANE[0] + y * 0.0002) for x, y in ((-1, -1), (1, -1), (1, 1), (-1, 1), (-1, -1)))
    with plans.writing() as s:
        area = rules.add_area(s, AreaDraft(name="Yard", kind="private_consent", authority="Owner", shape=((ring,),)))
        facts = {"found": "not_permitted", "source_title": "Sign", "checked_on": date(2026, 9, 1)}
        rules.add_rule(s, RuleDraft(area_id=area.id, activity="teaching", **facts))
    keep_station(plans, workshop, name="A", place=(LANE[0], east))
    keep_station(plans, workshop, name="B")
    grounds = grounds_of(plans, workshop, NOW)
    off, on = (station_look(plans, grounds, station) for station in grounds.stations)
    assert (off.strictest, on.strictest) == (Answer.NOT_PERMITTED, Answer.NOT_CHECKED)
    assert off.off_m == pytest.approx(40.7, abs=0.5)
    assert words.off_the_spot_words(off.off_m) in off.notes


def test_more_hands_than_a_group_has_is_told(plans):
    workshop, _ = keep_evening(plans)
    keep_station(plans, workshop, holders=2, watchers=1, depth_m=1.0)
    (note,) = look(plans, workshop).notes
    assert note.startswith("It needs 3 hands beside whoever shoots, and a group of 3 has two")


def test_a_setup_that_was_deleted_still_answers(plans):
    workshop, setup = keep_evening(plans)
    keep_station(plans, workshop, setup_id=setup, depth_m=1.0)
    delete_setup(plans, setup, 1, now=NOW)
    assert look(plans, workshop, ENDS).works


def test_kit_that_is_gone_stops_the_figures_and_is_named(plans):
    workshop, _ = keep_evening(plans)
    gone = add_setup(plans, replace(SETUP, lights=(replace(SETUP.lights[0], flash="sold"),)))
    keep_station(plans, workshop, setup_id=gone.id, depth_m=1.0)
    found = look(plans, workshop)
    assert (found.works, found.units, found.setup_title) == (None, (), "Key and fill")
    assert "“sold” is not in the kit any more" in found.power_words.text
    assert found.width_left_m is not None


def test_hands_are_as_typed_else_one_for_each_held_light(plans):
    workshop, _ = keep_evening(plans)
    station = keep_station(plans, workshop)
    typed = keep_station(plans, workshop, name="B", holders=0)
    assert (holders_of(station, None), holders_of(station, SETUP), holders_of(typed, SETUP)) == (1, 1, 0)


def test_what_the_key_has_left_goes_with_what_is_dialled(plans):
    workshop, setup = keep_evening(plans)
    keep_station(plans, workshop, setup_id=setup, depth_m=1.0)
    late = look(plans, workshop, ENDS)
    assert late.key_left_stops == pytest.approx(-log2(late.units[0].power))
    early = look(plans, workshop)
    assert early.key_left_stops == pytest.approx(-log2(early.units[0].power))
    assert not late.only_moved


def test_a_setup_that_works_once_a_light_comes_nearer_is_told_apart(plans):
    workshop, _ = keep_evening(plans)
    far = add_setup(plans, replace(SETUP, lights=(replace(SETUP.lights[0], distance_m=4.0), SETUP.lights[1])))
    keep_station(plans, workshop, setup_id=far.id, depth_m=1.0)
    found = look(plans, workshop, ENDS)
    assert (found.works, found.only_moved) == (True, "comes from 4 m" in found.power_words.text)
    assert found.only_moved
