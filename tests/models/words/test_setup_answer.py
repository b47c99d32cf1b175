"""Whether a setup works, in words; lights that share a role are told apart."""

from __future__ import annotations

from dataclasses import replace

from models.light.exposure import EvFigure
from models.light.setup import setup_figures
from models.light.setup_warnings import Warned
from models.light.solve import solve
from models.light.wanted import Wanted
from models.words.setup_answer import (
    face_works,
    kept_answer,
    light_names,
    moves_words,
    rung_said,
    short_verdict,
    solved_answer,
)
from models.words.setup_warnings import warning_words
from tests.models.light.round_a_model import FILL, FOUR, light, setup

SHADE = EvFigure(9.0), EvFigure(9.5)


def test_what_works_is_told_with_every_power_and_its_settings() -> None:
    solved = solve(setup(*FOUR), Wanted(), *SHADE)
    said = solved_answer(solved).text
    assert said.startswith("Works: ")
    for one in solved.lights:
        assert f"{one.light.role} at {one.rung.words}" in said
    assert solved.setup.settings.words in said
    assert "surroundings" in said


def test_a_light_beside_the_face_that_cannot_leaves_the_rest_working() -> None:
    weak = replace(light(role="edge"), distance_m=6.0, power=1.0)
    solved = solve(setup(light(), weak), Wanted(edge_stops=5), EvFigure(11.0), EvFigure(11.5), move=False)
    assert solved.lights[1].cannot_stops > 0
    said = solved_answer(solved).text
    assert said.startswith("Works: key at")
    assert "The edge light lacks" in said


def test_a_key_that_cannot_is_told_first_with_how_much() -> None:
    solved = solve(setup(replace(light(), distance_m=20.0)), Wanted(), EvFigure(14.0), EvFigure(14.5), move=False)
    said = solved_answer(solved).text
    assert said.startswith("Does not work here: key light lacks")
    assert "at full power and 20 m" in said


def test_what_works_only_with_a_light_moved_says_so_first_and_never_a_bare_works() -> None:
    solved = solve(setup(light(distance_m=6.8)), Wanted(), EvFigure(14.0), EvFigure(14.5))
    there = f"{solved.lights[0].light.distance_m:.1f}".removesuffix(".0")
    assert solved.lights[0].moved_m < 0
    said = solved_answer(solved)
    assert said.text.startswith(f"Works if the key comes from 6.8 m to {there} m: key at ")
    assert f"if {moves_words(solved)}: " in said.text
    assert rung_said(solved.lights[0]).endswith(f"from {there} m (you put it at 6.8 m)")
    near = solve(setup(light(distance_m=0.9)), Wanted(), EvFigure(2.0), EvFigure(2.5))
    assert near.lights[0].moved_m > 0
    assert solved_answer(near).text.startswith("Works if the key goes from 0.9 m to ")


def test_a_light_that_cannot_even_moved_tells_where_it_stood() -> None:
    weak = replace(light().flash, guide_numbers=((24, 3.0),))
    solved = solve(setup(light(flash=weak, distance_m=4.0)), Wanted(), EvFigure(14.0), EvFigure(14.5))
    assert solved.lights[0].moved_m < 0
    assert not face_works(solved)
    assert "(you put it at 4 m)" in solved_answer(solved).text


def test_the_kept_state_is_told_in_stops_and_never_as_working() -> None:
    kept = setup(light(distance_m=1.0), replace(FILL, power=0.0))
    figures = setup_figures(kept)
    said = kept_answer(kept, figures).text
    assert said.startswith("As kept: the face comes 2.6 stops over, at 1/125 s, f/5.6, ISO 200")
    assert "The key gives 2.6 stops over and the fill is off." in said
    dark = setup(replace(light(), power=0.0))
    assert "no light falls on the face" in kept_answer(dark, setup_figures(dark)).text


def test_light_that_needs_no_flash_and_light_beyond_the_dials() -> None:
    """The face wanted a stop over the light that is there already: no flash then."""
    enough = solve(setup(light(), face_under=-1.0), Wanted(), EvFigure(12.0), EvFigure(9.0))
    assert solved_answer(enough).text.startswith("Not needed")
    bright = solve(setup(light()), Wanted(), EvFigure(18.0), EvFigure(19.0))
    assert "too bright for the camera's dials" in solved_answer(bright).text


def test_two_of_one_role_are_numbered_everywhere() -> None:
    pair = setup(light(), replace(light(), axis_deg=40.0), light(role="edge"))
    assert light_names(pair) == ("key 1", "key 2", "edge")
    assert "key 2" in warning_words(Warned("across the lane", 1, 10.0, 60.0, "kerb"), pair)


def test_the_short_verdict_names_what_moves_and_what_is_left_out() -> None:
    assert short_verdict(solve(setup(light()), Wanted(), *SHADE)) == "it works"
    far = solve(setup(light(distance_m=6.8)), Wanted(), EvFigure(14.0), EvFigure(14.5))
    assert short_verdict(far) == "it works if the key comes nearer"
    weak = replace(light(role="edge"), distance_m=6.0, power=1.0)
    edge = solve(setup(light(), weak), Wanted(edge_stops=5), EvFigure(11.0), EvFigure(11.5), move=False)
    assert short_verdict(edge) == "it works, without the edge"
    no = solve(setup(replace(light(), distance_m=20.0)), Wanted(), EvFigure(14.0), EvFigure(14.5), move=False)
    assert short_verdict(no) == ""
