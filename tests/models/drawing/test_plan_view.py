"""The plan: to scale, everything named, the sun's shadow away from the sun, the beam as wide as its angle says."""

from __future__ import annotations

from dataclasses import replace
from math import hypot, radians, tan

import pytest

from models.drawing.lettering import Place, text_box
from models.drawing.plan_parts import MODEL_M, PlanLight, PlanSun, at, towards
from models.drawing.plan_view import draw_plan_view
from models.drawing.svg import Width
from models.light.placing import position_m
from tests.models.drawing.reading import SVG, numbers, of_class, parse, texts
from tests.models.drawing.samples import plan

WIDTHS: tuple[Width, ...] = ("wide", "narrow")


def circle(root, words):
    return next(e for e in of_class(root, "person") if (t := e.find(f"{SVG}title")) is not None and words in t.text)


def middle(element):
    return float(element.attrib["cx"]), float(element.attrib["cy"])


@pytest.mark.parametrize("width", WIDTHS)
def test_the_camera_lies_as_far_below_the_model_as_it_stands_from_it(width: Width) -> None:
    root = parse(draw_plan_view(plan(camera_m=3.0), width))
    model, camera = circle(root, "model"), circle(root, "camera")
    scale = float(model.attrib["r"]) / MODEL_M
    (x, y), (camera_x, camera_y) = middle(model), middle(camera)
    assert camera_x == pytest.approx(x, abs=0.2)
    assert (camera_y - y) / scale == pytest.approx(3.0, rel=0.01)


@pytest.mark.parametrize("axis_deg", [-135, -45, 0, 30, 90, 180])
def test_lights_stand_where_the_compass_puts_them(axis_deg: float) -> None:
    """Against the metres east and north of models.light.placing, the camera looking north."""
    assert at(axis_deg, 2.0) == pytest.approx(position_m(axis_deg, 2.0, 0.0), abs=1e-9)


def test_a_beam_is_as_wide_as_its_angle_says() -> None:
    """Plane geometry: the far side of a beam of 20 degrees lies 2 d tan(10 deg) apart, the face's width added."""
    edge = replace(plan().lights[2], beam_deg=20.0, face_m=0.1, ground_m=2.0)
    root = parse(draw_plan_view(plan(lights=(edge,)), "wide"))
    scale = float(circle(root, "model").attrib["r"]) / MODEL_M
    ring = numbers(of_class(root, "beam")[0].attrib["d"])
    far = hypot(ring[2] - ring[4], ring[3] - ring[5]) / scale
    assert far == pytest.approx(2 * 2.5 * tan(radians(10)) + 0.1, rel=0.02)


def test_a_beam_that_is_not_known_is_only_aimed() -> None:
    root = parse(draw_plan_view(plan(lights=plan().lights[:1]), "wide"))
    assert of_class(root, "beam") == []
    assert len(of_class(root, "aim")) == 1


@pytest.mark.parametrize("bearing_deg", [0, 80, -120])
def test_the_shadow_points_away_from_the_sun(bearing_deg: float) -> None:
    sun = PlanSun(bearing_deg, "sun", 2.0, "shadow, 2.0 m")
    root = parse(draw_plan_view(plan(sun=sun, pavement=None), "wide"))
    model = middle(circle(root, "model"))
    scale = float(circle(root, "model").attrib["r"]) / MODEL_M
    ring = numbers(of_class(root, "cast")[0].attrib["d"])
    tip = ((ring[2] + ring[4]) / 2, (ring[3] + ring[5]) / 2)
    right, up = towards(bearing_deg + 180, 2.0)
    assert tip == pytest.approx((model[0] + right * scale, model[1] - up * scale), abs=1.0)


@pytest.mark.parametrize("width", WIDTHS)
def test_everything_has_its_words(width: Width) -> None:
    said = texts(parse(draw_plan_view(plan(), width)))
    for words in ("model", "camera", "key", "fill", "edge", "sun", "shadow", "wall", "kerb", "left for walkers"):
        assert any(words in text for text in said), words
    assert [text for text in said if text.startswith("edge:")]


