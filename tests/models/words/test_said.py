"""Words that pages, JSON and the terminal share."""

import pytest

from models.words.said import doubt_words, ev_words, listed, said, signed_minus, stops_in_hand_words


@pytest.mark.parametrize(
    ("stops", "words"),
    [
        (0.0, "a quarter of a stop"),
        (0.3, "a quarter of a stop"),
        (0.5, "half a stop"),
        (0.74, "three quarters of a stop"),
        (1.0, "a stop"),
        (1.5, "a stop and a half"),
        (2.25, "two stops and a quarter"),
        (12.0, "12 stops"),
    ],
)
def test_a_doubt_is_said_to_the_nearest_quarter_and_never_as_none(stops, words):
    assert doubt_words(stops) == words


@pytest.mark.parametrize(
    ("stops", "words"),
    [(2.46, "2.5 stops in hand"), (0.02, "nothing in hand"), (-0.02, "nothing in hand"), (-0.84, "0.8 stops short")],
)
def test_what_is_in_hand_never_reads_as_nought_stops(stops, words):
    assert stops_in_hand_words(stops) == words


def test_figures_carry_a_real_minus_and_none_before_nought():
    assert (signed_minus(-1.25, 1), signed_minus(-0.04, 1), ev_words(-3.0)) == ("−1.2", "0.0", "EV −3.0")
    assert ev_words(float("nan")) == "EV not known"


def test_lists_read_as_people_say_them():
    assert [listed(["a"]), listed(["a", "b"]), listed(["a", "b", "c"]), listed([])] == [
        "a",
        "a and b",
        "a, b and c",
        "",
    ]


def test_a_sentence_keeps_its_weight_and_its_plain_text():
    sentence = said("It has ", "2 stops", ".") + said(" Go.")
    assert sentence.text == "It has 2 stops. Go."
    assert [text for text, strong in sentence.parts if strong] == ["2 stops"]
