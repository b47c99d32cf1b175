"""Where a light stands: the model's clock, paces on the ground, metres east and north, and which way it shines.

The clock lies on the pavement round the model, who looks at the camera at 12: 3 is on the model's right hand (camera
left), 9 on the left (camera right), 6 behind. axis_deg is the same from the camera: 0 at the camera, + to its right.
"""

from __future__ import annotations

from math import cos, radians, sin, sqrt

PACE_M = 0.75
"""One walking pace: common practice, no source."""

FACE_M = 1.5
"""Height of the face above the ground, as for all light worked out at a spot."""


def clock_half_hours(axis_deg: float) -> int:
    """Half hours past 12 on the model's clock, 0 to 23, to the nearest."""
    return round(-axis_deg / 15) % 24


def axis_deg_of(clock_hours: float) -> float:
    """Bearing off the camera axis of a place on the model's clock, -180 to 180."""
    return (-clock_hours * 30 + 180) % 360 - 180


def ground_m(distance_m: float, height_m: float) -> float:
    """Distance along the ground of a light so far from the face and so high."""
    return sqrt(max(distance_m**2 - (height_m - FACE_M) ** 2, 0.0))


def paces(metres: float) -> float:
    """To the nearest half pace, at least a half."""
    return max(round(metres / PACE_M * 2) / 2, 0.5)


def bearing_deg(axis_deg: float, looking_deg: float) -> float:
    """Compass bearing from the model to the light, the camera looking along `looking_deg`."""
    return (looking_deg + 180 - axis_deg) % 360


def shines_deg(axis_deg: float, looking_deg: float) -> float:
    """Compass bearing along which the light shines, past the model."""
    return (looking_deg - axis_deg) % 360


def position_m(axis_deg: float, along_ground_m: float, looking_deg: float) -> tuple[float, float]:
    """Metres east and north of the model."""
    bearing = radians(bearing_deg(axis_deg, looking_deg))
    return along_ground_m * sin(bearing), along_ground_m * cos(bearing)
