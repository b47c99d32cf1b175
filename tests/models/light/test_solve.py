"""Solving for ratios with the ambient counted: powers on the ladder, then distances, or which light cannot."""

from __future__ import annotations

from dataclasses import replace
from math import log2

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from models.light.exposure import START, EvFigure
from models.light.kit import Flash
from models.light.setup import Setup, light_figures, setup_figures
from models.light.solve import solve
from models.light.wanted import Wanted, shares_wanted
from models.light.ways_out import CLOSEST_M
from models.problems import InputProblem
from tests.models.light.round_a_model import EDGE, FILL, FOUR, SMALL, light, pairs, setup, setups

evs = st.floats(2, 14)
THIRD = 1 / 3 + 1e-9


def test_the_sum_by_hand() -> None:
    """Surroundings at the start's EV less 2/3, the face 2 stops under: ambient gives 1/4; key and fill share 3/4 as
    2:1, so 1/2 and 1/4. The key's guide number 14 gives f/9.9 at ISO 200 and 2 m at full power: (5.6/9.9)^2 / 2 = 0.16.
    """
    there = EvFigure(START.ev100 - 2), EvFigure(START.ev100 - 2 / 3)
    found = solve(setup(light(), FILL), Wanted(), *there)
    assert found.works
    assert found.setup.settings == START
    assert found.ambient_under_stops == pytest.approx(2)
    assert [one.share for one in found.lights] == pytest.approx([1 / 2, 1 / 4])
    assert found.lights[0].rung.words == "1/8 + 1/3 stop"
    assert found.figures.key_fill is not None
    assert found.figures.key_fill.to_one == pytest.approx(2, rel=0.26)


def test_a_face_ratio_counts_the_ambient_as_fill() -> None:
    """4:1 on the face: fill and ambient give 1/4; the ambient 3 stops under gives 1/8, so the fill another 1/8."""
    there = EvFigure(START.ev100 - 3), EvFigure(START.ev100 - 2 / 3)
    found = solve(setup(light(), FILL), Wanted(ratio="face", ratio_stops=2.0), *there)
    assert [one.share for one in found.lights] == pytest.approx([3 / 4, 1 / 8])
    assert not found.ambient_fills


def test_an_ambient_that_fills_more_than_the_ratio_leaves() -> None:
    there = EvFigure(START.ev100 - 1), EvFigure(START.ev100 - 2 / 3)
    found = solve(setup(light(), FILL), Wanted(ratio="face", ratio_stops=2.0), *there)
    assert found.ambient_fills
    assert [one.share for one in found.lights] == pytest.approx([1 / 2, 0])
    assert (found.lights[1].rung.words, found.lights[1].light.power) == ("off", 0)
    assert found.works


def test_an_ambient_that_exposes_alone_leaves_the_face_to_itself() -> None:
    bright = setup(light(), EDGE, surroundings_under=-1.0, face_under=-1.0)
    found = solve(bright, Wanted(), EvFigure(10), EvFigure(10))
    assert found.ambient_exposes
    assert [one.rung.words == "off" for one in found.lights] == [True, False]


def test_lights_of_one_role_share_it_and_those_beside_the_face_do_not() -> None:
    shares = shares_wanted(setup(light(), light(), EDGE, EDGE), Wanted(edge_stops=-1.0), 0.5)
    assert [float(share) for share in shares] == pytest.approx([0.25, 0.25, 0.5, 0.5])


@given(pairs, st.floats(0, 3), st.sampled_from(("key:fill", "face")), evs, st.floats(-2, 2))
def test_solving_and_computing_forward_gives_the_ratio_within_a_third(
    given_: Setup, ratio_stops: float, kind: str, subject: float, brighter: float
) -> None:
    wanted = Wanted(ratio=kind, ratio_stops=ratio_stops)  # type: ignore[arg-type]
    there = EvFigure(subject), EvFigure(subject + brighter)
    found = solve(given_, wanted, *there)
    assume(found.works and not found.ambient_exposes and not found.ambient_fills and found.lights[1].share > 1e-6)
    forward = setup_figures(found.setup, *there)
    ratio = forward.key_fill if kind == "key:fill" else forward.face
    assert ratio is not None
    assert ratio.stops == pytest.approx(ratio_stops, abs=THIRD)
    assert forward.face_over_stops == pytest.approx(0, abs=1 / 6 + 1e-9)
    assert forward == found.figures


@given(setups, evs, st.floats(-2, 2))
def test_every_light_gives_its_share_or_says_by_how_much_not(given_: Setup, subject: float, brighter: float) -> None:
    found = solve(given_, Wanted(), EvFigure(subject), EvFigure(subject + brighter))
    for one in found.lights:
        gives = light_figures(one.light, found.setup).share
        if one.share == 0:
            assert gives == 0
        elif one.cannot_stops:
            assert log2(one.share / gives) == pytest.approx(one.cannot_stops)
        else:
            assert log2(one.share / gives) == pytest.approx(0, abs=1 / 6 + 1e-9)
    assert [abs(one.cannot_stops) for one in found.cannot] == sorted(
        (abs(one.cannot_stops) for one in found.lights if one.cannot_stops), reverse=True
    )
    assert not found.works or not found.cannot


