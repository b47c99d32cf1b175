"""The map sketch of a workshop: its places in metres round the spot, between the houses and footways on record."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from math import atan2, degrees, hypot

from models.drawing.ground import Metres
from models.drawing.map_sketch import LEAST_ASIDE_M, MapMark, MapSketch, draw_map_sketch
from models.planning.briefing.places import WorkshopPlaces, point, told_places
from models.planning.briefing.versions import Current
from models.planning.street.walk import WalkAnswer
from models.store.engine import Store
from models.store.town import ComfortNear, buildings_in, footways_in
from models.street.plane import LocalPlane
from models.street.town import LonLat, box_round
from models.words import map_sketch as words
from models.workshop.briefing import Place

NEAR_FALLBACK_M = 500.0
"""A fallback so near the spot is always drawn; one further off only where the walk is as long: our planning rule."""
FARTHEST_MEETING_M = 20_000.0
MOST_SHAPES = 6000


def sketch_of(store: Store, workshop_id: int, told: Current, now: datetime) -> str:
    """The sketch of what readers are told, as one SVG for every width with its tones in it: for page, file and paper.

    Raises Missing.
    """
    return draw_map_sketch(map_sketch(store, told_places(store, workshop_id, told, now)))


def map_sketch(store: Store, places: WorkshopPlaces) -> MapSketch:
    """What the drawing shows of the places."""
    laid = _Laid(places)
    marks, way = tuple(laid.marks()), laid.line(places.walk if laid.meeting_m is not None else None)
    onward = laid.line(places.onward) if laid.draws_fallback else ()
    outlines, paths = _ground(store, laid, (*(mark.at for mark in marks), *way))
    return MapSketch(
        title=words.title_words(places.title),
        desc=_in_words(places, laid),
        marks=marks,
        way=way,
        known=bool(places.walk and places.walk.line),
        onward=onward,
        outlines=outlines,
        paths=paths,
        notes=tuple(laid.notes(way)),
        id_prefix=f"map-{places.workshop_id}",
    )


@dataclass(frozen=True, slots=True)
class _Laid:
    """The places on the plane round the spot."""

    places: WorkshopPlaces

    @property
    def plane(self) -> LocalPlane:
        return LocalPlane(*point(self.places.spot))

    def at(self, place: Place | ComfortNear) -> Metres:
        east, north = self.plane.to_metres(place.latitude_deg, place.longitude_deg)
        return float(east), float(north)

    @property
    def meeting_m(self) -> float | None:
        """How far off the meeting point lies, None where it is not drawn."""
        away = hypot(*self.at(self.places.meeting)) if self.places.meeting else FARTHEST_MEETING_M
        return away if away < FARTHEST_MEETING_M else None

    @property
    def draws_fallback(self) -> bool:
        fallback = self.places.fallback
        return fallback is not None and hypot(*self.at(fallback)) <= max(NEAR_FALLBACK_M, self.meeting_m or 0.0)

    def marks(self) -> Iterator[MapMark]:
        places = self.places
        yield MapMark("spot", words.SPOT, (0.0, 0.0))
        if places.meeting and self.meeting_m is not None:
            yield MapMark("meeting", words.MEETING, self.at(places.meeting))
        if places.fallback and self.draws_fallback:
            yield MapMark("fallback", words.FALLBACK, self.at(places.fallback))
        for station in places.stations:
            yield MapMark("station", station.name, self.at(station))
        for comfort in places.comforts:
            yield MapMark("comfort", words.COMFORTS[comfort.kind], self.at(comfort))

    def line(self, walk: WalkAnswer | None) -> tuple[Metres, ...]:
        """Along footways, or the straight line where there is none; empty without a walk."""
        if walk is None or not walk.walks:
            return ()
        return in_metres(self.plane, walk.line or (walk.start[::-1], walk.goal[::-1]))

    def notes(self, way: Sequence[Metres]) -> Iterator[str]:
        walk, fallback = self.places.walk, self.places.fallback
        if self.places.meeting is None:
            yield words.NO_MEETING
        elif way and walk and not walk.line:
            yield words.BROKEN
        if self.places.comforts:
            yield words.LOOK_FIRST
        if fallback and not self.draws_fallback:
            yield words.off_words(*self.from_spot(fallback))

    def from_spot(self, place: Place | ComfortNear) -> tuple[float, float]:
        """Metres and bearing."""
        east, north = self.at(place)
        return hypot(east, north), degrees(atan2(east, north)) % 360


def in_metres(plane: LocalPlane, points: Sequence[LonLat]) -> tuple[Metres, ...]:
    return tuple((float(east), float(north)) for east, north in plane.points_to_metres(points))


def _in_words(places: WorkshopPlaces, laid: _Laid) -> str:
    meeting, fallback = places.meeting, places.fallback
    return words.sketch_words(
        spot=places.spot.name,
        meeting=f"{meeting.name}, {words.far_words(*laid.from_spot(meeting))}" if meeting else "",
        meets_by=meeting.words if meeting else "",
        walk=places.walk_words,
        stations=[station.name for station in places.stations],
        fallback=f"{fallback.name}, {words.far_words(*laid.from_spot(fallback))}" if fallback else "",
        comforts=[words.comfort_words(each.kind, each.name, *laid.from_spot(each)) for each in places.comforts],
    )


def _ground(
    store: Store, laid: _Laid, points: Sequence[Metres]
) -> tuple[tuple[tuple[Metres, ...], ...], tuple[tuple[Metres, ...], ...]]:
    """Outlines of houses and lines of footways on the field; none where there are too many to look through."""
    axes = list(zip(*points, strict=True))
    middle = [(max(axis) + min(axis)) / 2 for axis in axes]
    reach_m = max(LEAST_ASIDE_M + 0.75 * (max(axis) - min(axis)) for axis in axes) + LEAST_ASIDE_M
    latitude, longitude = (float(each) for each in laid.plane.to_degrees(*middle))
    box = box_round(latitude, longitude, reach_m)
    with store.reading() as s:
        houses, ways = buildings_in(s, box, MOST_SHAPES + 1), footways_in(s, box, MOST_SHAPES + 1)
    outlines = tuple(in_metres(laid.plane, house.rings[0]) for house in houses) if len(houses) <= MOST_SHAPES else ()
    paths = tuple(in_metres(laid.plane, way.line) for way in ways) if len(ways) <= MOST_SHAPES else ()
    return outlines, paths
