"""The sentence that sets the flash: what is read, what is said back."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.light.kit import BatterySet, Camera, Flash, Kit, Modifier, Trigger
from models.planning.sentence import (
    bearing_words,
    read_distance,
    read_looking,
    read_sentence,
    read_stops,
)
from models.problems import InputProblem

SMALL = Flash("small", "small flash", ((24.0, 20.0), (70.0, 32.0)))
KIT = Kit(
    (SMALL, Flash("big", "big flash", ((35.0, 40.0),))),
    (Modifier("box", "a small box", "box", 2.0, 24.0),),
    (Camera("body", "camera"),),
    (Trigger("radio", "radio trigger"),),
    (BatterySet("aa", "four AA cells", "rechargeable", 150),),
)


def test_the_first_answer_needs_no_typing():
    sentence = read_sentence({}, KIT)
    assert sentence.text == (
        "One small flash, wide, bare, 2 m from the face; camera, fired by radio trigger, on four AA cells; "
        "looking any way, surroundings 2/3 stop and face 2/3 stop under."
    )
    assert sentence.setup == "One small flash, wide, bare, at 2 m"
    assert sentence.choice.distance_m == 2.0


def test_everything_can_be_said_in_the_address():
    asked = {
        "units": "two", "flash": "big", "zoom": "35 mm", "modifier": "box", "distance": "6 ft", "looking": "west",
        "under": "1 1/3", "face": "0.5",
    }  # fmt: skip
    choice = read_sentence(asked, KIT).choice
    assert (choice.units, choice.flash.id, choice.zoom_mm) == (2, "big", 35.0)
    assert choice.modifier is KIT.modifiers[0]
    assert choice.distance_m == pytest.approx(1.8288)
    assert (choice.surroundings_under, choice.face_under) == (pytest.approx(4 / 3), 0.5)
    assert read_sentence(asked, KIT).looking_deg == 270


def test_its_address_says_the_same_again():
    asked = {"units": "3", "zoom": "70", "modifier": "box", "distance": "1.5 m", "looking": "250", "under": "-1/3"}
    once = read_sentence(asked, KIT)
    assert read_sentence(once.address, KIT) == once


def test_the_spots_usual_bearing_holds_until_another_is_chosen():
    assert read_sentence({}, KIT, 90.0).looking_deg == 90.0
    assert read_sentence({"looking": "any"}, KIT, 90.0).looking_deg is None
    assert read_sentence({"looking": "315"}, KIT, 90.0).looking_deg == 315.0


@pytest.mark.parametrize(
    ("parameter", "typed"),
    [
        ("flash", "nobody's"), ("units", "0"), ("units", "nine"), ("zoom", "wide-ish"), ("zoom", "5"), ("zoom", "nan"),
        ("modifier", "umbrella"), ("distance", "0"), ("distance", "far"), ("distance", "40"), ("looking", "up"),
        ("looking", "400"), ("under", "a bit"), ("under", "99"), ("face", "1/0"), ("camera", "none"),
    ],
)  # fmt: skip
def test_a_word_that_does_not_fit_is_named(parameter, typed):
    with pytest.raises(InputProblem) as problem:
        read_sentence({parameter: typed}, KIT)
    assert problem.value.field == parameter


def test_without_kit_it_says_what_to_add_first():
    with pytest.raises(InputProblem, match="no kit yet"):
        read_sentence({}, Kit((), (), (), (), ()))


@pytest.mark.parametrize(
    ("typed", "metres"),
    [("2", 2.0), ("2,5 m", 2.5), ("150 cm", 1.5), ("6 ft", 1.8288), ("48 in", 1.2192), ("4'", 1.2192)],
)
def test_a_distance_is_read_in_the_unit_typed(typed, metres):
    assert read_distance(typed) == pytest.approx(metres)


@given(st.integers(-15, 30))
def test_thirds_of_a_stop_read_back(thirds):
    whole, part = divmod(abs(thirds), 3)
    typed = (
        f"{'-' if thirds < 0 else ''}{f'{whole} ' if whole else ''}{f'{part}/3' if part else '0' if not whole else ''}"
    )
    assert read_stops("under", typed.strip()) == pytest.approx(thirds / 3)


@given(st.floats(0, 359.9))
def test_a_bearing_reads_back_within_half_a_degree(bearing):
    said = bearing_words(bearing).split(" ")[0]
    read = read_looking(said)
    assert read is not None
    assert abs((read - bearing + 180) % 360 - 180) <= 0.5


def test_what_a_word_shows_reads_back_as_itself():
    once = read_sentence({"distance": "6 ft", "looking": "250", "under": "1 1/3", "face": "0"}, KIT)
    shown = {word.parameter: word.shown for word in once.words if word.free}
    assert read_sentence(shown, KIT).address == once.address


@pytest.mark.parametrize("asked", [{}, {"zoom": "70", "modifier": "box"}, {"zoom": "55"}, {"units": "2"}])
def test_a_chosen_word_shows_as_its_choice_does(asked):
    for word in read_sentence(asked, KIT).words:
        if not word.free:
            assert word.shown.lower() == dict(word.options)[word.value].lower()


def test_only_what_is_unlike_the_usual_is_named():
    usual = read_sentence({}, KIT, 90.0)
    asked = {"distance": "2 m", "looking": "any", "units": "1", "under": "1", "modifier": "box"}
    assert read_sentence(asked, KIT, 90.0).unlike(usual) == {"looking": "any", "under": "1", "modifier": "box"}
