"""Kinds of rule areas: each has a texture of its own, and its word."""

from __future__ import annotations

from itertools import combinations
from pathlib import Path
from xml.etree import ElementTree

import pytest

from models.drawing.area_kinds import TEXTURES, kind_patterns, kind_swatch
from models.drawing.textures import TEXTURES as OTHERS
from models.rules.areas import KINDS
from tests.models.drawing.reading import SVG, parse


def test_every_kind_has_a_texture_and_none_is_used_twice() -> None:
    assert list(TEXTURES) == list(KINDS)
    marks = [texture.marks for texture in (*TEXTURES.values(), *OTHERS.values())]
    assert all(one != other for one, other in combinations(marks, 2))


@pytest.mark.parametrize("kind", KINDS)
def test_a_swatch_says_its_kind_in_words(kind: str) -> None:
    svg = parse(kind_swatch(kind))
    assert svg.get("aria-label") == KINDS[kind]
    assert svg.find(f"{SVG}path") is not None


def test_the_map_finds_a_pattern_and_a_tone_for_every_kind() -> None:
    root = ElementTree.fromstring(f"<g>{kind_patterns()}</g>")  # noqa: S314  our own text
    ids = {element.get("id") for element in root.iter()}
    assert ids >= {f"{part}-{kind}" for part in ("texture", "tone") for kind in KINDS}


def test_the_ground_under_the_lines_stays_in_sight() -> None:
    sheet = Path("webapp/static/css/drawings.css").read_text(encoding="utf-8")
    assert ".tone-area { fill: transparent }" in sheet
    assert ".area-mark { stroke:" in sheet
