"""Which EV: the plane that faces the camera, and what the camera sees behind it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from models.light.subject import LightSeries
from models.units import ev100_from_illuminance, ev100_from_luminance

Floats = NDArray[np.float64]
VERTICALS = 8


def face_ev(light: LightSeries, looking_deg: float | None) -> Floats:
    """(n,) EV100 of incident light on the face that looks back at the camera.

    None: the brightest of the eight vertical planes. Between two of the eight the illuminance goes in a straight line.
    """
    planes = light.illuminance_lx[:, :VERTICALS]
    if looking_deg is None:
        return ev100_from_illuminance(planes.max(axis=1))
    place = ((looking_deg + 180.0) % 360.0) / (360.0 / VERTICALS)
    low, share = int(place) % VERTICALS, place % 1.0
    return ev100_from_illuminance(planes[:, low] * (1 - share) + planes[:, (low + 1) % VERTICALS] * share)


def behind_ev(light: LightSeries, looking_deg: float) -> Floats:
    """(n,) EV100 of the mean luminance behind the subject for a camera bearing that the series was made for."""
    return ev100_from_luminance(light.backdrop_cd_m2[:, light.looking_deg.index(looking_deg)])
