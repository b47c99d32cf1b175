"""One local day at a spot: how bright, what the flash has in hand, which light.

EV100   ___________        16:40 CEST, face EV 11.2 ...
 16    /  . . . . .\\......|......  what this flash can beat
  8 __/             \\     |  \\___
stops in hand             |
 +4  ###         #########|######
  0 -----###########------|------
 |dark|dusk| open shade | sun | open shade |dusk|lamps|
 0    3    6    9    12   15   18   21   24
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise

import numpy as np

from models.clock import unix_s
from models.drawing.curves import Curve, Plot, beside_curve, curve_boxes, ev_range, value_at
from models.drawing.heading import heading, margins
from models.drawing.hours import clock_change, full_hours, zone_words
from models.drawing.key import KeyItem, lay_key, line_item, texture_item
from models.drawing.lettering import Anchor, Box, Place, Placer, keep_between, text_width, wrap
from models.drawing.scale import RESERVE
from models.drawing.states import STATES, State
from models.drawing.svg import LINE_STEP, Axis, Floats, Frame, Sheet, Width, el, nothing_to_draw, num, titled

STATE_HEIGHT = 26.0


@dataclass(frozen=True, slots=True)
class StateRun:
    """A stretch of the day in one state; words stand in for the state's own word."""

    start: datetime
    end: datetime
    state: State
    words: str = ""


@dataclass(frozen=True, slots=True)
class LightBand:
    """Golden or blue hour; drawn only where its light reaches the spot."""

    start: datetime
    end: datetime
    word: str
    reaches: bool


@dataclass(frozen=True, slots=True)
class DayMoment:
    """The moment pointed at, and its figures as short pieces of text, the time first."""

    instant: datetime
    figures: tuple[str, ...]


@dataclass(frozen=True, slots=True, eq=False)
class DayStrip:
    """All that the strip shows; start and end of the local day and all instants in UTC, zone an IANA name.

    unix_s: (n,). face_ev, behind_ev: (n,) EV100; *_doubt: (n,) stops either way; reserve_stops: (n,). nan leaves a
    gap. limit_ev: the EV100 up to which the flash beats what it is drawn with. id_prefix: unique in the page.
    """

    title: str
    desc: str
    start: datetime
    end: datetime
    zone: str
    unix_s: Floats
    face_ev: Floats
    face_doubt: Floats
    behind_ev: Floats | None = None
    behind_doubt: Floats | None = None
    face_words: str = "on the face"
    behind_words: str = "behind the face"
    limit_ev: float | None = None
    limit_words: str = "what this flash can beat"
    reserve_stops: Floats | None = None
    reserve_doubt: Floats | None = None
    states: tuple[StateRun, ...] = ()
    bands: tuple[LightBand, ...] = ()
    moment: DayMoment | None = None
    id_prefix: str = "day"


def draw_day_strip(day: DayStrip, width: Width) -> str:
    """The day as an SVG; "wide" for a desk, "narrow" for a phone."""
    if not np.isfinite(day.face_ev).any() or day.end <= day.start:
        return nothing_to_draw(width, day.id_prefix, day.title, "No light has been worked out for this day.")
    board = _Board(day, width)
    board.draw_curves()
    board.draw_reserve()
    board.draw_states()
    board.draw_bands()
    board.draw_hours()
    board.draw_moment()
    return board.finish()


