"""Wind on a modifier, held or on a stand. Our cautions, no standard; the push and its bounds are those for any face."""

from __future__ import annotations

from math import pi

from models.light.accessories import Stand
from models.light.kit import Modifier
from models.street.comfort import WindOnFace, wind_on_face

GRAVITY_M_S2 = 9.80665
"""Standard gravity: ISO 80000-3."""

HEAD_KG = 0.7
"""Head, cells and bracket on top of a stand: common practice, no source."""


def area_m2(modifier: Modifier) -> float | None:
    """Of the face: an ellipse for umbrellas, else a rectangle; None where its size is not known."""
    if modifier.face_m is None:
        return None
    width, height = modifier.face_m
    return width * height * (pi / 4 if modifier.kind == "umbrella" else 1.0)


def wind_on(modifier: Modifier, wind_m_s: float) -> WindOnFace | None:
    """What a wind, gusts included, does to a modifier; None where the size of its face is not known."""
    area = area_m2(modifier)
    return None if area is None else wind_on_face(wind_m_s, area)


def bag_kg(stand: Stand, modifier: Modifier, height_m: float, push_n: float) -> float:
    """The weight to hang on a three-legged stand so that a push at that height does not tip it over the side between
    two feet, which lies a quarter of `across_m` from its middle (statics); 0 where it stands by itself."""
    on_it = stand.weight_kg + HEAD_KG + (modifier.weight_kg or 0.0)
    return max(push_n * height_m / (GRAVITY_M_S2 * stand.across_m / 4) - on_it, 0.0)
