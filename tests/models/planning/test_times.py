"""Times worth booking: every window holds what it says, at one spot and across them, anywhere on earth."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from models.light.flash import reserve
from models.planning.answers import Moment
from models.planning.keeping import find_spot
from models.planning.kit import kit_of
from models.planning.light import spot_light
from models.planning.now import light_now
from models.planning.sentence import read_sentence
from models.planning.street.counts import add_count
from models.planning.times import booking_times
from models.problems import InputProblem
from models.store.spots import Missing
from models.store.street import CountDraft
from models.street.scene import Canopy
from tests.models.planning.grounds import HOSTILE, at, block, build, equip, stand

NOW = datetime(2026, 10, 17, 14, 40, tzinfo=UTC)
WEEK = {"from": "2026-10-19", "to": "2026-10-25"}
ROOF = Canopy(0, 360, 0, 90, 0.0, 0.0, (), "a hall's roof")


@pytest.fixture(scope="module")
def town(shared_plans):
    """A square in the open, a corner behind a row to the south, a hall under a closed roof."""
    equip(shared_plans)
    build(shared_plans, block(-60, -30, 60, -12, 15.0), block(300, 300, 320, 320, 9.0, height_source="assumed"))
    stand(shared_plans, "square", north_m=2000.0)
    stand(shared_plans, "corner")
    stand(shared_plans, "hall", north_m=4000.0, canopies=(ROOF,), night_ev100=4.0)
    return shared_plans


def spot_named(store, name):
    return find_spot(store, name)


def times(store, name, **asked):
    spot = None if name is None else spot_named(store, name).id
    return booking_times(store, spot, WEEK | asked, NOW)


def test_the_worst_reserve_is_the_worst_of_the_window_under_both_skies(town):
    """Worked out again instant by instant, as the spot's page does."""
    page = times(town, "corner", looking="45", length="60 min")
    light = spot_light(town, spot_named(town, "corner"), now=NOW)
    sentence = read_sentence({"looking": "45"}, kit_of(town))
    for row in page.rows[:4]:
        stops = []
        for quarter in range(5):
            for oktas in (0, 8):
                moment = Moment(row.start + timedelta(minutes=15 * quarter), row.zone, oktas, "you set it")
                now = light_now(light, moment, 45.0)
                stops.append(reserve(sentence.choice, now.face, now.backdrop).stops)
        assert row.worst_reserve == pytest.approx(min(stops), abs=1e-3)


def test_windows_keep_to_what_was_asked(town):
    page = times(town, "square", days="Sat,Sun", after="17:00", before="21:30", length="90 min")
    assert page.rows
    for row in page.rows:
        start, end = (instant.astimezone(UTC) + timedelta(hours=2) for instant in (row.start, row.end))
        if start.date() == date(2026, 10, 25):  # the clocks went back at 3
            start, end = start - timedelta(hours=1), end - timedelta(hours=1)
        assert start.weekday() in (5, 6)
        assert date(2026, 10, 19) <= start.date() <= date(2026, 10, 25)
        assert (start.hour, start.minute) >= (17, 0)
        assert (end.hour, end.minute) <= (21, 30)
        assert row.end - row.start == timedelta(minutes=90)
        assert f"{start:%H:%M} to {end:%H:%M}" in row.words


def test_the_better_time_stands_first(town):
    for asked in ({}, {"want": "golden"}, {"min": "0"}):
        rows = times(town, "square", distance="1", **asked).rows
        counted = [round(min(row.worst_reserve, 0.0 if row.against else 2.0), 1) for row in rows]
        assert counted == sorted(counted, reverse=True)
        assert all(row.reasons for row in rows)


def test_golden_is_a_time_at_the_square_and_never_in_the_hall(town):
    golden = times(town, "square", want="golden", length="30 min", after="06:00")
    assert golden.rows
    for row in golden.rows:
        assert "Golden light" in " ".join(row.reasons)
    hall = times(town, "hall", want="golden", length="30 min", after="06:00")
    assert hall.rows == ()
    assert hall.unmet == ("hall: golden light: not at this spot in the days and hours asked for.",)
    assert "Below stands what ruled them out." in hall.answer.text


