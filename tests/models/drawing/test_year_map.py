"""The year at a spot."""

from __future__ import annotations

import base64
import io
from datetime import date

import numpy as np
import pytest
from PIL import Image

from models.drawing.scale import BRIGHTNESS, RESERVE
from models.drawing.svg import Axis
from models.drawing.year_map import ClockChange, YearMoment, draw_year_map, zero_line
from tests.models.drawing.reading import SVG, meeting, numbers, of_class, parse, texts, upright_x
from tests.models.drawing.samples import year


def picture_of(root: object) -> Image.Image:
    uri = next(root.iter(f"{SVG}image")).attrib["href"]  # type: ignore[attr-defined]
    return Image.open(io.BytesIO(base64.b64decode(uri.removeprefix("data:image/png;base64,")))).convert("RGBA")


@pytest.mark.parametrize(("quantity", "scale"), [("ev", BRIGHTNESS), ("reserve", RESERVE)])
def test_every_cell_has_its_colour_days_across_and_hours_up(quantity: str, scale: object) -> None:
    one = year(quantity)
    picture = picture_of(parse(draw_year_map(one, "wide")))
    assert picture.size == (365, 96)
    for on, quarter in ((0, 0), (10, 95), (200, 52), (364, 30), (87, 13)):
        colour = "#" + bytes(picture.getpixel((on, 95 - quarter))[:3]).hex()  # type: ignore[index]
        assert colour == scale.hex(one.values[on, quarter])  # type: ignore[attr-defined]


def test_a_time_that_does_not_exist_is_a_hole_over_a_texture() -> None:
    root = parse(draw_year_map(year(), "wide"))
    picture = picture_of(root)
    assert [picture.getpixel((87, 95 - quarter))[3] for quarter in (7, 8, 11, 12)] == [255, 0, 0, 255]  # type: ignore[index]
    assert of_class(root, "unknown")
    assert "no such time, or not known" in texts(root)
    whole = parse(draw_year_map(year(values=np.ones((365, 96))), "wide"))
    assert not of_class(whole, "unknown")


def test_the_moment_is_marked_at_its_day_and_hour() -> None:
    root = parse(draw_year_map(year(moment=YearMoment(100, 12.0, ("noon",))), "wide"))
    ring = of_class(root, "ring")[0]
    left, right, bottom, top = (float(root.attrib[f"data-{key}"]) for key in ("x0", "x1", "y0", "y1"))
    assert float(ring.attrib["cx"]) == pytest.approx(left + 100.5 / 365 * (right - left), abs=0.06)
    assert float(ring.attrib["cy"]) == pytest.approx((top + bottom) / 2, abs=0.06)
    assert upright_x(of_class(root, "crosshair")[0]) == float(ring.attrib["cx"])


def test_clock_changes_are_lines_with_words_and_break_the_suns_lines() -> None:
    one = year()
    sunrise = one.sunrise_hour.copy()
    sunrise[87:297] += 1.0
    root = parse(draw_year_map(year(sunrise_hour=sunrise), "wide"))
    left, right = float(root.attrib["data-x0"]), float(root.attrib["data-x1"])
    lines = [upright_x(e) for e in of_class(root, "clock-line")]
    assert lines == pytest.approx([left + d / 365 * (right - left) for d in (87, 297)], abs=0.06)
    assert {"clocks forward 29 Mar", "clocks back 25 Oct"} <= set(texts(root))
    assert of_class(root, "sun-line")[0].attrib["d"].count("M") == 3
    assert of_class(root, "sun-line")[1].attrib["d"].count("M") == 1


def test_a_sun_that_never_rises_has_no_line() -> None:
    none = np.full(365, np.nan)
    root = parse(draw_year_map(year(sunrise_hour=none, sunset_hour=none), "wide"))
    assert not of_class(root, "sun-line")
    assert "sunrise and sunset" not in texts(root)
    winter = np.where(np.abs(np.arange(365) - 182) > 150, np.nan, 6.0)
    assert of_class(parse(draw_year_map(year(sunrise_hour=winter), "wide")), "sun-line")


def test_the_edge_of_what_can_be_beaten_is_a_line_of_cell_sides() -> None:
    """Three days of four quarters, in hand in one cell: a square of four sides."""
    values = np.full((3, 4), -1.0)
    values[1, 2] = 1.0
    path = zero_line(values, Axis(0, 3, 0, 30), Axis(0, 24, 24, 0))
    assert path == "M10 12H20M10 6H20M10 12V6M20 12V6"
    values[1, 1:] = np.nan
    assert zero_line(values, Axis(0, 3, 0, 30), Axis(0, 24, 24, 0)) == ""


def test_only_reserve_has_an_edge() -> None:
    assert of_class(parse(draw_year_map(year(), "wide")), "zero-edge")
    assert not of_class(parse(draw_year_map(year("ev"), "wide")), "zero-edge")


def test_months_are_named_where_they_lie() -> None:
    wide = texts(parse(draw_year_map(year(), "wide")))
    assert [word for word in wide if word in ("Jan", "Feb", "Dec")] == ["Jan", "Feb", "Dec"]
    narrow = texts(parse(draw_year_map(year(), "narrow")))
    assert [word for word in narrow if len(word) == 1 and word.isalpha()] == list("JFMAMJJASOND")


def test_a_year_may_begin_on_any_day_and_leap() -> None:
    leap = year(first_day=date(2027, 7, 15), values=np.ones((366, 96)), sunrise_hour=np.full(366, 6.0),
                sunset_hour=np.full(366, 20.0), clock_changes=())  # fmt: skip
    words = [word for word in texts(parse(draw_year_map(leap, "wide"))) if word.isalpha() and len(word) == 3]
    assert words == ["Jul", "Aug", "Sep", "Oct", "Nov", "Dec", "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul"]


def test_clock_changes_near_each_other_stand_in_two_rows() -> None:
    near = (ClockChange(60, "clocks forward 2 Mar"), ClockChange(70, "clocks back 12 Mar"))
    root = parse(draw_year_map(year(clock_changes=near), "narrow"))
    assert meeting(root) == []
    rows = {e.attrib["y"] for e in root.iter(f"{SVG}text") if (e.text or "").startswith("clocks")}
    assert len(rows) == 2


def test_a_year_without_figures_says_so() -> None:
    for values in (np.zeros((0, 96)), np.full((365, 96), np.nan)):
        assert texts(parse(draw_year_map(year(values=values), "wide"))) == ["The year has not been worked out yet."]


@pytest.mark.parametrize("shape", [(365, 95), (96,), (2, 96, 1)])
def test_figures_of_another_shape_are_refused(shape: tuple[int, ...]) -> None:
    with pytest.raises(ValueError, match="days, 96"):
        draw_year_map(year(values=np.zeros(shape)), "wide")


def test_a_noisy_year_stays_a_small_drawing() -> None:
    """Both widths are embedded in one page; leaves and edges make a ragged map."""
    noise = np.random.default_rng(3).normal(0, 0.4, (365, 96))
    drawing = draw_year_map(year(values=year().values + noise), "wide")
    assert len(drawing) < 120_000
    assert numbers(parse(drawing).attrib["viewBox"])[2] == 900
