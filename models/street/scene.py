"""What stands round a subject, in metres east, north and up from the ground it stands on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

HeightSource = Literal["surveyed", "levels", "assumed"]
Floats = NDArray[np.float64]

EYE_M = 1.5
REACH_M = 500.0


@dataclass(frozen=True, slots=True)
class Building:
    """A prism: rings of (east_m, north_m), the first the outline, the rest courtyards; unclosed."""

    rings: tuple[tuple[tuple[float, float], ...], ...]
    top_m: float
    bottom_m: float = 0.0
    height_source: HeightSource = "surveyed"
    doubt_m: float = 0.5
    name: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class Walls:
    """n upright panels as packed arrays; the outside lies on the right hand going from start to end.

    start_m, end_m: (n, 2) east, north. bottom_m, top_m, doubt_m: (n,) metres. building: (n,) int32.
    """

    start_m: Floats
    end_m: Floats
    bottom_m: Floats
    top_m: Floats
    doubt_m: Floats
    building: NDArray[np.int32]


@dataclass(frozen=True, slots=True)
class Canopy:
    """Leaves or a roof seen from the subject: a range of bearings (clockwise from-to) and elevations.

    Transmittances are 0..1; a roof overhead has both at 0. leaf_months: months (1..12) in leaf.
    """

    bearing_from_deg: float
    bearing_to_deg: float
    elevation_from_deg: float
    elevation_to_deg: float
    transmittance_leaf: float
    transmittance_bare: float
    leaf_months: tuple[int, ...] = (5, 6, 7, 8, 9, 10)
    name: str = "trees"

    def transmittance(self, month: int) -> float:
        return self.transmittance_leaf if month in self.leaf_months else self.transmittance_bare


@dataclass(frozen=True, slots=True)
class SkylinePoint:
    """One hand-measured point of the skyline."""

    bearing_deg: float
    elevation_deg: float


@dataclass(frozen=True, slots=True)
class Tree:
    """A tree as a crown: metres east and north of the origin, height and crown radius."""

    east_m: float
    north_m: float
    height_m: float
    crown_radius_m: float
    assumed: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Scene:
    """All that bears on the light at one subject. z = 0 is the ground under the subject."""

    walls: Walls
    wall_reflectance: float
    ground_reflectance: float
    canopies: tuple[Canopy, ...] = ()
    eye_m: float = EYE_M
