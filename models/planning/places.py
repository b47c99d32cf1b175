"""Boxes and coordinates as people type them."""

from __future__ import annotations

import re
from math import isfinite

from models.problems import InputProblem
from models.street.town import Box

SOUTH_FIRST = "south and north must lie between -90 and 90, south first."

_NUMBER = r"[-+]?\d{1,3}(?:\.\d+)?"
_DECIMAL = re.compile(rf"({_NUMBER})\s*[,;\s]\s*({_NUMBER})$")
_SEXAGESIMAL = re.compile(
    r"(?P<d>\d{1,3})\s*[°d]\s*(?:(?P<m>\d{1,2}(?:\.\d+)?)\s*['′m]\s*)?"
    r"(?:(?P<s>\d{1,2}(?:\.\d+)?)\s*(?:\"|″|''|s)\s*)?(?P<side>[nsewNSEW])"
)


def read_box(text: str | None) -> Box:
    """A box from 'west,south,east,north'. Raises InputProblem('bbox', ...)."""
    west, south, east, north = _four(text)
    if not -90 <= south <= north <= 90:
        raise InputProblem("bbox", SOUTH_FIRST)
    return Box(south, west, north, east)


def read_view(text: str | None) -> Box:
    """The part of the world that a map shows, from 'west,south,east,north' as it counts: on and on, past poles.

    West exceeds east where the view crosses the date line. Raises InputProblem('bbox', ...).
    """
    west, south, east, north = _four(text)
    if not south <= north or south > 90 or north < -90:
        raise InputProblem("bbox", SOUTH_FIRST)
    south, north = max(-90.0, south), min(90.0, north)
    if east - west >= 360:
        return Box(south, -180.0, north, 180.0)
    return Box(south, _wrapped(west), north, _wrapped(east))


def read_place(text: str) -> tuple[float, float]:
    """(latitude_deg, longitude_deg) from decimal degrees or degrees-minutes-seconds, latitude first.

    Raises InputProblem('place', ...).
    """
    typed = text.strip()
    decimal = _DECIMAL.match(typed)
    if decimal:
        return _checked(float(decimal[1]), float(decimal[2]))
    parts = [_degrees(found) for found in _SEXAGESIMAL.finditer(typed)]
    axes = [axis for axis, _ in parts]
    if sorted(axes) != ["lat", "lon"]:
        raise InputProblem(
            "place", f"“{text}” is not a place. Paste it like 52.5301, 5.2312 or 52°31'48\"N 5°13'52\"E."
        )
    values = dict(parts)
    return _checked(values["lat"], values["lon"])


def _four(text: str | None) -> tuple[float, float, float, float]:
    try:
        west, south, east, north = (float(part) for part in (text or "").split(","))
    except ValueError:
        raise InputProblem("bbox", "give west,south,east,north in degrees, like 5.22,52.52,5.24,52.54.") from None
    if not all(map(isfinite, (west, south, east, north))):
        raise InputProblem("bbox", "the four numbers must be finite.")
    return west, south, east, north


def _wrapped(longitude_deg: float) -> float:
    return longitude_deg if -180 <= longitude_deg <= 180 else (longitude_deg + 180) % 360 - 180


def _degrees(found: re.Match[str]) -> tuple[str, float]:
    minutes, seconds = float(found["m"] or 0), float(found["s"] or 0)
    if minutes >= 60 or seconds >= 60:
        raise InputProblem("place", "minutes and seconds of a coordinate run to 59.")
    side = found["side"].upper()
    value = float(found["d"]) + minutes / 60 + seconds / 3600
    return ("lat" if side in "NS" else "lon"), (-value if side in "SW" else value)


def _checked(latitude_deg: float, longitude_deg: float) -> tuple[float, float]:
    if not -90 <= latitude_deg <= 90:
        raise InputProblem("latitude", f"{latitude_deg:g} is not a latitude: it runs from -90 to 90, and comes first.")
    if not -180 <= longitude_deg <= 180:
        raise InputProblem("longitude", f"{longitude_deg:g} is not a longitude: it runs from -180 to 180.")
    return latitude_deg, longitude_deg