class _Board:
    """The day on its sheet, filled from top to bottom: `bottom` is how far it has come."""

    def __init__(self, day: DayStrip, width: Width) -> None:
        self.day, self.sheet = day, Sheet(width, day.id_prefix)
        self.left, self.right = margins(self.sheet)
        self.heading = heading(self.sheet, day.moment.figures if day.moment else ())
        self.across = Axis(unix_s(day.start), unix_s(day.end), self.left, self.right)
        self.curves = [Curve("face", day.face_words, day.face_ev, day.face_doubt)]
        if day.behind_ev is not None:
            self.curves.append(Curve("behind", day.behind_words, day.behind_ev, day.behind_doubt))
        self.bottom = self.heading.bottom + 4
        change = clock_change(day.start, day.end, day.zone)
        self.uprights = [self.x(at) for at in (day.moment and day.moment.instant, change) if at]
        self.unnamed: list[KeyItem] = []

    def x(self, instant: datetime) -> float:
        return max(self.left, min(self.right, self.across.at(unix_s(instant))))

    def draw_curves(self) -> None:
        height = 150 if self.sheet.narrow else 170
        self.light = plot = self._field("curves", "EV100", self.bottom + 22, height, *ev_range(self.curves))
        plot.draw_levels(range(int(plot.up.low), int(plot.up.high) + 1, 4))
        for curve in self.curves:
            plot.draw_doubt(curve)
        for curve in reversed(self.curves):
            plot.draw_line(curve)
        self._name_lines(plot)

    def draw_reserve(self) -> None:
        stops = self.day.reserve_stops
        if stops is None or not np.isfinite(stops).any():
            return
        plot = self._field("reserve", RESERVE.unit, self.bottom + 34, 64, RESERVE.low, RESERVE.high)
        plot.draw_bars(stops)
        plot.draw_levels(range(-4, 5, 4), signed=True)
        curve = Curve("reserve", "", stops, self.day.reserve_doubt)
        plot.draw_doubt(curve)
        plot.draw_line(curve)

    def _field(self, name: str, words: str, top: float, height: float, low: float, high: float) -> Plot:
        frame = Frame(self.left, top, self.right, top + height)
        placer = self._placer(top - 24, top - 4)
        place = placer.find(words, [Place(self.left, top - 10), Place(self.right, top - 10, "end")])
        if place:
            self.sheet.text(words, place.x, place.y, anchor=place.anchor)
        self.bottom = frame.bottom
        up = Axis(low, high, frame.bottom, frame.top)
        return Plot(self.sheet, frame, self.across, up, self.day.unix_s, self.sheet.clip(name, frame))

    def _placer(self, top: float, bottom: float) -> Placer:
        """Finds room in a row of the field, clear of the cursor and of a clock change."""
        return Placer(Box(self.left, top, self.right, bottom), [Box(x - 1, top, x + 1, bottom) for x in self.uprights])

    def _name_lines(self, plot: Plot) -> None:
        """Words beside the lines where they meet nothing; in the key where there is no such place."""
        frame, heights = plot.frame, [plot.up.over(curve.values) for curve in self.curves]
        placer = self._placer(frame.top - 2, frame.bottom)
        for y in heights:
            placer.block(*curve_boxes(plot.x, y))
        limit = self._name_limit(plot, placer)
        for index, curve in enumerate(self.curves):
            others = [y for other, y in enumerate(heights) if other != index] + limit
            places = list(beside_curve(plot.x, heights[index], others, text_width(curve.words)))
            self._name(placer, curve.words, places, line_item(curve.words, curve.name))

    def _name_limit(self, plot: Plot, placer: Placer) -> list[Floats]:
        """The limit drawn and named; its height along the field, if there is one."""
        limit, words = self.day.limit_ev, self.day.limit_words
        if limit is None or not plot.up.low <= limit <= plot.up.high:
            return []
        plot.draw_limit(limit)
        y = plot.up.at(limit)
        placer.block(Box(plot.frame.left, y - 1, plot.frame.right, y + 1))
        ends: tuple[tuple[float, Anchor], ...] = ((plot.frame.right - 4, "end"), (plot.frame.left + 4, "start"))
        places = [Place(x, y + down, anchor) for x, anchor in ends for down in (-7, 16)]
        self._name(placer, words, places, line_item(words, "limit"))
        return [np.full(len(plot.x), y)]

    def _name(self, placer: Placer, words: str, places: list[Place], otherwise: KeyItem) -> None:
        found = placer.find(words, places)
        if found:
            self.sheet.text(words, found.x, found.y, anchor=found.anchor)
        else:
            self.unnamed.append(otherwise)

    def draw_states(self) -> None:
        top = self.bottom + 14
        for run in self.day.states:
            left, right, look = self.x(run.start), self.x(run.end), STATES[run.state]
            if right <= left:
                continue
            box = {"x": left, "y": top, "width": right - left, "height": STATE_HEIGHT}
            self.sheet.textured("rect", look.texture, tone=f"tone-{run.state}", **box)
            self.sheet.add(el("rect", titled(run.words or look.words), cls="edge", fill="transparent", **box))
            cls = "on-night" if look.night else "on-day"
            self._word_inside((run.words, look.words), left, right, top + 17.5, cls)
        self.bottom = top + STATE_HEIGHT if self.day.states else self.bottom

    def _word_inside(self, choices: tuple[str, ...], left: float, right: float, y: float, cls: str) -> bool:
        """The first of the words that fits between left and right, clear of the cursor; whether one did."""
        placer = self._placer(y - 16, y + 8)
        placer.bounds = Box(left + 4, y - 16, right - 4, y + 8)
        ends = [left, *sorted(x for x in self.uprights if left < x < right), right]
        middles = [(left + right) / 2, *((a + b) / 2 for a, b in pairwise(ends))]
        for words in filter(None, choices):
            place = placer.find(words, [Place(middle, y, "middle") for middle in middles])
            if place:
                self.sheet.text(words, place.x, y, anchor="middle", cls=cls)
                return True
        return False

    def draw_bands(self) -> None:
        shown = [band for band in self.day.bands if band.reaches and self.x(band.end) > self.x(band.start)]
        for word in dict.fromkeys(band.word for band in shown):
            top = self.bottom + 6
            placer = self._placer(top, top + 22)
            same = [band for band in shown if band.word == word]
            placer.block(*(Box(self.x(band.start), top, self.x(band.end), top + 22) for band in same))
            for band in same:
                self._draw_band(band, top, placer)
            self.bottom = top + 22

    def _draw_band(self, band: LightBand, top: float, placer: Placer) -> None:
        left, right = self.x(band.start), self.x(band.end)
        outline = {"x": left, "y": top + 1, "width": right - left, "height": 20.0, "rx": 3.0}
        self.sheet.add(el("rect", titled(band.word), cls="outlined", fill="transparent", **outline))
        if self._word_inside((band.word,), left, right, top + 15.5, "strong"):
            return
        places = [Place(left - 6, top + 15.5, "end"), Place(right + 6, top + 15.5)]
        outward = places if left + right < self.left + self.right else places[::-1]
        found = placer.find(band.word, [*outward, *self._beyond(left, right, text_width(band.word) + 12, top + 15.5)])
        if found:
            self.sheet.text(band.word, found.x, found.y, anchor=found.anchor, cls="strong")

    def _beyond(self, left: float, right: float, reach: float, y: float) -> Iterator[Place]:
        """Places on the far side of the cursor or a clock change that stands where the word would be."""
        for x in self.uprights:
            if left - reach < x <= left:
                yield Place(x - 6, y, "end")
            if right <= x < right + reach:
                yield Place(x + 6, y)

    def draw_hours(self) -> None:
        day, top = self.day, self.bottom + 8
        ticks = [*full_hours(day.start, day.end, day.zone, 3), (day.end, "24")]
        marks = "".join(f"M{num(self.x(instant))} {num(top)}v5" for instant, _ in ticks)
        self.sheet.add(el("path", cls="tick", d=f"{marks}M{num(self.left)} {num(top)}H{num(self.right)}", fill="none"))
        placer = Placer(Box(0, top, self.sheet.units, top + 26))
        for instant, label in ticks:
            middle = keep_between(self.x(instant), text_width(label), 0, self.sheet.units)
            if placer.find(label, [Place(middle, top + 19, "middle")]):
                self.sheet.text(label, middle, top + 19, anchor="middle")
        change = clock_change(day.start, day.end, day.zone)
        if change:
            x, y0 = num(self.x(change)), num(self.light.frame.top)
            self.sheet.parts.insert(0, el("path", cls="clock-change", d=f"M{x} {y0}V{num(top + 5)}"))
        words = wrap(zone_words(day.start, day.end, day.zone), self.sheet.units - self.left)
        for row, line in enumerate(words):
            self.sheet.text(line, self.left, top + 40 + LINE_STEP * row)
        self.hours_top, self.bottom = top, top + 30 + LINE_STEP * len(words)

    def draw_moment(self) -> None:
        moment = self.day.moment
        if moment is None:
            return
        x, up = self.x(moment.instant), self.light.up
        self.sheet.add(el("path", cls="cursor", d=f"M{num(x)} {num(self.heading.bottom + 2)}V{num(self.hours_top)}"))
        for curve, radius in reversed(list(zip(self.curves, (3.5, 6.0), strict=False))):
            value = value_at(unix_s(moment.instant), self.day.unix_s, curve.values)
            if up.low <= value <= up.high:
                self.sheet.add(el("circle", cls=f"{curve.name}-now", cx=x, cy=up.at(value), r=radius))
        self.heading.draw(self.sheet, x)

    def finish(self) -> str:
        items = [*self.unnamed]
        if any(curve.doubted for curve in self.curves):
            items.append(line_item("how far it may be off", "", "face-doubt"))
        seen = {run.state for run in self.day.states}
        items += [texture_item(look.words, look.texture, f"tone-{s}") for s, look in STATES.items() if s in seen]
        bottom = lay_key(self.sheet, items, 0, self.sheet.units, self.bottom)
        frame = self.light.frame
        field = {"x0": frame.left, "x1": frame.right, "y0": frame.bottom, "y1": frame.top}
        moments = {"from": f"{unix_s(self.day.start):.0f}", "to": f"{unix_s(self.day.end):.0f}"}
        return self.sheet.finish(bottom + 2, self.day.title, self.day.desc, **field, **moments)
