"""Whether a setup works, in words; lights that share a role are told apart."""

from __future__ import annotations

from dataclasses import replace

from models.light.exposure import EvFigure
from models.light.setup_warnings import Warned
from models.light.solve import solve
from models.light.wanted import Wanted
from models.words.setup_answer import light_names, solved_answer
from models.words.setup_warnings import warning_words
from tests.models.light.round_a_model import FOUR, light, setup

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
    assert "at full power and 20.0 m" in said


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
