"""The skyline, unrolled."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.drawing.lettering import Box
from models.drawing.skyline_strip import (
    Crown,
    Edge,
    HandPoint,
    HourMark,
    SunMoment,
    draw_skyline_strip,
)
from models.drawing.svg import Width
from models.units import compass_words
from tests.models.drawing.reading import SVG, meeting, numbers, of_class, outside, parse, text_boxes, texts, upright_x
from tests.models.drawing.samples import lane


def bearing_x(root: object, bearing_deg: float) -> float:
    data = root.attrib  # type: ignore[attr-defined]
    left, right, first = (float(data[f"data-{key}"]) for key in ("x0", "x1", "first-deg"))
    return left + (bearing_deg - first) % 360 / 360 * (right - left)


def elevation_y(root: object, elevation_deg: float) -> float:
    data = root.attrib  # type: ignore[attr-defined]
    bottom, top, high = (float(data[f"data-{key}"]) for key in ("y0", "y1", "top-deg"))
    return bottom + elevation_deg / high * (top - bottom)


@pytest.mark.parametrize("looking", [0.0, 90.0, 217.5, 359.9])
def test_the_camera_bearing_stands_in_the_middle_with_the_backdrop_either_side(looking: float) -> None:
    root = parse(draw_skyline_strip(lane(looking_deg=looking), "wide"))
    middle = (float(root.attrib["data-x0"]) + float(root.attrib["data-x1"])) / 2
    assert upright_x(of_class(root, "camera")[0]) == pytest.approx(middle, abs=0.1)
    start, _, _, end, _ = numbers(of_class(root, "bracket")[0].attrib["d"])
    assert start == pytest.approx(bearing_x(root, looking - 20), abs=0.1)
    assert end == pytest.approx(bearing_x(root, looking + 20), abs=0.1)
    assert f"camera looks {compass_words(looking)}, this is behind the face" in texts(root)


def test_without_a_camera_the_strip_is_centred_where_it_is_told_and_names_no_camera() -> None:
    root = parse(draw_skyline_strip(lane(looking_deg=None, centre_deg=0.0), "wide"))
    assert float(root.attrib["data-first-deg"]) == 180
    assert not of_class(root, "camera")
    assert not of_class(root, "backdrop")


def test_a_wall_stands_where_it_is_and_as_high_as_it_is() -> None:
    """One wall, bearing 90 to 120, 40 degrees high, on open ground."""
    bearing = (np.arange(720) + 0.5) / 2
    elevation = np.where((bearing > 90) & (bearing < 120), 40.0, 0.0)
    root = parse(draw_skyline_strip(lane(elevation_deg=elevation, edge=np.ones(720, np.int8), crowns=()), "wide"))
    (outline,) = [e for e in of_class(root, "outline-surveyed") if e.tag == f"{SVG}path"]
    path = numbers(outline.attrib["d"])
    assert min(path[::2]) == pytest.approx(bearing_x(root, 90), abs=0.15)
    assert max(path[::2]) == pytest.approx(bearing_x(root, 120), abs=0.15)
    assert min(path[1::2]) == pytest.approx(elevation_y(root, 40), abs=0.1)


@pytest.mark.parametrize("edge", [Edge.SURVEYED, Edge.ASSUMED, Edge.MEASURED])
def test_each_kind_of_wall_has_its_texture_and_its_word_only_where_it_occurs(edge: Edge) -> None:
    root = parse(draw_skyline_strip(lane(edge=np.full(720, edge, np.int8), crowns=(), points=()), "wide"))
    words = {Edge.SURVEYED: "building", Edge.ASSUMED: "height assumed", Edge.MEASURED: "line measured by hand"}
    assert [word for word in words.values() if word in texts(root)] == [words[edge]]
    assert len(list(root.iter(f"{SVG}pattern"))) == 1


def test_doubt_is_a_band_as_wide_as_the_doubt() -> None:
    flat = np.full(720, 30.0)
    root = parse(draw_skyline_strip(lane(elevation_deg=flat, doubt_deg=np.full(720, 5.0), crowns=()), "wide"))
    heights = numbers(of_class(root, "doubt")[0].attrib["d"])[1::2]
    assert min(heights) == pytest.approx(elevation_y(root, 35), abs=0.1)
    assert max(heights) == pytest.approx(elevation_y(root, 25), abs=0.1)
    without = parse(draw_skyline_strip(lane(doubt_deg=np.zeros(720)), "wide"))
    assert not of_class(without, "doubt")
    assert "how far the edge may be off" not in texts(without)


def test_the_suns_way_breaks_at_the_ends_of_the_strip() -> None:
    """Centred on the sun's north, a southern day's way runs off the right end and comes in at the left."""
    root = parse(draw_skyline_strip(lane(looking_deg=0.0), "wide"))
    way = of_class(root, "sun-way")[0].attrib["d"]
    assert way.count("M") == 2
    lengths = [np.abs(np.diff(numbers(run)[::2])).max() for run in way.split("M")[1:]]
    assert max(lengths) < 450


def test_the_moments_mark_stands_under_its_words_at_its_bearing() -> None:
    root = parse(draw_skyline_strip(lane(), "wide"))
    mark = of_class(root, "now")[0]
    assert float(mark.attrib["cx"]) == pytest.approx(bearing_x(root, 217.5), abs=0.1)
    assert float(mark.attrib["cy"]) == pytest.approx(elevation_y(root, 41), abs=0.1)
    assert upright_x(of_class(root, "leader")[0]) == float(mark.attrib["cx"])
    words = "16:40 CEST, 41° up, behind the west row"
    (box,) = [box for key, box in text_boxes(root).items() if words in key]
    assert box.left < float(mark.attrib["cx"]) < box.right


def test_a_sun_below_the_horizon_is_an_arrow_at_its_bearing() -> None:
    moment = SunMoment(300.0, -7.0, "behind", ("23:10 CEST", "sun 7° down"))
    root = parse(draw_skyline_strip(lane(moment=moment), "wide"))
    assert not of_class(root, "now")
    assert upright_x(of_class(root, "now-down")[0]) == pytest.approx(bearing_x(root, 300), abs=0.1)


@pytest.mark.parametrize(
    ("state", "filled", "hollow"), [("open", 1, 0), ("behind", 0, 1), ("leaves", 1, 1), ("unsure", 1, 1)]
)
def test_marks_tell_lit_hidden_half_and_unsure(state: str, filled: int, hollow: int) -> None:
    hour = (HourMark("12", 180.0, 50.0, state),)  # type: ignore[arg-type]
    root = parse(draw_skyline_strip(lane(hours=hour, moment=None), "wide"))
    assert len(of_class(root, "lit")) == 2 * filled  # in the field and in the key
    assert len(of_class(root, "hidden-sun")) == 2 * hollow


@pytest.mark.parametrize("width", ["wide", "narrow"])
def test_figures_cover_no_mark(width: Width) -> None:
    """Hours close together: every figure stands clear of every mark."""
    hours = tuple(HourMark(f"{h}", 150.0 + 4 * h, 20.0 + h, "open") for h in range(24))
    root = parse(draw_skyline_strip(lane(hours=hours), width))
    marks = [e for e in of_class(root, "lit") if float(e.attrib["cy"]) < float(root.attrib["data-y0"])]
    figures = [box for words, box in text_boxes(root).items() if words.split()[1].isdigit()]
    assert len(marks) == 24
    assert len(figures) >= 3
    radius = float(marks[0].attrib["r"])
    for x, y in ((float(e.attrib["cx"]), float(e.attrib["cy"])) for e in marks):
        assert not [box for box in figures if box.meets(Box(x - radius, y - radius, x + radius, y + radius))]


def test_hours_under_the_horizon_are_not_drawn() -> None:
    root = parse(draw_skyline_strip(lane(hours=(HourMark("4", 40.0, -5.0, "behind"),), moment=None), "wide"))
    assert not of_class(root, "hidden-sun")
    assert "4" not in texts(root)


def test_hand_measured_points_can_be_pointed_at() -> None:
    root = parse(draw_skyline_strip(lane(points=(HandPoint(100, 20), HandPoint(200, 50, "the chimney"))), "narrow"))
    points = of_class(root, "point")
    assert [point[0].text for point in points] == ["measured by hand: 20° up at bearing 100°", "the chimney"]
    reach = points[0].find(f"{SVG}circle")
    assert reach is not None
    assert reach.attrib["pointer-events"] == "all"
    assert float(reach.attrib["cx"]) == pytest.approx(bearing_x(root, 100), abs=0.1)


def test_a_crown_over_the_strips_end_shows_on_both_sides() -> None:
    root = parse(draw_skyline_strip(lane(crowns=(Crown(80, 100, 10, 30),), looking_deg=270.0), "wide"))
    crown = numbers(of_class(root, "crown")[0].attrib["d"])[::2]
    assert min(crown) == pytest.approx(bearing_x(root, 90), abs=0.1)
    assert max(crown) == pytest.approx(float(root.attrib["data-x1"]), abs=0.1)


def test_a_crown_all_round_and_one_of_no_size() -> None:
    root = parse(draw_skyline_strip(lane(crowns=(Crown(0, 360, 60, 90), Crown(5, 5, 10, 20))), "wide"))
    crown = numbers(of_class(root, "crown")[0].attrib["d"])[::2]
    assert (min(crown), max(crown)) == (float(root.attrib["data-x0"]), float(root.attrib["data-x1"]))


def test_an_elevation_that_is_not_known_is_no_wall() -> None:
    elevation = np.full(720, 30.0)
    elevation[100:200] = np.nan
    root = parse(draw_skyline_strip(lane(elevation_deg=elevation, crowns=()), "wide"))
    assert "nan" not in draw_skyline_strip(lane(elevation_deg=elevation), "wide")
    drawn = [e for e in root.iter() if e.get("class", "").startswith("outline-") and e.tag == f"{SVG}path"]
    covered = {round(x) for e in drawn for x in numbers(e.attrib["d"])[::2]}
    assert not [x for x in covered if bearing_x(root, 51) < x < bearing_x(root, 99)]


def test_no_skyline_is_said_in_words() -> None:
    root = parse(draw_skyline_strip(lane(elevation_deg=np.zeros(0)), "wide"))
    assert texts(root) == ["No skyline is known here yet."]


angles = st.floats(0, 360, exclude_max=True)
marks = st.builds(
    HourMark, st.integers(0, 23).map(str), angles, st.floats(-20, 89), st.sampled_from(["open", "behind", "leaves"])
)


@settings(max_examples=25, deadline=None)
@given(st.lists(marks, max_size=24), angles, angles, st.floats(-40, 90), st.sampled_from(["wide", "narrow"]))
def test_words_never_meet_wherever_the_sun_goes(
    hours: list[HourMark], looking: float, azimuth: float, elevation: float, width: Width
) -> None:
    moment = SunMoment(azimuth, elevation, "open", ("16:40 CEST", f"{elevation:.0f}° up", "behind the west row"))
    root = parse(draw_skyline_strip(lane(hours=tuple(hours), looking_deg=looking, moment=moment), width))
    assert meeting(root) == []
    assert outside(root) == []