def test_behind_a_row_of_houses_there_is_no_golden_light_in_winter(town):
    winter = {"from": "2026-12-14", "to": "2026-12-27", "after": "06:00", "want": "golden", "length": "30 min"}
    assert times(town, "corner", **winter).rows == ()
    assert times(town, "square", **winter).rows


def test_blue_hour_needs_the_sky_not_lamps(town):
    asked = {"want": "blue", "length": "15 min", "after": "06:00"}
    assert times(town, "square", **asked).rows
    hall = times(town, "hall", **asked)
    assert hall.rows == ()
    assert hall.unmet == ("hall: blue hour: not at this spot in the days and hours asked for.",)


def test_low_sun_behind_needs_a_bearing_and_stands_behind(town):
    asked = {"want": "low sun behind", "length": "30 min"}
    assert times(town, "square", **asked).unmet == ("square: choose a camera bearing first; low sun behind needs one.",)
    light = spot_light(town, spot_named(town, "square"), now=NOW)
    page = times(town, "square", looking="240", **asked)
    assert page.rows
    for row in page.rows:
        shown = [
            light_now(light, Moment(row.start + k * (row.end - row.start) / 2, row.zone, 0, ""), 240.0) for k in (0, 1)
        ]
        assert any(abs(now.sun_azimuth_deg - 240) <= 40 and 0 < now.sun_elevation_deg < 15.3 for now in shown)


def test_shade_is_shade_throughout(town):
    page = times(town, "corner", want="shade", length="60 min")
    light = spot_light(town, spot_named(town, "corner"), now=NOW)
    assert page.rows
    for row in page.rows[:5]:
        for quarter in range(4):
            moment = Moment(row.start + timedelta(minutes=15 * quarter), row.zone, 0, "")
            assert light_now(light, moment, None).state == "shade"


def test_a_flash_too_strong_and_dark_surroundings_speak_against(town):
    rows = times(town, "hall", after="20:00", before="23:00", length="60 min").rows
    assert rows
    assert all(any("too strong" in words for words in row.against) for row in rows)


def test_all_spots_are_compared_each_by_its_own_bearing(town):
    page = times(town, None)
    assert {row.name for row in page.rows} == {"square", "corner", "hall"}
    assert max(Counter(row.name for row in page.rows).values()) <= 3
    assert page.spot is None
    assert page.answer.text.startswith("Best across your spots: ")
    nothing = times(town, None, least="9", after="10:00", before="16:00")
    assert nothing.rows == ()
    assert [words.split(":")[0] for words in nothing.unmet] == ["corner", "hall", "square"]
    assert all("with less than 9.0 stops in hand" in words for words in nothing.unmet)


def test_over_a_long_time_one_spot_does_not_hide_the_others(town):
    """Half a year holds more than twenty good times at each spot."""
    page = times(town, None, **{"from": "2026-04-01", "to": "2026-09-30", "distance": "1", "after": "17:00"})
    assert Counter(row.name for row in page.rows) == {"square": 3, "corner": 3, "hall": 3}
    assert len(times(town, "corner", distance="1").rows) > 3


def test_what_the_times_rest_on_is_said(town):
    one = times(town, "corner").rests_on
    assert "Skyline from 2 buildings, 1 height assumed." in one
    assert "No meter readings: every reserve is give or take a stop." in one
    assert "After dark the lamps here are not known: give or take two stops and a half then." in one
    assert "lamps" not in times(town, "hall").rests_on
    assert "After dark the lamps at 2 of these spots are not known" in times(town, None).rests_on


def test_a_spot_inside_a_building_is_left_out_by_name(plans):
    equip(plans)
    build(plans, block(-10, -10, 10, 10, 12.0))
    stand(plans, HOSTILE)
    stand(plans, "open", north_m=500.0)
    page = times(plans, None)
    assert page.left_out == (f"{HOSTILE}: it lies inside a building.",)
    assert {row.name for row in page.rows} == {"open"}
    alone = booking_times(plans, 1, WEEK, NOW)
    assert (alone.rows, alone.left_out) == ((), (f"{HOSTILE}: it lies inside a building.",))


