from __future__ import annotations

from dataclasses import replace

import numpy as np
import shapely
import sqlalchemy as sa
from hypothesis import given, settings
from hypothesis import strategies as st

from models.store.engine import Store
from models.store.town import buildings_in, drop_import, in_metres, packed_walls_near, replace_import
from models.store.town.tables import wall_tiles
from models.store.town.walls import TILE_DEG, WALL
from models.street.plane import LocalPlane
from models.street.scene import Walls, pack_walls
from models.street.town import Box, BuildingDraft, TownDraft

MILLIMETRE = 0.001


@st.composite
def houses(draw: st.DrawFn) -> tuple[BuildingDraft, ...]:
    """Up to six star-shaped houses within some 700 m of a place, drawn either way round, some with a courtyard."""
    latitude, longitude = draw(st.floats(-70, 70)), draw(st.floats(-179.9, 179.9))
    plane = LocalPlane(latitude, longitude)
    return tuple(draw(house(plane)) for _ in range(draw(st.integers(1, 6))))


@st.composite
def house(draw: st.DrawFn, plane: LocalPlane) -> BuildingDraft:
    east, north = draw(st.floats(-500, 500)), draw(st.floats(-500, 500))
    corners = draw(st.lists(st.floats(5, 60), min_size=3, max_size=9))
    turns = np.linspace(0, 2 * np.pi, len(corners), endpoint=False)
    outline = np.column_stack([np.cos(turns), np.sin(turns)]) * np.array(corners)[:, None]
    rings = [outline, outline * 0.3] if draw(st.booleans()) else [outline]
    if draw(st.booleans()):
        rings = [ring[::-1] for ring in rings]
    bottom, height = draw(st.sampled_from([0.0, 3.5])), draw(st.floats(0.1, 90))
    source = draw(st.sampled_from(["surveyed", "levels", "assumed"]))
    in_degrees = []
    for ring in rings:
        latitudes, longitudes = plane.to_degrees(ring[:, 0] + east, ring[:, 1] + north)
        in_degrees.append(tuple(zip(longitudes.tolist(), latitudes.tolist(), strict=True)))
    return BuildingDraft(tuple(in_degrees), bottom + height, bottom, source, draw(st.floats(0, 9)))


def centre_of(drafts: tuple[BuildingDraft, ...]) -> tuple[float, float]:
    longitude, latitude = drafts[0].rings[0][0]
    return latitude, longitude


def as_rows(walls: Walls) -> np.ndarray:
    """One row a wall, sorted, to compare two sets of walls; which building is left out."""
    rows = np.column_stack([walls.start_m, walls.end_m, walls.bottom_m, walls.top_m, walls.doubt_m, walls.assumed])
    return rows[np.lexsort(np.round(rows, 4).T[::-1])]


@settings(max_examples=40, deadline=None)
@given(houses())
def test_packed_walls_are_the_buildings_own_to_a_millimetre(
    shared_store: Store, drafts: tuple[BuildingDraft, ...]
) -> None:
    latitude, longitude = centre_of(drafts)
    with shared_store.writing() as s:
        replace_import(s, "houses", TownDraft(drafts))
        near = packed_walls_near(s, latitude, longitude, radius_m=5000)
        rows = buildings_in(s, Box(-90, -180, 90, 180))
    expected = pack_walls([in_metres(draft, LocalPlane(latitude, longitude)) for draft in drafts])
    assert near.buildings == len(drafts) == len(near.building_ids)
    assert near.assumed_buildings == sum(draft.height_source == "assumed" for draft in drafts)
    assert np.abs(as_rows(near.walls) - as_rows(expected)).max() < MILLIMETRE
    of_building = {row.id: row for row in rows}
    for wall, index in enumerate(near.walls.building):
        row = of_building[int(near.building_ids[index])]
        assert (near.walls.top_m[wall], near.walls.bottom_m[wall]) == (row.top_m, row.bottom_m)


