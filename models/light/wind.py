"""Wind on a modifier, held or on a stand. Our cautions, no standard; the push and its bounds are those for any face."""

from __future__ import annotations

from collections.abc import Iterable
from math import pi

from models.light.accessories import Stand
from models.light.kit import Modifier
from models.light.setup import Light
from models.street.comfort import UMBRELLA_FACE_M2, WindOnFace, wind_on_face

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


def catches_wind(light: Light) -> bool:
    """Whether it has a face that the wind pushes, or stands by itself."""
    return not light.held or light.stand is not None or not (light.modifier is None or light.modifier.kind == "bare")


def wind_on_lights(lights: Iterable[Light], wind_m_s: float) -> WindOnFace | None:
    """The strictest of what a wind, gusts included, does to the lights of a setup; None where nothing catches it.

    A face whose size is not known counts as an umbrella 1 m across, a head on a stand without one as no face.
    """
    return max(
        (wind_on_face(wind_m_s, _face_m2(light)) for light in lights if catches_wind(light)),
        key=lambda found: found.drag_n,
        default=None,
    )


def _face_m2(light: Light) -> float:
    if light.modifier is None or light.modifier.kind == "bare":
        return 0.0
    known = area_m2(light.modifier)
    return UMBRELLA_FACE_M2 if known is None else known


def bag_kg(stand: Stand, modifier: Modifier, height_m: float, push_n: float) -> float:
    """The weight to hang on a three-legged stand so that a push at that height does not tip it over the side between
    two feet, which lies a quarter of `across_m` from its middle (statics); 0 where it stands by itself."""
    on_it = stand.weight_kg + HEAD_KG + (modifier.weight_kg or 0.0)
    return max(push_n * height_m / (GRAVITY_M_S2 * stand.across_m / 4) - on_it, 0.0)
