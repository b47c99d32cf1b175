"""A spot as a place, what a group looks for near it (toilets, shelter, coffee), and what is noted of the spot."""

from __future__ import annotations

from math import atan2, degrees

from models.store.engine import Store
from models.store.spots import Spot
from models.store.town import ComfortNear, comforts_near
from models.street.plane import LocalPlane
from models.words.briefing_spot import near_words
from models.words.map_sketch import comfort_words
from models.workshop.briefing import Place

COMFORT_M = 400.0
"""Toilets, shelter and coffee are looked for so far from the spot, five minutes' walk: our planning rule."""


def nearest_comforts(store: Store, latitude_deg: float, longitude_deg: float) -> tuple[ComfortNear, ...]:
    """The nearest of each kind, nearest first."""
    nearest: dict[str, ComfortNear] = {}
    with store.reading() as s:
        for each in comforts_near(s, latitude_deg, longitude_deg, COMFORT_M):
            nearest.setdefault(each.kind, each)
    return tuple(nearest.values())


def place_of(spot: Spot) -> Place:
    """Where it is, by its name."""
    return Place(name=spot.name, latitude_deg=spot.latitude_deg, longitude_deg=spot.longitude_deg)


def near_told(store: Store, spot: Spot) -> str:
    """In words, '' where nothing is known."""
    at = (spot.latitude_deg, spot.longitude_deg)
    plane = LocalPlane(*at)
    return near_words([_away(plane, each) for each in nearest_comforts(store, *at)], spot.facilities)


def _away(plane: LocalPlane, each: ComfortNear) -> str:
    east, north = (float(metres) for metres in plane.to_metres(each.latitude_deg, each.longitude_deg))
    return comfort_words(each.kind, each.name, each.distance_m, degrees(atan2(east, north)) % 360)
