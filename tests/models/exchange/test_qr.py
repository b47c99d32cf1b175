"""The QR code is a drawing that a page and a PDF take, and holds what it is told."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

from models.exchange.qr import QUIET, qr_svg

LINK = "https://plans.example/b/7-abcdefghijklmnopqrstuvwxyz234567"
SVG = "{http://www.w3.org/2000/svg}"


def modules(drawing: str) -> list[list[bool]]:
    """Dark or not, row by row, read back from the strokes of the drawing."""
    root = ElementTree.fromstring(drawing)  # noqa: S314  our own
    side = int(root.get("viewBox").split()[2])
    grid = [[False] * side for _ in range(side)]
    strokes = [path for path in root.iter(f"{SVG}path") if path.get("stroke") == "#000"]
    (path,) = strokes
    x, y = 0.0, 0.0
    for command, numbers in re.findall(r"([Mmh])([-\d. ]+)", path.get("d")):
        values = [float(number) for number in re.findall(r"-?[\d.]+", numbers)]
        if command == "h":
            for column in range(int(x), int(x + values[0])):
                grid[int(y)][column] = True
            x += values[0]
        else:
            x, y = (values[0], values[1]) if command == "M" else (x + values[0], y + values[1])
    return grid


def test_three_finders_stand_in_its_corners_with_white_all_round():
    """ISO/IEC 18004: a dark ring of 7 modules round a dark square of 3; four modules are left free."""
    grid = modules(qr_svg(LINK))
    side = len(grid)
    finder = ["1111111", "1000001", "1011101", "1011101", "1011101", "1000001", "1111111"]
    for top, left in ((QUIET, QUIET), (QUIET, side - QUIET - 7), (side - QUIET - 7, QUIET)):
        found = ["".join("1" if dark else "0" for dark in row[left : left + 7]) for row in grid[top : top + 7]]
        assert found == finder
    edge = [*grid[:QUIET], *grid[-QUIET:], *([row[:QUIET] + row[-QUIET:] for row in grid])]
    assert not any(any(row) for row in edge)


def test_another_link_is_another_drawing_and_the_same_one_the_same():
    assert qr_svg(LINK) == qr_svg(LINK)
    assert modules(qr_svg(LINK)) != modules(qr_svg(LINK.replace("7-a", "7-b")))
    assert len(qr_svg(LINK)) < 4000


def test_its_title_is_text():
    root = ElementTree.fromstring(qr_svg(LINK, '<script>\u202e &"'))  # noqa: S314
    assert root.get("role") == "img"
    assert root.findtext(f"{SVG}title") == '<script>\u202e &"'


def test_what_does_not_fit_is_refused():
    with pytest.raises(ValueError, match="too large"):
        qr_svg("x" * 5000)
