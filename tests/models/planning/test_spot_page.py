"""The page of a spot: whole and true from the tropics to the poles, and where things are missing."""

from __future__ import annotations

import json
import math
from dataclasses import fields, is_dataclass, replace
from xml.etree import ElementTree

import numpy as np
import pytest

from models.planning.light import spot_light
from models.planning.moments import read_moment
from models.planning.now import light_now
from models.planning.spot_answers import SpotPage
from models.planning.spot_page import spot_page
from models.planning.spot_skyline import sun_words
from models.problems import InputProblem
from models.store.spots import Missing
from models.street.scene import SkylinePoint
from models.street.skyline import InsideBuilding
from models.words.said import Said
from tests.models.planning.grounds import HOSTILE, at, block, build, equip, stand

NOW = at("2026-10-17T14:40").instant
PLACES = {
    "Tromso": (69.65, 18.96, "Europe/Oslo"),
    "Auckland": (-36.85, 174.76, "Pacific/Auckland"),
    "Kiritimati": (1.87, -157.4, "Pacific/Kiritimati"),
    "open sea": (0.0, -30.0, "Etc/GMT+2"),
    "north pole": (90.0, 0.0, "UTC"),
    "south pole": (-90.0, 0.0, "Antarctica/South_Pole"),
    "date line": (52.0, 180.0, "Asia/Kamchatka"),
}
"""Latitude and longitude of the towns from memory, to a hundredth of a degree: near enough for their days."""


@pytest.fixture(scope="module")
def world(shared_plans):
    equip(shared_plans)
    return shared_plans, {
        name: stand(shared_plans, name, latitude_deg=latitude, longitude_deg=longitude, zone=zone).id
        for name, (latitude, longitude, zone) in PLACES.items()
    }


def page_at(world, name: str, on: str, at: str, sky: str = "0", **asked: str) -> SpotPage:
    store, ids = world
    return spot_page(store, ids[name], read_moment(on, at, sky, PLACES[name][2], NOW), asked)


def numbers_in(value):
    """Every float of an answer, however deep."""
    if isinstance(value, float):
        yield value
    elif is_dataclass(value) and not isinstance(value, type | Said):
        for field in fields(value):
            yield from numbers_in(getattr(value, field.name))
    elif isinstance(value, tuple | list):
        for item in value:
            yield from numbers_in(item)


@pytest.mark.parametrize(
    ("on", "at", "sky", "looking"),
    [("2026-06-21", "00:30", "0", "any"), ("2026-12-21", "12:00", "3", "230"), ("2026-03-20", "06:30", "8", "any")],
)
@pytest.mark.parametrize("name", PLACES)
def test_everywhere_the_page_is_whole(world, name, on, at, sky, looking):
    page = page_at(world, name, on, at, sky, looking=looking)
    assert all(map(math.isfinite, numbers_in(page)))
    assert page.answer.text.count(f". {name} is {page.light.state_words} ") == 1
    unknown = page.light.subject.unknown is not None
    assert ("EV 0 to 5, not known" if unknown else "give or take") in page.answer.text
    assert len(page.facing) == (8 if looking == "any" else 9)
    for drawing in (page.skyline, page.day, page.year):
        for svg in (drawing.wide, drawing.narrow):
            ElementTree.fromstring(svg)  # noqa: S314  our own drawing
    assert page.rests_on.oktas == int(sky)
    assert page.rests_on.oktas_by == "you set it"
    assert page.rests_on.readings == 0
    assert page.rests_on.doubt_stops >= 0.7
    assert page.rests_on.skyline_source == "no building seen within 500 m"
    assert "no buildings loaded here: open ground taken all round" in page.rests_on.assumed


@pytest.mark.parametrize(
    ("name", "on", "at", "state", "bands"),
    [
        ("Tromso", "2026-06-21", "00:30", "sun", {"golden"}),
        ("Tromso", "2026-12-21", "12:00", "dusk", {"blue", "golden"}),
        ("Tromso", "2026-12-21", "20:00", "dark", {"blue", "golden"}),
        ("Auckland", "2026-06-21", "12:00", "sun", {"blue", "golden"}),
        ("Kiritimati", "2026-06-21", "00:30", "dark", {"blue", "golden"}),
        ("north pole", "2026-06-21", "00:30", "sun", set()),
        ("south pole", "2026-06-21", "12:00", "dark", set()),
    ],
)
def test_the_sky_of_each_place(world, name, on, at, state, bands):
    page = page_at(world, name, on, at)
    assert page.light.state == state
    assert {band.name for band in page.bands} == bands


def test_golden_light_under_the_horizon_is_not_at_this_spot(world):
    """Tromso in December: the sun stays under the horizon, though above the band's lower limit at noon."""
    page = page_at(world, "Tromso", "2026-12-21", "12:00")
    assert [band.words for band in page.bands if band.name == "golden"] == [
        "golden hour 10:29 to 12:54 CET, not at this spot"
    ]
    assert page.turning_points[0].words == "first light"
    assert page_at(world, "Tromso", "2026-06-21", "00:30").turning_points == ()