@settings(max_examples=40, deadline=None)
@given(houses(), st.floats(1, 900))
def test_just_the_walls_within_reach_are_handed_over(
    shared_store: Store, drafts: tuple[BuildingDraft, ...], radius_m: float
) -> None:
    """Distances by shapely; a wall within a millimetre of the reach may go either way."""
    latitude, longitude = centre_of(drafts)
    with shared_store.writing() as s:
        replace_import(s, "houses", TownDraft(drafts))
        near = packed_walls_near(s, latitude, longitude, radius_m=radius_m)
    everything = pack_walls([in_metres(draft, LocalPlane(latitude, longitude)) for draft in drafts])
    lines = shapely.linestrings(np.stack([everything.start_m, everything.end_m], axis=1))
    distance = shapely.distance(lines, shapely.Point(0, 0))
    assert (distance < radius_m - MILLIMETRE).sum() <= len(near.walls) <= (distance < radius_m + MILLIMETRE).sum()


@settings(max_examples=20, deadline=None)
@given(houses())
def test_every_wall_is_kept_once_however_many_tiles_a_building_crosses(
    shared_store: Store, drafts: tuple[BuildingDraft, ...]
) -> None:
    with shared_store.writing() as s:
        replace_import(s, "houses", TownDraft(drafts))
        packed = np.frombuffer(b"".join(s.scalars(sa.select(wall_tiles.c.walls))), WALL)
    assert len(packed) == sum(len(ring) for draft in drafts for ring in draft.rings)
    assert len(np.unique(packed)) == len(packed)


SLAB_M = 900.0
CORNER = (52.53, 5.23)  # of four tiles, TILE_DEG apart


def slab() -> BuildingDraft:
    """A long shed due east of the place; the middles of its long walls lie in tiles beyond."""
    plane = LocalPlane(*CORNER)
    latitudes, longitudes = plane.to_degrees([10, 10 + SLAB_M, 10 + SLAB_M, 10], [-5, -5, 5, 5])
    return BuildingDraft((tuple(zip(longitudes.tolist(), latitudes.tolist(), strict=True)),), 6.0)


def test_a_long_wall_kept_in_a_far_tile_is_found_by_its_near_end(store: Store) -> None:
    with store.writing() as s:
        replace_import(s, "shed", TownDraft((slab(),)))
        near = packed_walls_near(s, *CORNER, radius_m=20)
        tiles = s.scalars(sa.select(wall_tiles.c.walls)).all()
    middle_deg = SLAB_M / 2 / LocalPlane(*CORNER).metres_per_degree[1]
    assert middle_deg > TILE_DEG
    assert len(tiles) > 1
    assert len(near.walls) == 3  # the near end and both long sides
    lengths = np.hypot(*(near.walls.end_m - near.walls.start_m).T)
    assert sorted(lengths.round(3).tolist()) == [10.0, SLAB_M, SLAB_M]


def test_walls_face_outwards_to_their_right_whichever_way_they_were_drawn(store: Store) -> None:
    drawn = slab()
    turned = replace(drawn, rings=(drawn.rings[0][::-1],))
    facing = []
    with store.writing() as s:
        for draft in (drawn, turned):
            replace_import(s, "shed", TownDraft((draft,)))
            walls = packed_walls_near(s, *CORNER, radius_m=20).walls
            along = walls.end_m - walls.start_m
            right = np.column_stack([along[:, 1], -along[:, 0]]) / np.hypot(*along.T)[:, None]
            middle = np.array([10 + SLAB_M / 2, 0.0])
            facing.append(np.einsum("ij,ij->i", right, walls.start_m - middle))
    assert all((outward > 0).all() for outward in facing)


def test_a_building_without_height_keeps_its_outline_but_has_no_walls(store: Store) -> None:
    with store.writing() as s:
        replace_import(s, "flat", TownDraft((replace(slab(), top_m=0.0),)))
        assert len(packed_walls_near(s, *CORNER).walls) == 0
        assert len(buildings_in(s, Box(52, 5, 53, 6))) == 1


def test_walls_of_several_imports_stand_together(store: Store) -> None:
    with store.writing() as s:
        replace_import(s, "one", TownDraft((slab(),)))
        replace_import(s, "two", TownDraft((replace(slab(), height_source="assumed", top_m=9.0),)))
        both = packed_walls_near(s, *CORNER)
        assert (both.buildings, both.assumed_buildings) == (2, 1)
        assert sorted(set(both.walls.top_m.tolist())) == [6.0, 9.0]
        assert both.walls.building.max() == 1
        drop_import(s, "two")
        assert packed_walls_near(s, *CORNER).buildings == 1
