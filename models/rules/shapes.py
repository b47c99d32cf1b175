"""Outlines of areas, checked: closed, on the earth, enclosing something, not crossing themselves."""

from __future__ import annotations

import re
from math import isfinite
from typing import Any, NoReturn

from shapely import MultiPolygon, Polygon, is_valid_reason

from models.problems import InputProblem
from models.rules.areas import Ring, Shape

MOST_POINTS = 20_000
WIDEST_DEG = 30.0
"""Of one outline: wider than most countries. One that goes over 180 degrees of longitude seems to be 360 wide."""
_WHERE = re.compile(r"(?P<why>[^\[]+)\[(?P<longitude>\S+) (?P<latitude>[^\]]+)\]")


def checked_shape(shape: Shape) -> Shape:
    """The shape as tuples of floats, or InputProblem("shape", ...) that says what is wrong and where."""
    found = tuple(tuple(_ring(ring) for ring in _listed(rings)) for rings in _listed(shape))
    if not found or not all(found):
        _refuse("has no outline: give its corners")
    points = sum(len(ring) for rings in found for ring in rings)
    if points > MOST_POINTS:
        _refuse(f"has {points} points; at most {MOST_POINTS}: simplify it")
    for rings in found:
        _plain(Polygon(rings[0], rings[1:]))
    if len(found) > 1:
        _plain(MultiPolygon([(rings[0], rings[1:]) for rings in found]))
    return found


def _ring(ring: Any) -> Ring:
    points = tuple(_position(point) for point in _listed(ring))
    if len(points) < 4 or points[0] != points[-1]:
        _refuse("a ring needs three corners at least, and ends where it began")
    longitudes, latitudes = [p[0] for p in points], [p[1] for p in points]
    span = max(max(longitudes) - min(longitudes), max(latitudes) - min(latitudes))
    if span > WIDEST_DEG:
        over = ", or it goes over 180 degrees of longitude: cut it there" if span > 180.0 else ""
        _refuse(f"reaches over {span:.3g} degrees: one of its corners is wrong or swapped{over}")
    return points


def _position(point: Any) -> tuple[float, float]:
    numbers = [value for value in _listed(point) if isinstance(value, int | float) and not isinstance(value, bool)]
    if len(numbers) != 2 or len(point) != 2 or not all(map(isfinite, numbers)):
        _refuse(f"{str(point)[:40]} is not a corner: give longitude and latitude in degrees")
    longitude, latitude = map(float, numbers)
    if abs(longitude) > 180.0 or abs(latitude) > 90.0:
        _refuse(f"longitude {longitude:g}, latitude {latitude:g} is not on the earth")
    return longitude, latitude


def _plain(shape: Polygon | MultiPolygon) -> None:
    if shape.is_valid and shape.area > 0:
        return
    found = _WHERE.match(is_valid_reason(shape))
    if found is None or shape.convex_hull.area == 0:
        _refuse("its outline encloses nothing")
    why = "crosses or touches itself" if "elf-inter" in found["why"] else f"is not plain ({found['why'].lower()})"
    where = f"latitude {float(found['latitude']):.7g}, longitude {float(found['longitude']):.7g}"
    _refuse(f"its outline {why} near {where}")


def _listed(value: Any) -> tuple[Any, ...] | list[Any]:
    if not isinstance(value, tuple | list):
        _refuse(f"{str(value)[:40]!r} is no part of an outline")
    return value


def _refuse(message: str) -> NoReturn:
    raise InputProblem("shape", message)