@given(setups, evs, st.floats(-2, 2))
def test_lights_move_only_where_the_ladder_ends_and_no_nearer_than_they_can_stand(
    given_: Setup, subject: float, brighter: float
) -> None:
    there = EvFigure(subject), EvFigure(subject + brighter)
    kept, moved = (solve(given_, Wanted(), *there, move=move) for move in (False, True))
    for before, stayed, went in zip(given_.lights, kept.lights, moved.lights, strict=True):
        assert stayed.light.distance_m == before.distance_m
        assert bool(went.moved_m) <= bool(stayed.cannot_stops)
        assert abs(went.cannot_stops) <= abs(stayed.cannot_stops) + 1e-9
        if went.moved_m < 0:
            assert went.light.distance_m >= CLOSEST_M
        assert went.light.distance_m <= max(before.distance_m, Wanted().farthest_m)


def test_too_weak_moves_closer_and_then_says_by_how_much() -> None:
    """In the sun, f/16 at 1/200 s and ISO 200. The face gives 0.64, so the key 0.36: (16 x 4 / 19.8)^2 of that is 3.8
    times full power at 4 m, 1.9 stops short, so 2.0 m. Guide number 3 behind the box lacks from 0.7 m still
    log2(0.36 x (16 x 0.7 / 4.24)^2) = 1.3 stops."""
    there = EvFigure(14), EvFigure(14)
    found = solve(setup(light(distance_m=4.0)), Wanted(), *there)
    (key,) = found.lights
    assert found.works
    assert key.moved_m == pytest.approx(-2)
    assert key.rung.fraction > 1 / 2
    tiny = light(flash=Flash("tiny", "tiny flash", ((35, 6),), measured=True), height_m=1.5)
    (cannot,) = solve(setup(tiny), Wanted(), *there).cannot
    assert cannot.light.distance_m == CLOSEST_M
    assert cannot.cannot_stops == pytest.approx(1.33, abs=0.01)


def test_too_strong_at_dusk_steps_back() -> None:
    """At EV_w 4.67 and 1/60 s the key's 0.69 takes 2^4.67 / 60 / 10^2 x 0.69 = 1/344 of full at 2 m; its ladder ends at
    1/64, 2.4 stops above, so 4.6 m. Dials turn in thirds: a sixth of a stop is 6 % of the distance."""
    there = EvFigure(3), EvFigure(4)
    strong = setup(light(modifier=None, flash=replace(SMALL, lowest_power=1 / 64)))
    found = solve(strong, Wanted(), *there)
    (key,) = found.lights
    assert found.works
    assert key.light.distance_m == pytest.approx(4.6, rel=0.06)
    assert key.rung.fraction == pytest.approx(1 / 64)
    (over,) = solve(strong, Wanted(farthest_m=3.0), *there).cannot
    assert over.light.distance_m == 3.0
    assert over.cannot_stops == pytest.approx(-2 * log2(4.6 / 3), abs=0.2)


def test_the_shutter_goes_where_every_light_stays_on_its_ladder() -> None:
    """At 4.4 m and 1/125 s, f/5.6, ISO 200 the key's 7/8 takes (5.6 x 4.4 / 19.8)^2 x 7/8 = 1.36 times full power; a
    third of a stop less time takes 1.08, the nearest rung to which is 1/1."""
    there = EvFigure(START.ev100 - 3), EvFigure(START.ev100 - 2 / 3)
    found = solve(setup(light(distance_m=4.4)), Wanted(), *there, move=False)
    assert found.works
    assert found.setup.settings.words == "1/160 s, f/5, ISO 200"
    assert found.lights[0].rung.words == "1/1"
    assert solve(setup(), Wanted(), *there, move=False).setup.settings == START


@given(st.sampled_from((2.8, 4.0, 5.6, 8.0)), evs)
def test_a_wanted_aperture_is_kept(aperture: float, subject: float) -> None:
    found = solve(setup(*FOUR), Wanted(aperture=aperture), EvFigure(subject), EvFigure(subject))
    assert found.setup.settings.aperture == aperture


def test_a_coarse_ladder_is_kept_to() -> None:
    coarse = light(flash=Flash("f", "f", ((24, 28),), measured=True, rungs_per_stop=1))
    (key,) = solve(setup(coarse), Wanted(), EvFigure(9), EvFigure(10)).lights
    assert log2(key.light.power) == round(log2(key.light.power))


def test_shares_over_arrays_agree_with_one() -> None:
    ambient = np.array([0.0, 0.3, 0.9, 1.5])
    for wanted in (Wanted(), Wanted(ratio="face", ratio_stops=1.5)):
        together = shares_wanted(setup(*FOUR), wanted, ambient)
        alone = [shares_wanted(setup(*FOUR), wanted, float(one)) for one in ambient]
        assert np.array(together).T.tolist() == [[float(share) for share in shares] for shares in alone]


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("ratio", "key"),
        ("ratio_stops", 9),
        ("ratio_stops", float("nan")),
        ("edge_stops", 6),
        ("hair_stops", -6),
        ("background_stops", float("nan")),
        ("aperture", 0),
        ("farthest_m", 0),
    ],
)
def test_what_cannot_be_wanted(field: str, value: object) -> None:
    with pytest.raises(InputProblem) as problem:
        Wanted(**{field: value})
    assert problem.value.field == field
    with pytest.raises(InputProblem, match="ratio_stops"):
        Wanted(ratio="face", ratio_stops=-1)
