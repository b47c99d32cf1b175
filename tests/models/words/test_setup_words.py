"""Sentences about lights round one model, the dial card and warnings: exact where it matters, and always short."""

from __future__ import annotations

from dataclasses import replace
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.light.beam import AS_BIG_AS, COVERS_M, apparent_size, beam
from models.light.card import CHECKS, Rigging, dial_card
from models.light.exposure import START, EvFigure
from models.light.gels import GELS
from models.light.heat import HeatWay
from models.light.placing import FACE_M
from models.light.redial import redials
from models.light.setup import Ratio, Setup, light_figures, setup_figures
from models.light.setup_warnings import Kind, Warned
from models.light.solve import solve
from models.light.wanted import Wanted
from models.light.working import WHYS
from models.words.dial_card import CHECK_WORDS, RIGGING_WORDS, camera_lines, light_lines, powers_words, redial_head
from models.words.setup import (
    COVER_WORDS,
    WHY_WORDS,
    away_words,
    beam_words,
    cannot_words,
    clock_words,
    gives_words,
    heat_way_words,
    in_a_row_words,
    looks_words,
    paces_words,
    place_words,
    ratio_words,
    ready_words,
    setup_lines,
    side_words,
    solved_lines,
    stops_said,
    waits_words,
)
from models.words.setup_warnings import OUR_CAUTION, warning_words
from tests.models.light.round_a_model import BOX, EDGE, FILL, SMALL, light, setup, setups

THERE = EvFigure(START.ev100 - 2), EvFigure(START.ev100 - 2 / 3)


def test_place() -> None:
    assert place_words(light()) == "key, 10 o'clock, 2 1/2 paces (1.9 m), camera right, 2 m high, 2 m to the face"
    assert (
        place_words(EDGE)
        == "edge, 5 o'clock, 2 1/2 paces (1.9 m), camera left, behind the model, 2 m high, 2 m to the face"
    )


def test_a_light_nearer_than_half_a_pace_is_not_given_a_pace() -> None:
    """Half a pace is 0.375 m."""
    near = place_words(light(distance_m=0.64, height_m=FACE_M + 0.6))
    assert "under half a pace (0.2 m)" in near
    assert near.endswith("0.6 m to the face")
    assert away_words(0.375) == "half a pace"
    assert away_words(1.5) == "2 paces"
    card = dial_card(setup(light(distance_m=0.64, height_m=FACE_M + 0.6)))
    assert any(
        line.startswith("10 o'clock, under half a pace; 0.6 m to the face") for line in light_lines(card.lights[0])
    )


@pytest.mark.parametrize(("half_hours", "words"), [(0, "12 o'clock"), (1, "half past 12"), (19, "half past 9")])
def test_clock(half_hours: int, words: str) -> None:
    assert clock_words(half_hours) == words


@pytest.mark.parametrize(
    ("count", "words"), [(0.5, "half a pace"), (1, "1 pace"), (1.5, "1 1/2 paces"), (4, "4 paces")]
)
def test_paces(count: float, words: str) -> None:
    assert paces_words(count) == words


@pytest.mark.parametrize(
    ("axis_deg", "words"),
    [
        (0, "at the camera"),
        (-45, "camera left"),
        (90, "camera right"),
        (135, "camera right, behind the model"),
        (180, "behind the model"),
    ],
)
def test_side(axis_deg: float, words: str) -> None:
    assert side_words(axis_deg) == words


def test_stops() -> None:
    assert [stops_said(stops) for stops in (2 / 3, 1, 1.42, 2)] == ["2/3 stop", "1 stop", "1.4 stops", "2 stops"]


def test_the_two_ratios_say_which_they_are() -> None:
    assert ratio_words(Ratio("key:fill", 1.0)) == "Key to fill, flash against flash: 1 stop, 2.0:1."
    assert ratio_words(Ratio("face", 1.5)) == (
        "Face, key and fill together against the fill, the light already there counted as fill: 1.5 stops, 2.8:1."
    )


