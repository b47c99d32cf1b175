"""Rings laid end to end."""

import numpy as np
import pytest

from models.problems import InputProblem
from models.street.rings import rings_of

SQUARE = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))
YARD = ((4.0, 4.0), (6.0, 4.0), (6.0, 6.0))
FLAT = ((0.0, 0.0), (5.0, 5.0), (9.0, 9.0))


def test_rings_keep_their_owner_their_kind_and_their_area():
    rings = rings_of([[SQUARE, YARD], [], [SQUARE[::-1]]])
    assert rings.owner.tolist() == [0, 0, 2]
    assert rings.hole.tolist() == [False, True, False]
    assert rings.size.tolist() == [4, 3, 4]
    assert rings.area_m2.tolist() == [100, 2, -100]
    assert rings.backward.tolist() == [False, True, True]
    assert rings.points[rings.following[6]].tolist() == list(YARD[0])


def test_closing_and_repeated_points_go():
    assert rings_of([[(*SQUARE, SQUARE[0])]]).points.tolist() == [list(p) for p in SQUARE]
    assert rings_of([[(SQUARE[0], *SQUARE)]]).size.tolist() == [4]


def test_a_courtyard_of_an_outline_that_encloses_nothing_goes_with_it():
    assert len(rings_of([[FLAT, YARD]]).points) == 0


@pytest.mark.parametrize("nothing", [[], [[]], [[()]], [[SQUARE[:2]]], [[(SQUARE[0],) * 5]], [[FLAT]]])
def test_nothing_enclosed_no_rings(nothing):
    rings = rings_of(nothing)
    assert len(rings.points) == len(rings.owner) == 0


def test_a_far_place_keeps_its_digits():
    far = np.array(SQUARE) + 6e6
    assert rings_of([[tuple(map(tuple, far))]]).area_m2 == pytest.approx([100])


def test_what_is_no_number_is_refused():
    with pytest.raises(InputProblem, match="building 2"):
        rings_of([[SQUARE], [((float("nan"), 0.0), *SQUARE)]])
