"""The sketch of a walk: to scale, north up, both ends named, walls under the way."""

from __future__ import annotations

import re

import pytest

from models.drawing.way_sketch import draw_way_sketch
from tests.models.drawing.reading import SVG, parse
from tests.models.drawing.samples import way


def paths(root, cls):
    return [e.attrib["d"] for e in root.iter(f"{SVG}path") if e.get("class") == cls]


def points(d):
    return [tuple(map(float, pair)) for pair in re.findall(r"(-?[\d.]+) (-?[\d.]+)", d)]


def texts(root):
    return [e.text for e in root.iter(f"{SVG}text")]


@pytest.mark.parametrize("width", ["wide", "narrow"])
def test_to_scale_with_north_up(width):
    root = parse(draw_way_sketch(way(way=((0, 0), (100, 0), (100, 50))), width))
    (a, b, c) = points(paths(root, "way")[0])
    scale = float(root.attrib["data-scale"])
    assert b[0] - a[0] == pytest.approx(100 * scale, abs=6), "data attributes are written to a tenth"
    assert (b[0] - a[0]) / (b[1] - c[1]) == pytest.approx(2, abs=0.02)
    assert a[1] == pytest.approx(b[1], abs=0.1)


@pytest.mark.parametrize("far_m", [3, 40, 900, 12_000])
def test_the_bar_is_as_long_as_it_says(far_m):
    root = parse(draw_way_sketch(way(way=((0, 0), (far_m, 0))), "wide"))
    (a, b) = points(paths(root, "way")[0])
    bar = next(d for d in paths(root, "bracket") if "H" in d)
    drawn = float(re.search(r"H([\d.]+)", bar)[1]) - 1
    said = float(next(text for text in texts(root) if text.endswith(" m"))[:-2])
    assert drawn / said == pytest.approx((b[0] - a[0]) / far_m, rel=0.08)
    assert drawn < 300
    assert str(said)[0] in "125"


def test_both_ends_and_the_north_are_named():
    words = texts(parse(draw_way_sketch(way(), "narrow")))
    assert "from Foundry Lane" in words
    assert any(word.startswith("to Market Square") for word in words)
    assert "north" in words


def test_a_way_nobody_recorded_is_broken_and_lies_on_no_street():
    known, guessed = (parse(draw_way_sketch(way(known=known), "wide")) for known in (True, False))
    assert paths(known, "way")
    assert not paths(known, "way-guessed")
    assert paths(guessed, "way-guessed")
    assert not paths(guessed, "way")


def test_walls_lie_under_the_way_and_are_cut_at_the_field():
    drawing = draw_way_sketch(way(), "wide")
    assert drawing.index('class="town-wall"') < drawing.index('class="way"')
    assert 'clip-path="url(#' in drawing
    assert "town-wall" not in draw_way_sketch(way(outlines=(((0, 0), (1, 1)),)), "wide"), "no ring of two corners"


def test_no_walk_says_so():
    assert "There is no walk to draw." in draw_way_sketch(way(way=((0, 0),)), "wide")
