"""The stations' sum: the least width, the stands of all setups; taken over by one press, said what changes."""

from __future__ import annotations

import pytest

from models.planning.rules.workshops import get_workshop
from models.planning.workshops.grounds import grounds_of
from models.planning.workshops.station_look import station_look
from models.planning.workshops.take_over import take_over, take_over_of
from models.problems import InputProblem
from models.store.versions import Clash
from tests.models.planning.workshops.evening import NOW, keep_evening, keep_station


def found(store, workshop_id):
    grounds = grounds_of(store, workshop_id, NOW)
    return take_over_of(grounds, [station_look(store, grounds, station) for station in grounds.stations])


def test_the_least_width_and_all_stands_are_taken_over_once(plans):
    workshop, setup = keep_evening(plans)
    keep_station(plans, workshop, name="A", setup_id=setup, depth_m=1.0)
    keep_station(plans, workshop, name="B", setup_id=setup, depth_m=1.6)
    kept, taken = take_over(plans, workshop, 1, NOW)
    assert (kept.width_left_m, kept.doing.stand_ground, kept.doing.stand_held, kept.doing.flash_held) == (1.45, 2, 0, 2)
    assert (kept.doing.obstruction, kept.doing.group, kept.title) == (True, 9, "Evening")
    assert [change[0] for change in taken.changes] == [
        "width left for walkers", "stands on the ground", "stands held by a person", "flashes in the hand", "footway",
    ]  # fmt: skip
    assert taken.changes[0][1:] == ("not measured", "1.45 m")
    assert found(plans, workshop).changes == ()
    with pytest.raises(InputProblem, match="nothing to take over"):
        take_over(plans, workshop, 2, NOW)


def test_what_is_not_known_of_one_station_leaves_the_workshop_as_it_is(plans):
    workshop, setup = keep_evening(plans)
    keep_station(plans, workshop, name="A", setup_id=setup, depth_m=0.5)
    keep_station(plans, workshop, name="B")
    assert found(plans, workshop).changes == ()
    assert found(plans, workshop).width_left_m is None


def test_no_stations_take_nothing_over_and_an_older_version_clashes(plans):
    workshop, setup = keep_evening(plans)
    assert found(plans, workshop).changes == ()
    keep_station(plans, workshop, setup_id=setup, depth_m=0.5)
    take_over(plans, workshop, 1, NOW)
    keep_station(plans, workshop, name="B", setup_id=setup, depth_m=0.7)
    with pytest.raises(Clash):
        take_over(plans, workshop, 1, NOW)
    assert get_workshop(plans, workshop).version == 2
