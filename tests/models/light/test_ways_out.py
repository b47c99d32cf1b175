"""Ways out, each costed, least trouble first; neutral density and high-speed sync add nothing."""

from __future__ import annotations

from dataclasses import replace
from math import log2

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.light.exposure import START, EvFigure, Settings
from models.light.flash import (
    GELS,
    Alternative,
    Alternatives,
    Choice,
    Trigger,
    answer,
    capacity_ev,
    reserve,
)
from models.light.ways_out import CLOSEST_M, MOST_UNITS, when_too_strong, when_too_weak, wider_apertures
from tests.models.light.setups import BOX, CAMERA, GRID, SLOW_TRIGGER, SMALL, choice, choices

NOWHERE = Alternatives()
HSS_FLASH = replace(SMALL, hss_loss_stops=2.0)


def test_the_order_of_least_trouble_and_each_gain() -> None:
    place = Alternatives(Alternative("later", 0), Alternative("across", 0), Alternative("looking west", 0))
    ways = when_too_weak(choice(modifier=BOX, trigger=SLOW_TRIGGER), -1, place)
    assert [(way.kind, round(way.gain_stops, 2), way.enough) for way in ways] == [
        ("closer", 1.03, True),
        ("barer", 2.0, True),
        ("zoomed in", 4.0, True),
        ("more units", 1.0, True),
        ("faster sync", 1.0, True),
        ("later hour", 1.0, True),
        ("other side of the street", 1.0, True),
        ("another bearing", 1.0, True),
    ]


def test_costs_are_said() -> None:
    ways = {way.kind: way for way in when_too_weak(choice(modifier=BOX, trigger=SLOW_TRIGGER), -1, NOWHERE)}
    assert ways["closer"].words == "Closer: 1.4 m instead of 2 m"
    assert ways["closer"].cost_words.startswith("0.6 m nearer")
    assert ways["barer"].words == "Barer: go without a box"
    assert ways["more units"].words == "More flashes: 2 of them side by side"
    assert ways["faster sync"].words == (
        "A faster sync speed: the trigger holds you at 1/125 s; another would allow 1/250 s"
    )


@given(choices, st.floats(0.05, 2))
def test_what_is_called_enough_closes_the_gap(given: Choice, short: float) -> None:
    """Each way is put into practice and worked out again."""
    light = capacity_ev(given)[0] + short - given.surroundings_under
    assert reserve(given, EvFigure(light), None).stops == pytest.approx(-short)
    for way in when_too_weak(given, -short, NOWHERE):
        after = reserve(_done(given, way.kind, way.words), EvFigure(light), None).stops
        assert after == pytest.approx(way.gain_stops - short, abs=1e-6)
        assert way.enough == (after >= -0.01)


def _done(given: Choice, kind: str, words: str) -> Choice:
    if kind == "closer":
        return replace(given, distance_m=float(words.split()[1]))
    if kind == "more units":
        return replace(given, units=int(words.split()[2]))
    if kind == "faster sync":
        fastest = {"camera": 1 / 250, "trigger": 1 / 250}
        trigger = None if "the trigger holds" in words else given.trigger
        camera = replace(given.camera, sync_s=fastest["camera"]) if "the camera holds" in words else given.camera
        return replace(given, trigger=trigger, camera=camera)
    longest = given.flash.guide_numbers[-1][0]
    return replace(given, modifier=None, zoom_mm=longest if kind == "zoomed in" else given.zoom_mm)


def test_not_closer_than_a_light_can_stand_nor_more_than_can_be_carried() -> None:
    ways = {way.kind: way for way in when_too_weak(choice(), -9, NOWHERE)}
    assert ways["closer"].words == f"Closer: {CLOSEST_M} m instead of 2 m"
    assert not ways["closer"].enough
    assert ways["more units"].words == f"More flashes: {MOST_UNITS} of them side by side"
    assert not ways["more units"].enough
    nothing_left = choice(distance_m=CLOSEST_M, units=MOST_UNITS, zoom_mm=105)
    assert when_too_weak(nothing_left, -9, NOWHERE) == ()


def test_ways_that_gain_nothing_are_left_out() -> None:
    worse = Alternatives(later=Alternative("at noon", -4))
    kinds = [way.kind for way in when_too_weak(choice(zoom_mm=105), -1, worse)]
    assert kinds == ["closer", "more units"]
    assert "barer" in [way.kind for way in when_too_weak(choice(modifier=GRID), -1, NOWHERE)]


