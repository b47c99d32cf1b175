"""Shadows of buildings on level ground at one instant, in metres east and north.

A shadow is all that a footprint sweeps on its way from the foot of the building to where its top is thrown:

        away from the sun ^        ..--""--..
                          |       |  thrown  |     Seen along the light, it lies between the nearest walls where they
       __________         |       |          |     stand and the farthest walls where they are thrown. Light falls only
      |  ______  |        |       |  ______  |     into a gap that is longer than the throw, such as a yard at noon:
      | | yard | |        |       | | lit  | |     that is taken out again.
      | |______| |        |       | :......: |
      |__________|        |       |__________|

No approximation is made, whatever the shape of the footprint.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Literal, overload

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from models.street.rings import Floats, Whole, require_numbers, rings_of
from models.street.scene import REACH_M, Building
from models.street.slices import Slices, crossed, envelopes, lit_gaps, places, slices_of

Shapes = NDArray[Any]
EMPTY = shapely.Polygon()


@overload
def shadows(
    buildings: Sequence[Building], seen_elevation_deg: float, azimuth_deg: float, joined: Literal[True] = True
) -> BaseGeometry: ...


@overload
def shadows(
    buildings: Sequence[Building], seen_elevation_deg: float, azimuth_deg: float, joined: Literal[False]
) -> Shapes: ...


def shadows(
    buildings: Sequence[Building], seen_elevation_deg: float, azimuth_deg: float, joined: bool = True
) -> BaseGeometry | Shapes:
    """Ground in shadow, footprints included: one geometry, or an array of one for each building (empty where none).

    seen_elevation_deg is the refracted elevation of the sun. Nothing is thrown further than REACH_M; with the sun at or
    below the horizon there is no shadow. Source of the length: height / tan(elevation), plane trigonometry.
    """
    out = np.full(len(buildings), EMPTY, dtype=object)
    if not buildings or seen_elevation_deg <= 0:
        return EMPTY if joined else out
    heights = np.array([(b.bottom_m, b.top_m) for b in buildings], float)
    require_numbers(np.arange(len(buildings)), heights)
    near_m, far_m = np.clip(heights / np.tan(np.radians(seen_elevation_deg)), 0.0, REACH_M).T
    rings = rings_of([b.rings for b in buildings])
    rings = rings.only(far_m[rings.owner] > near_m[rings.owner])
    if not len(rings.points):
        return EMPTY if joined else out
    turn = _turn(azimuth_deg)
    slices = slices_of(rings, rings.points @ turn)
    tangled = crossed(slices)
    for building in tangled:
        out[building] = _swept(buildings[building], turn, near_m[building], far_m[building])
    shapes, owner = _shapes(slices.only(~np.isin(slices.owner, tangled)), near_m, far_m)
    out[owner] = shapes
    found = shapely.disjoint_subset_union_all(out) if joined else out
    shaped: BaseGeometry | Shapes = shapely.transform(found, lambda corners: corners @ turn.T)
    return shaped


def _turn(azimuth_deg: float) -> Floats:
    """Turns (east, north) rows into (across, along) the light; its transpose turns them back."""
    east, north = -np.sin(np.radians(azimuth_deg)), -np.cos(np.radians(azimuth_deg))
    return np.array([[north, east], [-east, north]])


def _shapes(slices: Slices, near_m: Floats, far_m: Floats) -> tuple[Shapes, Whole]:
    """The shadows, across and along the light, and whose they are."""
    if not len(slices.slice):
        return np.empty(0, dtype=object), slices.owner
    near, far = near_m[slices.owner], far_m[slices.owner]
    corners, owner = envelopes(slices, near, far)
    owners, index = np.unique(owner, return_inverse=True)
    shapes = shapely.polygons(shapely.linearrings(corners, indices=index))
    gaps, gap_owner = lit_gaps(slices, near, far)
    if len(gaps):
        lit, which = _joined_by_owner(shapely.polygons(gaps), gap_owner)
        holed = np.searchsorted(owners, which)
        shapes[holed] = shapely.difference(shapes[holed], lit)
    return shapes, owners


def _joined_by_owner(parts: Shapes, owner: Whole) -> tuple[Shapes, Whole]:
    """One union for each owner; owners rising."""
    owners, counts = np.unique(owner, return_counts=True)
    which, place = places(counts)
    rows = np.full((len(owners), counts.max()), None, dtype=object)
    rows[which, place] = parts
    return shapely.union_all(rows, axis=1), owners


def _swept(building: Building, turn: Floats, near_m: float, far_m: float) -> BaseGeometry:
    """One shadow the long way, for an outline that crosses itself: what it encloses, and what each wall sweeps."""
    rings = [np.asarray(ring, float) @ turn + (0.0, near_m) for ring in building.rings if len(ring) > 2]
    walls = [(a, b) for ring in rings for a, b in zip(ring, np.roll(ring, -1, axis=0), strict=True)]
    throw = (0.0, far_m - near_m)
    sweeps = [shapely.Polygon([a, b, b + throw, a + throw]) for a, b in walls]
    foot = shapely.make_valid(shapely.Polygon(rings[0], rings[1:]))
    return shapely.union_all([foot, *(sweep for sweep in sweeps if sweep.area > 0)])
