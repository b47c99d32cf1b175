"""One instant of the light on a subject, all eight bearings of it."""

from __future__ import annotations

from dataclasses import dataclass

from models.light.subject import Floats, Part, light_over
from models.light.transport import BEARINGS, Coefficients
from models.sky.daylight import OpenSky


@dataclass(frozen=True, slots=True, eq=False)
class Light:
    """Light at one instant. illuminance_lx: (9,). backdrop_cd_m2: (8,) and parts for cameras looking along BEARINGS."""

    illuminance_lx: Floats
    backdrop_cd_m2: Floats
    parts: tuple[dict[str, Part], ...]


def light_at(
    fixed: Coefficients,
    sun_elevation_deg: float,
    sun_azimuth_deg: float,
    sky: OpenSky,
    oktas: float = 0.0,
    direct_transmittance: float | None = None,
    lamps_lx: float = 0.0,
) -> Light:
    """Light at one instant: a series of one."""
    through = None if direct_transmittance is None else [direct_transmittance]
    one = light_over(fixed, [sun_elevation_deg], [sun_azimuth_deg], sky, oktas, through, lamps_lx)
    parts = tuple(one.parts(0, bearing) for bearing in BEARINGS)
    return Light(one.illuminance_lx[0], one.backdrop_cd_m2[0], parts)