def test_a_face_that_no_flash_fills_speaks_of_no_fill() -> None:
    assert ratio_words(Ratio("face", 2.0), fill_fires=False) == (
        "Lit side of the face against its shadow side, which only the light already there fills: 2 stops, 4.0:1."
    )


def test_what_a_light_gives() -> None:
    start = setup(light())
    assert (
        gives_words(light_figures(light(), start)) == "Gives f/7.0 at the subject, 0.6 stop over the working aperture."
    )
    assert gives_words(light_figures(light(power=0.0), start)) == "Off."
    on = light(distance_m=2.5)
    assert gives_words(light_figures(on, start)) == "Gives f/5.6 at the subject, the working aperture."
    assert ready_words(light_figures(light(), start)) == (
        "Ready again in 1.4 s, 2.2 s on tired cells; about 300 flashes a set."
    )


def test_beams_and_looks() -> None:
    gridded, zoomed = beam(2.0, zoom_mm=50, grid_deg=20), beam(2.0, zoom_mm=50)
    assert gridded is not None
    assert zoomed is not None
    assert beam_words(gridded) == "About 0.7 m across (grid, full angle 20°): covers a head and its hair."
    assert beam_words(zoomed) == (
        "About 1.4 m by 1.0 m (zoom, 40° along the long side and 27° along the short): "
        "lying flat it covers a head and its hair."
    )
    assert looks_words(apparent_size((0.3, 0.3), 1.5)) == (
        "From the face 11° across: as big as a dinner plate at that distance."
    )
    assert {what for what, _ in COVERS_M} < set(COVER_WORDS)
    assert all(thing.split()[0] in ("a", "an") for thing, _ in AS_BIG_AS)


def test_all_lights_together() -> None:
    solved = solve(setup(light(), FILL), Wanted(), *THERE)
    lines = list(setup_lines(solved.figures))
    assert lines[0].startswith("Key to fill, flash against flash: ")
    assert lines[1].startswith("Face, key and fill together")
    assert "The light already there gives 25 % of the exposure on the face." in lines
    assert lines[-1].startswith("Ready again in ")
    alone = list(setup_lines(solve(setup(light()), Wanted(), *THERE).figures))
    assert alone[0].startswith(
        "Lit side of the face against its shadow side, which only the light already there fills: "
    )
    assert not any("fill together" in line for line in alone)
    over = list(setup_lines(setup_figures(setup(light(distance_m=1.0)))))
    assert over[0] == "All light on the face comes 2.6 stops over these settings."


def test_what_was_solved() -> None:
    solved = solve(setup(light(), FILL), Wanted(), *THERE)
    assert "Key: 1/8 + 1/3 stop." in solved_lines(solved)
    far = solve(setup(light(distance_m=4.0)), Wanted(), EvFigure(14), EvFigure(14))
    assert list(solved_lines(far)) == [f"Key: {far.lights[0].rung.words}, moved 2 m nearer to 2 m."]
    fills = solve(setup(light(), FILL), Wanted(ratio="face", ratio_stops=3.0), *THERE)
    assert list(solved_lines(fills))[1:] == [
        "Fill: off.",
        "The light already there fills more than this face ratio leaves: fill off, and the ratio comes smaller.",
    ]
    bright = setup(light(), surroundings_under=-1.0, face_under=-1.0)
    exposes = solve(bright, Wanted(), EvFigure(10), EvFigure(10))
    assert list(solved_lines(exposes))[-1] == "The light already there exposes the face alone: key and fill stay off."


def test_which_light_cannot_and_by_how_much() -> None:
    weak = solve(setup(light(flash=replace(SMALL, guide_numbers=((24, 3.0),)))), Wanted(), EvFigure(13), EvFigure(13))
    (cannot,) = weak.cannot
    assert (
        cannot_words(cannot) == f"The key cannot: at full power and 0.7 m it lacks {stops_said(cannot.cannot_stops)}."
    )
    assert list(solved_lines(weak)) == [cannot_words(cannot)]
    strong = solve(setup(light(flash=replace(SMALL, lowest_power=1))), Wanted(), EvFigure(2), EvFigure(2))
    (over,) = strong.cannot
    assert cannot_words(over) == (
        f"The key cannot: at its lowest power and 6 m it gives {stops_said(-over.cannot_stops)} too much."
    )


