"""Small places to plan at: blocks laid out in metres, spots on them, a little kit."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, datetime
from typing import Any

from models.light.flash import BatterySet, Camera, Flash, Modifier, Trigger
from models.planning.answers import Moment
from models.store.engine import Store
from models.store.kit import add_kit
from models.store.spots import Spot, add_spot
from models.store.town import replace_import
from models.street.plane import LocalPlane
from models.street.spot import SpotDraft
from models.street.town import Box, BuildingDraft, TownDraft, TreeDraft

ZONE = "Europe/Amsterdam"
PLANE = LocalPlane(52.53, 5.23)
VIEW = Box(south=52.52, west=5.21, north=52.54, east=5.25)
HOSTILE = "`${1}`</script><img src=x onerror=alert(1)>\u202e'; DROP TABLE spots;--"


def at(text: str, zone: str = ZONE, oktas: int = 0) -> Moment:
    """The moment of an ISO time in UTC."""
    return Moment(datetime.fromisoformat(text).replace(tzinfo=UTC), zone, oktas, "you set it")


def block(west: float, south: float, east: float, north: float, top_m: float, **facts: Any) -> BuildingDraft:
    """A box of a house, edges in metres from PLANE's middle."""
    corners = ((west, south), (east, south), (east, north), (west, north))
    ring = tuple(_lon_lat(*corner) for corner in corners)
    return BuildingDraft(rings=(ring,), top_m=top_m, **facts)


def build(store: Store, *buildings: BuildingDraft, trees: Iterable[TreeDraft] = (), name: str = "town") -> None:
    with store.writing() as s:
        replace_import(s, name, TownDraft(buildings=buildings, trees=tuple(trees)))


def stand(store: Store, name: str = "Here", east_m: float = 0.0, north_m: float = 0.0, **notes: Any) -> Spot:
    """A spot so many metres from PLANE's middle, unless the notes say where."""
    longitude, latitude = _lon_lat(east_m, north_m)
    place = {"latitude_deg": latitude, "longitude_deg": longitude, "zone": ZONE}
    with store.writing() as s:
        return add_spot(s, SpotDraft(**{"name": name, **place, **notes}))


def tree(east_m: float, north_m: float, height_m: float = 15.0, crown_radius_m: float = 4.0) -> TreeDraft:
    longitude, latitude = _lon_lat(east_m, north_m)
    return TreeDraft(latitude, longitude, height_m, crown_radius_m)


def equip(store: Store) -> None:
    with store.writing() as s:
        add_kit(s, Flash("small", "small flash", ((24.0, 20.0), (70.0, 32.0)), hss_loss_stops=2.0))
        add_kit(s, Modifier("box", "a small box", "box", 2.0, 24.0))
        add_kit(s, Camera("body", "camera"))
        add_kit(s, Trigger("radio", "radio trigger"))
        add_kit(s, BatterySet("aa", "four AA cells", "rechargeable", 150))


def _lon_lat(east_m: float, north_m: float) -> tuple[float, float]:
    latitude, longitude = PLANE.to_degrees(east_m, north_m)
    return float(longitude), float(latitude)
