"""The day at a spot."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.clock import unix_s
from models.drawing.day_strip import DayMoment, LightBand, StateRun, draw_day_strip
from models.drawing.hours import clock_change, full_hours, zone_words
from models.drawing.scale import RESERVE
from models.drawing.states import STATES
from models.drawing.svg import Width
from tests.models.drawing.reading import SVG, meeting, numbers, of_class, outside, parse, text_boxes, texts, upright_x
from tests.models.drawing.samples import ZONE, at, day


def time_x(root: object, seconds: float) -> float:
    data = root.attrib  # type: ignore[attr-defined]
    left, right, start, end = (float(data[f"data-{key}"]) for key in ("x0", "x1", "from", "to"))
    return left + (seconds - start) / (end - start) * (right - left)


@pytest.mark.parametrize("hours", [0, 6.5, 16.66, 24])
@pytest.mark.parametrize("width", ["wide", "narrow"])
def test_the_cursor_stands_at_the_moment(hours: float, width: Width) -> None:
    one = day()
    moment = DayMoment(one.start + timedelta(hours=hours), ("the moment",))
    root = parse(draw_day_strip(replace(one, moment=moment), width))
    assert upright_x(of_class(root, "cursor")[0]) == pytest.approx(time_x(root, unix_s(moment.instant)), abs=0.06)
    assert "the moment" in texts(root)


def test_the_cursors_points_sit_on_the_lines() -> None:
    one = day()
    flat = replace(one, face_ev=np.full(97, 8.0), behind_ev=np.full(97, 12.0))
    root = parse(draw_day_strip(flat, "wide"))
    bottom, top = float(root.attrib["data-y0"]), float(root.attrib["data-y1"])
    face, behind = of_class(root, "face-now")[0], of_class(root, "behind-now")[0]
    assert float(face.attrib["cy"]) == pytest.approx((bottom + top) / 2, abs=0.06)  # EV 8 of 0 to 16
    assert float(behind.attrib["cy"]) == pytest.approx(bottom + (top - bottom) * 0.75, abs=0.06)


def test_gaps_in_the_figures_are_gaps_in_the_lines() -> None:
    one = day()
    face = one.face_ev.copy()
    face[40:50] = np.nan
    root = parse(draw_day_strip(replace(one, face_ev=face), "wide"))
    assert of_class(root, "face")[0].attrib["d"].count("M") == 2
    assert of_class(root, "face-doubt")[0].attrib["d"].count("Z") == 2


@pytest.mark.parametrize("missing", ["behind_ev", "limit_ev", "reserve_stops"])
def test_what_is_not_given_is_not_drawn(missing: str) -> None:
    cls = {"behind_ev": "behind", "limit_ev": "limit", "reserve_stops": "reserve"}[missing]
    assert of_class(parse(draw_day_strip(day(), "wide")), cls)
    assert not of_class(parse(draw_day_strip(day(**{missing: None}), "wide")), cls)


@pytest.mark.parametrize("width", ["wide", "narrow"])
def test_every_line_is_named_beside_it_or_in_the_key(width: Width) -> None:
    words = texts(parse(draw_day_strip(day(), width)))
    for name in ("on the face", "behind, looking west", "what this flash can beat"):
        assert words.count(name) == 1


def test_a_line_is_named_where_no_other_line_could_be_meant() -> None:
    """Two level lines with room for words between: these stand above the upper and below the lower one."""
    one = day()
    two = replace(one, face_ev=np.full(97, 8.0), behind_ev=np.full(97, 11.0), limit_ev=None)
    root = parse(draw_day_strip(two, "wide"))
    bottom, top = float(root.attrib["data-y0"]), float(root.attrib["data-y1"])
    boxes = text_boxes(root)
    (face,) = [box for words, box in boxes.items() if words.endswith("on the face")]
    (behind,) = [box for words, box in boxes.items() if words.endswith("behind, looking west")]
    assert face.top > bottom + (top - bottom) * 8 / 16
    assert behind.bottom < bottom + (top - bottom) * 11 / 16


def test_reserve_bars_take_the_scales_colour_and_stand_above_or_below_zero() -> None:
    one = day()
    stops = np.where(np.arange(97) < 48, 2.0, -1.5)
    root = parse(draw_day_strip(replace(one, reserve_stops=stops), "wide"))
    above, below = [e for e in of_class(root, "data") if e.tag == f"{SVG}rect"]
    assert above.attrib["fill"] == RESERVE.hex(2.0)
    assert below.attrib["fill"] == RESERVE.hex(-1.5)
    zero = numbers(of_class(root, "zero")[0].attrib["d"])[1]
    assert float(above.attrib["y"]) + float(above.attrib["height"]) == pytest.approx(zero, abs=0.1)
    assert float(below.attrib["y"]) == pytest.approx(zero, abs=0.1)


def test_a_state_has_a_tone_a_texture_and_a_word() -> None:
    one = day()
    for state, look in STATES.items():
        root = parse(draw_day_strip(replace(one, states=(StateRun(one.start, one.end, state),)), "wide"))
        assert of_class(root, f"tone-{state}")
        assert look.words in texts(root)
        filled = [e for e in root.iter() if e.get("fill", "").endswith(f"-{look.texture})")]
        assert bool(filled) == bool(look.texture)
    assert len({look.texture for look in STATES.values() if look.texture}) == 5  # sun and dark differ by tone alone


def test_states_stand_at_their_times_and_are_cut_at_the_day() -> None:
    one = day()
    early = StateRun(one.start - timedelta(hours=3), one.start + timedelta(hours=6), "dark")
    root = parse(draw_day_strip(replace(one, states=(early,)), "wide"))
    box = next(e for e in of_class(root, "tone-dark") if e.tag == f"{SVG}rect")
    assert float(box.attrib["x"]) == float(root.attrib["data-x0"])
    assert float(box.attrib["width"]) == pytest.approx(
        time_x(root, unix_s(early.end)) - float(box.attrib["x"]), abs=0.1
    )


def test_golden_and_blue_hour_show_only_where_their_light_reaches_the_spot() -> None:
    one = day()
    bands = (
        LightBand(one.start + timedelta(hours=6), one.start + timedelta(hours=7), "golden hour", False),
        LightBand(one.start + timedelta(hours=19), one.start + timedelta(hours=20), "blue hour", True),
    )
    root = parse(draw_day_strip(replace(one, bands=bands), "wide"))
    assert "golden hour" not in texts(root)
    assert texts(root).count("blue hour") == 1
    (outlined,) = of_class(root, "outlined")
    assert float(outlined.attrib["x"]) == pytest.approx(time_x(root, unix_s(bands[1].start)), abs=0.06)


def test_a_band_keeps_its_word_when_the_cursor_stands_beside_it() -> None:
    one = day()
    start = one.end - timedelta(hours=2, minutes=50)
    band = LightBand(start, start + timedelta(hours=1, minutes=25), "golden hour", True)
    moment = DayMoment(start - timedelta(minutes=8), ("21:00 CEST",))
    root = parse(draw_day_strip(replace(one, bands=(band,), moment=moment), "wide"))
    assert texts(root).count("golden hour") == 1
    assert not meeting(root)


def test_ordinary_days_have_no_clock_change() -> None:
    root = parse(draw_day_strip(day(), "wide"))
    assert not of_class(root, "clock-change")
    assert "hours in CEST" in texts(root)


# Clock changes: IANA time zone database, European Union rule (last Sundays, 01:00 UTC).
@pytest.mark.parametrize(
    ("on", "hours", "change", "said"),
    [
        (date(2026, 3, 29), 23, at(2026, 3, 29, 1), "hours in CET, clocks go forward to 3:00 CEST"),
        (date(2026, 10, 25), 25, at(2026, 10, 25, 1), "hours in CEST, clocks go back to 2:00 CET"),
    ],
)
def test_a_clock_change_is_seen_and_said(on: date, hours: int, change: object, said: str) -> None:
    one = day(on)
    root = parse(draw_day_strip(one, "wide"))
    assert one.end - one.start == timedelta(hours=hours)
    assert clock_change(one.start, one.end, ZONE) == change
    expected = time_x(root, at(on.year, on.month, on.day, 1).timestamp())
    assert upright_x(of_class(root, "clock-change")[0]) == pytest.approx(expected, abs=0.06)
    assert said in texts(root)


def test_hours_skip_the_gap_and_repeat_the_fold() -> None:
    spring, autumn = day(date(2026, 3, 29)), day(date(2026, 10, 25))
    labels = [[label for _, label in full_hours(d.start, d.end, ZONE, 1)] for d in (spring, autumn)]
    assert labels[0] == [str(hour) for hour in range(24) if hour != 2]
    assert labels[1] == ["0", "1", "2", "2", *map(str, range(3, 24))]


def test_a_zone_without_letters_is_named_by_its_offset() -> None:
    one = day(date(2026, 6, 1), "Asia/Dubai")
    assert zone_words(one.start, one.end, "Asia/Dubai") == ("hours in UTC+04",)


def test_a_day_without_figures_says_so() -> None:
    for empty in (day(face_ev=np.full(97, np.nan)), day(unix_s=np.zeros(0), face_ev=np.zeros(0))):
        assert texts(parse(draw_day_strip(empty, "narrow"))) == ["No light has been worked out for this day."]


def test_a_night_below_the_field_is_cut_off_at_its_edge() -> None:
    one = day()
    root = parse(draw_day_strip(replace(one, face_ev=one.face_ev - 20), "wide"))
    assert "−4" in texts(root)
    assert "−8" not in texts(root)
    assert of_class(root, "face")[0].attrib["clip-path"].startswith("url(#")


@settings(max_examples=25, deadline=None)
@given(
    st.floats(0, 24),
    st.lists(st.floats(-6, 16), min_size=2, max_size=12),
    st.lists(st.floats(0, 1), min_size=2, max_size=10),
    st.floats(-2, 18),
    st.sampled_from(["wide", "narrow"]),
)
def test_words_never_meet_whatever_the_day(
    hour: float, knots: list[float], turns: list[float], limit: float, width: Width
) -> None:
    one = day()
    face = np.interp(np.arange(97), np.linspace(0, 96, len(knots)), knots)
    cuts = sorted({0.0, *turns, 1.0})
    states = [one.start + (one.end - one.start) * share for share in cuts]
    names = list(STATES)
    runs = tuple(StateRun(a, b, names[i % 7]) for i, (a, b) in enumerate(pairwise(states)))
    bands = tuple(LightBand(a, b, "golden hour", True) for a, b in zip(states[::2], states[1::2], strict=False))
    moment = DayMoment(one.start + timedelta(hours=hour), ("16:40 CEST", "face EV 11.2 ± 0.7", "behind EV 11.4 ± 0.8"))
    full = replace(one, face_ev=face, limit_ev=limit, states=runs, bands=bands, moment=moment)
    root = parse(draw_day_strip(full, width))
    assert meeting(root) == []
    assert outside(root) == []
