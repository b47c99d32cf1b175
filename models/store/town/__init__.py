"""The town: what imports brought, kept as rows for reading and as packed walls for the light.

All of one import stands or goes together (`replace_import`). Its number is new each time, so `Reaches.stamp` tells
whether anything near a place has changed, and a building's number never comes back as another building.
"""

from models.store.town.reading import (
    BuildingRow,
    ComfortNear,
    FootwayRow,
    HintNear,
    ImportRow,
    LampNear,
    Reaches,
    building_covering,
    buildings_in,
    comforts_near,
    footway_sources,
    footways_in,
    get_building,
    hints_near,
    lamps_near,
    list_imports,
    reaches,
    trees_near,
)
from models.store.town.replacing import drop_import, replace_import
from models.store.town.walls import WallsNear, in_metres, packed_walls_near

__all__ = [
    "BuildingRow",
    "ComfortNear",
    "FootwayRow",
    "HintNear",
    "ImportRow",
    "LampNear",
    "Reaches",
    "WallsNear",
    "building_covering",
    "buildings_in",
    "comforts_near",
    "drop_import",
    "footway_sources",
    "footways_in",
    "get_building",
    "hints_near",
    "in_metres",
    "lamps_near",
    "list_imports",
    "packed_walls_near",
    "reaches",
    "replace_import",
    "trees_near",
]
