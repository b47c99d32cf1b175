"""Which way to face them: the eight camera bearings, best first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from models.light.exposure import EvFigure
from models.light.kit import Choice
from models.light.reserve import Binding, reserve
from models.light.view import BEARINGS
from models.sky.sun import SUN_DEG

__all__ = ["BEARINGS", "COUNTED_STOPS", "Facing", "SunPlace", "facing_order", "sun_place"]

COUNTED_STOPS = 2.0
"""Reserve counts up to here; more is equal (common practice, no source)."""

SunPlace = Literal[
    "in the model's eyes", "from the side", "rim from behind", "in the lens", "from high above", "not on the subject"
]

_LIKED: tuple[SunPlace, ...] = (
    "rim from behind",
    "from the side",
    "not on the subject",
    "from high above",
    "in the lens",
    "in the model's eyes",
)
"""Which is tried first where the reserve is the same: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Facing:
    """One camera bearing: the face looks back at the camera, the backdrop lies along the bearing."""

    looking_deg: float
    subject: EvFigure
    behind: EvFigure
    reserve_stops: float
    doubt_stops: float
    binds: Binding
    sun: SunPlace


def facing_order(
    choice: Choice,
    planes: Sequence[EvFigure],
    behind: Sequence[EvFigure],
    *,
    sun_elevation_deg: float,
    sun_azimuth_deg: float,
    sun_reaches: bool,
    between: tuple[float, EvFigure, EvFigure] | None = None,
) -> tuple[Facing, ...]:
    """Eight bearings, best first; reserves within a third of a stop of each other count as equal.

    planes: light on the eight vertical planes by the bearing their normal points to (BEARINGS). behind: what cameras
    looking along BEARINGS see behind the subject. sun_reaches: direct sun falls on the subject. between: one more
    camera bearing with its subject and what is behind.
    """
    places = [(float(looking), planes[(k + 4) % 8], behind[k]) for k, looking in enumerate(BEARINGS)]
    places += [between] if between else []
    found = [_facing(choice, *place, sun_elevation_deg, sun_azimuth_deg, sun_reaches) for place in places]
    return tuple(sorted(found, key=_rank))


def sun_place(looking_deg: float, sun_elevation_deg: float, sun_azimuth_deg: float, sun_reaches: bool) -> SunPlace:
    """Where the sun stands for a camera looking along a bearing and a model looking back at it.

    In the lens: within the window the backdrop is taken over, 20 degrees to each side and up to 25 high. Behind and
    before reach 60 degrees to each side of straight, and above 60 degrees it is overhead: house rules.
    """
    if not sun_reaches or sun_elevation_deg < SUN_DEG:
        return "not on the subject"
    if sun_elevation_deg > 60:
        return "from high above"
    aside = abs((sun_azimuth_deg - looking_deg + 180) % 360 - 180)
    if aside <= 20 and sun_elevation_deg <= 25:
        return "in the lens"
    if aside <= 60:
        return "rim from behind"
    return "from the side" if aside < 120 else "in the model's eyes"


def _facing(
    choice: Choice,
    looking_deg: float,
    subject: EvFigure,
    behind: EvFigure,
    sun_elevation_deg: float,
    sun_azimuth_deg: float,
    sun_reaches: bool,
) -> Facing:
    found = reserve(choice, subject, behind)
    sun = sun_place(looking_deg, sun_elevation_deg, sun_azimuth_deg, sun_reaches)
    return Facing(looking_deg, subject, behind, found.stops, found.doubt_stops, found.binds, sun)


def _rank(facing: Facing) -> tuple[float, int, float, float]:
    counted = min(facing.reserve_stops, COUNTED_STOPS)
    return -round(counted * 3), _LIKED.index(facing.sun), -counted, facing.looking_deg
