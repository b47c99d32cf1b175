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

from models.light.leaves import Leaves
from models.light.rays import SKY, Surfaces, cast
from models.sky.dome import unit_vectors

Floats = NDArray[np.floating]
Ints = NDArray[np.intp]

BEARINGS: Final = (0, 45, 90, 135, 180, 225, 270, 315)
PLANES: Final = np.vstack([unit_vectors(np.array(BEARINGS), 0.0), [0.0, 0.0, 1.0]])  # the upright ones, and level
STRIPS: Final = 72
STRIP_DEG: Final = 360.0 / STRIPS
COLUMNS_IN_STRIP: Final = (6, 2)  # where the distance changes much, as down a street or at a corner; and elsewhere
GLANCES: Final = 4  # looks at the distance in each strip, at each of these elevations
GLANCE_DEG: Final = (0.0, 15.0, 35.0)
UNEVEN: Final = 1.4  # farthest against nearest in a strip
FAR_M: Final = 300.0
BACKDROP_DEG: Final = (-5.0, 25.0)
ROWS: Final = {"below": 6, "backdrop": 5, "above": 12}
WALL, GROUND, OPEN = range(3)  # what a strip is made of; ground is all that lies level


@dataclass(frozen=True, eq=False)
class View:
    """One entry for each ray, r in all.

    azimuth_deg, elevation_deg, solid_angle_sr: (r,). surface: (r,) number of the surface met, SKY for none.
    point_m: (r, 3) where; of no meaning for SKY. made_of: (r,) WALL, GROUND or OPEN. strip: (r,) number of the strip.
    strip_share: (r,) of the strip's solid angle, 0 outside the backdrop. through: (r,) what canopies let pass, 0..1.
    """

    azimuth_deg: Floats
    elevation_deg: Floats
    solid_angle_sr: Floats
    surface: Ints
    point_m: Floats
    made_of: Ints
    strip: Ints
    strip_share: Floats
    through: Floats

    @cached_property
    def hit(self) -> Ints:
        """The rays that meet a surface."""
        return np.flatnonzero(self.surface != SKY)

    @property
    def wall_distance_m(self) -> Floats:
        """In plan, of every ray in the backdrop that meets a wall; the subject stands at the origin."""
        walls = np.flatnonzero((self.made_of == WALL) & (self.strip_share > 0))
        distance: Floats = np.hypot(self.point_m[walls, 0], self.point_m[walls, 1])
        return distance

    @cached_property
    def on_planes_sr(self) -> Floats:
        """(r, 9) projected solid angle of each ray on each plane."""
        direction = unit_vectors(self.azimuth_deg, self.elevation_deg)
        angle: Floats = np.maximum(direction @ PLANES.T, 0.0) * self.solid_angle_sr[:, None]
        return angle

    def by_strip(self, value: Floats) -> Floats:
        """(STRIPS, n) sums of values (r, n) over the rays of each strip."""
        total = np.zeros((STRIPS, value.shape[1]))
        np.add.at(total, self.strip, value)
        return total


def look_round(surfaces: Surfaces, eye_m: Floats, leaves: Leaves) -> View:
    """What an eye (3,) sees of the surfaces round it, through the leaves before it."""
    bearing, width = _columns(surfaces, eye_m)
    edges = _row_edges()
    within = np.where(np.arange(len(bearing)) % 2, 0.25, 0.75)[:, None]
    elevation = edges[:-1] + within * np.diff(edges)
    slope = np.tan(np.radians(elevation))
    surface, distance = _cast_round(surfaces, eye_m, bearing, slope)
    distance = np.where(surface == SKY, 0.0, distance)
    plan = eye_m[:2] + distance[..., None] * unit_vectors(bearing, 0.0)[:, None, :2]
    point = np.concatenate([plan, (eye_m[2] + distance * slope)[..., None]], axis=2)
    solid_angle = np.diff(np.sin(np.radians(edges))) * np.radians(width)[:, None]
    low, high = np.radians(BACKDROP_DEG)
    behind = np.where((edges[:-1] >= BACKDROP_DEG[0]) & (edges[1:] <= BACKDROP_DEG[1] + 1e-9), solid_angle, 0.0)
    azimuth = np.repeat(bearing, slope.shape[1])
    surface = surface.ravel().astype(np.intp)
    return View(
        azimuth_deg=azimuth,
        elevation_deg=elevation.ravel(),
        solid_angle_sr=solid_angle.ravel(),
        surface=surface,
        point_m=point.reshape(-1, 3),
        made_of=np.where(surface == SKY, OPEN, np.where(surfaces.level[surface], GROUND, WALL)),
        strip=(azimuth / STRIP_DEG).astype(np.intp),
        strip_share=behind.ravel() / ((np.sin(high) - np.sin(low)) * np.radians(STRIP_DEG)),
        through=leaves.lets_through(azimuth, elevation.ravel()),
    )


def _cast_round(surfaces: Surfaces, eye_m: Floats, bearing_deg: Floats, slope: Floats) -> tuple[Ints, Floats]:
    """(c, s) surfaces met and metres in plan along c bearings, by the slopes (c, s)."""
    all_round = np.ones((1, len(bearing_deg)), bool)
    surface, distance = cast(surfaces, eye_m[None], unit_vectors(bearing_deg, 0.0)[:, :2], slope[None], all_round)
    return surface[0], distance[0]


def _columns(surfaces: Surfaces, eye_m: Floats) -> tuple[Floats, Floats]:
    """Bearing and width in degrees of each column: more of them in strips where the distance changes much."""
    bearing = np.arange(STRIPS * GLANCES) * (STRIP_DEG / GLANCES)
    slope = np.broadcast_to(np.tan(np.radians(GLANCE_DEG)), (len(bearing), len(GLANCE_DEG)))
    distance = np.minimum(_cast_round(surfaces, eye_m, bearing, slope)[1], FAR_M).reshape(STRIPS, GLANCES, -1)
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
