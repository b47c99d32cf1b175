"""An import comes whole or not at all: its rows and packed walls replaced in the caller's transaction."""

from __future__ import annotations

import secrets
from collections.abc import Iterable, Sequence
from dataclasses import asdict
from itertools import chain
from typing import Any

import numpy as np
import sqlalchemy as sa
from sqlalchemy.orm import Session

from models.problems import InputProblem
from models.store.town.reading import ImportRow, get_import
from models.store.town.tables import buildings, footways, hints, imports, lamps, trees, wall_tiles
from models.store.town.walls import tiles_of
from models.street.comforts import COMFORTS
from models.street.footfall import HINTS
from models.street.spot import readable
from models.street.town import BuildingDraft, LonLat, TownDraft, box_of

FEWEST_CORNERS = 3
LARGEST_NUMBER = 2**31 - 1
"""Of an integer column. Imports are numbered by chance, so that no database's stamp passes for another's."""
POINT = ("latitude_deg", "longitude_deg")
Located = Sequence[tuple[str, Iterable[LonLat]]]


def replace_import(s: Session, import_name: str, town: TownDraft) -> ImportRow:
    """Everything of the import of this name gone, this town in its place. InputProblem names the feature at fault."""
    name = readable("import", import_name).strip()
    _check(town)
    drop_import(s, name)
    number = 1 + secrets.randbelow(LARGEST_NUMBER)
    s.execute(sa.insert(imports).values(id=number, **_summary(name, town)))
    ids = _add_buildings(s, number, town.buildings)
    _add(s, wall_tiles, number, ({**_box(corners), "walls": walls} for corners, walls in tiles_of(town.buildings, ids)))
    _add(s, trees, number, (_fields(tree, "height_m", "crown_radius_m", "assumed", *POINT) for tree in town.trees))
    _add(s, lamps, number, (_fields(lamp, *POINT) for lamp in town.lamps))
    _add(s, hints, number, (_fields(hint, "kind", "name", *POINT) for hint in town.hints))
    ways = (_fields(way, "line", "width_m", "surface", "lit", "kind") | _box(way.line) for way in town.footways)
    _add(s, footways, number, ways)
    return get_import(s, number)


def drop_import(s: Session, import_name: str) -> bool:
    """Take an import away with all it brought; whether there was one."""
    gone = s.execute(sa.delete(imports).where(imports.c.name == import_name).returning(imports.c.id))
    return gone.one_or_none() is not None


def _add_buildings(s: Session, number: int, drafts: Sequence[BuildingDraft]) -> Sequence[int]:
    if not drafts:
        return ()
    names = ("rings", "top_m", "bottom_m", "height_source", "doubt_m", "name")
    rows = [{"import_id": number} | _fields(draft, *names) | _box(draft.rings[0]) for draft in drafts]
    return s.scalars(sa.insert(buildings).returning(buildings.c.id, sort_by_parameter_order=True), rows).all()


def _add(s: Session, table: sa.Table, number: int, rows: Iterable[dict[str, Any]]) -> None:
    listed = [{"import_id": number} | row for row in rows]
    if listed:
        s.execute(sa.insert(table), listed)


def _fields(item: Any, *names: str) -> dict[str, Any]:
    return {name: getattr(item, name) for name in names}


def _box(points: Iterable[LonLat]) -> dict[str, float]:
    return asdict(box_of(points))


def _summary(name: str, town: TownDraft) -> dict[str, Any]:
    points = [point for _, line in _located(town) for point in line]
    return {
        "name": name,
        "attribution": readable("attribution", town.attribution),
        "buildings": len(town.buildings),
        "assumed_buildings": sum(building.height_source == "assumed" for building in town.buildings),
        "trees": len(town.trees),
        "footways": len(town.footways),
        "lamps": len(town.lamps),
    } | (_box(points) if points else {})


def _located(town: TownDraft) -> Located:
    """Every feature as it would be named in a message, with its points."""
    return [
        *((_called("building", k, b.name), chain.from_iterable(b.rings)) for k, b in enumerate(town.buildings, 1)),
        *((f"tree {k}", [(t.longitude_deg, t.latitude_deg)]) for k, t in enumerate(town.trees, 1)),
        *((f"footway {k}", way.line) for k, way in enumerate(town.footways, 1)),
        *((_called("hint", k, h.name), [(h.longitude_deg, h.latitude_deg)]) for k, h in enumerate(town.hints, 1)),
        *((f"lamp {k}", [(lamp.longitude_deg, lamp.latitude_deg)]) for k, lamp in enumerate(town.lamps, 1)),
    ]


def _called(kind: str, number: int, name: str) -> str:
    return f"{kind} {number} ({name})" if name else f"{kind} {number}"


def _check(town: TownDraft) -> None:
    for number, building in enumerate(town.buildings, 1):
        called = _called("building", number, readable(f"building {number}", building.name))
        if not building.rings or any(len(ring) < FEWEST_CORNERS for ring in building.rings):
            raise InputProblem(called, "an outline needs three corners at least")
        _check_sizes(called, building.top_m, building.bottom_m, building.doubt_m)
    for number, tree in enumerate(town.trees, 1):
        _check_sizes(f"tree {number}", tree.height_m, tree.crown_radius_m)
    for number, way in enumerate(town.footways, 1):
        if len(way.line) < 2:
            raise InputProblem(f"footway {number}", "a line needs two points at least")
        _check_sizes(f"footway {number}", way.width_m or 0.0)
        readable(f"footway {number}", (way.surface or "") + way.kind)
    for number, hint in enumerate(town.hints, 1):
        called = _called("hint", number, readable(f"hint {number}", hint.name))
        if hint.kind not in (*HINTS, *COMFORTS):
            raise InputProblem(called, f"{hint.kind!r} is none of {', '.join((*HINTS, *COMFORTS))}")
    for called, points in _located(town):
        for longitude, latitude in points:
            if not (-180 <= longitude <= 180 and -90 < latitude < 90):
                raise InputProblem(called, f"no place on the map has latitude {latitude}, longitude {longitude}")


def _check_sizes(called: str, *sizes_m: float) -> None:
    if not np.all(np.isfinite(sizes_m)):
        raise InputProblem(called, "a size is not a number")
