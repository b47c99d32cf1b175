"""What the subject sees: rays in every direction, closer together where a camera's backdrop lies.

        elevation 90 ____________________
                     .   .   .   .   .      rows of a column lie a little apart from those of the
                       .   .   .   .   .    columns beside it, so that edges are met at many places
                  25 ____________________
                     . . . . . . . . .      the backdrop: -5 to 25 degrees
                  -5 ____________________
                     .   .   .   .   .
                 -90

A strip is 5 degrees of the backdrop; any camera's view past the subject is made of strips.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np
from numpy.typing import NDArray

from models.light.rays import SKY, Surfaces, cast
from models.sky.dome import unit_vectors

Floats = NDArray[np.floating]
Ints = NDArray[np.intp]

STRIPS: Final = 72
STRIP_DEG: Final = 360.0 / STRIPS
COLUMNS_IN_STRIP: Final = (6, 2)  # where the distance changes much, and elsewhere
GLANCES: Final = 4  # looks at the distance in each strip, at each of these elevations
GLANCE_DEG: Final = (0.0, 15.0, 35.0)
UNEVEN: Final = 1.4
FAR_M: Final = 300.0
BACKDROP_DEG: Final = (-5.0, 25.0)
ROWS: Final = {"below": 6, "backdrop": 5, "above": 12}
WALL, GROUND, OPEN = range(3)  # what a strip is made of; ground is all that lies level


@dataclass(frozen=True, eq=False)
class View:
    """One entry for each ray, r in all.

    azimuth_deg, elevation_deg, solid_angle_sr: (r,). surface: (r,) number of the surface met, SKY for none.
    point_m: (r, 3) where; of no meaning for SKY. strip_weight: (r,) share of its strip, 0 outside the backdrop.
    level: (r,) bool, whether the surface lies level.
    """

    azimuth_deg: Floats
    elevation_deg: Floats
    solid_angle_sr: Floats
    surface: Ints
    point_m: Floats
    strip_weight: Floats
    level: NDArray[np.bool_]

    @cached_property
    def direction(self) -> Floats:
        """(r, 3) unit vectors."""
        return unit_vectors(self.azimuth_deg, self.elevation_deg)

    @property
    def strip(self) -> Ints:
        """(r,) strip that each ray's bearing belongs to."""
        return (self.azimuth_deg / STRIP_DEG).astype(np.intp)

    @property
    def made_of(self) -> Ints:
        """(r,) WALL, GROUND or OPEN."""
        return np.where(self.surface == SKY, OPEN, np.where(self.level, GROUND, WALL))


def look_round(surfaces: Surfaces, eye_m: Floats) -> View:
    """What an eye (3,) sees of the surfaces round it."""
    azimuth, width = _columns(surfaces, eye_m)
    edges = _row_edges()
    within = np.where(np.arange(len(azimuth)) % 2, 0.25, 0.75)[:, None]
    elevation = edges[:-1] + within * np.diff(edges)
    slope = np.tan(np.radians(elevation))
    heading = unit_vectors(azimuth, 0.0)[:, :2]
    everywhere = np.ones((1, len(azimuth)), bool)
    surface, distance = (found[0] for found in cast(surfaces, eye_m[None], heading, slope[None], everywhere))
    distance = np.where(np.isfinite(distance), distance, 0.0)
    plan = eye_m[:2] + distance[..., None] * heading[:, None]
    point = np.concatenate([plan, (eye_m[2] + distance * slope)[..., None]], axis=2)
    solid_angle = np.diff(np.sin(np.radians(edges))) * np.radians(width)[:, None]
    low, high = BACKDROP_DEG
    behind = (edges[:-1] > low - 1e-6) & (edges[1:] < high + 1e-6)
    weight = np.where(behind, solid_angle, 0.0) / (np.diff(np.sin(np.radians(BACKDROP_DEG))) * np.radians(STRIP_DEG))
    return View(
        np.repeat(azimuth, slope.shape[1]),
        elevation.ravel(),
        solid_angle.ravel(),
        surface.ravel().astype(np.intp),
        point.reshape(-1, 3),
        weight.ravel(),
        np.abs(surfaces.normal[surface, 2]).ravel() > 0.5,
    )


def _columns(surfaces: Surfaces, eye_m: Floats) -> tuple[Floats, Floats]:
    """Bearing and width in degrees of each column: more of them in strips where the distance changes much."""
    bearing = np.arange(STRIPS * GLANCES) * (STRIP_DEG / GLANCES)
    slope = np.broadcast_to(np.tan(np.radians(GLANCE_DEG)), (1, len(bearing), len(GLANCE_DEG)))
    all_round = np.ones((1, len(bearing)), bool)
    _, distance = cast(surfaces, eye_m[None], unit_vectors(bearing, 0.0)[:, :2], slope, all_round)
    distance = np.minimum(distance[0], FAR_M).reshape(STRIPS, GLANCES, -1)
    distance = np.concatenate([distance, np.roll(distance[:, :1], -1, axis=0)], axis=1)
    uneven = (distance.max(axis=1) > UNEVEN * distance.min(axis=1)).any(axis=1)
    count = np.where(uneven, *COLUMNS_IN_STRIP)
    strip = np.repeat(np.arange(STRIPS), count)
    width = STRIP_DEG / count[strip]
    turn = np.arange(len(strip)) - np.repeat(np.cumsum(count) - count, count)
    return strip * STRIP_DEG + (turn + 0.5) * width, width


def _row_edges() -> Floats:
    """Elevations between rows; in the backdrop of equal solid angle above the horizon, with one row below it."""
    low, high = BACKDROP_DEG
    below = np.linspace(-90.0, low, ROWS["below"] + 1)
    backdrop = np.degrees(np.arcsin(np.linspace(0.0, np.sin(np.radians(high)), ROWS["backdrop"] + 1)))
    above = np.linspace(high, 90.0, ROWS["above"] + 1)
    return np.concatenate([below, backdrop, above[1:]])
