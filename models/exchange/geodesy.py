"""Distances on the earth's ellipsoid. With the address search the only importer of geopy."""

from __future__ import annotations

from geopy.distance import geodesic


def metres_between(a: tuple[float, float], b: tuple[float, float]) -> float:
    """Geodesic distance of two (latitude_deg, longitude_deg), metres (Karney 2013, as geopy has it)."""
    return float(geodesic(a, b).m)
