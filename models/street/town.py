"""A town as it is read and kept: outlines in degrees, heights in metres above the street.

Points are (longitude_deg, latitude_deg), the order of GeoJSON. `exchange` fills these, `store` keeps them.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import cos, radians

from models.street.scene import HeightSource

LonLat = tuple[float, float]
METRES_PER_DEGREE = 110_574.0
"""Length of a degree of latitude at the equator, where it is shortest (WGS84), so that a reach is never cut short."""


@dataclass(frozen=True, slots=True)
class Box:
    """Part of the map, degrees. West greater than east means that it crosses 180 degrees."""

    south: float
    west: float
    north: float
    east: float

    def meets(self, filled: Box) -> bool:
        """Whether they share a point; `filled` does not cross 180 degrees, this one may."""
        join = all if self.west <= self.east else any
        aside = (filled.west <= self.east, filled.east >= self.west)
        return filled.south <= self.north and filled.north >= self.south and join(aside)


def box_of(points: Iterable[LonLat]) -> Box:
    """The smallest box round some points that lie on one side of 180 degrees."""
    longitudes, latitudes = zip(*points, strict=True)
    return Box(min(latitudes), min(longitudes), max(latitudes), max(longitudes))


def box_round(latitude_deg: float, longitude_deg: float, radius_m: float) -> Box:
    """The box that holds everything within radius_m of a point, and a little more."""
    up = radius_m / METRES_PER_DEGREE
    south, north = max(-90.0, latitude_deg - up), min(90.0, latitude_deg + up)
    across = up / max(1e-9, cos(radians(max(abs(south), abs(north)))))
    if across >= 180.0:
        return Box(south, -180.0, north, 180.0)
    west, east = longitude_deg - across, longitude_deg + across
    return Box(south, west + 360.0 if west < -180.0 else west, north, east - 360.0 if east > 180.0 else east)


@dataclass(frozen=True, slots=True)
class BuildingDraft:
    """A prism: rings of (longitude_deg, latitude_deg), the first the outline, the rest courtyards; unclosed."""

    rings: tuple[tuple[LonLat, ...], ...]
    top_m: float
    bottom_m: float = 0.0
    height_source: HeightSource = "surveyed"
    doubt_m: float = 0.5
    name: str = ""


@dataclass(frozen=True, slots=True)
class TreeDraft:
    latitude_deg: float
    longitude_deg: float
    height_m: float
    crown_radius_m: float
    assumed: bool = False


@dataclass(frozen=True, slots=True)
class FootwayDraft:
    """A way to walk: a line of (longitude_deg, latitude_deg); None where nothing is recorded."""

    line: tuple[LonLat, ...]
    width_m: float | None = None
    surface: str | None = None
    lit: bool | None = None
    kind: str = "footway"


@dataclass(frozen=True, slots=True)
class LampDraft:
    latitude_deg: float
    longitude_deg: float


@dataclass(frozen=True, slots=True)
class HintDraft:
    """Something that brings people by, of a kind of footfall's HINTS, a note for who counts and never a rate; or a
    place of a kind of COMFORTS."""

    latitude_deg: float
    longitude_deg: float
    kind: str
    name: str = ""


@dataclass(frozen=True, slots=True)
class TownDraft:
    """All that one import brings. attribution: what the data's licence asks to be shown."""

    buildings: tuple[BuildingDraft, ...] = ()
    trees: tuple[TreeDraft, ...] = ()
    footways: tuple[FootwayDraft, ...] = ()
    lamps: tuple[LampDraft, ...] = ()
    attribution: str = ""
    hints: tuple[HintDraft, ...] = ()