def test_heat() -> None:
    assert waits_words(0) == "By its heat limit the next flash may come now."
    assert waits_words(40) == "Let it cool for 40 s before the next flash."
    assert waits_words(600) == "Let it cool for 10 min 0 s before the next flash."
    assert in_a_row_words(19, 10) == "One flash every 10 s: 19 in a row, then the printed rest."
    assert in_a_row_words(None, 60) == "One flash every 60 s meets no printed heat limit that we know of."
    ways = [
        HeatWay("swap units", 58, 2, 1 / 2, False),
        HeatWay("gang two", 118, 2, 1 / 4, True),
        HeatWay("fastest sync", None, 1, 1 / 4, True),
    ]
    assert [heat_way_words(way) for way in ways] == [
        "Swap two units from shooter to shooter: 58 in a row; not enough by itself.",
        "Gang two units at 1/4 power each: 118 in a row.",
        "Go to the fastest sync speed with a wider aperture, 1/4 power: no printed end.",
    ]


def test_the_card() -> None:
    gelled = light(gel=GELS[1], units=2, held=False)
    card = dial_card(solve(setup(gelled, EDGE), Wanted(), *THERE).setup, channel=4)
    lines = list(camera_lines(card))
    assert lines[:3] == [
        "Mode manual, 1/125 s, f/5.6, ISO 200",
        card.white_balance,
        "Radio channel 4, this station's own",
    ]
    assert lines[3:] == [CHECK_WORDS[check] for check in CHECKS]
    key, edge = (list(light_lines(one)) for one in card.lights)
    assert key[0].startswith("Key: large flash, 2 together, 1/")
    assert key[1:4] == [
        "Zoom 24 mm",
        "With the box and 1/2 orange gel",
        "10 o'clock, 2 1/2 paces; 2 m to the face, 2 m high",
    ]
    assert key[4:] == ["On a stand, with a hand on it.", RIGGING_WORDS["brace the tilt"]]
    assert edge[1:3] == ["Zoom 50 mm", "With the grid"]
    assert edge[4] == "In somebody's hand."
    assert set(RIGGING_WORDS) == set(get_args(Rigging))
    noted = dial_card(setup(light(modifier=replace(BOX, measured_zoom_mm=None))))
    assert list(light_lines(noted.lights[0]))[1] == "Zoom as the modifier was measured; not noted"
    assert len(list(camera_lines(noted))) == 2 + len(CHECKS)


def test_redial_lines() -> None:
    dusk = [START.ev100 - 2 / 3 * (1 + step) for step in range(3)]
    there = setup(light(), FILL)
    first, second, _ = redials(there, Wanted(), [ev - 0.5 for ev in dusk], dusk)
    begin = [one.rung.words for one in first.powers]
    bright, *_ = redials(there, Wanted(), [14.5], [15.0])
    assert len(bright.turns) > 1
    assert redial_head(bright, there, "12:00") == f"12:00: {bright.solved.setup.settings.words}"
    assert redial_head(first, there, "16:40") == "16:40: 1/125 s, f/5.6, ISO 200"
    assert powers_words(first.powers, there) == f"Key {begin[0]}, fill {begin[1]}."
    assert redial_head(second, there, "16:45") == "16:45, 2/3 stop darker: shutter 1/80 s"
    still = replace(second, turns=(), powers=())
    assert redial_head(still, there, "16:45") == "16:45, 2/3 stop darker: as they are"
    assert powers_words((), there) == "Powers stay."


