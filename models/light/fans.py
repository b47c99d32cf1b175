"""Fans of rays from facets, denser where a matt surface receives and sends more.

         \\ | /
wall  |-- \\|/ ---  many headings all round, and on each a few slopes: before a wall most go square on,
      |-----*-----  over level ground most go steeply up
      |--- /|\\ --
"""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from models.light.facets import Spot
from models.light.rays import SKY, Surfaces, cast

Floats = NDArray[np.floating]
Ints = NDArray[np.intp]

SETS: Final = 8  # of headings
SHIFTS: Final = 64  # of slopes


class Fan(NamedTuple):
    """Rays from facets, r in all: the facet each starts from, where it leads, what it meets and what it carries."""

    facet: Ints
    azimuth_deg: Floats
    elevation_deg: Floats
    hits: Spot
    carries: Floats


def fans(surfaces: Surfaces, centre_m: Floats, normal: Floats, size: tuple[int, int]) -> Fan:
    """Rays from facets with these middles and normals (q, 3), each with its share of what a matt surface receives.

    size: headings all round, and slopes on each. Every eighth facet shares its headings, which makes casting quick.
    """
    return joined([_fan_of_set(surfaces, centre_m, normal, size, number) for number in range(SETS)])


def _fan_of_set(surfaces: Surfaces, centre_m: Floats, normal: Floats, size: tuple[int, int], number: int) -> Fan:
    facet = np.arange(number, len(centre_m), SETS)
    origin, faces = centre_m[facet].astype(np.float32), normal[facet].astype(np.float32)
    headings, rises = size
    azimuth = (np.arange(headings) + (number + 0.5) / SETS) * (2 * np.pi / headings)
    heading = np.column_stack([np.sin(azimuth), np.cos(azimuth)]).astype(np.float32)
    level = np.abs(faces[:, 2:]) > 0.5
    square_on = np.where(level, 1.0, np.maximum(faces[:, :2] @ heading.T, 0.0))
    carries = square_on / (square_on.sum(axis=1, keepdims=True) * rises)
    faces_up = np.where(level, np.sign(faces[:, 2:]), 0).astype(np.intp)
    shift = np.random.default_rng(number).integers(SHIFTS, size=carries.shape)  # the same scene gives the same light
    elevation = _elevations(rises)[faces_up, shift]
    slope = np.tan(elevation)
    surface, distance = cast(surfaces, origin, heading, slope, carries > 0)
    own, line = np.nonzero(carries)
    surface, slope = surface[own, line], slope[own, line]
    distance = np.where(surface == SKY, 0, distance[own, line])
    point = np.empty((*distance.shape, 3), np.float32)
    point[..., :2] = origin[own, None, :2] + distance[..., None] * heading[line, None]
    point[..., 2] = origin[own, None, 2] + distance * slope
    return Fan(
        facet=np.repeat(facet[own], rises),
        azimuth_deg=np.repeat(np.degrees(azimuth)[line], rises),
        elevation_deg=np.degrees(elevation[own, line]).ravel(),
        hits=Spot(surface.ravel().astype(np.intp), point.reshape(-1, 3)),
        carries=np.repeat(carries[own, line], rises),
    )


def _elevations(rises: int) -> Floats:
    """(3, SHIFTS, rises) radians of rays that carry equal shares: before a wall, from level ground up, and down.

    Before a wall e + sin e cos e is spread evenly, over level ground sin² e. Each shift lies between the others.
    """
    share = (np.arange(rises) + (np.arange(SHIFTS)[:, None] + 0.5) / SHIFTS) / rises
    steep = np.arcsin(np.sqrt(share))
    return np.stack([np.interp(share, _WALL_SHARE, _WALL_RISE), steep, -steep]).astype(np.float32)


def joined(parts: list[Fan]) -> Fan:
    facet, azimuth, elevation, carries = (np.concatenate([part[k] for part in parts]) for k in (0, 1, 2, 4))
    surface, point = (np.concatenate([part.hits[k] for part in parts]) for k in (0, 1))
    return Fan(facet, azimuth, elevation, Spot(surface, point), carries)


_WALL_RISE: Final = np.linspace(-np.pi / 2, np.pi / 2, 721)
_WALL_SHARE: Final = 0.5 + (_WALL_RISE + np.sin(_WALL_RISE) * np.cos(_WALL_RISE)) / np.pi
