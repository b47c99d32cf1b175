"""The day as it goes: what is shot stays shot, all else is made anew; what happened is read, kept and taken back."""

from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from models.planning.workshops.day import add_happenings, put_back, take_back, today_of
from models.planning.workshops.day_form import read_happenings
from models.planning.workshops.day_page import day_page, progress
from models.problems import InputProblem, InputProblems
from models.store.people import shelf as people
from models.store.rota_starts import rota_start
from models.store.stations import shelf as stations
from models.store.versions import Clash, Missing
from tests.databases import copy_of
from tests.models.planning.workshops.evening import NOW, STARTS, keep_evening, keep_station
from tests.models.planning.workshops.running_evening import add_part, form, happening, keep, keep_running

MINUTE = timedelta(minutes=1)


def owed(today):
    return set(today.worked.rota.shots()) if today.worked else set()


def test_before_anything_happens_it_is_as_planned(plans):
    workshop = keep_running(plans)
    today = today_of(plans, workshop, NOW)
    assert not today.changed
    assert owed(today) == {(person, post) for person in range(1, 7) for post in (1, 2)}
    page = day_page(plans, workshop, NOW)
    assert page.answer.text.startswith("No turn is shot yet, 12 are left: round 1, turn 1 comes next.")
    assert (page.round, page.turn, page.at, page.happened) == (1, 1, "17:00", ())


def test_without_a_rota_it_says_why_and_keeps_nothing(plans):
    workshop, _ = keep_evening(plans)
    assert day_page(plans, workshop, NOW).answer.text == "There is no rota: no station is set up for it yet."
    with pytest.raises(InputProblem, match="no rota yet"):
        add_happenings(plans, [happening(workshop, "not come", -1)], NOW)
    with pytest.raises(InputProblem, match="nobody is chosen"):
        add_happenings(plans, [], NOW)


def test_two_who_are_lost_at_round_two_keep_what_they_shot(plans):
    workshop = keep_running(plans)
    first = today_of(plans, workshop, NOW).worked.rota
    shot = {(turn.shooter, visit.post) for visit in first.rounds[0].visits for turn in visit.turns}
    at = STARTS + 40 * MINUTE
    add_happenings(plans, [happening(workshop, "left", each, 2, 1, at) for each in (1, 2)], NOW)
    today = today_of(plans, workshop, NOW)
    assert today.moment.shot == shot
    assert owed(today) == {(person, post) for person in range(3, 7) for post in (1, 2)} - shot
    assert today.moment.round == 2
    page = day_page(plans, workshop, NOW)
    assert [str(each.words) for each in page.happened] == [
        "Ana left, before round 2, turn 1",
        "Bo left, before round 2, turn 1",
    ]
    assert page.blocks[0].title == "Round 2"
    assert page.blocks[0].starts == "17:40"
    assert [row.who.shown for row in page.rota.grid] == ["Cem", "Dov", "Eli", "Fay"]


def test_who_comes_after_all_and_who_was_added_since_go_in(plans):
    workshop = keep_running(plans)
    keep(plans, happening(workshop, "not come", 1))
    assert 1 not in today_of(plans, workshop, NOW).moment.people
    new = add_part(plans, workshop, "attendee", "Zoe")
    before = today_of(plans, workshop, NOW)
    assert new not in before.moment.people, "somebody added since changes nothing by it"
    page = day_page(plans, workshop, NOW)
    assert {number for number, _ in page.people} - set(page.there) == {1, new}
    later = STARTS + 30 * MINUTE
    keep(plans, happening(workshop, "came late", 1, at=later), happening(workshop, "came late", new, at=later))
    assert {1, new} <= set(today_of(plans, workshop, NOW).moment.people)


