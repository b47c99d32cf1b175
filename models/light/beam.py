"""How wide a light falls, what of a person it covers, and how large it looks from there.

A beam of full angle A is 2 d tan(A/2) wide at d metres (plane geometry). A head zoomed to f mm lights what a lens of
that length sees on the full frame, 36 x 24 mm (ISO 1007 for the frame, from memory): 2 atan(side / 2f).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan, degrees, hypot, radians, tan
from typing import Literal

from models.light.accessories import above_zero
from models.problems import InputProblem

FRAME_MM = (36.0, 24.0)
"""Full frame, long and short side: ISO 1007, from memory."""

Side = Literal["long", "short", "diagonal"]
Cover = Literal["less than a head", "head", "half figure", "full figure"]

COVERS_M: tuple[tuple[Cover, float], ...] = (("full figure", 1.9), ("half figure", 1.0), ("head", 0.4))
"""What a beam must measure to cover it, some room left round it: common practice, no source (heads are about 0.25 m
high)."""

BARE_HEAD_M = (0.075, 0.05)
"""The lit face of a hot-shoe flash: common practice, no source."""

AS_BIG_AS: tuple[tuple[str, float], ...] = (
    ("a matchbox", 0.05),
    ("a postcard", 0.15),
    ("a dinner plate", 0.27),
    ("an open newspaper", 0.6),
    ("an umbrella", 1.0),
    ("a window", 1.4),
    ("a door", 2.0),
)
"""Everyday things and their longer side in metres: common knowledge, no source."""


@dataclass(frozen=True, slots=True)
class Beam:
    """Full angles of a beam, and what it measures at the subject. by: what sets it. A zoomed head's is given along both
    sides of the frame, the head lying flat; a grid's is round."""

    wide_deg: float
    tall_deg: float
    wide_m: float
    tall_m: float
    by: Literal["grid", "modifier", "zoom"]
    covers: Cover


@dataclass(frozen=True, slots=True)
class ApparentSize:
    """How large the lit face looks from the subject: the angle its longer side fills, and a thing as big."""

    angle_deg: float
    longer_m: float
    as_big_as: str


def zoom_angle_deg(zoom_mm: float, side: Side = "diagonal") -> float:
    """Full angle that a lens or a head at this zoom takes in, along one side of the full frame or its diagonal."""
    above_zero("zoom_mm", zoom_mm)
    mm = {"long": FRAME_MM[0], "short": FRAME_MM[1], "diagonal": hypot(*FRAME_MM)}[side]
    return degrees(2 * atan(mm / (2 * zoom_mm)))


def beam_diameter_m(angle_deg: float, distance_m: float) -> float:
    """Diameter of a beam of this full angle at a distance."""
    if not 0 < angle_deg < 180:
        raise InputProblem("angle_deg", "give the full angle of the beam, 0 to 180 degrees")
    above_zero("distance_m", distance_m)
    return 2 * distance_m * tan(radians(angle_deg) / 2)


def covers(diameter_m: float) -> Cover:
    """The most of a standing person that a beam of this diameter covers."""
    return next((what for what, least_m in COVERS_M if diameter_m >= least_m), "less than a head")


def beam(
    distance_m: float, *, zoom_mm: float | None, grid_deg: float | None = None, modifier_deg: float | None = None
) -> Beam | None:
    """The beam at a distance: a grid's angle, else the modifier's, else the zoom's, the narrower where several count.

    zoom_mm: None behind a modifier that spreads the light; if its angle is not known either, neither is the beam.
    """
    by: Literal["grid", "modifier", "zoom"] = "zoom"
    wide = tall = 180.0
    if zoom_mm is not None:
        wide, tall = zoom_angle_deg(zoom_mm, "long"), zoom_angle_deg(zoom_mm, "short")
    if modifier_deg is not None and zoom_mm is None:
        by, wide, tall = "modifier", modifier_deg, modifier_deg
    if grid_deg is not None and grid_deg < wide:
        by, wide, tall = "grid", grid_deg, min(grid_deg, tall)
    if wide >= 180:
        return None
    across = beam_diameter_m(wide, distance_m), beam_diameter_m(tall, distance_m)
    return Beam(wide, tall, *across, by, covers(across[1]))


def apparent_size(face_m: tuple[float, float], distance_m: float) -> ApparentSize:
    """How large a lit face (width, height) looks from `distance_m`."""
    above_zero("face_m", *face_m)
    above_zero("distance_m", distance_m)
    longer = max(face_m)
    thing = min(AS_BIG_AS, key=lambda known: max(known[1] / longer, longer / known[1]))[0]
    return ApparentSize(degrees(2 * atan(longer / (2 * distance_m))), longer, thing)
