"""The places of a workshop: where it meets, walks, works and goes to instead, and what a group looks for nearby."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from models.planning.briefing.near import nearest_comforts, place_of
from models.planning.briefing.versions import Current
from models.planning.rules.typed import meeting_words
from models.planning.street.walk import WalkAnswer, walk_between
from models.planning.workshops.fallback import fallbacks_of
from models.planning.workshops.grounds import Grounds, grounds_of
from models.store.engine import Store
from models.store.town import ComfortNear
from models.street.walking import GROUP_PACE_M_S
from models.workshop.briefing import Place


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkshopPlaces:
    """meeting, fallback: None without one. stations: by name, at the spot's own point where none is kept.

    walk: from the meeting point, None without one; walk_words: as readers are told it. onward: from the spot to the
    fallback. comforts: the nearest of each kind.
    """

    workshop_id: int
    title: str
    spot: Place
    meeting: Place | None
    stations: tuple[Place, ...]
    fallback: Place | None
    walk: WalkAnswer | None
    onward: WalkAnswer | None
    comforts: tuple[ComfortNear, ...]
    walk_words: str


def places_of(store: Store, workshop_id: int, now: datetime) -> WorkshopPlaces:
    """As they are kept now. Raises Missing."""
    grounds = grounds_of(store, workshop_id, now)
    fallback = next((place_of(each) for each in fallbacks_of(store, grounds)), None)
    joined = _joined(store, place_of(grounds.spot), _meeting(store, grounds), fallback, grounds.plan.pace_m_s)
    walk: WalkAnswer | None = joined["walk"]
    return WorkshopPlaces(
        workshop_id=workshop_id,
        title=grounds.workshop.title,
        **joined,
        stations=_stations(grounds),
        walk_words=walk.said.text if walk else "",
    )


def told_places(store: Store, workshop_id: int, told: Current, now: datetime) -> WorkshopPlaces:
    """As readers are told: those of the version that was issued, unless the workshop was moved since; as they are kept
    now for one not issued yet. Raises Missing."""
    if told.issued is None or told.ahead:
        return places_of(store, workshop_id, now)
    facts = told.facts
    stations = ((each, each.place or facts.spot) for each in facts.stations)
    return WorkshopPlaces(
        workshop_id=workshop_id,
        title=facts.title,
        **_joined(store, facts.spot, facts.meeting, facts.fallback, GROUP_PACE_M_S),
        stations=tuple(replace(place, name=each.name, words=each.lesson) for each, place in stations),
        walk_words=facts.walk,
    )


def point(place: Place) -> tuple[float, float]:
    """(latitude_deg, longitude_deg)."""
    return place.latitude_deg, place.longitude_deg


def _joined(
    store: Store, spot: Place, meeting: Place | None, fallback: Place | None, pace_m_s: float
) -> dict[str, Any]:
    """These with the walks between them and what is near."""
    return {
        "spot": spot,
        "meeting": meeting,
        "fallback": fallback,
        "walk": walk_between(store, point(meeting), point(spot), pace_m_s) if meeting else None,
        "onward": walk_between(store, point(spot), point(fallback), pace_m_s) if fallback else None,
        "comforts": nearest_comforts(store, *point(spot)),
    }


def _meeting(store: Store, grounds: Grounds) -> Place | None:
    at = grounds.workshop.meeting_point
    if at is None:
        return None
    name = meeting_words(at, store)
    return Place(name=name, latitude_deg=at[0], longitude_deg=at[1], words=grounds.plan.meets_by)


def _stations(grounds: Grounds) -> tuple[Place, ...]:
    here = (grounds.spot.latitude_deg, grounds.spot.longitude_deg)
    at = [(station, station.place or here) for station in grounds.stations]
    return tuple(
        Place(name=station.name, latitude_deg=latitude, longitude_deg=longitude, words=station.lesson)
        for station, (latitude, longitude) in at
    )
