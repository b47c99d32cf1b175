"""What the bar holds: the day's turning points of the sky over a town, in order, by the clock of the moment."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from models.planning.states import turning_points
from models.planning.turns import events_at, limits_of, town_turns
from models.sky.sun import sun_at
from models.store.settings import put_setting
from tests.models.planning.grounds import at, stand

OCTOBER = at("2026-10-17T14:40")


def words(turns) -> list[str]:
    return [point.words for point in turns]


def test_a_day_of_october(plans):
    turns = town_turns(plans, stand(plans), OCTOBER)
    assert words(turns) == ["lamps off", "sunrise", "sun highest", "sunset", "lamps on"]
    assert all(before.instant < after.instant for before, after in pairwise(turns))
    for point in turns:
        assert (point.instant.second, point.instant.microsecond) == (0, 0)
        assert point.local_text == f"{point.instant.hour + 2:02d}:{point.instant.minute:02d}"


def test_the_lamps_follow_their_setting(plans):
    spot = stand(plans)
    with plans.writing() as s:
        put_setting(s, "lighting_up_deg", -6.0)
    turns = {point.words: point.instant for point in town_turns(plans, spot, OCTOBER)}
    for name in ("lamps off", "lamps on"):
        height = sun_at(turns[name], spot.latitude_deg, spot.longitude_deg).elevation_deg
        assert height == pytest.approx(-6.0, abs=0.2)  # a minute of the sun's way


@pytest.mark.parametrize(
    ("day", "turns"),
    [("2026-06-21", ["sun highest"]), ("2026-12-21", []), ("2026-12-05", ["lamps off", "lamps on"])],
)
def test_near_the_pole_a_day_has_what_it_has(plans, day, turns):
    """Tromso, 69.65 N: at noon the sun stands 90 - 69.65 + 23.44 = 43.8 degrees high in June, in December -3.1, under
    the -3 of the lamps all day; on 5 December, declination -22.3 (Astronomical Almanac, from memory), -2."""
    spot = stand(plans, latitude_deg=69.65, longitude_deg=18.96, zone="Europe/Oslo")
    assert words(town_turns(plans, spot, at(f"{day}T10:00", "Europe/Oslo"))) == turns


def test_the_bar_keeps_its_own_clock_where_spots_lie_in_other_zones(plans):
    far = stand(plans, latitude_deg=-36.85, longitude_deg=174.76, zone="Pacific/Auckland")
    here = town_turns(plans, far, OCTOBER)
    there = town_turns(plans, far, replace(OCTOBER, zone="Pacific/Auckland"))
    assert {point.local_text for point in here}.isdisjoint({point.local_text for point in there})
    for turns, zone in ((here, OCTOBER.zone), (there, "Pacific/Auckland")):
        for point in turns:
            assert at(point.instant.replace(tzinfo=None).isoformat(), zone).local.strftime("%H:%M") == point.local_text


def test_golden_and_blue_hour_are_as_set(plans):
    spot = stand(plans)
    usual = events_at(plans, spot, OCTOBER)
    with plans.writing() as s:
        put_setting(s, "golden_limits", [0.0, 4.0])
        put_setting(s, "blue_limits", [-8.0, -5.0])
    assert (limits_of(plans).golden, limits_of(plans).blue) == ((0.0, 4.0), (-8.0, -5.0))
    narrower = events_at(plans, spot, OCTOBER)
    for before, after in zip(usual.golden, narrower.golden, strict=True):
        assert before.start < after.start < after.end < before.end
    height = sun_at(narrower.blue[0].start, spot.latitude_deg, spot.longitude_deg).elevation_deg
    assert height == pytest.approx(-8.0, abs=0.02)


def test_nothing_turns_where_nothing_happens():
    assert turning_points((), "UTC") == ()
