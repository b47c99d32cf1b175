"""Where the stations of a workshop stand round their spot, north up and to scale, and the way each camera looks.

   A |
     o        B--o
spot +
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, hypot, radians, sin

from models.drawing.ground import Ground, draw_length, draw_north
from models.drawing.lettering import text_width
from models.drawing.svg import Frame, Sheet, Width, el, num

HEIGHT = {"wide": 260.0, "narrow": 240.0}
EDGE, RADIUS = 34.0, 7.0
LOOKS = 30.0  # units of the line that shows the way the camera looks
SAME_M = 0.5
NEAREST_M = 4.0  # at least so much ground is shown each way
LONGEST_BAR = 140.0


@dataclass(frozen=True, slots=True)
class SketchStation:
    """east_m, north_m: from the spot's own point. looking_deg: of the camera, None where not chosen."""

    name: str
    east_m: float
    north_m: float
    looking_deg: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class StationsSketch:
    """All that the sketch shows. id_prefix: unique in the page."""

    title: str
    stations: tuple[SketchStation, ...]
    spot: str
    id_prefix: str = "stations"


def draw_stations_sketch(sketch: StationsSketch, width: Width) -> str:
    """The sketch as an SVG; "wide" for a desk, "narrow" for a phone."""
    sheet = Sheet(width, sketch.id_prefix)
    height = HEIGHT[width]
    reach = (max([NEAREST_M, *(abs(one.east_m) for one in sketch.stations)]),
             max([NEAREST_M, *(abs(one.north_m) for one in sketch.stations)]))  # fmt: skip
    scale = min((sheet.units / 2 - 2 * EDGE) / reach[0], (height / 2 - EDGE) / reach[1])
    ground = Ground(Frame(0.0, 0.0, sheet.units, height), (0.0, 0.0), scale)
    _spot(sheet, ground.at((0.0, 0.0)))
    for place in _gathered(sketch.stations):
        _station(sheet, *ground.at((place[0].east_m, place[0].north_m)), place)
    draw_length(sheet, EDGE, height + 7, scale, LONGEST_BAR)
    draw_north(sheet, sheet.units, height + 7)
    return sheet.finish(height + 26, sketch.title, "; ".join(_words(one) for one in sketch.stations) + ".")


def _gathered(stations: tuple[SketchStation, ...]) -> list[list[SketchStation]]:
    """Those at one place together."""
    places: list[list[SketchStation]] = []
    for one in stations:
        near = (here for here in places if hypot(one.east_m - here[0].east_m, one.north_m - here[0].north_m) < SAME_M)
        if (found := next(near, None)) is not None:
            found.append(one)
        else:
            places.append([one])
    return places


def _spot(sheet: Sheet, at: tuple[float, float]) -> None:
    x, y = at
    sheet.add(el("path", cls="zero", fill="none", d=f"M{num(x - 9)} {num(y)}h18M{num(x)} {num(y - 9)}v18"))


def _station(sheet: Sheet, x: float, y: float, here: list[SketchStation]) -> None:
    for one in here:
        if one.looking_deg is not None:  # the camera stands against the way it looks
            turn = radians(one.looking_deg)
            across, down = -sin(turn) * LOOKS, cos(turn) * LOOKS
            sheet.add(el("path", cls="leader", fill="none", d=f"M{num(x + across)} {num(y + down)}L{num(x)} {num(y)}"))
            sheet.add(el("circle", cls="camera", cx=x + across, cy=y + down, r=3.0))
    sheet.add(el("circle", cls="person", cx=x, cy=y, r=RADIUS))
    names = ", ".join(one.name for one in here)
    left = x + RADIUS + 5 + text_width(names) > sheet.units
    sheet.text(names, x - RADIUS - 5 if left else x + RADIUS + 5, y - RADIUS, anchor="end" if left else "start",
               bold=True, cls="strong")  # fmt: skip


def _words(one: SketchStation) -> str:
    off = hypot(one.east_m, one.north_m)
    where = "at the spot's own point" if off < SAME_M else f"{off:.0f} m from it"
    return f"{one.name} {where}"
