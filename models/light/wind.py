"""Wind on a modifier: the push on its face, what a person holds and what a stand bears. Our cautions, no standard.

Push F = 1/2 rho Cd A v^2 (fluid mechanics textbooks), with rho 1.225 kg/m3 at sea level and 15 C (ISO 2533) and Cd 1.4
for a cup, 1.2 for a plate (textbook values, from memory).
"""

from __future__ import annotations

from math import pi

from models.light.accessories import Stand
from models.light.kit import Modifier
from models.problems import InputProblem

AIR_KG_M3 = 1.225
CUP_DRAG, PLATE_DRAG = 1.4, 1.2
GRAVITY_M_S2 = 9.80665
"""Standard gravity: ISO 80000-3."""

HELD_N = 25.0
"""More than this on the end of a pole one person cannot hold still for a turn: our caution, no source."""

JUDGED_FROM_M_S = 5.5
"""Beaufort 4: from here on umbrellas are held or taken down; common practice, from memory."""

STANDS_DOWN_M_S = 10.8
"""Beaufort 6: from here on no stands; common practice, from memory."""

HEAD_KG = 0.7
"""Head, cells and bracket on top of a stand: common practice, no source."""


def area_m2(modifier: Modifier) -> float | None:
    """Of the face: an ellipse for umbrellas, else a rectangle; None where its size is not known."""
    if modifier.face_m is None:
        return None
    width, height = modifier.face_m
    return width * height * (pi / 4 if modifier.kind == "umbrella" else 1.0)


def push_n(area_m2: float, wind_m_s: float, drag: float) -> float:
    """Force of a wind (gusts included) square on to a face, newtons."""
    if not 0 <= wind_m_s < 100:
        raise InputProblem("wind_m_s", "give metres a second, gusts included")
    return 0.5 * AIR_KG_M3 * drag * area_m2 * wind_m_s**2


def push_on_n(modifier: Modifier, wind_m_s: float) -> float | None:
    """The push on a modifier, None where the size of its face is not known."""
    area = area_m2(modifier)
    drag = CUP_DRAG if modifier.kind == "umbrella" else PLATE_DRAG
    return None if area is None else push_n(area, wind_m_s, drag)


def hold_n(modifier: Modifier, wind_m_s: float) -> float | None:
    """What the hands hold at the end of the pole: push and weight together, square on each other."""
    push = push_on_n(modifier, wind_m_s)
    if push is None:
        return None
    weight = (HEAD_KG + (modifier.weight_kg or 0.0)) * GRAVITY_M_S2
    return float((push**2 + weight**2) ** 0.5)


def bag_kg(stand: Stand, modifier: Modifier, height_m: float, wind_m_s: float) -> float | None:
    """The weight to hang on a three-legged stand so that the push does not tip it over the side between two feet, which
    lies a quarter of `across_m` from its middle; 0 where it stands by itself, None where the face is not known."""
    push = push_on_n(modifier, wind_m_s)
    if push is None:
        return None
    on_it = stand.weight_kg + HEAD_KG + (modifier.weight_kg or 0.0)
    return max(push * height_m / (GRAVITY_M_S2 * stand.across_m / 4) - on_it, 0.0)
