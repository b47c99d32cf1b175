"""Random towns for the tests of the street: any simple footprint, courtyards too."""

from __future__ import annotations

import numpy as np

from models.street.scene import Building

Ring = tuple[tuple[float, float], ...]


def box(east: float, north: float, width: float, depth: float, turn_deg: float = 0.0) -> Ring:
    """A rectangle round its middle, turned."""
    turn = np.radians(turn_deg)
    right, ahead = np.array([np.cos(turn), np.sin(turn)]), np.array([-np.sin(turn), np.cos(turn)])
    corners = [(-1, -1), (1, -1), (1, 1), (-1, 1)]
    middle = np.array([east, north])
    return tuple(tuple(map(float, middle + u * width / 2 * right + v * depth / 2 * ahead)) for u, v in corners)


def star(random: np.random.Generator, east: float, north: float, reach: float, corners: int) -> Ring:
    """A simple ring of so many corners round a middle, none further from it than `reach`, none nearer than half."""
    bearings = (np.arange(corners) + random.uniform(-0.4, 0.4, corners)) * 2 * np.pi / corners
    radii = reach * random.uniform(0.5, 1.0, corners)
    return tuple(
        (float(east + r * np.cos(b)), float(north + r * np.sin(b))) for r, b in zip(radii, bearings, strict=True)
    )


def star_house(
    random: np.random.Generator, east: float, north: float, corners: int = 12, yard: bool = True
) -> Building:
    reach = random.uniform(5.0, 16.0)
    rings = [star(random, east, north, reach, corners)]
    if yard:
        rings.append(star(random, east, north, reach * 0.4, 7))
    return Building(tuple(rings), top_m=float(random.uniform(4.0, 25.0)), doubt_m=float(random.uniform(0.2, 5.0)))


def star_town(seed: int, count: int, half_m: float = 500.0, corners: int = 12, clear_m: float = 20.0) -> list[Building]:
    """Every second house with a courtyard; nothing nearer than clear_m to the origin."""
    random = np.random.default_rng(seed)
    town: list[Building] = []
    while len(town) < count:
        east, north = random.uniform(-half_m, half_m, 2)
        if np.hypot(east, north) > clear_m:
            town.append(star_house(random, east, north, corners, yard=len(town) % 2 == 0))
    return town


def box_town(seed: int, count: int, half_m: float = 500.0, clear_m: float = 25.0) -> list[Building]:
    random = np.random.default_rng(seed)
    town: list[Building] = []
    while len(town) < count:
        east, north = random.uniform(-half_m, half_m, 2)
        if np.hypot(east, north) > clear_m:
            ring = box(east, north, *random.uniform(8.0, 24.0, 2), random.uniform(0, 180))
            town.append(Building((ring,), top_m=float(random.uniform(4.0, 25.0))))
    return town


def turned(building: Building, degrees: float) -> Building:
    """The building after the whole scene turned clockwise about the origin."""
    turn = np.radians(degrees)
    matrix = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])
    return changed(building, lambda ring: tuple(map(tuple, (np.array(ring) @ matrix).tolist())))


def redrawn(building: Building) -> Building:
    """The same building, every ring drawn the other way round."""
    return changed(building, lambda ring: ring[::-1])


def changed(building: Building, change) -> Building:
    rings = tuple(change(ring) for ring in building.rings)
    return Building(rings, building.top_m, building.bottom_m, building.height_source, building.doubt_m, building.name)