def test_the_noon_sun_stands_in_the_north_south_of_the_tropics(world):
    sun = page_at(world, "Auckland", "2026-06-21", "12:20").light
    assert min(sun.sun_azimuth_deg, 360 - sun.sun_azimuth_deg) < 5
    assert "(north)" in sun.sun_words or "north" in sun.sun_words
    assert page_at(world, "Auckland", "2026-06-21", "12:20", looking="180").facing[0].sun != "in the lens"


def test_the_page_agrees_with_itself(world):
    page = page_at(world, "date line", "2026-06-21", "17:00", looking="45")
    chosen = [row for row in page.facing if row.chosen]
    assert [row.looking for row in chosen] == ["north-east"]
    assert chosen[0].face_ev == page.light.subject.ev100
    assert page.light.behind is not None
    assert chosen[0].behind_ev == page.light.behind.ev100
    assert chosen[0].reserve_stops == pytest.approx(page.flash.reserve.stops)
    assert page.flash.reserve.stops == pytest.approx(page.flash.reserve.capacity_ev - page.flash.reserve.ev_to_beat)
    assert sum(part.share for part in page.light.behind_parts) == pytest.approx(1, abs=1e-3)
    assert f"EV {page.light.subject.ev100:.1f}" in page.answer.text


def test_the_best_way_to_face_them_stands_first(world):
    page = page_at(world, "date line", "2026-06-21", "17:00")
    counted = [round(min(row.reserve_stops, 2.0) * 3) for row in page.facing]
    assert counted == sorted(counted, reverse=True)


def test_the_usual_camera_of_the_spot_is_chosen_until_another_is(plans):
    equip(plans)
    spot = stand(plans, looking_deg=0.0)
    moment = at("2026-10-17T14:40")
    assert spot_page(plans, spot.id, moment, {}).light.behind is not None
    assert [row.looking for row in spot_page(plans, spot.id, moment, {}).facing if row.chosen] == ["north"]
    assert spot_page(plans, spot.id, moment, {"looking": "any"}).light.behind is None


def test_a_hostile_name_and_notes_stay_text(plans):
    equip(plans)
    notes = dict.fromkeys(("hazards", "controller", "footfall_note", "notes"), HOSTILE)
    build(plans, block(-30, -30, 30, -10, 20.0, name=HOSTILE))
    page = spot_page(plans, stand(plans, HOSTILE, **notes).id, at("2026-12-21T11:40"), {})
    assert f". {HOSTILE} is " in page.answer.text
    assert page.light.obstacle == HOSTILE
    assert HOSTILE.rstrip(".") in page.cautions[0]
    for svg in (page.day.wide, page.skyline.narrow, page.year.wide):
        assert "<img" not in svg
        ElementTree.fromstring(svg)  # noqa: S314  our own drawing


def test_too_close_to_call_is_in_the_answer(plans):
    """A skyline measured by hand at the sun's own height is good to a degree."""
    equip(plans)
    moment = at("2026-12-21T11:40")
    low = spot_page(plans, stand(plans, "low").id, moment, {}).light.sun_elevation_deg
    points = tuple(SkylinePoint(bearing, low + 0.5) for bearing in (150.0, 180.0, 210.0))
    page = spot_page(plans, stand(plans, "edge", measured=points).id, moment, {})
    assert page.light.too_close
    assert "The sun stands at the edge of what hides it, too close to call." in page.answer.text
    assert page.light.sun_words.endswith("too close to call")
    assert "hand-measured at 3 bearings" in page.rests_on.skyline_source


def test_at_the_very_horizon_the_sun_is_up_as_long_as_it_is_said_to_shine(plans):
    """Between -0.833 and about -0.5 degrees the upper limb still shows, though the middle is below the horizon."""
    light = spot_light(plans, stand(plans), now=NOW)
    for minute in range(30, 45):
        moment = at(f"2026-10-17T16:{minute}")
        now = light_now(light, moment, None)
        told = ", ".join(sun_words(now, moment, ""))
        assert ("below the horizon" in told) == (now.state == "dusk"), told
        assert ("° up" in told) == (now.state == "sun"), told


def test_what_is_missing_is_named(plans):
    with pytest.raises(Missing):
        spot_page(plans, 1, at("2026-10-17T14:40"), {})
    build(plans, block(-10, -10, 10, 10, 12.0))
    inside, outside = stand(plans), stand(plans, "out", 40, 40)
    with pytest.raises(InputProblem) as no_kit:
        spot_page(plans, outside.id, at("2026-10-17T14:40"), {})
    assert (no_kit.value.field, no_kit.value.message) == (
        "flash",
        "there is no kit yet: add a flash and a camera first",
    )
    with pytest.raises(InsideBuilding):
        spot_page(plans, inside.id, at("2026-10-17T14:40"), {})
    equip(plans)
    with pytest.raises(InputProblem) as too_far:
        spot_page(plans, outside.id, at("2026-10-17T14:40"), {"distance": "900 m"})
    assert too_far.value.field == "distance"


def test_the_sky_assumed_is_said_to_be_assumed(plans):
    equip(plans)
    moment = replace(at("2026-10-17T10:00"), oktas=2, oktas_by="assumed")
    page = spot_page(plans, stand(plans).id, moment, {})
    assert "a sky of 2 oktas (a few clouds)" in page.rests_on.assumed
    assert "assumed" in page.day.caption
    assert json.dumps(list(page.working))
    assert np.isfinite(page.rests_on.doubt_stops)