def test_places_without_names_may_be_missing_too(plans):
    workshop, setup = keep_evening(plans)
    keep_station(plans, workshop, setup_id=setup)
    (draft,) = read_happenings(plans, workshop, form("not come", -3, at="17:05"), NOW)
    add_happenings(plans, [draft], NOW)
    page = day_page(plans, workshop, NOW)
    assert str(page.happened[0].words) == "No. 3 did not come, before round 1, turn 1"
    assert len(page.there) == 6
    add_part(plans, workshop, "attendee", "Ana")
    today = today_of(plans, workshop, NOW)
    assert set(today.moment.people) == {-1, -2, -4, -5, -6, -7}, "names given since change nothing that began"
    assert today.running.names[-2] == "No. 2"


def test_a_lost_station_is_left_out_and_comes_back(plans):
    workshop = keep_running(plans)
    keep(plans, happening(workshop, "station lost", 2))
    assert {post for _, post in owed(today_of(plans, workshop, NOW))} == {1}
    keep(plans, happening(workshop, "station back", 2, at=STARTS + MINUTE))
    assert {post for _, post in owed(today_of(plans, workshop, NOW))} == {1, 2}


def test_a_model_who_leaves_takes_the_stations_along(plans):
    workshop = keep_running(plans, models=1)
    (draft,) = read_happenings(plans, workshop, form("model left", 1, at="17:10"), NOW)
    assert draft.about == 1
    add_happenings(plans, [draft], NOW)
    today = today_of(plans, workshop, NOW)
    assert {post for _, post in owed(today)} == {2}
    told = day_page(plans, workshop, NOW).happened[0].words
    assert told.shown == "Sitter 1 left: the station has no model any more, before round 1, turn 1"
    assert told.told.startswith("model 1 left: ")
    with pytest.raises(InputProblems) as raised:
        read_happenings(plans, workshop, form("model left", 2, at="17:20"), NOW)
    assert "no model is named" in raised.value.by_field["about"]


def test_a_station_taken_out_since_stays_in_the_rota_it_began_with(plans):
    workshop = keep_running(plans)
    keep(plans, happening(workshop, "not come", 1))
    with plans.writing() as s:
        stations.delete(s, 2, 1, now=NOW)
    new = keep_station(plans, workshop, name="New")
    today = today_of(plans, workshop, NOW)
    assert {post for _, post in owed(today)} == {1, 2}
    page = day_page(plans, workshop, NOW)
    assert page.stations == ((1, "A"), (2, "B"))
    assert page.added == ("New",)
    for kind in ("station lost", "station back"):
        with pytest.raises(InputProblems) as raised:
            read_happenings(plans, workshop, form(kind, new.id, at="17:30"), NOW)
        assert "about" in raised.value.by_field


def test_all_people_deleted_since_do_not_stop_the_day(plans):
    workshop = keep_running(plans, attendees=2)
    keep(plans, happening(workshop, "not come", 1))
    with plans.writing() as s:
        for number in (1, 2):
            people.delete(s, number, 1, now=NOW)
    page = day_page(plans, workshop, NOW)
    assert page.there == (2,)
    assert dict(page.people)[2].shown == "attendee 2"


def test_the_spot_lost_with_a_fallback_goes_on_there(plans):
    workshop = keep_running(plans, fallback=True)
    keep(plans, happening(workshop, "spot lost", round_=2, at=STARTS + 40 * MINUTE))
    today = today_of(plans, workshop, NOW)
    assert today.running.grounds.spot.name == "Quay"
    assert today.worked.order.blocks[0].key == "walk"
    assert len(owed(today)) == 6
    page = day_page(plans, workshop, NOW)
    assert page.blocks[0].title == "Walk there"
    assert page.fallback == "", "they are there already"


def test_the_spot_lost_without_a_fallback_says_so_and_still_says_what_is_left(plans):
    workshop = keep_running(plans)
    keep(plans, happening(workshop, "spot lost", round_=2, at=STARTS + 40 * MINUTE))
    page = day_page(plans, workshop, NOW)
    assert page.fallback == ""
    assert "Walk to the meeting point: no fallback under another guard is chosen." in page.if_stopped
    assert "6 are left" in page.answer.text


