"""Figures in words: doubts, stops, minus signs, lists."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.words.said import doubt_words, ev_words, listed, said, signed_minus, stops_in_hand_words

SAID_QUARTERS = {
    "a quarter of a stop": 1, "half a stop": 2, "three quarters of a stop": 3, "a stop": 4, "a stop and a quarter": 5,
    "a stop and a half": 6, "a stop and three quarters": 7, "two stops": 8, "two stops and a half": 10,
}  # fmt: skip


@pytest.mark.parametrize(
    ("stops", "words"),
    [
        (0.0, "a quarter of a stop"),
        (0.3, "a quarter of a stop"),
        (0.5, "half a stop"),
        (0.7, "three quarters of a stop"),
        (0.88, "a stop"),
        (1.1, "a stop"),
        (1.13, "a stop and a quarter"),
        (1.5, "a stop and a half"),
        (2.6, "two stops and a half"),
        (12.0, "12 stops"),
    ],
)
def test_a_doubt_is_said_to_the_nearest_quarter(stops, words):
    assert doubt_words(stops) == words


@given(st.floats(0, 2.6))
def test_a_doubt_is_never_said_smaller_than_it_is_by_more_than_an_eighth(stops):
    words = doubt_words(stops)
    if words in SAID_QUARTERS:
        assert SAID_QUARTERS[words] / 4 >= stops - 0.125 - 1e-9


@given(st.floats(-30, 30))
def test_stops_are_in_hand_or_short_with_one_decimal(stops):
    words = stops_in_hand_words(stops)
    if words == "nothing in hand":
        assert abs(stops) <= 0.05
        return
    found = re.fullmatch(r"(\d+\.\d) stops (in hand|short)", words)
    assert found
    size, side = float(found[1]), found[2]
    assert (size if side == "in hand" else -size) == pytest.approx(stops, abs=0.0501)
    assert size > 0


@given(st.floats(-20, 20), st.integers(0, 3))
def test_a_number_carries_a_real_minus_and_zero_carries_none(value, digits):
    text = signed_minus(value, digits)
    assert "-" not in text
    assert float(text.replace("−", "-")) == pytest.approx(value, abs=0.51 * 10**-digits)
    assert not re.fullmatch(r"−0(\.0*)?", text)


def test_an_ev_says_its_name_even_where_it_is_not_known():
    assert (ev_words(11.24), ev_words(-3.1), ev_words(-0.04), ev_words(float("nan"))) == (
        "EV 11.2", "EV −3.1", "EV 0.0", "EV not known",
    )  # fmt: skip


def test_lists_read_as_one_speaks():
    assert [listed(list("abc")[:n]) for n in range(4)] == ["", "a", "a and b", "a, b and c"]


def test_a_sentence_keeps_its_weight_and_its_text():
    one = said("Foundry Lane is ", "in open shade", " until 17:05.")
    two = one + said(" The face reads ", "EV 11.4", "")
    assert two.text == "Foundry Lane is in open shade until 17:05. The face reads EV 11.4"
    assert [text for text, strong in two.parts if strong] == ["in open shade", "EV 11.4"]
