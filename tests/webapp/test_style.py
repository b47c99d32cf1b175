"""Paper and ink: contrast of the stylesheet's tokens, on light and on dark paper.

Relative luminance and contrast ratio: WCAG 2.2, "relative luminance" and "contrast ratio". 7:1 is its enhanced level
(1.4.6); 3:1 is what it asks of the edges of controls (1.4.11).
"""

from __future__ import annotations

import re
from itertools import product
from pathlib import Path

import pytest

import webapp
from webapp.marks import signed

CSS = (Path(webapp.__file__).parent / "static" / "css" / "kerbstand.css").read_text(encoding="utf-8")
TOKENS = {
    name: (light, dark)
    for name, light, dark in re.findall(r"--([a-z]+): light-dark\((#[0-9a-f]{6}), (#[0-9a-f]{6})\)", CSS)
}
GROUNDS = ("paper", "sheet", "wash", "ground")


def luminance(colour: str) -> float:
    parts = [int(colour[k : k + 2], 16) / 255 for k in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_the_measure_itself():
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.01)  # WCAG's own example of just under 4.5


@pytest.mark.parametrize(("ink", "ground", "theme"), [*product(("ink", "soft", "accent"), GROUNDS, (0, 1))])
def test_text_stands_out(ink, ground, theme):
    assert contrast(TOKENS[ink][theme], TOKENS[ground][theme]) >= 7


@pytest.mark.parametrize(("ground", "theme"), [*product(GROUNDS, (0, 1))])
def test_edges_of_controls_can_be_seen(ground, theme):
    assert contrast(TOKENS["edge"][theme], TOKENS[ground][theme]) >= 3


def test_the_stylesheet_stays_one_short_file():
    assert len(CSS.splitlines()) <= 300
    assert "!important" not in CSS
    assert "@import" not in CSS
    assert "http" not in CSS


def class_names(sheet: str) -> set[str]:
    text = (Path(webapp.__file__).parent / "static" / "css" / sheet).read_text(encoding="utf-8")
    return set(re.findall(r"\.([a-z][\w-]*)", re.sub(r"\{[^}]*\}|/\*.*?\*/", "", text, flags=re.DOTALL)))


@pytest.mark.parametrize("sheet", ["kerbstand.css", "spot.css", "rules.css"])
def test_a_class_of_the_drawings_means_nothing_else_on_a_page(sheet):
    assert class_names("drawings.css") & class_names(sheet) <= {"drawing", "swatch", "zero"}


@pytest.mark.parametrize(("stops", "shown"), [(2.46, "+2.5"), (-0.8, "−0.8"), (-0.04, "+0.0"), (0.0, "+0.0")])
def test_stops_are_signed_and_nothing_has_no_minus(stops, shown):
    assert signed(stops) == shown
