"""What stands on the skyline: walls by what their height rests on, leaves and roofs before the sky, and the doubt."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from enum import IntEnum
from typing import Literal

import numpy as np
import shapely
from numpy.typing import NDArray

from models.drawing.key import KeyItem, texture_item
from models.drawing.svg import Axis, Floats, Frame, Sheet, band_path, el, line_path
from models.street.scene import clockwise_deg

CrownKind = Literal["leaves", "bare", "roof"]


class Edge(IntEnum):
    """What a stretch of the skyline rests on."""

    NONE = 0
    SURVEYED = 1
    ASSUMED = 2
    MEASURED = 3


@dataclass(frozen=True, slots=True)
class Crown:
    """Leaves, bare branches or a roof before the sky: bearings clockwise from-to, elevations low-high, degrees."""

    from_deg: float
    to_deg: float
    low_deg: float
    high_deg: float
    kind: CrownKind = "leaves"

    @property
    def width_deg(self) -> float:
        return clockwise_deg(self.from_deg, self.to_deg)


@dataclass(frozen=True, slots=True)
class Turn:
    """The field of one turn round: bearings from first_deg across, elevations up."""

    sheet: Sheet
    frame: Frame
    first_deg: float
    across: Axis
    up: Axis

    def x(self, bearing_deg: float) -> float:
        return self.across.at((bearing_deg - self.first_deg) % 360)

    def y(self, elevation_deg: float) -> float:
        """Kept between the horizon and the top."""
        return self.up.at(max(0.0, min(elevation_deg, self.up.high)))


def draw_walls(turn: Turn, elevation_deg: Floats, doubt_deg: Floats, edge: NDArray[np.int8]) -> None:
    """Each stretch of one kind in its texture under its outline, then the doubt along the edge; arrays (n,) of bins."""
    bearing, height, doubt, kinds = _unrolled(turn.first_deg, elevation_deg, doubt_deg, edge)
    x, y = turn.across.over(bearing), turn.up.over(np.clip(height, 0, turn.up.high))
    half_bin = (turn.frame.right - turn.frame.left) / len(x) / 2
    for run in np.split(np.arange(len(x)), np.flatnonzero(np.diff(kinds)) + 1):
        kind = Edge(int(kinds[run[0]]))
        if kind is not Edge.NONE:
            run_x = np.concatenate([[x[run[0]] - half_bin], x[run], [x[run[-1]] + half_bin]])
            _draw_wall(turn, kind, run_x, np.concatenate([[y[run[0]]], y[run], [y[run[-1]]]]))
    doubt = np.where((kinds == Edge.NONE) | (doubt <= 0), np.nan, doubt)
    low, high = (turn.up.over(np.clip(height + sign * doubt, 0, turn.up.high)) for sign in (-1, 1))
    band = band_path(x, low, high)
    if band:
        turn.sheet.add(el("path", cls="doubt", d=band))


def draw_crowns(turn: Turn, crowns: Sequence[Crown]) -> None:
    """Each kind as one shape, so that crowns before one another stay calm."""
    for kind, (texture, tone, _) in _CROWNS.items():
        shapes = [_crown_shape(turn, crown, by) for crown in crowns if crown.kind == kind for by in (-360, 0)]
        joined = shapely.union_all([shape for shape in shapes if not shape.is_empty])
        if not joined.is_empty:
            turn.sheet.textured("path", texture, tone=tone, fill_rule="evenodd", d=_rings_path(joined))


def layer_items(edge: NDArray[np.int8], crowns: Sequence[Crown]) -> list[KeyItem]:
    """The key of the kinds that occur."""
    kinds: Collection[int] = np.unique(edge).tolist()
    walls = [_wall_item(kind) for kind in _WALLS if kind in kinds]
    seen = {crown.kind for crown in crowns}
    return walls + [texture_item(words, texture, tone) for k, (texture, tone, words) in _CROWNS.items() if k in seen]


_WALLS = {
    Edge.SURVEYED: ("brick", "building"),
    Edge.ASSUMED: ("assumed", "height assumed"),
    Edge.MEASURED: ("plumb", "line measured by hand"),
}
_CROWNS: dict[CrownKind, tuple[str, str, str]] = {
    "leaves": ("leaf", "crown", "leaves"),
    "bare": ("dash", "crown", "bare branches"),
    "roof": ("roof", "overhead", "roof overhead"),
}


def _unrolled(
    first_deg: float, elevation_deg: Floats, doubt_deg: Floats, edge: NDArray[np.int8]
) -> tuple[Floats, Floats, Floats, NDArray[np.int8]]:
    """Bearing from the left end, elevation, doubt and kind of each bin, left to right; no wall where none rises."""
    count = len(elevation_deg)
    bearing = ((np.arange(count) + 0.5) * 360 / count - first_deg) % 360
    order = np.argsort(bearing)
    height = elevation_deg[order]
    rises = np.nan_to_num(height) > 0
    return bearing[order], height, doubt_deg[order], np.where(rises, edge[order], Edge.NONE).astype(np.int8)


def _draw_wall(turn: Turn, kind: Edge, x: Floats, y: Floats) -> None:
    ground, name = np.full(len(x), turn.frame.bottom), kind.name.lower()
    turn.sheet.textured("path", _WALLS[kind][0], tone=f"wall-{name}", d=band_path(x, ground, y))
    outline = line_path(np.concatenate([x[:1], x, x[-1:]]), np.concatenate([ground[:1], y, ground[:1]]))
    turn.sheet.add(el("path", cls=f"outline-{name}", fill="none", d=outline))


def _crown_shape(turn: Turn, crown: Crown, by_deg: float) -> shapely.Geometry:
    start = (crown.from_deg - turn.first_deg) % 360 + by_deg
    left, right = max(turn.across.at(start), turn.frame.left), turn.across.at(min(start + crown.width_deg, 360))
    top, bottom = turn.y(crown.high_deg), turn.y(crown.low_deg)
    if left >= right or top >= bottom:
        return shapely.Polygon()
    round_by = 0.0 if crown.kind == "roof" else min(7.0, (right - left) / 3, (bottom - top) / 3)
    return shapely.box(left, top, right, bottom).buffer(-round_by).buffer(round_by, quad_segs=4)


def _rings_path(shape: shapely.Geometry) -> str:
    rings = [ring for part in shapely.get_parts(shape) for ring in (part.exterior, *part.interiors)]
    return "".join(line_path(*shapely.get_coordinates(ring).T) + "Z" for ring in rings)


def _wall_item(kind: Edge) -> KeyItem:
    texture, words = _WALLS[kind]
    return texture_item(words, texture, f"wall-{kind.name.lower()}", f"outline-{kind.name.lower()}")
