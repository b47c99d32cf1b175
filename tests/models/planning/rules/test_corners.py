"""Corners as lines of text: read, said back, and measured."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.planning.rules.corners import corners_text, ground_m2, outline_words, read_corners, size_words
from models.problems import InputProblem
from models.rules.areas import Ring, Shape
from tests.models.planning.rules.town import square

LINES = "52.53, 5.23\n52.54, 5.23\n52.54, 5.24\n52.53, 5.24"


def test_latitude_is_typed_first_and_kept_second() -> None:
    (rings,) = read_corners(LINES)
    assert rings == (((5.23, 52.53), (5.23, 52.54), (5.24, 52.54), (5.24, 52.53), (5.23, 52.53)),)


def test_an_empty_line_begins_a_piece_and_a_hole_belongs_to_the_piece_above() -> None:
    text = f"{LINES}\nhole\n52.532 5.232\n52.534 5.232\n52.534 5.234\n\n\n\n{LINES.replace('5.2', '6.2')}\n"
    first, second = read_corners(text)
    assert [len(ring) for ring in first] == [5, 4]
    assert [len(ring) for ring in second] == [5]


def test_a_ring_typed_closed_is_not_closed_twice() -> None:
    assert read_corners(f"{LINES}\n52.53, 5.23") == read_corners(LINES)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "press its corners on the map"),
        ("  \n \n", "press its corners on the map"),
        ("52.5, 5.2\n52.6, 5.2", "line 1: a piece needs at least three corners; this has 2"),
        (f"{LINES}\n\n52.5, 5.2", "line 6: a piece needs at least three corners; this has 1"),
        (f"hole\n{LINES}", "line 1: a hole needs a piece above it"),
        (f"{LINES}\nhole\n", "line 5: a piece needs at least three corners; this has 0"),
        ("52.5, 5.2\nthe pump\n52.6, 5.3", "line 2: “the pump” is not a place"),
        ("52.5, 5.2\n95, 5.2\n52.6, 5.3", "line 2: 95 is not a latitude"),
        ("52.5, 5.2\n52.6, 5.3\n52.5, 500", "line 3: 500 is not a longitude"),
        ("52.5, 5.2\n" * 5001, "5,001 corners; at most 5,000"),
        ("<script>", "“<script>” is not a place"),
    ],
)
def test_what_cannot_be_read_names_its_line(text: str, message: str) -> None:
    with pytest.raises(InputProblem, match="shape") as problem:
        read_corners(text)
    assert message in problem.value.message


DEGREES = st.tuples(st.floats(-180, 180, allow_nan=False), st.floats(-90, 90, allow_nan=False))


@st.composite
def rings(draw: st.DrawFn) -> Ring:
    points = draw(st.lists(DEGREES, min_size=3, max_size=6, unique=True))
    return (*points, points[0])


@given(st.lists(st.lists(rings(), min_size=1, max_size=3).map(tuple), min_size=1, max_size=3).map(tuple))
def test_a_shape_comes_back_from_its_text(shape: Shape) -> None:
    assert read_corners(corners_text(shape)) == shape


def test_ground_is_measured() -> None:
    """A hundredth of a degree at 52.5 north: 1113 m up (WGS84, from memory 111.3 km a degree), 679 m across."""
    assert ground_m2(square()) == pytest.approx(1113 * 679, rel=0.01)
    assert outline_words(square()) == "4 corners, about 760,000 m²"
    hole = square(52.522, 5.222, 0.001)[0][0]
    assert outline_words(((square()[0][0], hole), *square(52.6))) == "2 pieces, 12 corners, 1 hole, about 1.5 km²"


@pytest.mark.parametrize(
    ("area", "words"),
    [(4121, "4,100 m²"), (87.4, "87 m²"), (949_000, "950,000 m²"), (1.24e6, "1.2 km²"), (3e9, "3,000 km²")],
)
def test_two_figures_are_enough(area: float, words: str) -> None:
    assert size_words(area) == words
