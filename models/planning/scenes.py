"""What stands round a kept spot, put together for the light: walls, trees, roofs, floor, and what was assumed."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

from sqlalchemy.orm import Session

from models.store.town import Reaches, packed_walls_near, trees_near
from models.street.scene import EYE_M, Canopy, Scene, Tree, Walls, building_over, canopy_of_tree, lowered
from models.street.spot import SpotGround

SCENE_VERSION = "scene 2"

TREE_REACH_M = 60.0
"""Trees further off than this hide next to nothing of the sky: a 15 m crown at 60 m stands 13 degrees high."""

FARTHEST_DEG = 89.999
"""At a pole no bearing means anything, so a spot there is taken to stand a hundred metres off it."""

SOUTHERN_LEAF = (11, 12, 1, 2, 3, 4)
"""Months in leaf south of the equator: those of street.scene half a year on."""

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


def scene_of(s: Session, spot: SpotGround) -> SpotScene:
    """The scene round a spot, heights counted from the floor it stands on."""
    latitude_deg = min(max(spot.latitude_deg, -FARTHEST_DEG), FARTHEST_DEG)
    near = packed_walls_near(s, latitude_deg, spot.longitude_deg)
    trees = trees_near(s, latitude_deg, spot.longitude_deg, TREE_REACH_M)
    walls = lowered(near.walls, spot.floor_m)
    roof = _roof(spot, walls)
    canopies = spot.canopies + tuple(_crowns(trees, spot)) + roof
    scene = Scene(walls, spot.wall_reflectance, spot.ground_reflectance, canopies)
    ids = tuple(int(number) for number in near.building_ids)
    assumed = _assumed(spot, near.assumed_buildings, near.buildings, len(trees), roofed=bool(roof))
    return SpotScene(scene, ids, tuple(assumed))


def scene_key(near: Reaches, spot: SpotGround, *versions: str) -> str:
    """A name for all the light at a spot rests on; other notes of the spot leave it as it is."""
    place = (spot.latitude_deg, spot.longitude_deg, spot.floor_m, spot.roof)
    own = _own_key(versions, place, spot.wall_reflectance, spot.ground_reflectance, spot.canopies, spot.measured)
    return f"{own}:{near.stamp(spot.latitude_deg, spot.longitude_deg)}"


@lru_cache(maxsize=8192)
def _own_key(*rests_on: object) -> str:
    return hashlib.sha256(repr((SCENE_VERSION, *rests_on)).encode()).hexdigest()


def _crowns(trees: tuple[Tree, ...], spot: SpotGround) -> Iterator[Canopy]:
    """Crowns as seen from the floor; what does not rise above the eye hides no sky."""
    for tree in trees:
        if tree.height_m - spot.floor_m > EYE_M:
            crown = canopy_of_tree(replace(tree, height_m=tree.height_m - spot.floor_m), eye_m=EYE_M)
            yield replace(crown, leaf_months=SOUTHERN_LEAF) if spot.latitude_deg < 0 else crown


def _roof(spot: SpotGround, walls: Walls) -> tuple[Canopy, ...]:
    """The roof noted for the spot, unless it was measured, or a raised part of the town is all that stands over it."""
    if spot.roof not in ROOFS or any(canopy.is_roof for canopy in spot.canopies):
        return ()
    raised = walls.bottom_m > EYE_M
    roofed = building_over(walls.only(raised)) is not None and building_over(walls.only(~raised)) is None
    return () if roofed else (ROOFS[spot.roof],)


def _assumed(spot: SpotGround, guessed: int, buildings: int, trees: int, *, roofed: bool) -> Iterator[str]:
    if not buildings:
        yield "no buildings loaded here: open ground taken all round"
    if guessed:
        yield f"the height of {guessed} of {buildings} buildings within 500 m was assumed"
    if trees:
        months = "November to April" if spot.latitude_deg < 0 else "May to October"
        counted = "1 tree" if trees == 1 else f"{trees} trees"
        yield f"{counted} within {TREE_REACH_M:.0f} m taken as round crowns, in leaf {months}"
    if roofed:
        yield f"the edges of the roof overhead, until you measure them ({spot.roof})"
    if not spot.wall_surface:
        yield f"walls send back {spot.wall_reflectance:.0%} of the light"
    if not spot.ground_surface:
        yield f"the ground sends back {spot.ground_reflectance:.0%} of the light"
