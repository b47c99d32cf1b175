"""The map sketch: to scale, north up, its words apart, its tones in it, and small enough to send."""

from __future__ import annotations

import random
import re
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.drawing.map_sketch import ACROSS, CLOSER, MOST_BYTES, MapMark, MapSketch, draw_map_sketch
from models.drawing.on_paper import TEXT, TONES, on_paper
from models.drawing.svg import TEXT_SIZE
from tests.models.drawing.reading import SVG, meeting, numbers, of_class, outside, parse, texts
from tests.models.drawing.samples import HOSTILE, way

STYLESHEET = Path("webapp/static/css/drawings.css")
SPOT, MEET = MapMark("spot", "Spot", (0.0, 0.0)), MapMark("meeting", "Meet", (-120.0, -60.0))
FALLBACK = MapMark("fallback", "Fallback", (90.0, 160.0))
STATIONS = tuple(MapMark("station", name, at) for name, at in (("A", (2.0, 0.0)), ("B", (9.0, 1.0)), ("C", (9.1, 1.0))))
COMFORTS = tuple(MapMark("comfort", name, (x, 30.0)) for name, x in (("Toilets", -80.0), ("Coffee", 40.0)))
WAY = ((-120.0, -60.0), (-10.0, -55.0), (0.0, 0.0))


def sketch(**changes: object) -> MapSketch:
    given: dict[str, object] = {
        "title": "Where Evening in the lane meets and works",
        "desc": "The spot is Foundry Lane. Meet 130 m to the west.",
        "marks": (SPOT, MEET, FALLBACK, *STATIONS, *COMFORTS),
        "way": WAY,
        "onward": ((0.0, 0.0), (90.0, 160.0)),
        "outlines": way().outlines,
        "paths": (((-200.0, -58.0), (200.0, -50.0)), ((0.0, -60.0), (3.0, 200.0))),
    }
    return MapSketch(**(given | changes))  # type: ignore[arg-type]


SKETCHES = {
    "whole": sketch(),
    "spot alone": sketch(marks=(SPOT,), way=(), onward=(), outlines=(), paths=()),
    "all at one point": sketch(marks=(SPOT, replace(MEET, at=(0.0, 0.0)), *STATIONS[:1]), way=(), onward=()),
    "far along the equator": sketch(marks=(SPOT, replace(MEET, at=(18_000.0, 0.0))), way=((18_000.0, 0.0), (0.0, 0.0))),
    "due north": sketch(marks=(SPOT, replace(MEET, at=(0.0, 900.0)), *STATIONS), way=((0.0, 900.0), (0.0, 0.0))),
    "not known, with a note": sketch(known=False, notes=("No meeting point yet: meet at the spot.", "x" * 300)),
    "eight close together": sketch(
        marks=(SPOT, *(MapMark("station", f"Station {k}", (0.2 * k, 0.0)) for k in range(8)), *COMFORTS), way=()
    ),
    "twelve at one point": sketch(marks=tuple(MapMark("comfort", f"Coffee {k}", (1.0 * k, 0.0)) for k in range(12))),
    "hostile": sketch(
        title=HOSTILE, desc=HOSTILE, id_prefix=HOSTILE, notes=(HOSTILE,),
        marks=(SPOT, *(MapMark("station", HOSTILE, (k * 5.0, 0.0)) for k in range(4))),
    ),
    "right to left and 300 letters": sketch(
        marks=(replace(SPOT, label="רחוב הנפח"), replace(MEET, label="x" * 300), replace(FALLBACK, label="📷 🏙️" * 20))
    ),
}  # fmt: skip
every_sketch = pytest.mark.parametrize("name", SKETCHES)


@every_sketch
def test_it_is_well_formed_and_named_for_those_who_do_not_see_it(name):
    root = parse(draw_map_sketch(SKETCHES[name]))
    ids = {element.attrib["id"]: element for element in root.iter() if "id" in element.attrib}
    title, desc = root.attrib["aria-labelledby"].split()
    assert (root.attrib["role"], ids[title].tag, ids[desc].tag) == ("img", f"{SVG}title", f"{SVG}desc")
    assert ids[title].text
    assert ids[desc].text


@every_sketch
def test_nothing_in_it_needs_a_laxer_content_policy(name):
    root = parse(draw_map_sketch(SKETCHES[name]))
    assert not [e for e in root.iter() if "style" in e.attrib or any(key.startswith("on") for key in e.attrib)]
    assert {e.tag.removeprefix(SVG) for e in root.iter()} <= {"svg", "title", "desc", "path", "rect", "circle", "text"}


@every_sketch
def test_no_two_words_meet_and_none_leaves_the_sheet(name):
    root = parse(draw_map_sketch(SKETCHES[name]))
    assert meeting(root) == []
    assert outside(root) == []


@every_sketch
def test_every_mark_has_its_tone_without_a_stylesheet(name):
    for element in parse(draw_map_sketch(SKETCHES[name])).iter():
        if element.tag.removeprefix(SVG) in ("path", "rect", "circle", "text"):
            assert "fill" in element.attrib, element.attrib
            assert element.attrib["fill"] != "none" or "stroke" in element.attrib


def test_its_tones_are_the_light_ones_of_the_stylesheet():
    css = re.sub(r"/\*.*?\*/", "", STYLESHEET.read_text(encoding="utf-8"), flags=re.DOTALL)
    light = dict(re.findall(r"(--d-[\w-]+):[^;]*?light-dark\((#\w+),", css))
    assert said_in(css, "text", light) == TEXT
    for cls, tones in TONES.items():
        assert tones == said_in(css, "text.strong" if cls == "strong" else f".{cls}", light), cls