def test_no_sun_no_arrow_and_no_spot_no_kerb() -> None:
    root = parse(draw_plan_view(plan(sun=None, pavement=None), "wide"))
    assert not of_class(root, "sun-arrow")
    assert not of_class(root, "cast")
    assert "kerb" not in texts(root)


@pytest.mark.parametrize("axis_deg", [20, 25, 28, 35])
@pytest.mark.parametrize("width", WIDTHS)
def test_a_name_stands_nearer_to_its_own_light_than_to_any_other(width: Width, axis_deg: float) -> None:
    """Key and fill before the model, a little apart: a long name of one would reach the other."""
    lights = tuple(
        PlanLight(name, f"{name}, {where}, 2 1/2 paces", f"{name}: {where}", side * axis_deg, 1.9, None, 0.4, True)
        for name, where, side in (("key", "1 o'clock", -1), ("fill", "11 o'clock", 1))
    )
    root = parse(draw_plan_view(plan(lights=lights, pavement=None, sun=None), width))
    holders = [middle(e) for e in of_class(root, "person") if (t := e.find(f"{SVG}title")) is not None
               and t.text == "holder"]  # fmt: skip
    for own, other, name in ((0, 1, "key"), (1, 0, "fill")):
        (text,) = [e for e in root.iter(f"{SVG}text") if (e.text or "").split(",")[0] == name]
        place = Place(float(text.attrib["x"]), float(text.attrib["y"]), text.attrib.get("text-anchor", "start"))
        box = text_box(text.text, place, bold=True)
        far = [hypot(max(box.left - x, x - box.right, 0), max(box.top - y, y - box.bottom, 0)) for x, y in holders]
        assert far[own] + 5 < far[other], (text.text, far)


@pytest.mark.parametrize("bearing_deg", range(-150, 180, 30))
@pytest.mark.parametrize("width", WIDTHS)
def test_no_words_lie_under_the_arrow_of_the_sun(width: Width, bearing_deg: float) -> None:
    root = parse(draw_plan_view(plan(sun=PlanSun(bearing_deg, "sun, from there", 2.0, "shadow, 2.0 m")), width))
    x, y, tip_x, tip_y = numbers(of_class(root, "sun-arrow")[0].attrib["d"])
    bottom = max(float(e.attrib["y"]) + float(e.attrib["height"]) for e in of_class(root, "edge"))
    top = min(float(e.attrib["y"]) for e in of_class(root, "edge"))
    for text in root.iter(f"{SVG}text"):
        if not top < float(text.attrib["y"]) < bottom:
            continue
        place = Place(float(text.attrib["x"]), float(text.attrib["y"]), text.attrib.get("text-anchor", "start"))
        box = text_box(text.text, place, bold=text.attrib.get("font-weight") is not None)
        for step in range(41):
            at_x, at_y = x + (tip_x - x) * step / 40, y + (tip_y - y) * step / 40
            assert not (box.left < at_x < box.right and box.top < at_y < box.bottom), text.text


@pytest.mark.parametrize("wall_deg", [-92.0, 30.0, 90.0, 150.0])
@pytest.mark.parametrize("width", WIDTHS)
def test_the_bracket_of_what_is_left_begins_on_the_sheet(width: Width, wall_deg: float) -> None:
    pavement = replace(plan().pavement, wall_deg=wall_deg)
    root = parse(draw_plan_view(plan(pavement=pavement, lights=plan().lights[:1]), width))
    frame = next(e for e in of_class(root, "edge") if e.tag == f"{SVG}rect")
    left, top, wide, tall = (float(frame.attrib[name]) for name in ("x", "y", "width", "height"))
    x, y = numbers(next(e for e in of_class(root, "bracket") if "clip-path" in e.attrib).attrib["d"])[:2]
    assert left < x < left + wide
    assert top < y < top + tall