def test_what_happened_is_taken_back_and_put_back(plans):
    workshop = keep_running(plans)
    (kept,) = keep(plans, happening(workshop, "not come", 1))
    with plans.reading() as s:
        assert rota_start(s, workshop).people == tuple(range(1, 7))
    with pytest.raises(Clash):
        take_back(plans, workshop, kept.id, 7, now=NOW)
    take_back(plans, workshop, kept.id, 1, now=NOW)
    assert not today_of(plans, workshop, NOW).changed
    with plans.reading() as s:
        assert rota_start(s, workshop) is None
    put_back(plans, workshop, kept.id, NOW)
    assert 1 not in today_of(plans, workshop, NOW).moment.people
    for number, other in ((99, workshop), (kept.id, 77)):
        with pytest.raises(Missing):
            take_back(plans, other, number, 1, now=NOW)


def test_the_clock_says_how_far_the_rota_has_got(plans):
    workshop = keep_running(plans)
    today = today_of(plans, workshop, NOW)
    worked = today.worked
    assert progress(today, STARTS) == (1, 1)
    second = worked.order.instant(1, worked.schedule.rounds[0].visits[0].turns[1].starts_s)
    assert progress(today, second + timedelta(seconds=1)) == (1, 2)
    assert progress(today, worked.order.block("round 2").starts + timedelta(seconds=1)) == (2, 1)
    assert progress(today, worked.order.packed) == (3, 1)
    page = day_page(plans, workshop, second + timedelta(seconds=1))
    assert (page.round, page.turn) == (1, 2)
    assert page.answer.text.startswith("By the clock 2 turns are shot, 10 are left: round 1, turn 2 comes next.")
    over = day_page(plans, workshop, STARTS + timedelta(days=3))
    assert over.answer.text.startswith("By the clock 12 turns are shot: nothing is left to shoot.")
    assert [each.title for each in page.blocks if each.now] == ["Round 1"]


@pytest.fixture(scope="module")
def shared_day(made_once, tmp_path_factory):
    with copy_of(made_once, tmp_path_factory.mktemp("day")) as store:
        keep_running(store)
        yield store


EVENTS = st.lists(
    st.tuples(
        st.sampled_from(["not come", "left", "came late", "station lost", "station back", "spot lost"]),
        st.integers(1, 6), st.integers(1, 3), st.integers(1, 3),
    ),
    max_size=4,
)  # fmt: skip


@settings(max_examples=15, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(EVENTS)
def test_whatever_happens_nobody_is_in_two_places_and_nothing_is_shot_twice(shared_day, events):
    kept = []
    for k, (kind, number, round_, turn) in enumerate(events):
        about = None if kind == "spot lost" else (number - 1) % 2 + 1 if kind.startswith("station") else number
        at = STARTS + (20 + k) * MINUTE
        kept += add_happenings(shared_day, [happening(1, kind, about, round_, turn, at)], NOW)
    page = day_page(shared_day, 1, NOW)
    today = today_of(shared_day, 1, NOW)
    left = list(today.worked.rota.shots()) if today.worked else []
    assert len(left) == len(set(left))
    assert not set(left) & today.moment.shot
    assert len(page.happened) == len(kept)
    for each in today.worked.rota.rounds if today.worked else ():
        there = [person for visit in each.visits for person in visit.members]
        assert len(there) == len(set(there))
    for each in reversed(kept):
        take_back(shared_day, 1, each.id, 1, now=NOW)


def test_who_is_missed_while_people_meet_changes_no_time_of_what_comes_first(plans):
    workshop = keep_running(plans)
    planned = today_of(plans, workshop, NOW).worked.order
    keep(plans, happening(workshop, "not come", 1, at=STARTS - 25 * MINUTE))
    now = today_of(plans, workshop, NOW).worked.order
    lead = [block for block in planned.blocks if block.round is None][:5]
    assert [(block.key, block.starts) for block in now.blocks][:5] == [(block.key, block.starts) for block in lead]
    assert now.block("round 1").starts == planned.block("round 1").starts
