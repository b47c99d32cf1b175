"""The two colour scales: even, and the same to colour-blind eyes."""

from __future__ import annotations

import base64
import io
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray
from PIL import Image

from models.drawing.scale import BRIGHTNESS, RESERVE, Scale, png_uri, swatch
from tests.models.drawing.reading import of_class, parse, texts
from tests.models.drawing.samples import scale_key

Floats = NDArray[np.float64]

# sRGB to XYZ and the white point D65: IEC 61966-2-1; L*a*b*: CIE 015.
XYZ = np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]])
WHITE = np.array([0.9505, 1.0, 1.0890])

# Machado, Oliveira & Fernandes 2009 (IEEE TVCG 15(6)), severity 1.0, on linear sRGB.
BLIND = {
    "protanopia": [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]],
    "deuteranopia": [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.01182, 0.04294, 0.968881]],
    "tritanopia": [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.3039]],
}


def linear(colours: NDArray[np.uint8]) -> Floats:
    share = colours / 255
    return np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)


def lab(linear_rgb: Floats) -> Floats:
    ratio = np.clip(linear_rgb, 0, 1) @ XYZ.T / WHITE
    f = np.where(ratio > (6 / 29) ** 3, np.cbrt(ratio), ratio / (3 * (6 / 29) ** 2) + 4 / 29)
    return np.column_stack([116 * f[:, 1] - 16, 500 * (f[:, 0] - f[:, 1]), 200 * (f[:, 1] - f[:, 2])])


def lightness(scale: Scale) -> Floats:
    return lab(linear(scale.colours))[:, 0]


def test_brightness_grows_lighter_all_the_way_and_evenly() -> None:
    steps = np.diff(lightness(BRIGHTNESS))
    assert steps.min() > 0
    assert steps.max() < 2.2 * steps.mean()  # 8 bits a channel; the published table itself is no evener


def test_reserve_darkens_from_zero_both_ways() -> None:
    light, middle = lightness(RESERVE), len(RESERVE.colours) // 2
    assert np.all(np.diff(light[middle:]) < 0)
    assert np.all(np.diff(light[: middle + 1]) > 0)
    assert light[middle] > 95


@pytest.mark.parametrize("eyes", BLIND)
def test_too_weak_and_in_hand_differ_to_colour_blind_eyes(eyes: str) -> None:
    """CIE 1976 difference over 10 from one stop on; a difference of 2.3 is just seen (Mahy et al. 1994)."""
    stops = np.array([1.0, 2.0, 3.0, 4.0])
    seen = linear(RESERVE.colours) @ np.array(BLIND[eyes]).T
    colours = lab(seen)
    apart = np.linalg.norm(colours[RESERVE.level(stops)] - colours[RESERVE.level(-stops)], axis=1)
    assert apart.min() > 10


@pytest.mark.parametrize("eyes", BLIND)
def test_brightness_grows_lighter_to_colour_blind_eyes(eyes: str) -> None:
    seen = lab(linear(BRIGHTNESS.colours) @ np.array(BLIND[eyes]).T)[:, 0]
    assert np.all(np.diff(seen[::4]) > 0)


@pytest.mark.parametrize(
    ("scale", "value", "colour"),
    [  # the published ends and middles: cividis stops 0, 255; BrBG 9 classes, first, middle, last
        (BRIGHTNESS, 0.0, "#00224e"),
        (BRIGHTNESS, 16.0, "#fee838"),
        (BRIGHTNESS, -6.0, "#00224e"),
        (RESERVE, -9.0, "#8c510a"),
        (RESERVE, 0.0, "#f5f5f5"),
        (RESERVE, 4.0, "#01665e"),
        (RESERVE, math.inf, "#01665e"),
    ],
)
def test_colours_are_the_published_ones(scale: Scale, value: float, colour: str) -> None:
    assert scale.hex(value) == colour


@given(st.floats(-40, 40), st.floats(-40, 40))
def test_more_is_never_a_lower_level(a: float, b: float) -> None:
    for scale in (BRIGHTNESS, RESERVE):
        low, high = scale.level(sorted([a, b]))
        assert 0 <= low <= high < len(scale.colours)


def test_unknown_has_no_colour_and_a_mark_of_its_own() -> None:
    assert BRIGHTNESS.level([math.nan, 3.0]).tolist()[0] == -1
    with pytest.raises(ValueError, match="unknown"):
        BRIGHTNESS.hex(math.nan)
    for value in (None, math.nan):
        root = parse(swatch(BRIGHTNESS, value, "not known"))
        assert of_class(root, "unknown")
        assert not of_class(root, "data")
    assert of_class(parse(swatch(BRIGHTNESS, 8.0, "EV 8")), "data")[0].attrib["fill"] == BRIGHTNESS.hex(8.0)


def test_a_picture_has_the_colour_of_each_value_and_a_hole_where_there_is_none() -> None:
    values = np.array([[0.0, 8.0, math.nan], [16.0, -3.0, 12.0]])
    uri = png_uri(BRIGHTNESS.level(values), BRIGHTNESS)
    picture = Image.open(io.BytesIO(base64.b64decode(uri.removeprefix("data:image/png;base64,")))).convert("RGBA")
    assert picture.size == (3, 2)
    assert picture.getpixel((2, 0))[3] == 0  # type: ignore[index]
    for x, y in ((0, 0), (1, 0), (0, 1), (1, 1), (2, 1)):
        colour = "#" + bytes(picture.getpixel((x, y))[:3]).hex()  # type: ignore[index]
        assert colour == BRIGHTNESS.hex(values[y, x])


@pytest.mark.parametrize("scale", [BRIGHTNESS, RESERVE])
def test_the_key_says_unit_and_ends(scale: Scale) -> None:
    assert texts(parse(scale_key(scale, "narrow"))) == [scale.unit, *scale.ends]
