"""The drawing board."""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.drawing.svg import Axis, Sheet, band_path, el, escape, line_path, num
from models.drawing.textures import TEXTURES
from tests.models.drawing.reading import numbers

XML_TEXT = st.text(st.characters(exclude_categories=("Cs", "Cc"), exclude_characters="\ufffe\uffff"))


@given(XML_TEXT)
def test_text_comes_back_from_xml_as_it_was(text: str) -> None:
    read = ET.fromstring(f'<a b="{escape(text)}">{escape(text)}</a>')  # noqa: S314
    assert (read.text or "") == text
    assert read.attrib["b"] == text
    assert not set("<>\"'") & set(escape(text))


@given(st.text(st.characters(categories=("Cs", "Cc"), exclude_characters="\t\n\r"), min_size=1))
def test_what_xml_does_not_know_becomes_question_marks(text: str) -> None:
    """Control characters but tab and line ends, and lone surrogates: XML 1.0 section 2.2; U+007F to U+009F it knows."""
    assert set(escape(text)) <= {"?", *map(chr, range(0x7F, 0xA0))}


@pytest.mark.parametrize(
    ("value", "written"), [(1.0, "1"), (1.26, "1.3"), (-0.04, "0"), (-2.55, "-2.5"), (100.0, "100"), (1e6, "1000000")]
)
def test_numbers_are_short(value: float, written: str) -> None:
    assert num(value) == written


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_no_number_is_not_drawn(value: float) -> None:
    with pytest.raises(ValueError, match="no place to draw"):
        num(value)


def test_attributes_are_escaped_and_none_is_left_out() -> None:
    assert (
        el("rect", cls="a", x=1.04, stroke_width=None, fill='"><x') == '<rect class="a" x="1" fill="&quot;&gt;&lt;x"/>'
    )


def test_a_line_breaks_where_a_value_is_missing() -> None:
    y = np.array([0.0, 5.0, np.nan, 5.0, 0.0, np.nan, 7.0])
    path = line_path(np.arange(7.0), y)
    assert path.count("M") == 2  # the lone last point makes no line
    assert numbers(path) == [0, 0, 1, 5, 3, 5, 4, 0]


def test_points_on_a_straight_line_are_left_out_and_no_other() -> None:
    x = np.linspace(0, 100, 401)
    assert numbers(line_path(x, 2 * x)) == [0, 0, 100, 200]
    bent = np.interp(x, [0, 50, 100], [0, 20, 0])
    assert numbers(line_path(x, bent)) == [0, 0, 50, 20, 100, 0]


def test_a_band_runs_out_along_the_top_and_back_along_the_bottom() -> None:
    assert numbers(band_path([0, 1], [10, 10], [5, 5])) == [0, 5, 1, 5, 1, 10, 0, 10]
    assert band_path([0, 1], [np.nan, 10], [5, 5]) == ""


@given(st.floats(-90, 90), st.floats(0.5, 90), st.floats(0, 500), st.floats(1, 500))
def test_an_axis_maps_its_ends_and_keeps_order(low: float, span: float, start: float, length: float) -> None:
    axis = Axis(low, low + span, start, start + length)
    assert axis.at(low) == pytest.approx(start)
    assert axis.at(low + span) == pytest.approx(start + length)
    assert np.all(np.diff(axis.over(np.linspace(low, low + span, 7))) > 0)


def test_a_sheet_draws_only_the_textures_it_uses() -> None:
    sheet = Sheet("wide", "spot")
    sheet.textured("rect", "brick", tone="wall-surveyed", x=0, y=0, width=5, height=5)
    drawn = sheet.finish(10, "t", "")
    assert drawn.count("<pattern") == 1
    assert 'fill="url(#d-spot-wide-brick)"' in drawn


def test_every_texture_is_told_from_every_other_by_its_shape() -> None:
    assert len({texture.path() for texture in TEXTURES.values()}) == len(TEXTURES)


def test_tiles_stand_side_by_side() -> None:
    tile = TEXTURES["dots"]
    assert tile.path(2, 1) == "M1.75 1.75h0M5.25 5.25h0M8.75 1.75h0M12.25 5.25h0"
