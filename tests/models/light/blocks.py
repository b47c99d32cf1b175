"""Small streets to try the light in, and skies to light them with."""

from __future__ import annotations

import numpy as np

from models.sky.daylight import OpenSky
from models.street.scene import NO_WALLS, Building, Canopy, Scene, pack_walls


def block(west, south, east, north, top_m, bottom_m=0.0):
    """A house over a rectangle, metres from the subject."""
    return Building((((west, south), (east, south), (east, north), (west, north)),), top_m, bottom_m)


def street(width_m=12.0, top_m=15.0, **surfaces):
    """Runs north and south between two rows 200 m long, the subject in its middle."""
    half = width_m / 2
    rows = [block(half, -100, half + 12, 100, top_m), block(-half - 12, -100, -half, 100, top_m)]
    return scene_of(rows, **surfaces)


def scene_of(buildings, wall=0.3, ground=0.2, canopies=(), eye_m=1.5):
    return Scene(pack_walls(buildings) if buildings else NO_WALLS, wall, ground, tuple(canopies), eye_m)


def turned(buildings, quarters):
    """Clockwise by quarter turns, as bearings grow."""
    rings = [[[(y, -x) for x, y in ring] for ring in b.rings] for b in buildings]
    once = [Building(tuple(map(tuple, r)), b.top_m, b.bottom_m) for r, b in zip(rings, buildings, strict=True)]
    return buildings if quarters == 0 else turned(once, quarters - 1)


def sky(diffuse_lx=10_000.0, direct_lx=60_000.0, elevation_deg=40.0):
    level = direct_lx * np.sin(np.radians(elevation_deg))
    return OpenSky(*(np.float64(value) for value in (diffuse_lx + level, diffuse_lx, direct_lx)))


def tree(low=20.0, high=80.0, transmittance=0.3, first=0.0, last=360.0):
    return Canopy(first, last, low, high, transmittance, 0.67)


def roof(low=30.0):
    return Canopy(0, 360, low, 90, 0.0, 0.0, (), "roof")
