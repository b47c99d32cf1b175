"""Walls packed by map tile, so that the light round a spot starts from arrays and not from ten thousand rows.

+------+------+      A wall belongs to the tile its middle lies in, and is kept once. Each tile remembers the
| ___  |  __  |      box its walls really fill, which may reach into its neighbours, so nothing near is missed.
||   |_|_|  | |
+------+------+
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import sqlalchemy as sa
from numpy.typing import NDArray
from sqlalchemy.orm import Session

from models.store.boxes import overlaps
from models.store.town.tables import wall_tiles
from models.street.plane import LocalPlane
from models.street.scene import REACH_M, Building, Walls, pack_walls
from models.street.town import BuildingDraft, LonLat, box_round

TILE_DEG = 0.005
WALL = np.dtype(
    [
        ("start", "<f8", (2,)),
        ("end", "<f8", (2,)),
        ("bottom_m", "<f8"),
        ("top_m", "<f8"),
        ("doubt_m", "<f8"),
        ("building", "<i4"),
        ("assumed", "?"),
    ]
)
"""One wall as kept: start and end as longitude, latitude in degrees; building is its number in the table."""


@dataclass(frozen=True, slots=True, eq=False)
class WallsNear:
    """Walls in local metres round a point. The building a wall belongs to is `building_ids[walls.building]`.

    building_ids: (buildings,) int64 numbers in the table; buildings, assumed_buildings: how many have a wall in reach,
    and how many of these have a height that nobody recorded.
    """

    walls: Walls
    building_ids: NDArray[np.int64]
    buildings: int
    assumed_buildings: int


def packed_walls_near(s: Session, latitude_deg: float, longitude_deg: float, radius_m: float = REACH_M) -> WallsNear:
    """Every wall of which some part lies within radius_m."""
    plane = LocalPlane(latitude_deg, longitude_deg)
    query = sa.select(wall_tiles.c.walls).where(*overlaps(wall_tiles, box_round(latitude_deg, longitude_deg, radius_m)))
    packed = np.frombuffer(b"".join(s.scalars(query.order_by(wall_tiles.c.id))), WALL)
    start_m, end_m = plane.points_to_metres(packed["start"]), plane.points_to_metres(packed["end"])
    near = _distance_squared(start_m, end_m) <= radius_m**2
    kept = packed[near]
    ids, building = np.unique(kept["building"], return_inverse=True)
    walls = Walls(
        start_m=start_m[near],
        end_m=end_m[near],
        bottom_m=np.ascontiguousarray(kept["bottom_m"]),
        top_m=np.ascontiguousarray(kept["top_m"]),
        doubt_m=np.ascontiguousarray(kept["doubt_m"]),
        building=building.astype(np.int32),
        assumed=np.ascontiguousarray(kept["assumed"]),
    )
    assumed = len(np.unique(kept["building"][kept["assumed"]]))
    return WallsNear(walls, ids.astype(np.int64), len(ids), assumed)


def tiles_of(drafts: Sequence[BuildingDraft], ids: Sequence[int]) -> Iterator[tuple[list[LonLat], bytes]]:
    """The walls of these buildings by tile: two corners of the box they fill and the packed bytes."""
    packed = _packed(drafts, ids)
    middle = (packed["start"] + packed["end"]) / 2
    tile = np.floor(middle / TILE_DEG).astype(np.int64)
    order = np.lexsort((packed["building"], tile[:, 0], tile[:, 1]))
    turns = np.flatnonzero(np.any(np.diff(tile[order], axis=0) != 0, axis=1)) + 1
    for group in np.split(packed[order], turns):
        if len(group):
            ends = np.concatenate([group["start"], group["end"]])
            yield [tuple(ends.min(axis=0).tolist()), tuple(ends.max(axis=0).tolist())], group.tobytes()


def _packed(drafts: Sequence[BuildingDraft], ids: Sequence[int]) -> NDArray[np.void]:
    """Packed in a plane amid the buildings, so that which side is outside is decided in one place only."""
    some_point = drafts[0].rings[0][0] if drafts else (0.0, 0.0)
    plane = LocalPlane(some_point[1], some_point[0])
    walls = pack_walls([in_metres(draft, plane) for draft in drafts])
    packed = np.empty(len(walls), WALL)
    packed["start"], packed["end"] = plane.points_to_degrees(walls.start_m), plane.points_to_degrees(walls.end_m)
    for name in ("bottom_m", "top_m", "doubt_m", "assumed"):
        packed[name] = getattr(walls, name)
    packed["building"] = np.asarray(ids, np.int32)[walls.building]
    return packed


def in_metres(draft: BuildingDraft, plane: LocalPlane) -> Building:
    """The building in the metres of a plane."""
    rings = tuple(tuple(map(tuple, plane.points_to_metres(ring).tolist())) for ring in draft.rings)
    return Building(rings, draft.top_m, draft.bottom_m, draft.height_source, draft.doubt_m, draft.name)


def _distance_squared(start: NDArray[np.float64], end: NDArray[np.float64]) -> NDArray[np.float64]:
    """From the origin to each piece of line, squared."""
    along = end - start
    length = np.einsum("ij,ij->i", along, along)
    share = np.clip(-np.einsum("ij,ij->i", start, along) / np.maximum(length, 1e-12), 0.0, 1.0)
    nearest = start + share[:, None] * along
    squared: NDArray[np.float64] = np.einsum("ij,ij->i", nearest, nearest)
    return squared
