"""A briefing's own sheet: small, asks for nothing, and black enough on white for the sun. Contrast: WCAG 2.2, 1.4.6."""

from __future__ import annotations

import re
from itertools import product
from pathlib import Path

import pytest

import webapp
from tests.webapp.test_style import contrast

CSS = (Path(webapp.__file__).parent / "static" / "css" / "briefing.css").read_text("utf-8")
LIGHT, DARK, PRINT = (
    dict(re.findall(r"--([a-z]+): (#[0-9a-f]{3,6})", line)) for line in CSS.splitlines() if "--paper: #" in line
)


@pytest.mark.parametrize(("ink", "ground", "theme"), [*product(("ink", "soft"), ("paper", "wash"), (LIGHT, DARK))])
def test_words_stand_out_by_day_and_by_night(ink, ground, theme):
    assert contrast(theme[ink], theme[ground]) >= 7


def test_by_day_it_is_black_on_white_and_so_it_is_on_paper():
    assert contrast(LIGHT["ink"], LIGHT["paper"]) == pytest.approx(21)
    assert (PRINT["ink"], PRINT["paper"], PRINT["wash"]) == ("#000", "#fff", "#fff")


@pytest.mark.parametrize("theme", [LIGHT, DARK])
def test_lines_can_be_seen_and_a_dark_page_does_not_dazzle(theme):
    assert contrast(theme["rule"], theme["paper"]) >= 3
    assert contrast(DARK["paper"], "#000000") < 1.2


def test_the_sheet_is_small_and_asks_for_nothing():
    assert len(CSS.encode()) < 8_000
    for asking in ("url(", "@import", "http", "!important"):
        assert asking not in CSS
