"""What a briefing knows of a workshop: all that is kept, nobody's name, and the same whenever it is asked."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import timedelta

import pytest

from models.clock import to_local
from models.planning.briefing.facts import facts_of
from models.planning.rules.workshops import change_workshop, delete_workshop, draft_of, get_workshop
from models.store.hazards import sheet_of
from models.store.hazards import shelf as sheets
from models.store.people import people_of
from models.store.people import shelf as people
from models.store.plans import keep_plan, plan_of
from models.store.spots import shelf as spots
from models.store.stations import shelf as stations
from models.store.versions import Missing
from models.words.briefing_voices import briefing_of
from models.workshop.briefing import READERS
from models.workshop.briefing_json import facts_from_plain, facts_to_plain
from models.workshop.hazards import HazardLine
from tests.models.planning.briefing.briefed import NAMES, NUMBERS, plan_draft
from tests.models.planning.workshops.evening import ENDS, NOW, STARTS, keep_evening, keep_station


def test_everything_that_is_kept_is_known(briefed):
    facts = facts_of(briefed, 1, NOW)
    assert (facts.title, facts.zone, facts.starts, facts.ends) == ("Evening", "Europe/Amsterdam", STARTS, ENDS)
    assert (facts.spot.name, facts.meeting.name, facts.meeting.words) == ("Foundry Lane", "Ferry quay", "By the pump")
    assert (facts.fallback.name, facts.decide_by) == ("Old arcade", STARTS - timedelta(minutes=30))
    assert (facts.organiser, facts.contact, facts.talks, facts.spares) == ("R. Vale", "0555 0100", "J. Vine", "R. Vale")
    assert (facts.emergency, facts.first_aider, facts.ambulance) == ("112", "K. Reed", "1 Foundry Lane")
    assert facts.weather.endswith("12 °C")
    assert facts.light.startswith("On the face at 17:20 CEST, when round 1 begins: EV")
    assert (facts.group, facts.group_size, facts.frames) == (9, 3, 8)
    assert facts.carry[0].startswith("Liability: insurance, reference P 4")
    assert facts.cautions == ("Water's edge: Nobody walks backwards near it",)
    assert facts.hazards[1] == "Lightning: Inside at the first thunder (organiser)"
    assert "by the straight distance with a detour" in facts.walk
    assert facts.facilities == "Toilets in the hall"


def test_blocks_run_on_and_begin_with_the_meeting(briefed):
    facts = facts_of(briefed, 1, NOW)
    keys = [block.key for block in facts.blocks]
    assert keys[:6] == ["meet", "drink", "walk", "set up", "safety", "round 1"]
    assert keys[-1] == "walk back"
    for block, after in zip(facts.blocks, facts.blocks[1:], strict=False):
        assert block.ends == after.starts
        assert block.starts.microsecond == 0
    assert next(block.starts for block in facts.blocks if block.key == "set up") == STARTS


def test_stations_have_their_dials_with_the_reason_and_no_model(briefed):
    first, second = facts_of(briefed, 1, NOW).stations
    assert (first.name, first.setup, first.setup_id, first.lesson) == ("A", "Key and fill", 1, "Short light")
    assert first.settings.startswith("1/")
    assert len(first.powers) == 2
    assert first.reason.startswith("Does not work here: ")
    assert second.lesson == ""


def test_dials_start_with_round_1_and_are_turned_again_as_the_light_moves(briefed):
    kept = get_workshop(briefed, 1)
    later = {"starts": STARTS + timedelta(minutes=60), "ends": ENDS + timedelta(minutes=60)}
    change_workshop(briefed, 1, kept.version, replace(draft_of(kept), **later))
    facts = facts_of(briefed, 1, NOW)
    first = next(block.starts for block in facts.blocks if block.key == "round 1")
    assert f"{to_local(first, facts.zone):%H:%M} CEST, when round 1 begins" in facts.light
    assert facts.redials
    for line in facts.redials:
        assert line.startswith("A and B: ")
        assert "darker: " in line
        assert line[9:14] > f"{to_local(first, facts.zone):%H:%M}"


def test_what_the_gear_needs_is_listed_and_counted(briefed):
    facts = facts_of(briefed, 1, NOW)
    assert any(line.startswith("A, key: large flash") and "held in the hand" in line for line in facts.kit)
    assert any(line.endswith("on a stand") for line in facts.kit)
    assert any("sets of" in line for line in facts.charge)
    assert any(line.startswith("A, key (large flash") for line in facts.cells)


def test_a_grant_is_told_with_its_reference_and_with_what_it_does_not_cover(briefed):
    ((who, reference, state, conditions),) = facts_of(briefed, 1, NOW).enquiries
    assert (who, reference, conditions) == ("Harbour office", "R 12", "No cables")
    assert state.startswith("granted for ")
    assert "it covers 6 people, you are 9" in state


def test_the_leaf_says_where_to_go_and_how_fewer_people_go_on(briefed):
    leaf = facts_of(briefed, 1, NOW).leaf
    assert any("go to Old arcade" in line for line in leaf)
    assert any(line.startswith("1 person fewer: 5 there") for line in leaf)


def test_nobody_is_sent_under_the_same_guard_when_asked_to_stop(briefed):
    facts = facts_of(briefed, 1, NOW)
    assert facts.goes_to == "Old arcade"
    assert "Then we walk to Old arcade" in facts.paragraphs["stopped"]
    with briefed.writing() as s:
        for number in (1, 2):
            spot = spots.get(s, number)
            spots.change(s, number, spot.version, replace(spot, controller="Harbour board"))
    same = facts_of(briefed, 1, NOW)
    assert same.fallback.name == "Old arcade"
    assert same.goes_to == ""
    assert "Then we walk to Ferry quay" in same.paragraphs["stopped"]


def test_further_fallbacks_follow_in_their_order(briefed):
    with briefed.writing() as s:
        keep_plan(s, plan_of(s, 1).version, plan_draft(1, fallback_ids=(3,)))
    assert "If we cannot stay there either: Ferry quay, in that order." in facts_of(briefed, 1, NOW).leaf


def test_times_places_and_numbers_of_a_kept_workshop_are_the_same_in_all_three(briefed):
    facts = facts_of(briefed, 1, NOW)
    for reader in READERS:
        text = str(briefing_of(facts, reader, 1, None, None))
        for words in ("Groups of 3", "8 frames", "52.52880, 5.22750", "52.53010, 5.23120", "0555 0100", "16:30 CEST"):
            assert words in text, (reader, words)
        assert all(f"'{to_local(each.starts, facts.zone):%H:%M}'" in text for each in facts.blocks)


def test_nobody_who_comes_is_named_in_the_facts_or_in_any_briefing(briefed):
    facts = facts_of(briefed, 1, NOW)
    told = [json.dumps(facts_to_plain(facts))] + [str(briefing_of(facts, reader, 1, None, facts)) for reader in READERS]
    for text in told:
        assert [words for words in (*NAMES, *NUMBERS) if words in text] == []
    assert "Jo Moss" in NAMES


def test_it_is_the_same_whenever_it_is_asked_and_comes_back_from_json(briefed):
    facts = facts_of(briefed, 1, NOW)
    assert facts_of(briefed, 1, NOW + timedelta(days=3, hours=5)) == facts
    assert facts_from_plain(json.loads(json.dumps(facts_to_plain(facts)))) == facts


def test_another_name_on_the_list_changes_nothing_and_one_person_more_does(briefed):
    facts = facts_of(briefed, 1, NOW)
    with briefed.writing() as s:
        first = people_of(s, 1)[0]
        people.change(s, first.id, first.version, replace(first, name="Zoe"))
    assert facts_of(briefed, 1, NOW) == facts
    with briefed.writing() as s:
        people.add(s, replace(first, name="Yan"))
    assert facts_of(briefed, 1, NOW).blocks != facts.blocks


def test_without_people_or_stations_what_is_known_is_told(plans):
    workshop, _ = keep_evening(plans)
    facts = facts_of(plans, workshop, NOW)
    assert [block.key for block in facts.blocks] == ["meet", "drink", "walk", "set up", "safety"]
    assert "not known yet" in facts.blocks[2].note
    assert (facts.stations, facts.meeting, facts.fallback, facts.leaf, facts.charge) == ((), None, None, (), ())
    assert facts.hazards
    assert facts.weather == facts.light == ""
    for reader in READERS:
        assert "The rounds are not planned yet" in str(briefing_of(facts, reader, 0, None, None))


def test_a_station_without_a_setup_says_so(plans):
    workshop, _ = keep_evening(plans)
    keep_station(plans, workshop)
    (station,) = facts_of(plans, workshop, NOW).stations
    assert (station.setup, station.settings, station.powers) == ("", "", ())
    assert "No setup is chosen" in station.reason


def test_a_deleted_workshop_has_no_facts(briefed):
    delete_workshop(briefed, 1, get_workshop(briefed, 1).version, now=NOW)
    for number in (1, 99, 2**40):
        with pytest.raises(Missing):
            facts_of(briefed, number, NOW)


@pytest.mark.parametrize(
    ("by", "name", "words"),
    [
        ("", "the meeting point", ""),
        ("Under the clock", "Under the clock", ""),
        ("x" * 81, "the meeting point", "x" * 81),
    ],
)
def test_a_meeting_point_without_a_spot_is_called_by_the_words_to_find_it(briefed, by, name, words):
    kept = get_workshop(briefed, 1)
    change_workshop(briefed, 1, kept.version, replace(draft_of(kept), meeting_point=(52.5290, 5.2280)))
    with briefed.writing() as s:
        keep_plan(s, plan_of(s, 1).version, plan_draft(1, meets_by=by))
    meeting = facts_of(briefed, 1, NOW).meeting
    assert (meeting.name, meeting.words) == (name, words)


def test_who_keeps_from_a_kerb_is_told_only_where_there_is_a_pavement(plans):
    workshop, _ = keep_evening(plans)
    assert "Stay a stride from the kerb" in " ".join(facts_of(plans, workshop, NOW).hazards)
    with plans.writing() as s:
        spot = spots.get(s, 1)
        spots.change(s, 1, spot.version, replace(spot, hazards="No pavement: everybody stands in the roadway"))
    facts = facts_of(plans, workshop, NOW)
    assert "everybody stands in the roadway" in " ".join(facts.cautions)
    assert "moving vehicles. The watcher calls vehicles." in " ".join(facts.hazards)
    assert "a stride from the kerb" not in " ".join(facts.hazards)


def test_no_line_of_the_hazards_has_two_colons(briefed):
    with briefed.writing() as s:
        sheet = sheet_of(s, 1)
        line = HazardLine(key="wind", what="Wind: gusts 9 m/s", done="Boxes stay down", who="light holder")
        sheets.change(s, sheet.id, sheet.version, replace(sheet, lines=(line,)))
    assert facts_of(briefed, 1, NOW).cautions == ("Wind: gusts 9 m/s. Boxes stay down",)


def test_the_organiser_who_talks_is_called_by_name(briefed):
    with briefed.writing() as s:
        keep_plan(s, plan_of(s, 1).version, plan_draft(1, talks="The organiser"))
    facts = facts_of(briefed, 1, NOW)
    assert facts.talks == "R. Vale"
    assert "R. Vale talks, nobody else" in facts.paragraphs["stopped"]


def test_nobody_is_told_of_more_roles_than_a_group_has_people(briefed):
    words = facts_of(briefed, 1, NOW).paragraphs["turns"]
    assert "At a turn one shoots, one holds the light, one watches the pavement; then" in words
    with briefed.writing() as s:
        station = stations.get(s, 1)
        stations.change(s, 1, station.version, replace(station, holders=2))
    more = facts_of(briefed, 1, NOW).paragraphs["turns"]
    assert "one or two hold the lights, as the station needs" in more
    assert "lend the hands that lack" in more
