"""What stands round a kept spot, put together for the light: walls, trees, roofs, floor, and what was assumed."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from dataclasses import asdict, dataclass, replace

from sqlalchemy.orm import Session

from models.store.spots import Spot
from models.store.town import packed_walls_near, town_stamp, trees_near
from models.street.scene import EYE_M, Canopy, Scene, Tree, canopy_of_tree, lowered

TREE_REACH_M = 60.0
"""Trees further off than this hide next to nothing of the sky: a 15 m crown at 60 m stands 13 degrees high."""

ROOFS: dict[str, Canopy] = {
    "arcade": Canopy(0, 360, 45, 90, 0.0, 0.0, (), "the arcade's roof"),
    "underpass": Canopy(0, 360, 20, 90, 0.0, 0.0, (), "the underpass roof"),
}
"""A roof overhead until somebody measures its edges: our planning rule, no source."""


@dataclass(frozen=True, slots=True, eq=False)
class SpotScene:
    """A scene with what it rests on. building_ids: the number in the store of each building of the walls."""

    scene: Scene
    building_ids: tuple[int, ...]
    assumed: tuple[str, ...]
    assumed_share: float


def scene_of(s: Session, spot: Spot) -> SpotScene:
    """The scene round a spot, heights counted from the floor it stands on."""
    near = packed_walls_near(s, spot.latitude_deg, spot.longitude_deg)
    trees = trees_near(s, spot.latitude_deg, spot.longitude_deg, TREE_REACH_M)
    canopies = spot.canopies + tuple(_crowns(trees, spot.floor_m)) + tuple(_roof(spot))
    walls = lowered(near.walls, spot.floor_m)
    scene = Scene(walls, spot.wall_reflectance, spot.ground_reflectance, canopies)
    share = near.assumed_buildings / near.buildings if near.buildings else 0.0
    ids = tuple(int(number) for number in near.building_ids)
    return SpotScene(scene, ids, tuple(_assumed(spot, near.assumed_buildings, near.buildings, len(trees))), share)


def scene_key(s: Session, spot: Spot, *versions: str) -> str:
    """A name for all the light at a spot rests on; other notes of the spot leave it as it is."""
    rests_on = {
        "place": (spot.latitude_deg, spot.longitude_deg, spot.floor_m, spot.roof),
        "surfaces": (spot.wall_reflectance, spot.ground_reflectance),
        "canopies": [asdict(canopy) for canopy in spot.canopies],
        "measured": [asdict(point) for point in spot.measured],
        "town": town_stamp(s, spot.latitude_deg, spot.longitude_deg),
        "versions": versions,
    }
    return hashlib.sha256(json.dumps(rests_on, sort_keys=True).encode()).hexdigest()


def _crowns(trees: tuple[Tree, ...], floor_m: float) -> Iterator[Canopy]:
    """Crowns as seen from the floor; what does not rise above the eye hides no sky."""
    for tree in trees:
        if tree.height_m - floor_m > EYE_M:
            yield canopy_of_tree(replace(tree, height_m=tree.height_m - floor_m), eye_m=EYE_M)


def _roof(spot: Spot) -> Iterator[Canopy]:
    if spot.roof in ROOFS and not any(canopy.is_roof for canopy in spot.canopies):
        yield ROOFS[spot.roof]


def _assumed(spot: Spot, guessed: int, buildings: int, trees: int) -> Iterator[str]:
    if not buildings:
        yield "no buildings loaded here: open ground taken all round"
    if guessed:
        yield f"the height of {guessed} of {buildings} buildings within 500 m was assumed"
    if trees:
        yield f"{trees} trees within {TREE_REACH_M:.0f} m taken as round crowns"
    if any(True for _ in _roof(spot)):
        yield f"the edges of the roof overhead, until you measure them ({spot.roof})"
    if not spot.wall_surface:
        yield f"walls send back {spot.wall_reflectance:.0%} of the light"
    if not spot.ground_surface:
        yield f"the ground sends back {spot.ground_reflectance:.0%} of the light"
