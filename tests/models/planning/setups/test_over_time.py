"""What to dial over a span, line by line with its instant: the camera, the flashes, and whether anything is turned."""

from __future__ import annotations

import itertools
from dataclasses import replace
from datetime import timedelta

from models.clock import unix_s
from models.planning.setups.over_time import redial_lines, timed_redials
from models.planning.workshops.grounds import grounds_of
from models.planning.workshops.station_look import station_light
from tests.models.planning.workshops.evening import NOW, STARTS, keep_evening, keep_station


def lit(plans):
    workshop, setup = keep_evening(plans)
    station = keep_station(plans, workshop, setup_id=setup)
    return station_light(plans, grounds_of(plans, workshop, NOW), station, STARTS)


def test_the_first_line_stands_at_the_moment_and_the_rest_follow_in_time(plans):
    one = lit(plans)
    until = unix_s(STARTS + timedelta(hours=2))
    found = timed_redials(one.setup, one.kept.wanted, one.lit.light, one.lit.moment, one.lit.looking_deg, until)
    assert len(found) > 1, "the sun sets in these two hours"
    assert found[0].at == STARTS
    assert found[0].camera.startswith("17:00 CEST: ")
    assert all(before.at < after.at <= STARTS + timedelta(hours=2) for before, after in itertools.pairwise(found))
    assert all("darker: " in line.camera for line in found[1:])
    assert all(line.flashes.endswith(".") for line in found)
    assert redial_lines(one.setup, one.kept.wanted, one.lit.light, one.lit.moment, one.lit.looking_deg, until) == tuple(
        f"{line.camera}. {line.flashes}" for line in found
    )


def test_a_line_that_turns_nothing_is_marked_so(plans):
    one = lit(plans)
    until = unix_s(STARTS + timedelta(hours=3))
    found = timed_redials(one.setup, one.kept.wanted, one.lit.light, one.lit.moment, one.lit.looking_deg, until)
    for line in found:
        assert line.changes != (line.camera.endswith("as they are") and line.flashes == "Powers stay.")
    assert found[0].changes


def test_light_that_does_not_move_has_one_line(plans):
    one = lit(plans)
    at = replace(one.lit.moment, instant=STARTS)
    found = timed_redials(one.setup, one.kept.wanted, one.lit.light, at, one.lit.looking_deg, unix_s(STARTS) + 60)
    assert len(found) == 1