WARNED = {
    "over sync": (Warned("over sync", None, 1 / 250, 1 / 200, "camera"), "Go to 1/200 s or slower."),
    "off the ladder": (Warned("off the ladder", 0, 0.2, 0.25, "1/4"), "The key is set 0.2 stop over 1/4"),
    "cannot": (Warned("cannot", 0, 1.5), "lacks 1.5 stops at full power"),
    "lens cannot stop down": (
        Warned("lens cannot stop down", None, 2.0, 3.0, "three stops"),
        "A neutral-density filter of 3 stops fixes it: three stops. Flash and daylight dim alike",
    ),
    "recycle": (Warned("recycle", 0, 4.35, 4.0), "ready after 4.3 s on tired cells; you plan a frame every 4.0 s"),
    "heat": (Warned("heat", 0, 23, 24), "after 23 flashes in a row; you plan 24"),
    "too much to hold": (Warned("too much to hold", 0, 48, 43, "the umbrella"), "pulls with about 48 N"),
    "hold by hand": (Warned("hold by hand", 0, 22, 20.5, "the umbrella"), "hold it by hand"),
    "stand needs weight": (Warned("stand needs weight", 0, 3.2, 0, "the box"), "hang at least 4 kg on it"),
    "stands down": (Warned("stands down", 0, 12, 10.8), "Wind of 12 m/s: take the key's stand down."),
    "wind not judged": (Warned("wind not judged", 0, 7, 5.5, "the box"), "the size of the box is not noted"),
    "above its stand": (Warned("above its stand", 0, 2.6, 2.4), "planned 2.6 m high; its stand reaches 2.4 m"),
    "near the eyes": (Warned("near the eyes", 0, 0.35, 0.5), "The key is 0.35 m from the face"),
    "in walkers' eyes": (Warned("in walkers' eyes", 0, 12, 45), "within 12° of the way people walk"),
    "across the lane": (Warned("across the lane", 0, 12, 60, "cycle lane"), "shines across the cycle lane"),
    "in the lane": (Warned("in the lane", 0, 2.2, 2.0, "cycle lane"), "nobody stands there"),
}  # fmt: skip


@pytest.mark.parametrize("kind", get_args(Kind))
def test_every_warning_has_its_figures(kind: str) -> None:
    warned, part = WARNED[kind]
    assert warned.kind == kind
    assert part in warning_words(warned, setup())


def test_cautions_of_ours_are_marked() -> None:
    ours = {kind for kind, (warned, _) in WARNED.items() if OUR_CAUTION in warning_words(warned, setup())}
    assert ours == {
        "too much to hold", "hold by hand", "stand needs weight", "stands down", "near the eyes", "in walkers' eyes",
        "across the lane",
    }  # fmt: skip


def test_the_other_side_of_a_warning() -> None:
    assert "gives 1.5 stops too much at its lowest power" in warning_words(Warned("cannot", 0, -1.5), setup())
    assert "0.2 stop under 1/4" in warning_words(Warned("off the ladder", 0, -0.2, 0.25, "1/4"), setup())
    none_owned = warning_words(Warned("lens cannot stop down", None, 2.0, 2.0), setup())
    assert "A neutral-density filter of 2 stops would; none as strong is in the kit." in none_owned


def test_every_why_has_its_words() -> None:
    assert tuple(WHY_WORDS) == WHYS


@given(setups, st.floats(0, 15), st.floats(-2, 2))
def test_no_line_is_long_empty_or_has_a_bare_number(given_: Setup, subject: float, brighter: float) -> None:
    solved = solve(given_, Wanted(), EvFigure(subject), EvFigure(subject + brighter))
    card = dial_card(solved.setup)
    lines = [*setup_lines(solved.figures), *solved_lines(solved), *map(place_words, solved.setup.lights)]
    lines += [line for one in card.lights for line in light_lines(one)]
    lines += [gives_words(one) for one in solved.figures.lights]
    for line in lines:
        assert 0 < len(line) <= 200
        assert not {"nan", "inf", "None"} & set(line.replace(",", " ").replace(".", " ").split())
