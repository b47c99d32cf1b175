"""A workshop worked out: who takes turns, what is missing, waits, walk, the same later, and stations as begun with."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from time import perf_counter

import pytest

from models.planning.rules.workshops import draft_of
from models.planning.workshops.grounds import grounds_of
from models.planning.workshops.running import (
    first_round_s,
    moved,
    running_of,
    walk_seconds,
    with_stations,
    work_from,
)
from models.store import rules
from models.store.hazards import SheetDraft, TypedHour
from models.store.hazards import shelf as sheets
from models.store.people import shelf as people
from models.store.stations import shelf as stations
from models.workshop.plan import BlockEdit, PlanDraft
from tests.models.planning.workshops.evening import ENDS, NOW, STARTS, count_there, keep_evening, keep_station
from tests.models.planning.workshops.running_evening import add_part, keep_running


def test_without_people_or_stations_the_page_says_which(plans):
    workshop, setup = keep_evening(plans)
    found = running_of(plans, workshop, NOW)
    assert (found.missing, found.worked) == (("stations",), None)
    keep_station(plans, workshop, setup_id=setup)
    found = running_of(plans, workshop, NOW)
    assert found.missing == ()
    assert found.worked.rota.posts[0].hands == 2, "one light is held, one watches"


def test_places_nobody_has_a_name_for_are_numbered_below_zero(plans):
    """Nine in the footprint, a model and the organiser among them, leave seven; a helper takes one more."""
    workshop, setup = keep_evening(plans)
    keep_station(plans, workshop, setup_id=setup)
    found = running_of(plans, workshop, NOW)
    assert found.attendees == tuple(range(-1, -8, -1))
    assert found.names[-3] == "No. 3"
    add_part(plans, workshop, "helper", "Zoe")
    assert len(running_of(plans, workshop, NOW).attendees) == 6
    ana = add_part(plans, workshop, "attendee", "Ana")
    assert running_of(plans, workshop, NOW).attendees == (ana,)


def test_more_than_forty_people_are_too_many(plans):
    workshop = keep_running(plans, attendees=41, stations="A")
    assert running_of(plans, workshop, NOW).missing == ("too many people",)


def test_the_same_later_reckons_everything_anew(plans):
    workshop = keep_running(plans)
    count_there(plans, 40)
    then = running_of(plans, workshop, NOW, timedelta(minutes=60))
    assert then.grounds.workshop.starts == STARTS + timedelta(hours=1)
    assert then.worked.order.starts == then.grounds.workshop.starts
    light = [running_of(plans, workshop, NOW).lights[1], then.lights[1]]
    assert light[1].subject.ev100 < light[0].subject.ev100 - 0.5
    again = moved(grounds_of(plans, workshop, NOW), timedelta(hours=-1)).workshop
    assert (again.starts, again.ends) == (STARTS - timedelta(hours=1), ENDS - timedelta(hours=1))


def test_a_wait_for_a_gap_is_that_of_its_hour(plans):
    """Counted from 18:10 on only: what is shot before knows nothing of it."""
    workshop = keep_running(plans, attendees=9, stations="ABC", pose_s=60.0)
    assert running_of(plans, workshop, NOW).worked.schedule.uncounted != ()
    count_there(plans, 200)
    pace = running_of(plans, workshop, NOW).worked.case.paces[1]
    hour = (STARTS.replace(hour=16) - STARTS).total_seconds()
    assert (pace.wait_at(hour - 1).counted, pace.wait_at(hour).counted) == (False, True)
    assert pace.wait_at(hour).middle_s > 0


def test_what_is_typed_for_set_up_counts_once_and_not_from_now_on():
    plan = PlanDraft(
        workshop_id=1, setup_min=15, safety_min=5, blocks=(BlockEdit("set up", 20.0), BlockEdit("meet", 3.0))
    )
    assert first_round_s(plan) == 25 * 60
    assert walk_seconds(None) is None


def test_from_now_on_rounds_begin_at_once(plans):
    workshop = keep_running(plans, blocks=(BlockEdit("round 1", 60.0), BlockEdit("set up", 40.0)))
    running = running_of(plans, workshop, NOW)
    assert running.worked.order.block("round 1").length_s == 3600
    left = work_from(running, running.worked.rota, STARTS + timedelta(minutes=30), {})
    block = left.order.block("round 1")
    assert block.starts == STARTS + timedelta(minutes=30)
    assert block.length_s < 3600


def test_cold_typed_in_the_hazards_sheet_makes_models_rest_for_longer(plans):
    workshop = keep_running(plans)
    assert running_of(plans, workshop, NOW).feels.which == "not known"
    with plans.writing() as s:
        sheets.add(s, SheetDraft(workshop_id=workshop, lines=(), hour=TypedHour(temperature_c=4.0, wind_m_s=6.0)))
    found = running_of(plans, workshop, NOW)
    assert (found.feels.which, found.worked.case.heat_or_cold) == ("cold", True)
    assert found.feels.index_c < 4.0


def test_stations_as_begun_with_are_there_when_they_were_taken_out_since(plans):
    workshop = keep_running(plans)
    with plans.writing() as s:
        stations.delete(s, 2, 1, now=NOW)
    keep_station(plans, workshop, name="New")
    found = running_of(plans, workshop, NOW)
    assert list(found.station_names.values()) == ["A", "New"]
    begun = with_stations(plans, found, [1, 2])
    assert list(begun.station_names.values()) == ["A", "B"]
    assert set(begun.looks) == set(begun.lights) == {1, 2}


@pytest.mark.parametrize(
    ("starts", "ends"),
    [
        # the clocks go back at 03:00 CEST on 25 October and forward at 02:00 CET on 28 March
        (datetime(2026, 10, 25, 0, 30, tzinfo=UTC), datetime(2026, 10, 25, 2, 0, tzinfo=UTC)),
        (datetime(2027, 3, 28, 0, 30, tzinfo=UTC), datetime(2027, 3, 28, 2, 0, tzinfo=UTC)),
    ],
)
def test_in_the_night_in_which_the_clocks_change_seconds_stay_seconds(plans, starts, ends):
    workshop = keep_running(plans, attendees=3, stations="A")
    with plans.writing() as s:
        kept = rules.get_workshop(s, workshop)
        rules.change_workshop(s, workshop, kept.version, replace(draft_of(kept), starts=starts, ends=ends))
    order = running_of(plans, workshop, NOW).worked.order
    assert order.block("round 1").starts == starts + timedelta(minutes=20)
    assert order.packed - order.starts == timedelta(seconds=sum(
        block.length_s for block in order.blocks if order.starts <= block.starts < order.packed
    ))  # fmt: skip


def test_forty_people_at_eight_stations_are_worked_out_in_time(plans):
    workshop = keep_running(plans, attendees=40, stations="ABCDEFGH")
    began = perf_counter()
    found = running_of(plans, workshop, NOW)
    assert len(list(found.worked.rota.shots())) == 320
    assert perf_counter() - began < 2


def test_people_who_were_deleted_take_no_turns(plans):
    workshop = keep_running(plans, attendees=2, stations="A")
    with plans.writing() as s:
        people.delete(s, 1, 1, now=NOW)
    assert running_of(plans, workshop, NOW).attendees == (2,)
