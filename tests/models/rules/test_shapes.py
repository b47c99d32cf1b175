"""Outlines of areas: taken or refused, saying where."""

from __future__ import annotations

import pytest

from models.problems import InputProblem
from models.rules.shapes import MOST_POINTS, checked_shape

SQUARE = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0), (0.0, 0.0))
HOLE = ((0.2, 0.2), (0.2, 0.4), (0.4, 0.4), (0.2, 0.2))
FAR = tuple((x + 5, y) for x, y in SQUARE)


def refusal(shape) -> str:
    with pytest.raises(InputProblem) as met:
        checked_shape(shape)
    assert met.value.field == "shape"
    return met.value.message


def test_pieces_and_holes_are_taken():
    shape = ((SQUARE, HOLE), (FAR,))
    assert checked_shape(shape) == shape
    assert checked_shape([[[[0, 0], [1, 0], [1, 1], [0, 0]]]]) == ((((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 0.0)),),)


@pytest.mark.parametrize(
    ("shape", "words"),
    [
        ((), "has no outline"),
        (((),), "has no outline"),
        (((SQUARE[:-1],),), "ends where it began"),
        (((((0, 0), (1, 1), (0, 0)),),), "three corners"),
        (((((0, 0), (1, 0), (0, 1), (1, 1), (0, 0)),),), "crosses or touches itself near latitude 0.5, longitude 0.5"),
        (((((0, 0), (1, 1), (2, 2), (0, 0)),),), "encloses nothing"),
        (((((0, 0), (0, 0), (0, 0), (0, 0)),),), "encloses nothing"),
        (((SQUARE, FAR),), "is not plain (hole lies outside shell)"),
        (((SQUARE,), (SQUARE,)), "crosses or touches itself"),
        (((((0, 0), (181, 0), (1, 1), (0, 0)),),), "longitude 181, latitude 0 is not on the earth"),
        (((((0, 0), (1, 91), (1, 1), (0, 0)),),), "longitude 1, latitude 91 is not on the earth"),
        (((((0, 0), (float("nan"), 0), (1, 1), (0, 0)),),), "is not a corner"),
        (((((0, 0), ("1", 0), (1, 1), (0, 0)),),), "is not a corner"),
        (((((0, 0), (True, 0), (1, 1), (0, 0)),),), "is not a corner"),
        (((((0, 0, 4), (1, 0, 4), (1, 1, 4), (0, 0, 4)),),), "is not a corner"),
        (((((0, 0), 1, (1, 1), (0, 0)),),), "no part of an outline"),
        ("here", "no part of an outline"),
        (None, "no part of an outline"),
        (((((0, 0), (31, 0), (1, 1), (0, 0)),),), "reaches over 31 degrees: one of its corners is wrong or swapped"),
        (((((179, 0), (-179, 0), (-179, 1), (179, 0)),),), "180 degrees of longitude: cut it there"),
    ],
)
def test_what_is_no_outline_is_refused(shape, words):
    assert words in refusal(shape)


def test_an_outline_of_too_many_points_is_refused():
    long = (*((k * 1e-4, 0.0) for k in range(MOST_POINTS)), (1.0, 1.0), (0.0, 0.0))
    assert f"at most {MOST_POINTS}" in refusal(((long,),))
