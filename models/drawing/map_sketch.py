"""Where a workshop meets, walks and works, to scale with north up: one drawing for a phone, a file and paper.

   Toilets          o Meeting point
  []   |____|  ____/        north
 ____  |    | /               ^
|    | |____|x Spot  A B      |
|----| 50 m

Stations too close together to be told apart on it stand once more below, larger. Letters are 16 px high on a phone of
375 px. Small houses go first where there are too many for MOST_BYTES.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from math import hypot
from typing import Literal

from models.drawing.ground import Ground, Metres, draw_length, draw_north
from models.drawing.lettering import Box, Place, Placer, fit
from models.drawing.map_ground import ground_shapes, line_path
from models.drawing.on_paper import on_paper
from models.drawing.svg import LINE_STEP, Frame, Sheet, el, num

Kind = Literal["spot", "meeting", "fallback", "station", "comfort"]
ACROSS = 276.0
"""Units: 343 px on a phone of 375 px with margins, so that 13 units are 16 px."""
TALLEST, LEAST_TALL, CLOSE_TALL = 330.0, 130.0, 150.0
LEAST_ASIDE_M, ASIDE = 15.0, 0.12
CLOSE_ASIDE_M = 4.0
APART = 20.0  # units between stations that can be told apart
FOOT = 32.0
MARK, SAME_M, NEAR_M = 5.0, 0.5, 25.0
BAR_SHARE = 0.35
MOST_BYTES = 40_000
HOUSE_BYTES, PATH_BYTES, CLOSE_BYTES = 18_000, 7_000, 5_000
CLOSER = "The stations, larger"


@dataclass(frozen=True, slots=True)
class MapMark:
    """A place. label: short, written beside it."""

    kind: Kind
    label: str
    at: Metres


@dataclass(frozen=True, slots=True, kw_only=True)
class MapSketch:
    """All that the sketch shows, in metres.

    marks: most important first. way: from meeting point to spot, empty without one; known: it runs along recorded
    footways, else it is drawn as the broken straight line that it is. onward: to the fallback. outlines: outer rings of
    houses. paths: footways. notes: lines of words under it. id_prefix: unique in the page.
    """

    title: str
    desc: str
    marks: tuple[MapMark, ...]
    way: tuple[Metres, ...] = ()
    known: bool = True
    onward: tuple[Metres, ...] = ()
    outlines: tuple[tuple[Metres, ...], ...] = ()
    paths: tuple[tuple[Metres, ...], ...] = ()
    notes: tuple[str, ...] = ()
    id_prefix: str = "map"


def draw_map_sketch(sketch: MapSketch) -> str:
    """The sketch as one SVG for every width. Raises ValueError for one without a mark."""
    if not sketch.marks:
        raise ValueError("a map sketch needs a place to show")
    sheet = Sheet(None, sketch.id_prefix, across=ACROSS)
    ground = _overview(sketch)
    others = [mark for mark in sketch.marks if mark.kind != "station"]
    stations = _gathered([mark for mark in sketch.marks if mark.kind == "station"])
    close = _too_close(stations, ground.scale)
    bottom = _Field(sheet, ground).draw(sketch, others if close else [*others, *stations], HOUSE_BYTES)
    if close:
        sheet.text(CLOSER, 1, bottom + LINE_STEP, bold=True, cls="strong")
        near = [*(mark for mark in others if mark.kind == "spot" and _is_near(mark, stations)), *stations]
        bottom = _Field(sheet, _close_up(near, bottom + LINE_STEP + 8)).draw(sketch, near, CLOSE_BYTES)
    for note in sketch.notes:
        bottom += LINE_STEP
        sheet.text(fit(note, ACROSS - 2), 1, bottom - 4)
    sheet.parts.insert(0, el("rect", cls="map-sheet", x=0.0, y=0.0, width=ACROSS, height=bottom))
    return on_paper(sheet.finish(bottom, sketch.title, sketch.desc, scale=ground.scale))


class _Field:
    """One part of the ground on the sheet, with its marks and their labels."""

    def __init__(self, sheet: Sheet, ground: Ground) -> None:
        self.sheet, self.ground = sheet, ground
        frame = ground.frame
        inside = Box(frame.left + 3, frame.top + 3, frame.right - 3, frame.bottom - 3)
        self.clear, self.over = Placer(inside), Placer(inside)
        self.bottom = frame.bottom + FOOT

    def draw(self, sketch: MapSketch, marks: Sequence[MapMark], most_bytes: int) -> float:
        """Everything; how far down it reaches."""
        self.draw_ground(sketch, most_bytes)
        self.draw_ways(sketch)
        for mark in reversed(marks):
            self.draw_mark(mark)
        for mark in marks:
            self.draw_label(mark)
        y = self.ground.frame.bottom + 14
        draw_length(self.sheet, 1, y, self.ground.scale, BAR_SHARE * ACROSS)
        draw_north(self.sheet, ACROSS - 1, y)
        return self.bottom

    def draw_ground(self, sketch: MapSketch, most_bytes: int) -> None:
        frame = self.ground.frame
        edge = {"x": 0.5, "y": frame.top + 0.5, "width": ACROSS - 1, "height": frame.bottom - frame.top - 1}
        paths = ground_shapes(self.ground, sketch.paths, closed=False, most_bytes=min(most_bytes, PATH_BYTES))
        houses = ground_shapes(self.ground, sketch.outlines, closed=True, most_bytes=most_bytes)
        if paths:
            self.sheet.add(el("path", cls="map-path", fill="none", d=paths))
        if houses:
            self.sheet.add(el("path", cls="map-house", d=houses))
        self.sheet.add(el("rect", cls="rule", fill="none", **edge))

    def draw_ways(self, sketch: MapSketch) -> None:
        if onward := line_path(self.ground, sketch.onward):
            self.sheet.add(el("path", cls="map-part", fill="none", d=onward))
        if way := line_path(self.ground, sketch.way):
            if sketch.known:
                self.sheet.add(el("path", cls="way-under", fill="none", d=way))
            self.sheet.add(el("path", cls="way" if sketch.known else "way-guessed", fill="none", d=way))
        for one, other in zip(sketch.way, sketch.way[1:], strict=False):
            self.clear.block(*_along(self.ground.at(one), self.ground.at(other)))

    def draw_mark(self, mark: MapMark) -> None:
        x, y = self.ground.at(mark.at)
        box = Box(x - MARK - 1, y - MARK - 1, x + MARK + 1, y + MARK + 1)
        self.clear.block(box)
        self.over.block(box)
        size = {"width": 2 * MARK, "height": 2 * MARK}
        if mark.kind == "comfort":
            self.sheet.add(el("rect", cls="map-comfort", x=x - MARK, y=y - MARK, rx=2.0, **size))
        elif mark.kind == "fallback":
            self.sheet.add(el("path", cls="map-fallback", d=f"M{num(x)} {num(y - 7)}l7 7l-7 7l-7 -7Z"))
        else:
            cls = {"spot": "now-down", "meeting": "now"}.get(mark.kind, "person")
            self.sheet.add(el("circle", cls=cls, cx=x, cy=y, r=MARK + (mark.kind != "station")))

    def draw_label(self, mark: MapMark) -> None:
        """Where nothing stands yet; over the way where there is no other room; else in a line below the field."""
        bold = mark.kind != "comfort"
        words = fit(mark.label, 0.55 * ACROSS, bold=bold)
        if not words:
            return
        x, y = self.ground.at(mark.at)
        place = self.clear.find(words, _beside(x, y), bold=bold)
        if place is not None:
            self.over.find(words, [place], bold=bold, gap=-ACROSS)
        else:
            place = self.over.find(words, _beside(x, y), bold=bold)
            self.clear.find(words, [place] if place else [], bold=bold, gap=-ACROSS)
        if place is None:
            self.bottom += LINE_STEP
            place = Place(1.0, self.bottom - 4)
        self.sheet.text(words, place.x, place.y, anchor=place.anchor, bold=bold, cls="strong")


def _overview(sketch: MapSketch) -> Ground:
    points = [*(mark.at for mark in sketch.marks), *sketch.way, *sketch.onward]
    extent_m = max(max(axis) - min(axis) for axis in zip(*points, strict=True))
    aside_m = max(LEAST_ASIDE_M, ASIDE * extent_m)
    return Ground.fitted(points, ACROSS, aside_m=aside_m, least=LEAST_TALL, most=TALLEST)


def _close_up(marks: Sequence[MapMark], top: float) -> Ground:
    """These alone, on the field that begins at `top`."""
    points = [mark.at for mark in marks]
    flat = Ground.fitted(points, ACROSS, aside_m=CLOSE_ASIDE_M, least=CLOSE_TALL, most=CLOSE_TALL)
    return Ground(Frame(0.0, top, ACROSS, top + CLOSE_TALL), flat.middle, flat.scale)


def _too_close(stations: Sequence[MapMark], scale: float) -> bool:
    """Whether some could not be told apart at that scale."""
    return any(_away_m(one, other) < APART / scale for one, other in combinations(stations, 2))


def _gathered(stations: Sequence[MapMark]) -> list[MapMark]:
    """One mark for those at one place."""
    places: list[list[MapMark]] = []
    for one in stations:
        here = next((some for some in places if _away_m(one, some[0]) < SAME_M), None)
        if here is None:
            places.append([one])
        else:
            here.append(one)
    return [replace(here[0], label=", ".join(one.label for one in here)) for here in places]


def _is_near(spot: MapMark, stations: Sequence[MapMark]) -> bool:
    """Whether the larger field can hold both."""
    return any(_away_m(spot, station) < NEAR_M for station in stations)


def _away_m(one: MapMark, other: MapMark) -> float:
    return hypot(one.at[0] - other.at[0], one.at[1] - other.at[1])


def _along(start: tuple[float, float], end: tuple[float, float]) -> Iterator[Box]:
    """Small boxes along a line, so that words keep off it."""
    steps = max(1, min(60, int(hypot(end[0] - start[0], end[1] - start[1]) / 5)))
    for k in range(steps + 1):
        x, y = (start[i] + (end[i] - start[i]) * k / steps for i in (0, 1))
        yield Box(x - 2, y - 2, x + 2, y + 2)


def _beside(x: float, y: float) -> Iterator[Place]:
    """Right of a mark, left, above, below, then further up and down."""
    yield Place(x + 11, y + 4)
    yield Place(x - 11, y + 4, "end")
    for step in (12.0, 24.0, 36.0, 50.0):
        for base in (y - step + 2, y + step + 8):
            yield from (Place(x, base, "middle"), Place(x + 4, base), Place(x - 4, base, "end"))
