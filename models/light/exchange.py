"""How facets light one another, and how much sky each of them sees."""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from models.light.facets import UNSEEN_CELL, Facets, Spot, find, gather, nearest
from models.light.fans import Fan, fans, joined
from models.light.leaves import Leaves
from models.light.patches import PATCHES, patch_of
from models.light.rays import SKY, Surfaces

Floats = NDArray[np.floating]
Ints = NDArray[np.intp]

SEEN_FAN: Final = (36, 6)  # headings, and slopes on each
UNSEEN_FAN: Final = (24, 5)
FEWEST_RAYS: Final = 4  # an unseen cell that fewer rays find counts to its nearest neighbour
SUN_POINTS: Final = 2  # in an unseen facet


class Exchange(NamedTuple):
    """q facets, those the subject sees first, then the unseen.

    normal: (q, 3). reflectance: (q,). near: (q,) bool, under the subject's own canopies.
    sky: (q, PATCHES) lx on a facet for each cd/m² of a patch. between: (q, q) lx on one for each lm/m² sent by another.
    sun_facet: (k,), sun_point_m: (k, 3), points of the unseen facets at which the sun is looked for.
    """

    normal: Floats
    reflectance: Floats
    near: NDArray[np.bool_]
    sky: Floats
    between: Floats
    sun_facet: Ints
    sun_point_m: Floats


def exchange(surfaces: Surfaces, eye_m: Floats, seen: Facets, leaves: Leaves) -> Exchange:
    """Rays from what the subject sees find the unseen; rays from that close the circle."""
    fan = fans(surfaces, seen.centre_m, seen.normal, SEEN_FAN)
    to_seen = find(seen, surfaces, eye_m, fan.hits)
    hidden = np.flatnonzero((to_seen < 0) & (fan.hits.surface != SKY))
    unseen, sun_facet, sun_point = _unseen(surfaces, eye_m, fan.hits.only(hidden))
    back = fans(surfaces, unseen.centre_m, unseen.normal, UNSEEN_FAN)
    first = len(seen.key)
    rays = joined([fan, back._replace(facet=back.facet + first)])
    to = np.concatenate([to_seen, find(seen, surfaces, eye_m, back.hits)])
    _find_rest(to, surfaces, eye_m, rays, (seen, unseen))
    normal = np.concatenate([seen.normal, unseen.normal])
    reflectance = surfaces.reflectance[np.concatenate([seen.surface, unseen.surface])]
    near = leaves.near(np.concatenate([seen.centre_m, unseen.centre_m]), eye_m)
    sky, between = _tables(rays, to, near, leaves)
    return Exchange(normal, reflectance, near, sky, between, sun_facet + first, sun_point)


def _find_rest(to: Ints, surfaces: Surfaces, eye_m: Floats, rays: Fan, groups: tuple[Facets, Facets]) -> None:
    """Gives hits outside the seen facets (-1 in `to`) to the unseen, or where those are none either, to the nearest."""
    seen, unseen = groups
    rest = np.flatnonzero((to < 0) & (rays.hits.surface != SKY))
    place = find(unseen, surfaces, eye_m, rays.hits.only(rest))
    to[rest] = np.where(place < 0, -1, place + len(seen.key))
    lost = rest[place < 0]
    hits = rays.hits.only(lost)
    to[lost] = nearest(groups, hits.point_m, surfaces.normal[hits.surface])


def _tables(rays: Fan, to: Ints, near: NDArray[np.bool_], leaves: Leaves) -> tuple[Floats, Floats]:
    """(q, PATCHES) and (q, q), what reaches facets from patches of sky and from other facets."""
    facets = len(near)
    under = np.flatnonzero(near[rays.facet])
    carries = rays.carries.copy()
    carries[under] *= leaves.lets_through(rays.azimuth_deg[under], rays.elevation_deg[under])
    sky, met = np.flatnonzero(to < 0), np.flatnonzero(to >= 0)
    patch = patch_of(rays.azimuth_deg[sky], rays.elevation_deg[sky])
    of_sky = _table(rays.facet[sky], patch, np.pi * carries[sky], facets, PATCHES)
    return of_sky, _table(rays.facet[met], to[met], carries[met], facets, facets)


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
