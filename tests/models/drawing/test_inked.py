"""Drawings for a PDF: tones and typeface written in, a white ground where a page has a halo."""

from __future__ import annotations

import re
from xml.etree import ElementTree as ET

import pytest

from models.drawing.inked import NARROWER, inked
from models.drawing.lettering import text_width
from models.drawing.svg import Sheet, el

SVG = "{http://www.w3.org/2000/svg}"


def drawn(words: str = "key & fill", **said: object) -> str:
    sheet = Sheet("narrow", "test")
    sheet.add(el("path", cls="bracket", d="M0 0h9"))
    sheet.text(words, 100, 50, **said)
    return sheet.finish(90, "Plan", "")


def parts(svg: str) -> tuple[ET.Element, ET.Element]:
    """The ground and the words on it."""
    root = ET.fromstring(svg)  # noqa: S314 made here
    return root.findall(f"{SVG}rect")[-1], root.findall(f"{SVG}text")[-1]


def test_tones_stand_in_it():
    assert 'class="bracket"' in drawn()
    assert re.search(r'<path class="bracket"[^>]* stroke="#\w{6}" stroke-width="1.6"', inked(drawn(), "Book"))


def test_words_have_no_halo_but_a_white_ground_of_their_size():
    ground, text = parts(inked(drawn(), "Book"))
    assert "stroke" not in text.attrib
    assert "paint-order" not in text.attrib
    assert (ground.attrib["fill"], ground.attrib["x"]) == ("#ffffff", "100")
    assert float(ground.attrib["width"]) == pytest.approx(text_width("key & fill") * NARROWER, abs=0.1)
    assert float(ground.attrib["y"]) < 50 < float(ground.attrib["y"]) + float(ground.attrib["height"])


@pytest.mark.parametrize(("anchor", "share"), [("start", 0), ("middle", 0.5), ("end", 1)])
def test_the_ground_lies_where_the_words_do(anchor, share):
    ground, _ = parts(inked(drawn(anchor=anchor), "Book"))
    assert float(ground.attrib["x"]) + share * float(ground.attrib["width"]) == pytest.approx(100, abs=0.11)


def test_strong_words_are_bold():
    _, text = parts(inked(drawn(bold=True), "Book"))
    assert text.attrib["font-weight"] == "700"


def test_the_typeface_is_named_once_and_the_words_stay():
    svg = inked(drawn("<b>"), 'Book, "Mono"')
    assert ET.fromstring(svg).attrib["font-family"] == 'Book, "Mono"'  # noqa: S314 made here
    assert parts(svg)[1].text == "<b>"


def test_paper_is_white():
    assert "#fbfaf7" not in inked(drawn(), "Book")


def test_no_drawing_is_told():
    with pytest.raises(ValueError, match="no svg element"):
        inked("<p>words</p>", "Book")
