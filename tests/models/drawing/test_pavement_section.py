"""The pavement in section: true to scale, every stretch with its figure, as many walkers as walk abreast."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from models.drawing.lettering import Box
from models.drawing.pavement_section import Asked, draw_pavement_section
from models.drawing.svg import Width
from models.street.clearance import Pavement
from tests.models.drawing.reading import SVG, meeting, numbers, of_class, outside, parse, text_boxes, texts
from tests.models.drawing.samples import section

WIDTHS: tuple[Width, ...] = ("wide", "narrow")
both_widths = pytest.mark.parametrize("width", WIDTHS)


def drawn(pavement: Pavement, width: Width = "wide", **changes: object) -> ET.Element:
    return parse(draw_pavement_section(section(pavement=pavement, **changes), width))


def scale(root: ET.Element) -> float:
    return float(root.attrib["data-scale"])


def boxes(root: ET.Element, cls: str) -> list[Box]:
    return [
        Box(x, y, x + float(rect.attrib["width"]), y + float(rect.attrib["height"]))
        for rect in of_class(root, cls)
        if rect.tag == f"{SVG}rect"
        for x, y in [(float(rect.attrib["x"]), float(rect.attrib["y"]))]
    ]


@both_widths
def test_every_stretch_is_as_wide_as_its_figure(width):
    root = drawn(Pavement(3.6, 1.2, kerb_m=0.45, door_m=0.6), width)
    door, kerb = boxes(root, "allowance")
    (station,) = boxes(root, "station")
    wide_m = [(box.right - box.left) / scale(root) for box in (door, station, kerb)]
    assert wide_m == pytest.approx([0.6, 1.2, 0.45], abs=0.01)
    assert (kerb.left - station.right) / scale(root) == pytest.approx(1.35, abs=0.01)
    assert {"door 0.60 m", "station 1.20 m", "left for walkers 1.35 m", "kerb 0.45 m", "wall", "road"} <= {*texts(root)}


@both_widths
def test_heights_are_on_the_same_scale(width):
    root = drawn(Pavement(3.6, 1.2), width)
    body, _ = boxes(root, "walker")
    assert (body.bottom - body.top) / scale(root) == pytest.approx(1.4, abs=0.02)


@pytest.mark.parametrize(("left_m", "walkers"), [(0.5, 0), (0.6, 1), (1.7, 1), (1.8, 2), (2.7, 3), (9.0, 3)])
def test_as_many_walk_abreast_as_find_room(left_m, walkers):
    root = drawn(Pavement(left_m + 1, 1, kerb_m=0))
    assert len([one for one in of_class(root, "walker") if one.tag == f"{SVG}circle"]) == walkers


@both_widths
def test_widths_asked_for_reach_back_from_the_kerb_to_scale(width):
    root = drawn(Pavement(3.6, 1.2), width, asked=(Asked(1.5, ("asked", "1.50 m")),))
    (line,) = of_class(root, "limit")
    left, _, right = numbers(line.attrib["d"])
    assert (right - left) / scale(root) == pytest.approx(1.5, abs=0.01)
    assert right == pytest.approx(boxes(root, "allowance")[0].left, abs=0.2)
    assert "asked, 1.50 m" in texts(root)


def test_nothing_left_is_said():
    assert "left for walkers 0.00 m" in texts(drawn(Pavement(1.2, 1.6)))


@settings(max_examples=60)
@given(
    width_m=st.floats(0.3, 25),
    depth_m=st.floats(0, 6),
    kerb_m=st.floats(0, 1.5),
    door_m=st.floats(0, 1.5),
    width=st.sampled_from(WIDTHS),
)
def test_words_never_meet_whatever_the_measures(width_m, depth_m, kerb_m, door_m, width):
    root = drawn(Pavement(width_m, depth_m, kerb_m=kerb_m, door_m=door_m), width)
    assert meeting(root) == []
    assert outside(root) == []


@settings(max_examples=40)
@given(
    width_m=st.floats(1.5, 8),
    depth_m=st.floats(0.8, 2.5),
    door_m=st.sampled_from([0.0, 0.6, 1.0]),
    width=st.sampled_from(WIDTHS),
)
def test_no_line_to_a_word_crosses_another_word(width_m, depth_m, door_m, width):
    """But where a sliver of kerb lies beside nothing left: there the lines of both are one."""
    assume(not 0 < width_m - depth_m - door_m < 0.05)
    root = drawn(Pavement(width_m, depth_m, door_m=door_m), width)
    lines = [numbers(path.attrib["d"]) for path in of_class(root, "tick") if "V" in path.attrib["d"]]
    crossed = [
        words
        for x, top, bottom in lines
        for words, box in text_boxes(root).items()
        if Box(x, top, x, bottom).meets(box, -0.3)
    ]
    assert lines
    assert crossed == []


@settings(max_examples=30)
@given(width_m=st.floats(0.5, 12), depth_m=st.floats(0, 3), door_m=st.floats(0, 1))
def test_stretches_lie_side_by_side(width_m, depth_m, door_m):
    root = drawn(Pavement(width_m, depth_m, door_m=door_m))
    found = sorted(boxes(root, "allowance") + boxes(root, "station"), key=lambda box: box.left)
    assert all(one.right <= after.left + 0.2 for one, after in pairwise(found))
