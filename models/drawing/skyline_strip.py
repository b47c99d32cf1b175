"""The skyline as one sees it turning round once: bearing across, height up, the sun's way drawn through it.

         words of the moment
60° |      ______      |
    |     |# # # |     |  o  o
30° |_____| # # #|__   O       o         _____
    |# # # # # # # #|.'          '.     # # #
 0° +------------------------------------------
    N      NE      E      SE      S      SW   ...
                       |___ ^ ___|  camera looks south
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from models.drawing.heading import heading, margins
from models.drawing.key import KeyItem, lay_key, line_item, mark_item
from models.drawing.lettering import Box, Place, Placer, keep_between, text_width, wrap
from models.drawing.skyline_layers import Crown, Edge, Turn, draw_crowns, draw_walls, layer_items
from models.drawing.sun_marks import SUN_WORDS, SunMark, down_mark, moment_mark, sun_item, sun_mark
from models.drawing.svg import LINE_STEP, Axis, Floats, Frame, Sheet, Width, el, line_path, nothing_to_draw, num, titled
from models.units import COMPASS, compass_words

__all__ = ["Crown", "Edge", "HandPoint", "HourMark", "SkylineStrip", "SunMark", "SunMoment", "draw_skyline_strip"]

BACKDROP_HALF_WIDTH_DEG = 20.0
BACKDROP_TOP_DEG = 25.0
"""What counts as behind the face for a camera bearing, as models/light measures it."""

COMPASS_SHORT = ("N", "NE", "E", "SE", "S", "SW", "W", "NW")


@dataclass(frozen=True, slots=True)
class HandPoint:
    """A point of the skyline measured by hand; words are shown when it is pointed at."""

    bearing_deg: float
    elevation_deg: float
    words: str = ""


@dataclass(frozen=True, slots=True)
class HourMark:
    """Where the sun stands at a full local hour, refracted elevation, and whether it shines on the spot."""

    label: str
    azimuth_deg: float
    elevation_deg: float
    state: SunMark


@dataclass(frozen=True, slots=True)
class SunMoment:
    """The sun at the moment pointed at, and its words in short pieces; an arrow marks where it is below the horizon."""

    azimuth_deg: float
    elevation_deg: float
    state: SunMark
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True, eq=False)
class SkylineStrip:
    """All that the strip shows.

    elevation_deg, doubt_deg: (n,) degrees, bin k at bearing (k + 0.5) * 360 / n; edge: (n,) of Edge. path_*: (m,) the
    sun's way through the day in steps of some minutes, refracted elevation, what lies below 0 is cut off. looking_deg
    is the camera's bearing; the strip is centred on it, else on centre_deg. id_prefix: unique in the page.
    """

    title: str
    desc: str
    elevation_deg: Floats
    doubt_deg: Floats
    edge: NDArray[np.int8]
    path_azimuth_deg: Floats = field(default_factory=lambda: np.zeros(0))
    path_elevation_deg: Floats = field(default_factory=lambda: np.zeros(0))
    hours: tuple[HourMark, ...] = ()
    moment: SunMoment | None = None
    crowns: tuple[Crown, ...] = ()
    points: tuple[HandPoint, ...] = ()
    looking_deg: float | None = None
    centre_deg: float = 180.0
    id_prefix: str = "skyline"


def draw_skyline_strip(strip: SkylineStrip, width: Width) -> str:
    """The strip as an SVG; "wide" for a desk, "narrow" for a phone."""
    if not len(strip.elevation_deg):
        return nothing_to_draw(width, strip.id_prefix, strip.title, "No skyline is known here yet.")
    board = _Board(strip, width)
    board.draw_heights()
    draw_walls(board.turn, strip.elevation_deg, strip.doubt_deg, strip.edge)
    draw_crowns(board.turn, strip.crowns)
    board.draw_backdrop()
    board.draw_sun_path()
    board.draw_points()
    board.draw_moment()
    board.draw_hours()
    board.draw_bearings()
    board.draw_camera()
    return board.finish()


class _Board:
    """The strip on its sheet: one method for each layer; `bottom` is how far down it has come."""

    def __init__(self, strip: SkylineStrip, width: Width) -> None:
        self.strip, self.sheet = strip, Sheet(width, strip.id_prefix)
        self.heading = heading(self.sheet, strip.moment.words if strip.moment else ())
        left, right = margins(self.sheet)
        top = self.heading.bottom + 16
        frame = Frame(left, top, right, top + (160 if self.sheet.narrow else 190))
        centre = strip.centre_deg if strip.looking_deg is None else strip.looking_deg
        up = Axis(0, _top_deg(strip), frame.bottom, top)
        self.turn = Turn(self.sheet, frame, (centre - 180) % 360, Axis(0, 360, left, right), up)
        self.placer = Placer(Box(left, top - 6, right, frame.bottom - 1))
        self.bottom = frame.bottom

    def draw_heights(self) -> None:
        frame, top_deg = self.turn.frame, int(self.turn.up.high)
        for height in range(0, top_deg + 1, 10 if top_deg <= 40 else 20 if top_deg <= 80 else 30):
            y = self.turn.y(height)
            self.sheet.add(el("path", cls="rule", d=f"M{num(frame.left)} {num(y)}H{num(frame.right)}"))
            self.sheet.text(f"{height}°", frame.left - 6, y + 4.5, anchor="end")

    def draw_backdrop(self) -> None:
        top, bottom = num(self.turn.y(BACKDROP_TOP_DEG)), num(self.turn.frame.bottom)
        if self.strip.looking_deg is not None:
            left, right = self._backdrop()
            self.sheet.add(el("path", cls="backdrop", fill="none", d=f"M{left} {bottom}V{top}H{right}V{bottom}"))

    def draw_sun_path(self) -> None:
        turn, strip = self.turn, self.strip
        x = turn.across.over((strip.path_azimuth_deg - turn.first_deg) % 360)
        y = turn.up.over(strip.path_elevation_deg)
        seams = np.flatnonzero(np.abs(np.diff(x)) > (turn.frame.right - turn.frame.left) / 2) + 1
        way = line_path(np.insert(x, seams, np.nan), np.insert(y, seams, np.nan))
        if way:
            clip = self.sheet.clip("field", turn.frame)
            self.sheet.add(el("path", cls="sun-way", fill="none", clip_path=clip, d=way))

    def draw_points(self) -> None:
        for point in self.strip.points:
            x, y = self.turn.x(point.bearing_deg), self.turn.y(point.elevation_deg)
            figures = f"{point.elevation_deg:.0f}° up at bearing {point.bearing_deg:.0f}°"
            reach = el("circle", cx=x, cy=y, r=14, fill="none", pointer_events="all")
            words = titled(point.words or f"measured by hand: {figures}")
            self.sheet.add(el("g", words, reach, _cross(x, y), cls="point"))
            self.placer.block(Box(x - 5, y - 5, x + 5, y + 5))

    def draw_moment(self) -> None:
        moment, horizon = self.strip.moment, self.turn.frame.bottom
        if moment is None:
            return
        x, y, start = self.turn.x(moment.azimuth_deg), self.turn.y(moment.elevation_deg), self.heading.bottom + 2
        is_up = moment.elevation_deg >= 0
        self.sheet.add(el("path", cls="leader", d=f"M{num(x)} {num(start)}V{num(y - 8 if is_up else horizon)}"))
        self.placer.block(Box(x - 1, start, x + 1, y), Box(x - 9, y - 9, x + 9, y + 9))
        self.sheet.add(moment_mark(moment.state, x, y) if is_up else down_mark(x, horizon))
        self.heading.draw(self.sheet, x)

    def draw_hours(self) -> None:
        """Marks at every hour; figures at every third first, and at the others, on a desk, where there is room."""
        radius, shown = (
            3.0 if self.sheet.narrow else 4.0,
            [mark for mark in self.strip.hours if mark.elevation_deg >= 0],
        )
        at = [(self.turn.x(mark.azimuth_deg), self.turn.y(mark.elevation_deg)) for mark in shown]
        for mark, (x, y) in zip(shown, at, strict=True):
            self.sheet.add(sun_mark(mark.state, x, y, radius))
            self.placer.block(Box(x - radius, y - radius, x + radius, y + radius))
        thirds = [mark.label.isdigit() and int(mark.label) % 3 == 0 for mark in shown]
        for wanted in (True,) if self.sheet.narrow else (True, False):
            for mark, (x, y), third in zip(shown, at, thirds, strict=True):
                place = self.placer.find(mark.label, _round_about(x, y)) if third == wanted else None
                if place:
                    self.sheet.text(mark.label, place.x, place.y, anchor=place.anchor)

    def draw_bearings(self) -> None:
        frame, bottom = self.turn.frame, self.turn.frame.bottom
        ticks = "".join(f"M{num(self.turn.x(b))} {num(bottom)}v{3 if b % 45 else 7}" for b in range(0, 360, 15))
        self.sheet.add(el("path", cls="tick", d=f"{ticks}M{num(frame.left)} {num(bottom)}H{num(frame.right)}"))
        placer = Placer(Box(0, bottom, self.sheet.units, bottom + 30))
        names = COMPASS_SHORT if self.sheet.narrow else COMPASS
        for bearing in (0, 90, 180, 270, 45, 135, 225, 315):
            x, name = self.turn.x(bearing), names[bearing // 45]
            for at in (x, frame.right) if x - frame.left < 0.5 else (x,):
                middle = keep_between(at, text_width(name), 0, self.sheet.units)
                if placer.find(name, [Place(middle, bottom + 21, "middle")]):
                    self.sheet.text(name, middle, bottom + 21, anchor="middle")
        self.bottom = bottom + 30

    def draw_camera(self) -> None:
        looking, top = self.strip.looking_deg, self.bottom + 2
        if looking is None:
            return
        left, right = self._backdrop()
        self.sheet.add(el("path", cls="bracket", fill="none", d=f"M{left} {num(top)}v6H{right}v-6"))
        x = self.turn.x(looking)
        self.sheet.add(el("path", cls="camera", d=f"M{num(x)} {num(top - 3)}l5 8h-10z"))
        words = wrap((f"camera looks {compass_words(looking)}", "this is behind the face"), self.sheet.units - 2)
        middle = keep_between(x, max(map(text_width, words)), 0, self.sheet.units)
        for row, line in enumerate(words):
            self.sheet.text(line, middle, top + 23 + LINE_STEP * row, anchor="middle", cls="strong")
        self.bottom = top + 12 + LINE_STEP * len(words)

    def _backdrop(self) -> tuple[str, str]:
        """Left and right end of the backdrop; with a camera bearing the strip is centred on it."""
        at = self.turn.across.at
        return num(at(180 - BACKDROP_HALF_WIDTH_DEG)), num(at(180 + BACKDROP_HALF_WIDTH_DEG))

    def finish(self) -> str:
        bottom = lay_key(self.sheet, self._key(), 0, self.sheet.units, self.bottom + 6)
        frame, turn = self.turn.frame, self.turn
        data = {"x0": frame.left, "x1": frame.right, "y0": frame.bottom, "y1": frame.top}
        bearings = {"first_deg": turn.first_deg, "top_deg": turn.up.high}
        return self.sheet.finish(bottom + 2, self.strip.title, self.strip.desc, **data, **bearings)

    def _key(self) -> list[KeyItem]:
        strip = self.strip
        items = layer_items(strip.edge[np.nan_to_num(strip.elevation_deg) > 0], strip.crowns)
        if strip.points:
            items.append(mark_item("point measured by hand", _cross))
        if np.nanmax(strip.doubt_deg, initial=0) > 0:
            items.append(line_item("how far the edge may be off", "", "doubt"))
        seen = {mark.state for mark in (*strip.hours, strip.moment) if mark and mark.elevation_deg >= 0}
        return items + [sun_item(state) for state in SUN_WORDS if state in seen]


def _top_deg(strip: SkylineStrip) -> float:
    """The highest thing worth showing, rounded up to tens, 30 at least; of a roof overhead its edge is enough."""
    heights = [np.nan_to_num(strip.elevation_deg) + np.nan_to_num(strip.doubt_deg), strip.path_elevation_deg]
    heights.append(np.array([30.0 - 1, *(point.elevation_deg for point in strip.points)]))
    heights.append(np.array([c.low_deg + 5 if c.kind == "roof" else c.high_deg for c in strip.crowns]))
    heights.append(np.array([strip.moment.elevation_deg] if strip.moment else []))
    highest = float(np.nanmax(np.concatenate(heights)))
    return min(90.0, math.ceil((highest + 1) / 10) * 10.0)


def _round_about(x: float, y: float) -> tuple[Place, ...]:
    """Places for a figure round a mark, the best first."""
    upright = (Place(x, y - 9, "middle"), Place(x, y + 18, "middle"))
    sides = (Place(x + 8, y + 4.5), Place(x - 8, y + 4.5, "end"))
    return (
        *upright,
        *sides,
        Place(x + 6, y - 6),
        Place(x - 6, y - 6, "end"),
        Place(x + 6, y + 15),
        Place(x - 6, y + 15, "end"),
    )


def _cross(x: float, y: float) -> str:
    return el("path", cls="by-hand", fill="none", d=f"M{num(x - 4)} {num(y - 4)}l8 8m0 -8l-8 8")
