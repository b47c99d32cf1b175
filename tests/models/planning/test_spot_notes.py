"""Scouting notes in words: what was noted, and what was not."""

from __future__ import annotations

from dataclasses import replace

from models.planning.spot_notes import place_words, spot_notes
from models.store.spots import Spot
from models.street.scene import Canopy, SkylinePoint

BARE = Spot(id=1, version=1, name="Corner", latitude_deg=-33.8688, longitude_deg=151.2093, zone="Australia/Sydney")


def notes(spot: Spot) -> dict[str, str]:
    return {note.label: note.text for side in (spot_notes(spot).pavement, spot_notes(spot).light) for note in side}


def test_what_nobody_noted_says_so():
    found = spot_notes(BARE)
    unknown = {note.label for side in (found.pavement, found.light) for note in side if not note.noted}
    assert unknown == {
        "Footfall", "Clear width", "Hazards", "Facilities", "Who controls it", "Shade, as seen", "Surfaces", "Walls",
        "Ground", "Skyline by hand", "Street lamps", "Usual camera",
    }  # fmt: skip
    assert all(note.text for side in (found.pavement, found.light) for note in side)
    assert notes(BARE)["Walls"] == "not noted, sends back 0.30 of the light, assumed"


def test_a_surface_brings_the_source_of_its_figure_unless_somebody_changed_it():
    brick = replace(BARE, wall_surface="brick")
    assert notes(brick)["Walls"] == "brick, sends back 0.30 of the light (within 0.20 to 0.40, from memory)"
    assert notes(replace(brick, wall_reflectance=0.22))["Walls"] == "brick, sends back 0.22 of the light"
    assert notes(replace(BARE, wall_surface="tarred boards"))["Walls"].startswith("tarred boards, sends back 0.30")


def test_what_stands_in_the_way_is_said_in_degrees():
    limes = Canopy(200, 290, 20, 60, 0.3, 0.67, (5, 6, 7, 8, 9, 10), "limes")
    vault = Canopy(0, 360, 45, 90, 0.0, 0.0, (), "vault")
    spot = replace(BARE, canopies=(limes, vault), measured=(SkylinePoint(225, 38.5),), looking_deg=250.0)
    assert notes(spot)["Trees and roofs"].split("\n") == [
        "limes: bearings 200° to 290°, 20° to 60° high, lets through 30 % in leaf (May to Oct), 67 % bare",
        "vault: all round, 45° to 90° high, lets nothing through",
    ]
    assert notes(spot)["Skyline by hand"] == "38.5° high at 225°"
    assert notes(spot)["Usual camera"] == "looks 250° (west)"


def test_months_that_do_not_follow_each_other_are_listed():
    olive = Canopy(0, 90, 10, 40, 0.3, 0.5, (1, 2, 12), "olive")
    assert "in leaf (Jan, Feb and Dec)" in notes(replace(BARE, canopies=(olive,)))["Trees and roofs"]


def test_lamps_by_class_and_by_reading():
    spot = replace(BARE, lighting_class="P4", night_ev100=-0.5)
    assert notes(spot)["Street lamps"] == "your reading EV −0.5 at ISO 100; class P4, 5 lx on the ground on average"


def test_place_words_name_both_halves():
    assert place_words(-33.8688, 151.2093) == "33.86880° S, 151.20930° E"
    assert place_words(52.5301, -5.25) == "52.53010° N, 5.25000° W"
