"""How facets light one another and how much sky each sees, by fans of rays, denser where a matt surface sends more."""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from models.light.facets import UNSEEN_CELL, Facets, Spot, find, gather, nearest
from models.light.leaves import Leaves
from models.light.patches import PATCHES, patch_of
from models.light.rays import SKY, Surfaces, cast

Floats = NDArray[np.floating]
Ints = NDArray[np.intp]

SEEN_FAN: Final = (12, 8)  # headings, and slopes to each
UNSEEN_FAN: Final = (8, 6)
FEWEST_RAYS: Final = 3  # an unseen cell that fewer rays find counts to its nearest neighbour
SUN_POINTS: Final = 3  # in an unseen facet


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
    rng = np.random.default_rng(1)  # the same scene gives the same light
    fan = _fan(surfaces, seen.centre_m, seen.normal, *SEEN_FAN, rng)
    met = fan.hits.only(fan.hits.surface != SKY)
    unseen, sun_facet, sun_point = _unseen(surfaces, eye_m, met.only(find(seen, surfaces, eye_m, met) < 0))
    count = len(seen.key)
    back = _fan(surfaces, unseen.centre_m, unseen.normal, *UNSEEN_FAN, rng)
    rays = Fan(
        np.concatenate([fan.facet, back.facet + count]),
        np.concatenate([fan.azimuth_deg, back.azimuth_deg]),
        np.concatenate([fan.elevation_deg, back.elevation_deg]),
        Spot(*(np.concatenate(pair) for pair in zip(fan.hits, back.hits, strict=True))),
        np.concatenate([fan.carries, back.carries]),
    )
    centre = np.concatenate([seen.centre_m, unseen.centre_m])
    normal = np.concatenate([seen.normal, unseen.normal])
    shaded = leaves.near(centre, eye_m)[rays.facet]
    carries = rays.carries * np.where(shaded, leaves.lets_through(rays.azimuth_deg, rays.elevation_deg), 1.0)
    sky = rays.hits.surface == SKY
    patch = patch_of(rays.azimuth_deg[sky], rays.elevation_deg[sky])
    of_sky = np.pi * _table(rays.facet[sky], patch, carries[sky], len(centre), PATCHES)
    hits = rays.hits.only(~sky)
    to = find(seen, surfaces, eye_m, hits)
    hidden = np.flatnonzero(to < 0)
    to[hidden] = _among_unseen(surfaces, eye_m, unseen, count, hits.only(hidden))
    lost = np.flatnonzero(to < 0)
    to[lost] = nearest(centre, normal, hits.point_m[lost], surfaces.normal[hits.surface[lost]])
    between = _table(rays.facet[~sky], to, carries[~sky], len(centre), len(centre))
    surface = np.concatenate([seen.surface, unseen.surface])
    return Exchange(centre, normal, surface, of_sky, between, sun_facet + count, sun_point)


def _fan(
    surfaces: Surfaces, centre_m: Floats, normal: Floats, headings: int, rises: int, rng: np.random.Generator
) -> Fan:
    """Rays that each carry the same share of what a matt surface receives or sends.

    On a wall the sine of the bearing off its normal, and e + sin e cos e of the elevation e, are spread evenly; on
    level ground the bearing and sin² e are.
    """
    facets = len(centre_m)
    across = (np.arange(headings)[:, None] + rng.random((facets, headings, 1))) / headings
    up = (np.arange(rises) + rng.random((facets, headings, rises))) / rises
    level = (np.abs(normal[:, 2]) > 0.5)[:, None, None]
    ahead = np.arctan2(normal[:, 0], normal[:, 1])[:, None, None]
    azimuth = np.where(level, 2 * np.pi * across, ahead + np.arcsin(2 * across - 1)) % (2 * np.pi)
    rise = np.where(level, np.arcsin(np.sqrt(up)), np.interp(up, _WALL_SHARE, _WALL_RISE))
    rise = np.where(normal[:, 2, None, None] < 0, -rise, rise).reshape(-1, rises)
    slope = np.tan(rise)
    heading = np.concatenate([np.sin(azimuth), np.cos(azimuth)], axis=2).reshape(-1, 2)
    origin = np.repeat(centre_m, headings, axis=0)
    surface, distance = cast(surfaces, origin, heading, slope)
    distance = np.where(np.isfinite(distance), distance, 0.0)
    plan = origin[:, None, :2] + distance[..., None] * heading[:, None]
    point = np.concatenate([plan, (origin[:, 2:] + distance * slope)[..., None]], axis=2)
    return Fan(
        np.repeat(np.arange(facets), headings * rises),
        np.repeat(np.degrees(azimuth).ravel(), rises),
        np.degrees(rise).ravel(),
        Spot(surface.ravel().astype(np.intp), point.reshape(-1, 3)),
        np.full(surface.size, 1.0 / (headings * rises)),
    )


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


def _among_unseen(surfaces: Surfaces, eye_m: Floats, unseen: Facets, first: int, hits: Spot) -> Ints:
    place = find(unseen, surfaces, eye_m, hits)
    return np.where(place < 0, -1, place + first)


def _table(row: Ints, column: Ints, value: Floats, rows: int, columns: int) -> Floats:
    """(rows, columns) sums of the values that belong to each place."""
    flat = np.bincount(row * columns + column, value, rows * columns)
    return flat.reshape(rows, columns).astype(np.float32)