def test_too_strong_each_costed() -> None:
    ways = when_too_strong(choice(units=2), 1.0, START)
    assert [(way.kind, round(way.gain_stops, 2), way.enough) for way in ways] == [
        ("fewer units", 1.0, True),
        ("diffuser", 1.5, True),
        ("step back", 1.07, True),
        ("slower shutter", round(log2(125 / 60), 2), True),
        ("gel", 0.85, False),
    ]
    assert ways[2].words == "Step the light back: 2.9 m"
    assert ways[3].words == "A smaller aperture with a slower shutter: 1/60 s, 1.1 stops smaller"
    assert "more ISO in place of time gains nothing" in ways[3].cost_words


def test_too_strong_with_the_dials_at_their_ends() -> None:
    boxed = choice(modifier=BOX, gel=GELS[2])
    assert [way.kind for way in when_too_strong(boxed, 1.0, Settings(1 / 60, 2.8, 800))] == ["step back"]
    at_smallest = when_too_strong(choice(), 1.0, Settings(1 / 250, 22, 100))
    assert "slower shutter" not in [way.kind for way in at_smallest]


def test_a_slower_shutter_weakens_the_flash_by_what_it_says() -> None:
    found = answer(choice(units=2, zoom_mm=105, distance_m=3), EvFigure(8.8), EvFigure(10.2))
    slower = Settings(1 / 60, 5.6 * (125 / 60) ** 0.5, 200)
    assert found.settings == START
    assert slower.ev100 == pytest.approx(START.ev100)
    (way,) = [way for way in when_too_strong(choice(), 1.0, START) if way.kind == "slower shutter"]
    assert 2 * log2(slower.aperture / START.aperture) == pytest.approx(way.gain_stops)


def test_neutral_density_adds_no_reserve() -> None:
    (way,) = wider_apertures(choice(), 1.2, Settings(1 / 250, 8, 100))
    assert way.kind == "neutral density"
    assert way.settings == Settings(1 / 250, 2, 100)  # f/8 opened by the whole 4 of 4.3 stops that the lens allows
    assert way.reserve_stops == 1.2
    assert "4 stops (density 1.2): f/2" in way.words
    assert "adds no reserve" in way.words


@given(choices, st.floats(0, 18), st.floats(0, 18), st.floats(0.5, 10))
def test_a_filter_before_the_lens_dims_flash_and_daylight_alike(
    given: Choice, subject: float, behind: float, stops: float
) -> None:
    """Through a filter of n stops the camera sees n stops less of the light and of the flash: nothing changes."""
    bare = reserve(given, EvFigure(subject), EvFigure(behind))
    dimmed = replace(
        given.flash, guide_numbers=tuple((mm, gn * 2 ** (-stops / 2)) for mm, gn in given.flash.guide_numbers)
    )
    filtered = reserve(replace(given, flash=dimmed), EvFigure(subject - stops), EvFigure(behind - stops))
    assert filtered.stops == pytest.approx(bare.stops)


def test_high_speed_sync_costs_and_adds_nothing() -> None:
    """One and a half to two and a half stops when first engaged: common practice (data/flash.csv fl-067)."""
    _, way = wider_apertures(choice(flash=HSS_FLASH), 1.2, Settings(1 / 250, 8, 100))
    assert way.kind == "high-speed sync"
    assert way.settings == Settings(1 / 4000, 2, 100)
    assert way.settings.ev100 == pytest.approx(Settings(1 / 250, 8, 100).ev100, abs=1 / 3)
    assert 1.5 <= 1.2 - way.reserve_stops <= 2.5


@pytest.mark.parametrize(
    "changes",
    [
        {},
        {"flash": HSS_FLASH, "trigger": SLOW_TRIGGER},
        {"flash": HSS_FLASH, "camera": replace(CAMERA, min_shutter_s=1 / 250)},
    ],
)
def test_no_high_speed_sync_where_the_kit_has_none(changes: dict[str, object]) -> None:
    ways = wider_apertures(choice(**changes), 1.2, Settings(1 / 250, 8, 100))
    assert [way.kind for way in ways] == ["neutral density"]


def test_a_trigger_that_passes_it() -> None:
    given = choice(flash=HSS_FLASH, trigger=Trigger("t", "trigger", 1 / 250, passes_hss=True))
    assert len(wider_apertures(given, 1.2, Settings(1 / 250, 8, 100))) == 2


def test_nothing_wider_than_the_lens() -> None:
    assert wider_apertures(choice(), 1.2, Settings(1 / 250, 1.8, 100)) == ()


def test_neither_is_ever_a_way_out_of_too_weak() -> None:
    kinds = {way.kind for way in when_too_weak(choice(flash=HSS_FLASH, modifier=BOX), -3, NOWHERE)}
    assert not kinds & {"neutral density", "high-speed sync"}
