"""The outline of an area as lines of text, one corner each: what a map's presses write and anybody can type."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

import numpy as np
from shapely import Polygon

from models.planning.places import read_place
from models.problems import InputProblem
from models.rules.areas import Ring, Shape
from models.street.plane import LocalPlane

HOLE = "hole"
MOST_CORNERS = 5000


def read_corners(text: str) -> Shape:
    """Polygons from lines of 'latitude, longitude'. An empty line begins another piece, the line 'hole' what is left
    out of the piece above it. Raises InputProblem('shape', ...) naming the line.
    """
    polygons: list[list[Ring]] = []
    for number, lines, hole in _blocks(text):
        if hole and not polygons:
            raise InputProblem("shape", f"line {number}: a hole needs a piece above it.")
        ring = _ring(number, lines)
        if hole:
            polygons[-1].append(ring)
        else:
            polygons.append([ring])
    if not polygons:
        raise InputProblem("shape", "press its corners on the map, or type them: latitude, longitude, one a line.")
    return tuple(map(tuple, polygons))


def corners_text(shape: Shape) -> str:
    """The lines that `read_corners` reads back."""
    pieces = [f"\n{HOLE}\n".join("\n".join(map(_line, ring[:-1])) for ring in rings) for rings in shape]
    return "\n\n".join(pieces)


def outline_words(shape: Shape) -> str:
    """'6 corners, about 4,100 m²', '2 pieces, 14 corners, 1 hole, about 1.2 km²'."""
    corners = sum(len(ring) - 1 for rings in shape for ring in rings)
    holes = sum(len(rings) - 1 for rings in shape)
    parts = [f"{len(shape)} pieces"] * (len(shape) > 1) + [f"{corners:,} corners"]
    parts += [f"{holes} hole{'' if holes == 1 else 's'}"] * bool(holes)
    return ", ".join([*parts, f"about {size_words(ground_m2(shape))}"])


def size_words(square_metres: float) -> str:
    """'4,100 m²', '1.2 km²': two figures, nobody measured it better."""
    if square_metres >= 950_000:
        return f"{square_metres / 1e6:.2g} km²" if square_metres < 9.5e7 else f"{square_metres / 1e6:,.0f} km²"
    return f"{float(f'{square_metres:.2g}'):,.0f} m²"


def ground_m2(shape: Shape) -> float:
    """On a plane that touches the earth at its first corner."""
    longitude, latitude = shape[0][0][0]
    plane = LocalPlane(min(max(latitude, -89.0), 89.0), longitude)
    return float(sum(_polygon(rings, plane).area for rings in shape))


def _polygon(rings: Sequence[Ring], plane: LocalPlane) -> Polygon:
    local = [np.column_stack(plane.to_metres(*np.array(ring)[:, ::-1].T)) for ring in rings]
    return Polygon(local[0], local[1:])


def _blocks(text: str) -> list[tuple[int, list[tuple[int, str]], bool]]:
    """(first line's number, numbered lines, whether it is a hole) of each ring."""
    blocks: list[tuple[int, list[tuple[int, str]], bool]] = []
    lines: list[tuple[int, str]] = []
    begun, hole = 1, False
    for number, line in enumerate([*(each.strip() for each in text.splitlines()), ""], start=1):
        if line and line.lower() != HOLE:
            lines.append((number, line))
            continue
        if lines or hole:
            blocks.append((begun, lines, hole))
        lines, begun, hole = [], number, line.lower() == HOLE
    return blocks


def _ring(begun: int, lines: Sequence[tuple[int, str]]) -> Ring:
    if len(lines) > MOST_CORNERS:
        raise InputProblem("shape", f"holds {len(lines):,} corners; at most {MOST_CORNERS:,}.")
    points = [_corner(number, line) for number, line in lines]
    if len(points) > 1 and points[0] == points[-1]:
        points.pop()
    if len(points) < 3:
        first = lines[0][0] if lines else begun
        raise InputProblem("shape", f"line {first}: a piece needs at least three corners; this has {len(points)}.")
    return (*points, points[0])


def _corner(number: int, line: str) -> tuple[float, float]:
    try:
        latitude_deg, longitude_deg = read_place(line)
    except InputProblem as problem:
        raise InputProblem("shape", f"line {number}: {problem.message}") from None
    return longitude_deg, latitude_deg


def _line(point: tuple[float, float]) -> str:
    longitude, latitude = point
    return f"{_plain(latitude)}, {_plain(longitude)}"


def _plain(number: float) -> str:
    """All of its own digits, without an exponent."""
    return f"{Decimal(repr(float(number))):f}"
