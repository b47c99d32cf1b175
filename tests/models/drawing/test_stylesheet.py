"""The tones of drawings.css: text stands out from what it lies on, by day and after dusk."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

TOKEN = re.compile(r"--d-([a-z-]+): (?:var\(--[a-z]+, )?light-dark\((#[0-9a-f]{6}), (#[0-9a-f]{6})\)")
SHEET = Path("webapp/static/css/drawings.css").read_text(encoding="utf-8")
TONES = {name: (light, dark) for name, light, dark in TOKEN.findall(SHEET)}

ON = {
    "soft": ("paper",),
    "ink": ("paper", "wall", "wall-assumed", "crown", "overhead", "sun", "leaves", "shade", "dusk"),
    "on-night": ("lamps", "dark"),
}


def luminance(colour: str) -> float:
    """Relative luminance: WCAG 2.2."""
    shares = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [s / 12.92 if s <= 0.04045 else ((s + 0.055) / 1.055) ** 2.4 for s in shares]
    return sum(weight * s for weight, s in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


def contrast(one: str, other: str) -> float:
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize(("text", "ground"), [(text, ground) for text, grounds in ON.items() for ground in grounds])
def test_text_has_a_contrast_of_7_to_1(text: str, ground: str, theme: str) -> None:
    """WCAG 2.2, 1.4.6; over textures and lines text has a halo of the paper besides."""
    index = ("light", "dark").index(theme)
    assert contrast(TONES[text][index], TONES[ground][index]) >= 7


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_the_states_grow_darker_from_sun_to_dark(theme: str) -> None:
    index = ("light", "dark").index(theme)
    lights = [luminance(TONES[name][index]) for name in ("sun", "leaves", "shade", "dusk", "lamps", "dark")]
    assert lights == sorted(lights, reverse=True)
    assert len(set(lights)) == len(lights)


def test_wide_and_narrow_are_never_shown_together() -> None:
    assert ".drawing.wide-only { display: none" in SHEET
    changeover = SHEET[SHEET.index("@media (min-width: 60em), print") :]
    assert ".drawing.wide-only { display: block }" in changeover
    assert ".drawing.narrow-only { display: none }" in changeover
