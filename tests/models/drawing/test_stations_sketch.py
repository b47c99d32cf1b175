"""Where stations stand: to scale, those at one place together, whatever they are called."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.drawing.stations_sketch import SketchStation, StationsSketch, draw_stations_sketch
from models.drawing.svg import UNITS
from tests.models.drawing.reading import parse
from tests.models.drawing.samples import HOSTILE


def drawn(*stations, width="wide"):
    return draw_stations_sketch(StationsSketch(title="Stations", stations=stations, spot="Lane"), width)


def persons(svg):
    return [(float(x), float(y)) for x, y in re.findall(r'class="person" cx="([\d.-]+)" cy="([\d.-]+)"', svg)]


def test_it_is_to_scale_and_north_is_up():
    a, b, c = persons(drawn(SketchStation("A", 0, 0), SketchStation("B", 10, 0), SketchStation("C", 0, 5)))
    assert b[0] - a[0] == pytest.approx(2 * (a[1] - c[1]), rel=0.01)
    assert (b[1], c[0]) == (a[1], a[0])
    assert c[1] < a[1]


def test_those_at_one_place_share_a_mark_and_a_line_says_them():
    svg = drawn(SketchStation("A", 0, 0, 90.0), SketchStation("B", 0.2, 0, 270.0), SketchStation("C", 9, 9))
    assert len(persons(svg)) == 2
    assert ">A, B<" in svg
    assert svg.count('class="camera"') == 2
    assert "A at the spot&#39;s own point; B at the spot&#39;s own point; C 13 m from it." in svg


def test_a_camera_that_looks_north_stands_to_the_south():
    svg = drawn(SketchStation("A", 0, 0, 0.0))
    camera = float(re.search(r'class="camera" cx="[\d.-]+" cy="([\d.-]+)"', svg)[1])
    assert camera > persons(svg)[0][1]


@given(
    st.lists(
        st.tuples(st.floats(-5e6, 5e6), st.floats(-5e6, 5e6), st.none() | st.floats(0, 360)), min_size=1, max_size=8
    ),
    st.sampled_from(["wide", "narrow"]),
)
def test_every_mark_lies_on_the_sheet(places, width):
    svg = drawn(*(SketchStation(HOSTILE, *place) for place in places), width=width)
    assert parse(svg) is not None
    assert all(0 <= x <= UNITS[width] and 0 <= y <= 300 for x, y in persons(svg))