def said_in(css: str, name: str, light: dict[str, str]) -> dict[str, str]:
    """What the rules for this name say, its light tones put in."""
    found: dict[str, str] = {}
    for selectors, body in re.findall(r"([^{}]+)\{([^{}]*)\}", css):
        if any(each.strip() in (name, f".drawing {name}") for each in selectors.split(",")):
            put_in = re.sub(r"var\((--d-[\w-]+)\)", lambda named: light[named[1]], body)
            plain = re.sub(r"light-dark\((#\w+),[^)]*\)", r"\1", put_in)
            found |= {key.strip(): value.strip() for key, value in (pair.split(":") for pair in plain.split(";"))}
    return found


def test_what_an_element_says_itself_stays():
    assert on_paper('<path class="way" fill="none" stroke="#abc" d="M0 0"/>').count("stroke=") == 1
    assert on_paper('<text class="soft" x="1">a</text>').startswith('<text class="soft" x="1" fill="#474c54"')
    assert on_paper('<g class="unheard-of"><b class="now-down">1</b></g>') == (
        '<g class="unheard-of"><b class="now-down" fill="#16181c">1</b></g>'
    )


def test_letters_are_16_px_on_a_phone_of_375():
    assert TEXT_SIZE * (375 - 32) / ACROSS >= 16
    assert set(re.findall(r'font-size="([^"]+)"', draw_map_sketch(sketch()))) == {f"{TEXT_SIZE:g}"}


def test_to_scale_with_north_up():
    root = parse(draw_map_sketch(sketch(marks=(SPOT, MEET), onward=())))
    spot, meet = (of_class(root, cls)[0].attrib for cls in ("now-down", "now"))
    across, down = float(spot["cx"]) - float(meet["cx"]), float(meet["cy"]) - float(spot["cy"])
    assert across / down == pytest.approx(2, abs=0.02)
    bar = numbers(next(e.attrib["d"] for e in of_class(root, "bracket") if "H" in e.attrib["d"]))
    said = float(next(words for words in texts(root) if words.endswith(" m"))[:-2])
    assert (bar[5] - bar[0]) / said == pytest.approx(across / 120, rel=0.02)
    assert "north" in texts(root)


def test_stations_too_close_together_stand_once_more_larger_and_those_at_one_place_share_a_mark():
    root = parse(draw_map_sketch(sketch()))
    assert CLOSER in texts(root)
    assert {"A", "B, C"} <= set(texts(root))
    assert len(of_class(root, "person")) == 2
    apart = sketch(marks=(SPOT, STATIONS[0], replace(STATIONS[1], at=(90.0, 0.0))))
    assert CLOSER not in draw_map_sketch(apart)
    assert len(of_class(parse(draw_map_sketch(apart)), "person")) == 2


def test_a_way_nobody_recorded_is_broken():
    known, guessed = (parse(draw_map_sketch(sketch(known=known))) for known in (True, False))
    assert of_class(known, "way")
    assert not of_class(known, "way-guessed")
    assert not of_class(guessed, "way")
    assert of_class(guessed, "way-guessed")


def test_a_city_of_houses_stays_small_and_keeps_the_large_ones():
    chance = random.Random(1)  # noqa: S311  the same every time
    houses = [_house(chance.uniform(-250, 250), chance.uniform(-250, 250), chance.uniform(4, 12)) for _ in range(6000)]
    large = _house(-40.0, 40.0, 60.0)
    paths = tuple(tuple((chance.uniform(-250, 250), chance.uniform(-250, 250)) for _ in range(9)) for _ in range(400))
    drawn = draw_map_sketch(sketch(outlines=(*houses, large), paths=paths))
    assert len(drawn.encode()) < MOST_BYTES
    alone = draw_map_sketch(sketch(outlines=(large,), paths=()))
    outline = of_class(parse(alone), "map-house")[0].attrib["d"]
    assert of_class(parse(drawn), "map-house")[0].attrib["d"].startswith(outline)


def test_without_a_place_there_is_nothing_to_draw():
    with pytest.raises(ValueError, match="a place to show"):
        draw_map_sketch(sketch(marks=()))


FAR = st.floats(-2000, 2000).map(lambda metres: round(metres, 1))
MARKS = st.builds(
    MapMark,
    kind=st.sampled_from(["spot", "meeting", "fallback", "station", "comfort"]),
    label=st.sampled_from(["Spot", "Meet", "Fallback", "A", "B", "Toilets", "Coffee", ""]),
    at=st.tuples(FAR, FAR),
)


@given(st.lists(MARKS, min_size=1, max_size=10))
@settings(max_examples=25)
def test_wherever_they_lie_every_mark_and_word_is_on_the_sheet(marks):
    root = parse(draw_map_sketch(sketch(marks=tuple(marks), outlines=(), paths=())))
    height = float(root.attrib["viewBox"].split()[3])
    assert all(0 <= float(e.attrib["cx"]) <= ACROSS for e in root.iter(f"{SVG}circle"))
    assert all(0 <= float(e.attrib["cy"]) <= height for e in root.iter(f"{SVG}circle"))
    assert meeting(root) == []
    assert outside(root) == []


def _house(east_m, north_m, side_m):
    return tuple((east_m + x * side_m, north_m + y * side_m) for x, y in ((0, 0), (1, 0), (1, 1), (0, 1)))
