"""Places of a day for other programs: as GeoJSON (RFC 7946), and one place as links that phones and browsers open."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from models.street.town import LonLat
from models.workshop.briefing import Place

DECIMALS = 6
"""Of a degree: a tenth of a metre."""
MAP = "https://www.openstreetmap.org/"
"""Shows a place to anybody who opens the link; nothing here ever asks it."""
ZOOM = 18


@dataclass(frozen=True, slots=True)
class Waypoint:
    """kind: one word for programs, like "meeting"."""

    kind: str
    place: Place


@dataclass(frozen=True, slots=True)
class Way:
    """line: (longitude_deg, latitude_deg) from its start; known: along footways on record."""

    kind: str
    name: str
    line: tuple[LonLat, ...]
    known: bool


@dataclass(frozen=True, slots=True)
class Link:
    words: str
    href: str


def links_to(place: Place) -> tuple[Link, ...]:
    """To be opened by whatever shows maps on a phone (RFC 5870), and by any browser."""
    latitude, longitude = (_plain(each) for each in (place.latitude_deg, place.longitude_deg))
    pin = f"{MAP}?mlat={latitude}&mlon={longitude}#map={ZOOM}/{latitude}/{longitude}"
    return Link("Open in a map app", f"geo:{latitude},{longitude}"), Link("Open a map in the browser", pin)


def places_geojson(waypoints: Sequence[Waypoint], ways: Sequence[Way]) -> dict[str, Any]:
    """A feature collection: a Point for each waypoint, a LineString for each way."""
    points = [
        _feature(
            {"kind": each.kind, "name": each.place.name, "description": each.place.words},
            "Point",
            _position((each.place.longitude_deg, each.place.latitude_deg)),
        )
        for each in waypoints
    ]
    lines = [
        _feature({"kind": way.kind, "name": way.name, "known": way.known}, *_geometry(way.line))
        for way in ways
        if len(way.line) > 1
    ]
    return {"type": "FeatureCollection", "features": [*points, *lines]}


def _feature(properties: dict[str, Any], kind: str, coordinates: list[Any]) -> dict[str, Any]:
    return {"type": "Feature", "properties": properties, "geometry": {"type": kind, "coordinates": coordinates}}


def _geometry(line: tuple[LonLat, ...]) -> tuple[str, list[Any]]:
    """In pieces where it crosses 180 degrees (section 3.1.9)."""
    pieces: list[list[LonLat]] = [[line[0]]]
    for point in line[1:]:
        last = pieces[-1][-1]
        if abs(point[0] - last[0]) > 180:
            edge = 180.0 if last[0] > 0 else -180.0
            share = (edge - last[0]) / ((point[0] + 2 * edge) - last[0])
            north = last[1] + share * (point[1] - last[1])
            pieces[-1].append((edge, north))
            pieces.append([(-edge, north)])
        pieces[-1].append(point)
    drawn = [[_position(point) for point in piece] for piece in pieces]
    return ("LineString", drawn[0]) if len(drawn) == 1 else ("MultiLineString", drawn)


def _position(point: LonLat) -> list[float]:
    return [round(degrees, DECIMALS) + 0.0 for degrees in point]


def _plain(degrees: float) -> str:
    """Without an exponent, and with no minus before zero."""
    return f"{round(degrees, DECIMALS) + 0.0:.{DECIMALS}f}".rstrip("0").rstrip(".")
