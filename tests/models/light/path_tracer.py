"""Light at a subject by brute force: random paths, every ray against every wall and roof, no facets, no tables.

Slow and plain on purpose. It shares no code with the model that it judges, but for the formulas of the sky.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from models.sky.dome import CLEAR, general_sky, traditional_overcast, unit_vectors
from models.street.scene import Building

Floats = NDArray[np.float64]
PLANES = np.array([(0, 0, 1), (0, 1, 0), (1, 0, 0), (0, -1, 0), (-1, 0, 0)], float)


@dataclass(frozen=True)
class Street:
    """Prisms round the origin; the sky gives diffuse_lx on open level ground, the sun direct_lx square to it."""

    buildings: tuple[Building, ...]
    wall_reflectance: float
    ground_reflectance: float
    sun_elevation_deg: float
    sun_azimuth_deg: float
    diffuse_lx: float
    direct_lx: float
    overcast: bool = False

    @property
    def sun(self) -> Floats:
        return unit_vectors(self.sun_azimuth_deg, self.sun_elevation_deg)

    def sky_luminance(self, direction: Floats) -> Floats:
        steps = np.radians(np.arange(0.5, 90, 1))
        if self.overcast:
            shape = traditional_overcast(direction[:, 2])
            on_level = 2 * np.pi * (traditional_overcast(np.sin(steps)) * np.sin(steps) * np.cos(steps)).sum()
            return self.diffuse_lx * shape / (on_level * np.radians(1))
        azimuth, elevation = np.meshgrid(np.arange(0.5, 360, 1), np.arange(0.5, 90, 1))
        grid = unit_vectors(azimuth.ravel(), elevation.ravel())
        area = np.cos(np.radians(elevation.ravel())) * np.radians(1) ** 2
        on_level = (general_sky(CLEAR, grid[:, 2], grid @ self.sun) * grid[:, 2] * area).sum()
        return self.diffuse_lx * general_sky(CLEAR, direction[:, 2], direction @ self.sun) / on_level


def illuminance_lx(street: Street, eye_m: float, paths: int, seed: int = 0) -> Floats:
    """(5,) on the planes up, north, east, south, west; direct sun included."""
    rng = np.random.default_rng(seed)
    sun, eye = street.sun, np.array([[0.0, 0.0, eye_m]])
    direct = street.direct_lx * np.maximum(PLANES @ sun, 0) * bool(_meet(street, eye, sun[None])[0][0] < 0)
    answer = []
    for plane, own in zip(PLANES, direct, strict=True):
        normal = np.broadcast_to(plane, (paths, 3))
        arriving = luminance(street, np.repeat(eye, paths, 0), _cosine(normal, rng), rng)
        answer.append(np.pi * arriving.mean() + own)
    return np.array(answer)


def luminance(street: Street, origin: Floats, direction: Floats, rng: np.random.Generator, bounces: int = 60) -> Floats:
    """(n,) cd/m² along each ray, one random path each; the sun's disc itself left out."""
    total, carried = np.zeros(len(origin)), np.ones(len(origin))
    alive = np.arange(len(origin))
    for _ in range(bounces):
        met, distance, normal = _meet(street, origin, direction)
        lost = met < 0
        total[alive[lost]] += carried[lost] * street.sky_luminance(direction[lost])
        alive, carried, normal = alive[~lost], carried[~lost], normal[~lost]
        origin = origin[~lost] + direction[~lost] * distance[~lost, None] + 1e-4 * normal
        carried = carried * np.where(met[~lost] == 0, street.ground_reflectance, street.wall_reflectance)
        towards = np.maximum(normal @ street.sun, 0)
        lit = np.flatnonzero(towards > 0)
        shaded = _meet(street, origin[lit], np.broadcast_to(street.sun, (len(lit), 3)))[0] >= 0
        towards[lit[shaded]] = 0
        total[alive] += carried * street.direct_lx * towards / np.pi
        go_on = carried * rng.random(len(carried)) ** -1 > 0.05  # the faint go on by chance, and count for more
        carried = np.maximum(carried[go_on], 0.05)
        alive, origin, normal = alive[go_on], origin[go_on], normal[go_on]
        direction = _cosine(normal, rng)
        if not len(alive):
            break
    return total


def _cosine(normal: Floats, rng: np.random.Generator) -> Floats:
    """Directions about the normals, as often as a matt surface sends light there."""
    ball = rng.normal(size=normal.shape)
    around = normal + ball / np.linalg.norm(ball, axis=1, keepdims=True)
    return around / np.linalg.norm(around, axis=1, keepdims=True)


def _meet(street: Street, origin: Floats, direction: Floats) -> tuple[NDArray[np.int_], Floats, Floats]:
    """What each ray meets first: -1 sky, 0 ground, 1 wall or roof; how far off; and its normal towards the ray."""
    met, nearest = np.full(len(origin), -1), np.full(len(origin), np.inf)
    normal = np.tile([0.0, 0.0, 1.0], (len(origin), 1))
    falls = direction[:, 2] < 0
    nearest[falls] = -origin[falls, 2] / direction[falls, 2]
    met[falls] = 0
    for building in street.buildings:
        for ring in building.rings:
            for a, b in zip(ring, ring[1:] + ring[:1], strict=True):
                _wall(building, np.array(a), np.array(b), origin, direction, met, nearest, normal)
        for level in (building.bottom_m, building.top_m):
            _lid(building, level, origin, direction, met, nearest, normal)
    return met, nearest, normal


def _wall(building, a, b, origin, direction, met, nearest, normal) -> None:  # type: ignore[no-untyped-def]
    along = b - a
    across = np.array([along[1], -along[0]]) / np.hypot(*along)
    speed = direction[:, :2] @ across
    with np.errstate(divide="ignore", invalid="ignore"):
        distance = ((a - origin[:, :2]) @ across) / speed
        place = ((origin[:, :2] + distance[:, None] * direction[:, :2] - a) @ along) / (along @ along)
        height = origin[:, 2] + distance * direction[:, 2]
        hit = (distance > 1e-6) & (distance < nearest) & (place >= 0) & (place <= 1)
        hit &= (height >= building.bottom_m) & (height <= building.top_m)
    met[hit], nearest[hit] = 1, distance[hit]
    normal[hit] = np.where(speed[hit, None] < 0, 1, -1) * [*across, 0.0]


def _lid(building, level, origin, direction, met, nearest, normal) -> None:  # type: ignore[no-untyped-def]
    with np.errstate(divide="ignore", invalid="ignore"):
        distance = (level - origin[:, 2]) / direction[:, 2]
    maybe = np.flatnonzero((distance > 1e-6) & (distance < nearest))
    x, y = (origin[maybe, :2] + distance[maybe, None] * direction[maybe, :2]).T
    inside = np.zeros(len(maybe), bool)
    for ring in building.rings:
        for (ax, ay), (bx, by) in zip(ring, ring[1:] + ring[:1], strict=True):
            if ay != by:
                inside ^= ((ay > y) != (by > y)) & (x < ax + (y - ay) * (bx - ax) / (by - ay))
    hit = maybe[inside]
    met[hit], nearest[hit] = 1, distance[hit]
    normal[hit] = np.where(direction[hit, 2:] < 0, 1, -1) * [0.0, 0.0, 1.0]
