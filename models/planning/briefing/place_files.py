"""The places of a workshop as files for other programs, for the organiser."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from typing import Any

from models.exchange.gpx import write_gpx
from models.exchange.places import Way, Waypoint, places_geojson
from models.planning.briefing.places import WorkshopPlaces, places_of
from models.planning.street.walk import WalkAnswer
from models.store.engine import Store
from models.words.map_sketch import COMFORTS, ONWARD, WALK, meeting_point_words, station_words
from models.workshop.briefing import Place


def places_as_gpx(store: Store, workshop_id: int, now: datetime) -> bytes:
    """Waypoints, the walk to the spot and that to the fallback as routes. Raises Missing."""
    places = places_of(store, workshop_id, now)
    return write_gpx(places.title, tuple(_waypoints(places)), tuple(_ways(places)))


def places_as_geojson(store: Store, workshop_id: int, now: datetime) -> dict[str, Any]:
    """The same as a feature collection. Raises Missing."""
    places = places_of(store, workshop_id, now)
    return places_geojson(tuple(_waypoints(places)), tuple(_ways(places)))


def _waypoints(places: WorkshopPlaces) -> Iterator[Waypoint]:
    if places.meeting:
        yield Waypoint("meeting", _called(places.meeting, meeting_point_words(places.meeting.name)))
    yield Waypoint("spot", places.spot)
    for station in places.stations:
        yield Waypoint("station", _called(station, station_words(station.name)))
    if places.fallback:
        yield Waypoint("fallback", places.fallback)
    for each in places.comforts:
        name = f"{COMFORTS[each.kind]}{f' ({each.name})' if each.name else ''}"
        yield Waypoint(each.kind, Place(name=name, latitude_deg=each.latitude_deg, longitude_deg=each.longitude_deg))


def _called(place: Place, name: str) -> Place:
    return Place(name=name, latitude_deg=place.latitude_deg, longitude_deg=place.longitude_deg, words=place.words)


def _ways(places: WorkshopPlaces) -> Iterator[Way]:
    if places.walk and places.walk.walks:
        yield _way("walk", WALK, places.walk)
    if places.onward and places.onward.walks:
        yield _way("to fallback", ONWARD, places.onward)


def _way(kind: str, name: str, walk: WalkAnswer) -> Way:
    """The straight line where no footways lead there."""
    return Way(kind, name, walk.line or (walk.start[::-1], walk.goal[::-1]), bool(walk.line))
