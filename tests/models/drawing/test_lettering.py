"""Room for words, and places where they meet nothing."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.drawing.lettering import Box, Place, Placer, fit, keep_between, text_box, text_width, wrap

# Advance widths of DejaVu Sans 2.37 (open font) at 1000 units an em, whole strings, read with Pillow 13: regular, bold.
PUBLISHED = {
    "16:40 CEST, 15° up, behind the west row": (20596, 22900),
    "face EV 11.2, behind EV 11.4, +2.5 stops in hand": (24677, 27549),
    "Wimmelndes Gewölbe": (11156, 12447),
}


@pytest.mark.parametrize("words", PUBLISHED)
def test_words_never_take_more_room_than_reserved_nor_a_tenth_less(words: str) -> None:
    for bold, thousandths in zip((False, True), PUBLISHED[words], strict=True):
        true_width = thousandths / 1000 * 13
        assert true_width <= text_width(words, bold=bold) <= true_width * 1.1


def test_letters_that_the_table_lacks_still_take_room() -> None:
    assert text_width("é") == text_width("e")
    assert text_width("街") > text_width("M")
    assert text_width("e\u0301") == text_width("e")


@given(st.text(max_size=60), st.floats(20, 300))
def test_fitted_words_fit(words: str, room: float) -> None:
    assert text_width(fit(words, room)) <= room


@given(st.lists(st.text("abc ,", min_size=1, max_size=30), max_size=8), st.floats(40, 400))
def test_wrapped_lines_fit_and_lose_no_part_that_fits(parts: list[str], room: float) -> None:
    lines = wrap(parts, room)
    assert all(text_width(line) <= room for line in lines)
    assert all(any(part in line for line in lines) for part in parts if text_width(part) <= room)


@given(st.lists(st.tuples(st.floats(0, 200), st.floats(0, 60)), min_size=2, max_size=25))
def test_placed_words_never_meet(points: list[tuple[float, float]]) -> None:
    placer = Placer(Box(0, 0, 220, 80))
    placer.block(Box(100, 0, 102, 80))
    found = [placer.find("12", [Place(x, y, "middle"), Place(x + 8, y)]) for x, y in points]
    boxes = [text_box("12", place) for place in found if place] + [Box(100, 0, 102, 80)]
    assert not [1 for i, one in enumerate(boxes) for other in boxes[:i] if one.meets(other)]
    assert all(box.inside(placer.bounds) for box in boxes)


def test_the_first_free_place_is_taken() -> None:
    placer = Placer(Box(0, 0, 100, 100), [Box(0, 0, 50, 100)])
    assert placer.find("9", [Place(10, 50), Place(60, 50), Place(80, 50)]) == Place(60, 50)
    assert placer.find("9", [Place(10, 50)]) is None


@given(st.floats(-100, 500), st.floats(1, 90))
def test_words_are_moved_only_as_far_as_needed(middle: float, width: float) -> None:
    moved = keep_between(middle, width, 0, 400)
    assert moved - width / 2 >= 0
    assert moved + width / 2 <= 400
    if width / 2 + 1 < middle < 399 - width / 2:
        assert moved == middle
