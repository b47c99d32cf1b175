"""Lights and setups that the tests of whole setups share."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from models.light.battery import BatterySet
from models.light.kit import Camera, Flash, HeatRow, Modifier, Trigger
from models.light.setup import ROLES, Light, Setup

SMALL = Flash("small", "small flash", ((24, 20), (50, 28), (105, 40)), measured=True)
LARGE = Flash(
    "large", "large flash", ((24, 28), (50, 42), (200, 60)), measured=True, heat=(HeatRow(1, 1 / 2, 20, 600),)
)
BOX = Modifier("box", "the box", "box", 2.0, 24, face_m=(0.4, 0.4), weight_kg=0.5)
UMBRELLA = Modifier("umbrella", "the umbrella", "umbrella", 1.5, 35, face_m=(1.0, 1.0), weight_kg=0.6)
GRID = Modifier("grid", "the grid", "grid", 1.0, 50, beam_deg=20.0)
CELLS = BatterySet("aa", "four cells", "rechargeable", 150)
CAMERA = Camera("body", "camera", sync_s=1 / 200, widest_aperture=1.8, smallest_aperture=16)
RADIO = Trigger("radio", "radio", 1 / 200)


def light(**changes: Any) -> Light:
    """The large flash in the box as key, 2 m away, 10 o'clock, unless changed."""
    return Light(**{"role": "key", "flash": LARGE, "modifier": BOX, "axis_deg": 60.0, "battery": CELLS} | changes)


def setup(*lights: Light, **changes: Any) -> Setup:
    return Setup(**{"lights": lights or (light(),), "camera": CAMERA} | changes)


FILL = light(role="fill", flash=SMALL, axis_deg=-20.0, distance_m=2.5)
EDGE = light(role="edge", flash=SMALL, modifier=None, grid=GRID, axis_deg=-150.0, zoom_mm=50.0)
HAIR = light(role="hair", flash=SMALL, modifier=None, axis_deg=170.0, height_m=2.4)
FOUR = (light(), FILL, EDGE, HAIR)

modifiers = st.sampled_from((None, BOX, UMBRELLA, Modifier("plain", "plain dome", "diffuser", 1.5, 24)))
lights = st.builds(
    Light,
    role=st.sampled_from(ROLES),
    flash=st.sampled_from((SMALL, LARGE)),
    distance_m=st.floats(0.9, 5),
    height_m=st.floats(1, 2.3),
    axis_deg=st.floats(-180, 180),
    power=st.integers(0, 21).map(lambda rung: 2 ** (-rung / 3)),
    units=st.integers(1, 3),
    zoom_mm=st.none() | st.floats(20, 200),
    modifier=modifiers,
    grid=st.none() | st.just(GRID),
    battery=st.none() | st.just(CELLS),
    held=st.booleans(),
)
setups = st.builds(
    Setup,
    lights=st.lists(lights, min_size=1, max_size=4).map(tuple),
    camera=st.just(CAMERA),
    trigger=st.sampled_from((None, RADIO, Trigger("slow", "slow radio", 1 / 125))),
)
pairs = st.builds(
    lambda key, fill: setup(key, fill),
    st.builds(light, distance_m=st.floats(0.9, 5), modifier=modifiers, units=st.integers(1, 3)),
    st.builds(light, role=st.just("fill"), flash=st.just(SMALL), distance_m=st.floats(0.9, 5), modifier=modifiers),
)
