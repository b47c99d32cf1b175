"""How facets light one another and how much sky each sees, by fans of rays, denser where a matt surface sends more."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from models.light.facets import UNSEEN_CELL, Facets, Spot, find, gather, nearest
from models.light.leaves import Leaves
from models.light.patches import PATCHES, patch_of
from models.light.rays import SKY, Surfaces, cast

Floats = NDArray[np.floating]
Ints = NDArray[np.intp]

SEEN_FAN: Final = (36, 6)  # headings all round, and slopes to each
UNSEEN_FAN: Final = (24, 5)
SETS: Final = 8
SHIFTS: Final = 64
FEWEST_RAYS: Final = 4  # an unseen cell that fewer rays find counts to its nearest neighbour
SUN_POINTS: Final = 2  # in an unseen facet


class Fan(NamedTuple):
    """Rays from facets, r in all: the facet each starts from, where it leads, what it meets and what it carries."""

    facet: Ints
    azimuth_deg: Floats
    elevation_deg: Floats
    hits: Spot
    carries: Floats


class Exchange(NamedTuple):
    """q facets, those the subject sees first, then the unseen.

    sky: (q, PATCHES) lx on a facet for each cd/m² of a patch. between: (q, q) lx on one for each lm/m² sent by another.
    sun_facet, sun_point_m: (k,), (k, 3) points of the unseen facets at which the sun is looked for.
    """

    centre_m: Floats
    normal: Floats
    surface: Ints
    sky: Floats
    between: Floats
    sun_facet: Ints
    sun_point_m: Floats


def exchange(surfaces: Surfaces, eye_m: Floats, seen: Facets, leaves: Leaves) -> Exchange:
    """Rays from what the subject sees find the unseen; rays from that close the circle."""
    fan = _fan(surfaces, seen.centre_m, seen.normal, SEEN_FAN)
    to_seen = find(seen, surfaces, eye_m, fan.hits)
    hidden = np.flatnonzero((to_seen < 0) & (fan.hits.surface != SKY))
    unseen, sun_facet, sun_point = _unseen(surfaces, eye_m, fan.hits.only(hidden))
    back = _fan(surfaces, unseen.centre_m, unseen.normal, UNSEEN_FAN)
    first = len(seen.key)
    rays = _joined([fan, back._replace(facet=back.facet + first)])
    centre = np.concatenate([seen.centre_m, unseen.centre_m])
    normal = np.concatenate([seen.normal, unseen.normal])
    to = np.concatenate([to_seen, find(seen, surfaces, eye_m, back.hits)])
    _fill(to, rays.hits, lambda hits: _after(first, find(unseen, surfaces, eye_m, hits)))
    _fill(to, rays.hits, lambda hits: nearest(centre, normal, hits.point_m, surfaces.normal[hits.surface]))
    shaded = leaves.near(centre, eye_m)[rays.facet]
    carries = rays.carries * np.where(shaded, leaves.lets_through(rays.azimuth_deg, rays.elevation_deg), 1.0)
    sky = np.flatnonzero(rays.hits.surface == SKY)
    patch = patch_of(rays.azimuth_deg[sky], rays.elevation_deg[sky])
    of_sky = _table(rays.facet[sky], patch, np.pi * carries[sky], len(centre), PATCHES)
    met = np.flatnonzero(rays.hits.surface != SKY)
    between = _table(rays.facet[met], to[met], carries[met], len(centre), len(centre))
    surface = np.concatenate([seen.surface, unseen.surface])
    return Exchange(centre, normal, surface, of_sky, between, sun_facet + first, sun_point)


def _fill(to: Ints, hits: Spot, search: Callable[[Spot], Ints]) -> None:
    """Searches facets for the hits that have none (-1) yet."""
    lost = np.flatnonzero((to < 0) & (hits.surface != SKY))
    to[lost] = search(hits.only(lost))


def _after(first: int, place: Ints) -> Ints:
    return np.where(place < 0, -1, place + first)


def _fan(surfaces: Surfaces, centre_m: Floats, normal: Floats, size: tuple[int, int]) -> Fan:
    """Rays along evenly spread headings, each with its share of what a matt surface receives or sends.

    Every eighth facet shares its headings and slopes, which makes casting quick; the eight sets differ.
    """
    return _joined([_fan_of_set(surfaces, centre_m, normal, size, number) for number in range(SETS)])


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
    shift = np.random.default_rng(number).integers(SHIFTS, size=carries.shape)
    elevation = _elevations(rises)
    slope = np.tan(elevation).astype(np.float32)[faces_up, shift]
    wanted = carries > 0
    surface, distance = cast(surfaces, origin, heading, slope, wanted)
    own, line = np.nonzero(wanted)
    slope, distance, surface = slope[own, line], distance[own, line], surface[own, line]
    distance = np.where(surface == SKY, 0, distance)
    point = np.empty((*distance.shape, 3), np.float32)
    point[..., :2] = origin[own, None, :2] + distance[..., None] * heading[line, None]
    point[..., 2] = origin[own, None, 2] + distance * slope
    repeated = (np.repeat(values, rises) for values in (facet[own], np.degrees(azimuth)[line], carries[own, line]))
    owner, bearing, carried = repeated
    rise = np.degrees(elevation)[faces_up[own, 0], shift[own, line]].ravel()
    return Fan(owner, bearing, rise, Spot(surface.ravel().astype(np.intp), point.reshape(-1, 3)), carried)


def _elevations(rises: int) -> Floats:
    """(3, SHIFTS, rises) radians of rays that carry equal shares: before a wall, from level ground up, and down.

    Before a wall e + sin e cos e is spread evenly, over level ground sin² e; each shift lies between others.
    """
    share = (np.arange(rises) + (np.arange(SHIFTS)[:, None] + 0.5) / SHIFTS) / rises
    steep = np.arcsin(np.sqrt(share))
    return np.stack([np.interp(share, _WALL_SHARE, _WALL_RISE), steep, -steep])


def _joined(parts: list[Fan]) -> Fan:
    facet, azimuth, elevation, carries = (np.concatenate([part[k] for part in parts]) for k in (0, 1, 2, 4))
    surface, point = (np.concatenate([part.hits[k] for part in parts]) for k in (0, 1))
    return Fan(facet, azimuth, elevation, Spot(surface, point), carries)


_WALL_RISE: Final = np.linspace(-np.pi / 2, np.pi / 2, 721)
_WALL_SHARE: Final = 0.5 + (_WALL_RISE + np.sin(_WALL_RISE) * np.cos(_WALL_RISE)) / np.pi


def _unseen(surfaces: Surfaces, eye_m: Floats, hits: Spot) -> tuple[Facets, Ints, Floats]:
    """Facets of cells that enough rays find, and some of the points where they do, with the facet of each."""
    facets, of_hit = gather(surfaces, eye_m, hits, np.ones(len(hits.surface)), UNSEEN_CELL)
    kept = np.bincount(of_hit, minlength=len(facets.key)) >= FEWEST_RAYS
    number = np.cumsum(kept) - 1
    order = np.argsort(of_hit, kind="stable")
    turn = np.arange(len(order)) - np.searchsorted(of_hit[order], of_hit[order])
    chosen = order[kept[of_hit[order]] & (turn < SUN_POINTS)]
    only = Facets(facets.cell, facets.key[kept], facets.surface[kept], facets.centre_m[kept], facets.normal[kept])
    return only, number[of_hit[chosen]], hits.point_m[chosen]


def _table(row: Ints, column: Ints, value: Floats, rows: int, columns: int) -> Floats:
    """(rows, columns) sums of the values that belong to each place."""
    flat = np.bincount(row * columns + column, value, rows * columns)
    return flat.reshape(rows, columns).astype(np.float32)
