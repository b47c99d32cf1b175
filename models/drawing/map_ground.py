"""Houses and paths under a map sketch as one path each: cut at the field, simplified, the largest first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from models.drawing.ground import Ground, Metres
from models.drawing.svg import num

LEAST_AREA = 8.0  # square units: smaller houses are dust
LEAST_LENGTH = 6.0
ROUGH = 0.45  # units by which a corner may be off: a map to walk by, not to measure


def ground_shapes(ground: Ground, lines: Sequence[Sequence[Metres]], *, closed: bool, most_bytes: int) -> str:
    """Path data of what lies on the field, largest first, of at most so many letters."""
    pieces = [piece for line in lines for piece in _cut(ground, line, closed)]
    least = LEAST_AREA if closed else LEAST_LENGTH
    sized = [(float(piece.area if closed else piece.length), piece) for piece in pieces]
    pieces = [piece for size, piece in sorted(sized, key=lambda each: -each[0]) if size >= least]
    written, length = [], 0
    for piece in pieces:
        ring = piece.exterior if closed else piece
        data = _moves(ring.coords[:-1] if closed else ring.coords) + ("Z" if closed else "")
        length += len(data)
        if length > most_bytes:
            break
        written.append(data)
    return "".join(written)


def line_path(ground: Ground, line: Sequence[Metres]) -> str:
    """Path data of a line as far as it lies on the field, '' for none."""
    return "".join(_moves(piece.coords) for piece in _cut(ground, line, False))


def _cut(ground: Ground, line: Sequence[Metres], closed: bool) -> Iterator[BaseGeometry]:
    """What of it lies on the field, in units; a ring that crosses itself is left out."""
    points = [ground.at(point) for point in line]
    if len(points) < (3 if closed else 2):
        return
    shape = shapely.Polygon(points) if closed else shapely.LineString(points)
    if closed and not shape.is_valid:
        return
    frame = ground.frame
    inside = shapely.clip_by_rect(shape, frame.left, frame.top, frame.right, frame.bottom)
    kind = "Polygon" if closed else "LineString"
    for piece in shapely.get_parts(inside):
        rough = shapely.simplify(piece, ROUGH)
        if rough.geom_type == kind and not rough.is_empty:
            yield rough


def _moves(points: Sequence[tuple[float, ...]]) -> str:
    return "M" + " ".join(f"{num(x)} {num(y)}" for x, y, *_ in points)
