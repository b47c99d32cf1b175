"""Which EV: the plane that faces the camera, what the camera sees behind it, and whether the sun gets there."""

from __future__ import annotations

from math import pi

import numpy as np
from numpy.typing import NDArray

from models.light.subject import PARTS, LightSeries
from models.light.transport import UP
from models.planning.light import Series, SpotLight
from models.planning.spot_answers import BackdropPart
from models.units import ev100_from_illuminance, ev100_from_luminance

Floats = NDArray[np.float64]
SUNLIT_WALL = PARTS.index("sunlit wall")
HALF = 0.5
SUNLIT_SHARE = 0.05
"""Sun behind the subject counts from this share of the view on: our planning rule, no source."""

SKY_SEEN = 0.05
"""Blue light reaches a spot that gets at least this share of the open sky's: our planning rule, no source."""


def face_ev(light: LightSeries, looking_deg: float | None) -> Floats:
    """(n,) EV100 of incident light on the face that looks back at the camera.

    None: the brightest of the eight vertical planes. Between two of the eight the illuminance goes in a straight line.
    """
    planes = light.illuminance_lx[:, :UP]
    if looking_deg is None:
        return ev100_from_illuminance(planes.max(axis=1))
    place = ((looking_deg + 180.0) % 360.0) / (360.0 / UP)
    low, share = int(place) % UP, place % 1.0
    return ev100_from_illuminance(planes[:, low] * (1 - share) + planes[:, (low + 1) % UP] * share)


def behind_ev(light: LightSeries, looking_deg: float) -> Floats:
    """(n,) EV100 of the mean luminance behind the subject for a camera bearing that the series was made for."""
    behind = light.backdrop_cd_m2[:, light.looking_deg.index(looking_deg)]
    return ev100_from_luminance(np.asarray(behind, np.float64))


def sun_arrives(series: Series) -> NDArray[np.bool_]:
    """(n,) whether direct sun falls on the subject, or on a wall behind it for a bearing of the series."""
    behind = series.light.part_share[:, :, SUNLIT_WALL].max(axis=1, initial=0.0)
    return np.asarray((series.sun.transmittance > HALF) | (behind > SUNLIT_SHARE))


def blue_reaches(light: SpotLight, month: int) -> bool:
    """Whether the sky itself lights this spot, lamps left out: level ground gets its share of an even sky."""
    fixed = light.fixed(in_leaf=month in light.leaf_months)
    return float(fixed.sky[UP].sum()) / pi > SKY_SEEN


def behind_parts(light: LightSeries, looking_deg: float) -> tuple[BackdropPart, ...]:
    """What is behind the subject at the first instant of the series, the largest part first."""
    parts = light.parts(0, looking_deg).items()
    found = [BackdropPart(what, part.share, float(ev100_from_luminance(part.luminance_cd_m2))) for what, part in parts]
    return tuple(sorted(found, key=lambda part: -part.share))
