"""Footways laid out in metres round a middle in the demo town."""

from __future__ import annotations

from models.street.plane import LocalPlane
from models.street.town import FootwayDraft

PLANE = LocalPlane(52.53, 5.23)


def at(east_m: float, north_m: float) -> tuple[float, float]:
    """(latitude_deg, longitude_deg)"""
    latitude, longitude = PLANE.to_degrees(east_m, north_m)
    return float(latitude), float(longitude)


def path(*points: tuple[float, float], kind: str = "footway") -> FootwayDraft:
    return FootwayDraft(tuple(at(*point)[::-1] for point in points), kind=kind)
