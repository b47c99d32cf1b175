"""The week grid: figures where somebody counted, "not counted" everywhere else."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.drawing.svg import Width
from models.drawing.week_grid import NOT_COUNTED, STEPS, GridCell, draw_week_grid
from tests.models.drawing.reading import SVG, meeting, of_class, outside, parse, texts
from tests.models.drawing.samples import week

WIDTHS: tuple[Width, ...] = ("wide", "narrow")
both_widths = pytest.mark.parametrize("width", WIDTHS)


def drawn(width: Width = "wide", **changes: object) -> ET.Element:
    return parse(draw_week_grid(week(**changes), width))


def cell(value: float, low: float, high: float) -> GridCell:
    return GridCell(value, low, high, f"{value:,.0f}", f"{low:,.0f}–{high:,.0f}")


@both_widths
def test_every_count_has_its_figure_and_its_interval(width):
    found = {*texts(drawn(width))}
    assert {"240", "195–290", "980", "900–1,060", "0", "up to 8"} <= found
    assert {f"{hour}–{hour + 1}" for hour in range(9, 19)} <= found


@both_widths
def test_what_nobody_counted_says_so_in_words_and_texture(width):
    """Three runs among the weekdays' and Saturdays' hours each, all Sundays as one."""
    root = drawn(width, cells={(0, 10): cell(9, 5, 14), (0, 13): cell(9, 5, 14), (1, 10): cell(9, 5, 14)}, chosen=None)
    assert texts(root).count(NOT_COUNTED) == 3
    assert len(of_class(root, "unknown")) == 3
    assert texts(drawn(width, cells={})) == ["Nobody has counted here yet."]


def test_bars_are_on_one_scale_and_hold_the_figure():
    root = drawn(cells={(0, 10): cell(200, 150, 260), (1, 11): cell(50, 30, 80)}, chosen=None)
    one, other = ([float(rect.attrib[key]) for key in ("x", "width")] for rect in of_class(root, "doubt"))
    assert one[1] / other[1] == pytest.approx(110 / 50, abs=0.1)
    assert "500" in texts(root)
    assert root.find(f".//{SVG}rect[@class='doubt']/{SVG}title").text == "200 people an hour, 150–260"  # type: ignore[union-attr]


def test_the_hour_pointed_at_is_outlined_even_where_nobody_counted():
    assert len(of_class(drawn(chosen=(2, 21)), "outlined")) == 1
    assert "21–22" in texts(drawn(chosen=(2, 21)))
    assert of_class(drawn(chosen=None), "outlined") == []


@settings(max_examples=40)
@given(
    cells=st.dictionaries(
        st.tuples(st.integers(0, 2), st.integers(0, 23)), st.integers(0, 20_000), min_size=1, max_size=30
    ),
    width=st.sampled_from(WIDTHS),
)
def test_words_never_meet_whatever_was_counted(cells, width):
    grid = {key: cell(value, 0.8 * value, 1.2 * value + 5) for key, value in cells.items()}
    root = drawn(width, cells=grid, chosen=None)
    assert meeting(root) == []
    assert outside(root) == []


def test_more_people_than_the_scale_has_are_still_drawn_inside():
    root = drawn(cells={(0, 9): cell(90_000, 80_000, 99_000)}, chosen=None)
    assert f"{STEPS[-1]:,}" in texts(root)
    assert outside(root) == []
