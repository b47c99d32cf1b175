"""Metres round a spot: a flat east-north plane that touches the WGS84 ellipsoid there.

    degrees of latitude  x (meridian radius)       -> metres north
    degrees of longitude x (parallel's own radius) -> metres east

Good to 0.1 % within a few kilometres; at city scale the error comes from the parallels drawing together, about
distance x tan(latitude) / earth radius. Source: the two radii of curvature in any geodesy handbook.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from models.problems import InputProblem

SEMI_MAJOR_M = 6_378_137.0  # WGS84, NGA.STND.0036 / EPSG:7030
FLATTENING = 1 / 298.257223563  # WGS84, the same
ECCENTRICITY_2 = FLATTENING * (2 - FLATTENING)


@dataclass(frozen=True)
class LocalPlane:
    """The plane that touches the earth at one latitude and longitude (degrees, north and east positive)."""

    latitude_deg: float
    longitude_deg: float

    def __post_init__(self) -> None:
        if not -90 < self.latitude_deg < 90:
            raise InputProblem("latitude", f"{self.latitude_deg} is not between -90 and 90 degrees.")
        if not -180 <= self.longitude_deg <= 180:
            raise InputProblem("longitude", f"{self.longitude_deg} is not between -180 and 180 degrees.")

    @cached_property
    def metres_per_degree(self) -> tuple[float, float]:
        """Metres in a degree of latitude and in a degree of longitude, at the ellipsoid."""
        latitude = math.radians(self.latitude_deg)
        squeeze = 1 - ECCENTRICITY_2 * math.sin(latitude) ** 2
        parallel_m = SEMI_MAJOR_M / math.sqrt(squeeze) * math.cos(latitude)
        meridian_m = SEMI_MAJOR_M * (1 - ECCENTRICITY_2) / squeeze**1.5
        return math.radians(meridian_m), math.radians(parallel_m)

    def to_metres(
        self, latitude_deg: ArrayLike, longitude_deg: ArrayLike
    ) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """East and north in metres, of the same shape; longitudes go the short way round the earth."""
        north, east = self.metres_per_degree
        turn = (np.asarray(longitude_deg, float) - self.longitude_deg + 180) % 360 - 180
        return turn * east, (np.asarray(latitude_deg, float) - self.latitude_deg) * north

    def to_degrees(self, east_m: ArrayLike, north_m: ArrayLike) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Latitude and longitude in degrees, longitude in -180..180."""
        north, east = self.metres_per_degree
        longitude = self.longitude_deg + np.asarray(east_m, float) / east
        return self.latitude_deg + np.asarray(north_m, float) / north, (longitude + 180) % 360 - 180

    def points_to_metres(self, lon_lat_deg: ArrayLike) -> NDArray[np.float64]:
        """(n, 2) east, north in metres of points (n, 2) in the order of GeoJSON."""
        longitude, latitude = np.asarray(lon_lat_deg, float).reshape(-1, 2).T
        return np.column_stack(self.to_metres(latitude, longitude))

    def points_to_degrees(self, metres: ArrayLike) -> NDArray[np.float64]:
        """(n, 2) longitude, latitude of points (n, 2) east, north."""
        latitude, longitude = self.to_degrees(*np.asarray(metres, float).reshape(-1, 2).T)
        return np.column_stack([longitude, latitude])
