"""Who controls which ground of Havenmark: invented rule areas, drawn along its streets, quays and walls."""

from __future__ import annotations

from typing import NamedTuple

from shapely import Polygon, unary_union
from shapely.geometry.base import BaseGeometry

from sample_locations import havenmark_plan as plan
from sample_locations.havenmark_houses import strip

TRACKSIDE_M = 5.0  # railway ground beside the viaduct
BASIN_QUAY_M = 9.0
HIGHWAYS = ("Havenmark town council, highways", "Highways counter, Town Hall, weekday mornings")

OLD_TOWN: plan.Line = (
    (-291, -190), (-281, -62), (-276, 60), (-254, 160), (-218, 202), (-150, 220), (-80, 220), (-10, 210), (64, 212),
    (71, 165), (60, 106), (66, 34), (66, 6), (92, 2), (90, -92), (98, -160), (104, -232), (-6, -246), (-120, -228),
    (-180, -234), (-250, -228),
)  # fmt: skip
STATION_ROAD: plan.Line = ((66, 6), (106, 8), (190, 22), (282, 26), (400, 40))
FOUNDRY: plan.Line = (
    (113.2, 30), (116.5, 58), (110.6, 90), (165, 97), (168, 62), (168, 36), (154, 35), (138, 34), (137, 17), (131, 16),
    (127, 29),
)  # fmt: skip


class Ground(NamedTuple):
    """One rule area, in metres of the plan."""

    name: str
    kind: str
    authority: str
    contact: str
    shape: BaseGeometry
    no_passing: bool = False
    notes: str = ""


def building(name: str) -> Polygon:
    return Polygon(next(drawn.rings[0] for drawn in plan.DRAWN if drawn.name == name))


def grounds() -> list[Ground]:
    """Every rule area. Overlaps are meant; Foundry Lane lies in none."""
    island = Polygon(plan.ISLAND)
    quays = unary_union([
        next(strip(street.line, street.width_m) for street in plan.STREETS if street.name == "West Quay"),
        strip(plan.CANAL, plan.CANAL_CORRIDOR_M),
        Polygon(plan.BASIN).buffer(BASIN_QUAY_M, join_style="mitre"),
    ])  # fmt: skip
    railway = strip(plan.RAILWAY, plan.RAILWAY_WIDTH_M + 2 * TRACKSIDE_M)
    almshouses = building("Ropemakers' Almshouses")
    return [
        Ground("Old town streets", "public_street", *HIGHWAYS, Polygon(OLD_TOWN).difference(almshouses),
               notes="Inside the wall streets. The almshouses are ground of their own."),
        Ground("Market ground", "public_street", "Havenmark town council, market office",
               "Market office, ground floor of the Town Hall",
               unary_union([Polygon(plan.SQUARE), building("Town Hall arcade")]).convex_hull,
               notes="The square and the arcade. The diary of events hangs in the arcade."),
        Ground("Harbour quays", "waterfront", "Havenmark harbour office", "Harbour master, Weigh House",
               quays.intersection(island), notes="West Quay, both Rope Quays and the basin, water and edge."),
        Ground("Linden Park", "park", "Havenmark town council, parks office", "Park keeper, at the pavilion",
               Polygon(plan.PARK)),
        Ground("Railway ground", "transit", "Island Railway, station office", "Duty manager, station",
               unary_union([railway.intersection(island), building("Station").buffer(6, join_style="mitre")]),
               notes="Viaduct, bridge with the walls under it, station and forecourt."),
        Ground("Station Road", "public_street", *HIGHWAYS, strip(STATION_ROAD, 13.0).intersection(island)),
        Ground("Hall Deck", "car_park", "Hall Deck parking company", "Manager on the ground floor",
               unary_union([building("Hall Deck car park"), building("Hall Deck stair tower")]).convex_hull,
               notes="All decks, ramp and stair tower."),
        Ground("Market Hall", "private_open", "Market Hall tenants", "Hall steward, south door",
               building("Market Hall"), no_passing=True,
               notes="Open to the public until 18:00. Stands are stopped at the door, folded or not."),
        Ground("Ropemakers' Almshouses", "private_consent", "Trustees of the almshouses", "The warden, at the arch",
               almshouses),
        Ground("Old Foundry", "private_consent", "Foundry owner", "Caretaker in the gatehouse",
               Polygon(FOUNDRY), notes="Yard and both wings. The lane outside is not part of it."),
    ]  # fmt: skip
