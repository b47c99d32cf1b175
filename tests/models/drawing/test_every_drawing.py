"""What holds for every drawing, whatever it shows."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from models.drawing.day_strip import DayMoment, DayStrip, LightBand, StateRun, draw_day_strip
from models.drawing.pavement_section import Asked, PavementSection, draw_pavement_section
from models.drawing.plan_parts import PlanLight, PlanPavement, PlanSun, PlanView
from models.drawing.plan_view import draw_plan_view
from models.drawing.scale import BRIGHTNESS, RESERVE, swatch
from models.drawing.skyline_strip import HandPoint, SkylineStrip, SunMoment, draw_skyline_strip
from models.drawing.states import STATES, state_swatch
from models.drawing.svg import TEXT_SIZE, UNITS, Width
from models.drawing.way_sketch import WaySketch, draw_way_sketch
from models.drawing.week_grid import GridCell, WeekGrid, draw_week_grid
from models.drawing.year_map import ClockChange, YearMap, YearMoment, draw_year_map
from models.street.clearance import Pavement
from tests.models.drawing.reading import SVG, meeting, outside, parse
from tests.models.drawing.samples import HOSTILE, day, lane, plan, scale_key, section, way, week, year

STYLESHEET = Path("webapp/static/css/drawings.css")
WIDTHS: tuple[Width, ...] = ("wide", "narrow")

DRAWINGS: dict[str, Callable[[Width], str]] = {
    "skyline": lambda width: draw_skyline_strip(lane(), width),
    "skyline without camera": lambda width: draw_skyline_strip(lane(looking_deg=None), width),
    "skyline, sun down": lambda width: draw_skyline_strip(
        lane(moment=SunMoment(330, -12, "behind", ("23:10",))), width
    ),
    "empty skyline": lambda width: draw_skyline_strip(lane(elevation_deg=np.zeros(0)), width),
    "skyline of open ground": lambda width: draw_skyline_strip(lane(elevation_deg=np.zeros(720)), width),
    "day": lambda width: draw_day_strip(day(), width),
    "spring day of 23 hours": lambda width: draw_day_strip(day(date(2026, 3, 29)), width),
    "autumn day of 25 hours": lambda width: draw_day_strip(day(date(2026, 10, 25)), width),
    "day of half an hour's change": lambda width: draw_day_strip(day(date(2026, 10, 4), "Australia/Lord_Howe"), width),
    "day that begins at one": lambda width: draw_day_strip(day(date(2026, 9, 6), "America/Santiago"), width),
    "empty day": lambda width: draw_day_strip(day(face_ev=np.full(97, np.nan)), width),
    "year of reserve": lambda width: draw_year_map(year(), width),
    "year of brightness": lambda width: draw_year_map(year("ev"), width),
    "empty year": lambda width: draw_year_map(year(values=np.zeros((0, 96))), width),
    "pavement": lambda width: draw_pavement_section(section(), width),
    "pavement all taken": lambda width: draw_pavement_section(section(pavement=Pavement(1.2, 1.6, door_m=0.3)), width),
    "pavement of 30 m": lambda width: draw_pavement_section(section(pavement=Pavement(30, 1.5)), width),
    "pavement of half a metre": lambda width: draw_pavement_section(section(pavement=Pavement(0.5, 0.4)), width),
    "pavement not measured": lambda width: draw_pavement_section(section(pavement=Pavement(0, 0)), width),
    "week": lambda width: draw_week_grid(week(), width),
    "week of one hour": lambda width: draw_week_grid(
        week(cells={(2, 23): GridCell(5, 2, 9, "5", "2–9")}, chosen=None), width
    ),
    "week not counted": lambda width: draw_week_grid(week(cells={}), width),
    "plan": lambda width: draw_plan_view(plan(), width),
    "plan without a spot": lambda width: draw_plan_view(plan(sun=None, pavement=None, figures=()), width),
    "plan with the sun hidden": lambda width: draw_plan_view(plan(sun=PlanSun(-170, "sun hidden, 4° up")), width),
    "plan with nothing left": lambda width: draw_plan_view(
        plan(pavement=PlanPavement(10, 2.8, -1.0, 1.5, "nothing left for walkers")), width
    ),
    "plan of four close together": lambda width: draw_plan_view(
        plan(lights=tuple(replace(plan().lights[0], name=f"key {k}", axis_deg=-40 + 9 * k) for k in range(4))), width
    ),
    "plan thirty metres wide": lambda width: draw_plan_view(
        plan(camera_m=30.0, lights=(replace(plan().lights[1], ground_m=30.0),)), width
    ),
    "way": lambda width: draw_way_sketch(way(), width),
    "way not known": lambda width: draw_way_sketch(way(way=((0, 0), (12, 3)), known=False), width),
    "way due north": lambda width: draw_way_sketch(way(way=((0, 0), (0, 900)), start="x" * 90, goal="y" * 90), width),
    "way due east": lambda width: draw_way_sketch(way(way=((0, 0), (15_000, 0)), outlines=()), width),
    "way of a metre": lambda width: draw_way_sketch(way(way=((0, 0), (0.6, 0.8))), width),
    "no way": lambda width: draw_way_sketch(way(way=()), width),
    "brightness key": lambda width: scale_key(BRIGHTNESS, width),
    "reserve key": lambda width: scale_key(RESERVE, width),
}
every_drawing = pytest.mark.parametrize("name", DRAWINGS)
both_widths = pytest.mark.parametrize("width", WIDTHS)


@every_drawing
@both_widths
def test_it_is_well_formed_and_named_for_those_who_do_not_see_it(name: str, width: Width) -> None:
    root = parse(DRAWINGS[name](width))
    ids = {element.attrib["id"]: element for element in root.iter() if "id" in element.attrib}
    named = root.attrib["aria-labelledby"].split()
    assert root.attrib["role"] == "img"
    assert ids[named[0]].tag == f"{SVG}title"
    assert all(ids[one].text for one in named)


@every_drawing
@both_widths
def test_nothing_in_it_needs_a_laxer_content_policy(name: str, width: Width) -> None:
    root = parse(DRAWINGS[name](width))
    assert not [e for e in root.iter() if "style" in e.attrib or any(key.startswith("on") for key in e.attrib)]
    assert not [e.tag for e in root.iter() if e.tag in (f"{SVG}style", f"{SVG}script", f"{SVG}foreignObject")]
    links = [value for e in root.iter() for key, value in e.attrib.items() if key.endswith("href")]
    assert all(link.startswith("data:image/png;base64,") for link in links)


@every_drawing
@both_widths
def test_no_two_words_meet_and_none_leaves_the_sheet(name: str, width: Width) -> None:
    root = parse(DRAWINGS[name](width))
    assert meeting(root) == []
    assert outside(root) == []


@every_drawing
@both_widths
def test_ids_are_its_own_and_all_references_lead_somewhere(name: str, width: Width) -> None:
    drawing = DRAWINGS[name](width)
    ids = re.findall(r' id="([^"]+)"', drawing)
    assert len(ids) == len(set(ids))
    assert set(re.findall(r"url\(#([^)]+)\)", drawing)) <= set(ids)
    other = DRAWINGS[name]("wide" if width == "narrow" else "narrow")
    assert not set(ids) & set(re.findall(r' id="([^"]+)"', other))


@both_widths
def test_text_is_12_px_at_least_on_the_narrowest_page_that_shows_the_drawing(width: Width) -> None:
    """A 375 px phone with 16 px margins; a 960 px page (60em, where the stylesheet changes over) with 4 % margins."""
    shown_px = {"narrow": 375 - 32, "wide": 960 * 0.92}[width]
    assert TEXT_SIZE * shown_px / UNITS[width] >= 12
    sizes = re.findall(r'font-size="([^"]+)"', "".join(draw(width) for draw in DRAWINGS.values()))
    assert {float(size) for size in sizes} == {TEXT_SIZE}


@pytest.mark.parametrize(
    "draw",
    [
        draw_skyline_strip,
        draw_day_strip,
        draw_year_map,
        draw_pavement_section,
        draw_week_grid,
        draw_plan_view,
        draw_way_sketch,
    ],
)
@both_widths
def test_hostile_names_stay_text(draw: Callable[[object, Width], str], width: Width) -> None:
    drawing = draw(_hostile()[draw], width)
    root = parse(drawing)
    assert "<script" not in drawing
    assert not [e for e in root.iter() if e.tag.endswith("script")]
    assert any("<script>alert(1)</script>" in (e.text or "") for e in root.iter())
    assert meeting(root) == []


def test_hostile_words_stay_text_in_swatches_too() -> None:
    for drawing in (state_swatch("sun", HOSTILE), swatch(RESERVE, 1.0, HOSTILE), swatch(RESERVE, None, HOSTILE)):
        root = parse(drawing)
        assert "<script>alert(1)</script>" in root.attrib["aria-label"]
        assert not [e for e in root.iter() if e.tag.endswith("script")]


def test_every_class_drawn_has_a_tone_in_the_stylesheet() -> None:
    """A class that the stylesheet forgets would be drawn black on black after dusk."""
    pieces = [draw(width) for draw in DRAWINGS.values() for width in WIDTHS]
    pieces += [state_swatch(state) for state in STATES] + [swatch(BRIGHTNESS, v, "x") for v in (3.0, None)]
    used = {cls for names in re.findall(r'class="([^"]+)"', "".join(pieces)) for cls in names.split()}
    styled = set(re.findall(r"\.([a-z][a-z-]*)", STYLESHEET.read_text(encoding="utf-8")))
    structure = {"soft", "point"}  # soft is the tone of all text that has no other; point is only a group
    assert used - styled - structure == set()


def _hostile() -> dict[
    Callable[..., str], SkylineStrip | DayStrip | YearMap | PavementSection | WeekGrid | PlanView | WaySketch
]:
    one_day = day()
    states = tuple(replace(run, words=HOSTILE) for run in one_day.states)
    assert one_day.moment is not None
    return {
        draw_skyline_strip: lane(
            title=HOSTILE, desc=HOSTILE, moment=SunMoment(200, 30, "open", (HOSTILE, HOSTILE)),
            points=(HandPoint(10, 10, HOSTILE),), id_prefix=HOSTILE,
        ),
        draw_day_strip: day(
            title=HOSTILE, desc=HOSTILE, behind_words=HOSTILE, face_words=HOSTILE, limit_words=HOSTILE, states=states,
            bands=(LightBand(one_day.start, one_day.end, HOSTILE, True),), id_prefix=HOSTILE,
            moment=DayMoment(one_day.moment.instant, (HOSTILE, HOSTILE)),
        ),
        draw_year_map: year(
            title=HOSTILE, desc=HOSTILE, zone_words=HOSTILE, clock_changes=(ClockChange(87, HOSTILE),),
            moment=YearMoment(10, 4.0, (HOSTILE,)), id_prefix=HOSTILE,
        ),
        draw_pavement_section: section(
            title=HOSTILE, desc=HOSTILE, figures=(HOSTILE,), asked=(Asked(2.0, (HOSTILE, HOSTILE)),), id_prefix=HOSTILE,
        ),
        draw_week_grid: week(
            title=HOSTILE, desc=HOSTILE, columns=(HOSTILE, HOSTILE), figures=(HOSTILE,), unit=HOSTILE,
            cells={(0, 9): GridCell(1, 0, 2, HOSTILE, HOSTILE)}, id_prefix=HOSTILE,
        ),
        draw_plan_view: plan(
            title=HOSTILE, desc=HOSTILE, camera_words=HOSTILE, figures=(HOSTILE,), notes=(HOSTILE,), id_prefix=HOSTILE,
            lights=(PlanLight(HOSTILE, HOSTILE, HOSTILE, -45, 1.5, 20.0, 0.4, True),),
            sun=PlanSun(9, HOSTILE, 2, HOSTILE), pavement=PlanPavement(90, 2, 2, 1, HOSTILE),
        ),
        draw_way_sketch: way(title=HOSTILE, desc=HOSTILE, start=HOSTILE, goal=HOSTILE, id_prefix=HOSTILE),
    }  # fmt: skip


def test_a_run_of_one_state_is_a_whole_drawing_too() -> None:
    """Polar night: one state from end to end, no golden or blue hour."""
    whole = day(date(2026, 12, 21), "Europe/Oslo", bands=())
    dark = replace(whole, states=(StateRun(whole.start, whole.end, "dark"),))
    root = parse(draw_day_strip(dark, "wide"))
    assert len([e for e in root.iter() if e.get("class") == "tone-dark"]) == 2  # the strip and its key
