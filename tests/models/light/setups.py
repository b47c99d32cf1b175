"""Kit and choices that the tests of the flash rules share."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from models.light.exposure import EvFigure, Settings
from models.light.flash import Camera, Choice, Flash, Modifier, Trigger

SMALL = Flash("small", "small flash", ((24, 20.0), (50, 28.0), (105, 40.0)), measured=True)
UNMEASURED = Flash("box", "flash out of its box", SMALL.guide_numbers, measured=False)
CAMERA = Camera("body", "camera", sync_s=1 / 250, widest_aperture=1.8)
BOX = Modifier("box", "a box", "box", 2.0, 24)
GRID = Modifier("grid", "a grid", "grid", 1.0, 50)
SLOW_TRIGGER = Trigger("slow", "slow trigger", 1 / 125)
START_OFF_LADDER = Settings(1 / 90, 6.0, 150)


def choice(**changes: Any) -> Choice:
    """One measured small flash, bare and wide, 2 m away, synced at 1/250 s, unless changed."""
    return Choice(**{"flash": SMALL, "camera": CAMERA} | changes)


evs = st.floats(-6, 18)
choices = st.builds(
    Choice,
    flash=st.sampled_from((SMALL, UNMEASURED)),
    camera=st.sampled_from((CAMERA, Camera("old", "old camera", 1 / 160, 200, 1 / 2000, 3.5, 16))),
    units=st.integers(1, 4),
    zoom_mm=st.none() | st.floats(10, 200),
    modifier=st.sampled_from((None, BOX, GRID)),
    distance_m=st.floats(0.5, 10),
    trigger=st.sampled_from((None, SLOW_TRIGGER)),
    surroundings_under=st.floats(-1, 3),
    face_under=st.floats(-1, 3),
)
figures = st.builds(EvFigure, evs, st.floats(0, 2))