def test_no_spots_no_kit_no_such_spot(plans):
    with pytest.raises(InputProblem) as problem:
        booking_times(plans, None, WEEK, NOW)
    assert problem.value.field == "flash"
    equip(plans)
    assert booking_times(plans, None, WEEK, NOW).rows == ()
    with pytest.raises(Missing):
        booking_times(plans, 7, WEEK, NOW)


@pytest.mark.parametrize(
    ("place", "asked", "some"),
    [
        (
            (69.65, 18.96, "Europe/Oslo"),
            {"from": "2026-06-15", "to": "2026-06-21", "want": "golden", "after": "20:00"},
            True,
        ),
        ((69.65, 18.96, "Europe/Oslo"), {"from": "2026-12-15", "to": "2026-12-21", "want": "golden"}, False),
        (
            (69.65, 18.96, "Europe/Oslo"),
            {"from": "2026-12-15", "to": "2026-12-21", "want": "blue", "length": "15"},
            True,
        ),
        ((-36.85, 174.76, "Pacific/Auckland"), {"from": "2026-09-26", "to": "2026-09-28", "want": "golden"}, True),
        ((1.87, -157.4, "Pacific/Kiritimati"), {"from": "2026-01-01", "to": "2026-01-03", "want": "golden"}, True),
        ((0.0, 180.0, "Etc/GMT-12"), {"from": "2026-03-20", "to": "2026-03-21", "want": "golden"}, True),
    ],
)
def test_anywhere_on_earth_each_local_day_has_its_own_times(plans, place, asked, some):
    latitude, longitude, zone = place
    equip(plans)
    spot = stand(plans, latitude_deg=latitude, longitude_deg=longitude, zone=zone)
    page = booking_times(plans, spot.id, {"length": "30 min", "before": "24:00", "after": "04:00"} | asked, NOW)
    assert bool(page.rows) == some
    light = spot_light(plans, spot, now=NOW)
    for row in page.rows[:3]:
        local = at(row.start.replace(tzinfo=None).isoformat(), zone).local
        assert asked["from"] <= local.date().isoformat() <= asked["to"]
        if asked["want"] == "golden":
            middle = Moment(row.start + (row.end - row.start) / 2, zone, 0, "")
            assert -0.5 < light_now(light, middle, None).sun_elevation_deg < 6.5
    assert replace(page.form, first="").last == asked["to"]


def test_footfall_ranks_where_it_was_counted_and_the_page_says_so_once(plans):
    equip(plans)
    spot = stand(plans, "lane", north_m=2000.0)
    page = booking_times(plans, spot.id, WEEK, NOW)
    assert "Footfall is not counted, so it ranks nothing." in page.rests_on
    assert not any("ootfall" in reason for row in page.rows for reason in row.reasons)
    quiet, busy = datetime(2026, 10, 5, 10, 0, tzinfo=UTC), datetime(2026, 10, 5, 11, 0, tzinfo=UTC)
    for starts, number in ((quiet, 5), (busy, 200)):
        add_count(plans, CountDraft(spot_id=spot.id, starts=starts, minutes=60, number=number))
    asked = WEEK | {"days": "Mon", "after": "12:00", "before": "15:00", "length": "30 min"}
    counted = booking_times(plans, spot.id, asked, NOW)
    assert "Footfall is counted: among times alike" in counted.rests_on
    said = {row.start.hour: row.reasons[-1] for row in counted.rows}
    assert said[10].startswith("Footfall: about 6")
    assert said[11].startswith("Footfall: about 200")
    assert "ootfall" not in said[12]


def test_across_spots_it_is_said_at_how_many_footfall_is_counted(plans):
    equip(plans)
    spot = stand(plans, "lane", north_m=2000.0)
    stand(plans, "square", north_m=2500.0)
    add_count(plans, CountDraft(spot_id=spot.id, starts=datetime(2026, 10, 5, 10, 0, tzinfo=UTC), minutes=60, number=9))
    assert "Footfall is counted at 1 of 2 spots" in booking_times(plans, None, WEEK, NOW).rests_on
