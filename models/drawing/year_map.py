"""A year at a spot: days across, hours of the local clock up, each quarter of an hour in its colour.

words of the moment
24 |......................
   |    __--~~~~--__  <- sunset
12 |########O##########   O the moment pointed at
   |    ~~--____--~~  <- sunrise
 0 +----------------------
    Jan  Feb  Mar ...
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

import numpy as np

from models.clock import MONTHS
from models.drawing.heading import heading, margins
from models.drawing.key import lay_key, line_item, texture_item
from models.drawing.lettering import Box, Place, Placer, keep_between, text_width, wrap
from models.drawing.scale import BRIGHTNESS, RESERVE, Scale, lay_scale, picture_element, png_uri
from models.drawing.svg import LINE_STEP, Axis, Floats, Frame, Sheet, Width, el, line_path, nothing_to_draw, num

QUARTERS = 96
SCALES: dict[str, Scale] = {"ev": BRIGHTNESS, "reserve": RESERVE}
JUMP_H = 0.9  # from one day to the next: only a clock change or midnight moves sunrise so far, and the line breaks


@dataclass(frozen=True, slots=True)
class ClockChange:
    """The day (index from the first) on which the clocks change, and the words: 'clocks forward 29 Mar'."""

    day: int
    words: str


@dataclass(frozen=True, slots=True)
class YearMoment:
    """The moment pointed at: day index, local clock hour 0..24, and its figures as short pieces of text."""

    day: int
    hour: float
    figures: tuple[str, ...]


@dataclass(frozen=True, slots=True, eq=False)
class YearMap:
    """All that the map shows.

    values: (days, 96) EV100 or stops in hand at each quarter of an hour of the local clock from 0:00; nan where that
    time does not exist or nothing is known (of an hour that comes twice, the caller chooses one). sunrise_hour,
    sunset_hour: (days,) local clock hours, nan for none. zone_words: 'CET, CEST in summer'. gap_words: what nan means.
    id_prefix: unique in the page.
    """

    title: str
    desc: str
    first_day: date
    values: Floats
    quantity: Literal["ev", "reserve"]
    sunrise_hour: Floats
    sunset_hour: Floats
    zone_words: str
    clock_changes: tuple[ClockChange, ...] = ()
    moment: YearMoment | None = None
    gap_words: str = "no such time, or not known"
    id_prefix: str = "year"


def draw_year_map(year: YearMap, width: Width) -> str:
    """The map as an SVG with its cells in an embedded PNG; "wide" for a desk, "narrow" for a phone.

    Raises ValueError if values are not (days, 96).
    """
    if year.values.ndim != 2 or year.values.shape[1] != QUARTERS:
        raise ValueError(f"a year's values come as (days, {QUARTERS}), not {year.values.shape}")
    if not np.isfinite(year.values).any():
        return nothing_to_draw(width, year.id_prefix, year.title, "The year has not been worked out yet.")
    board = _Board(year, width)
    board.draw_cells()
    board.draw_lines()
    board.draw_hours()
    board.draw_months()
    board.draw_moment()
    return board.finish()


class _Board:
    """The year on its sheet."""

    def __init__(self, year: YearMap, width: Width) -> None:
        self.year, self.sheet, self.scale = year, Sheet(width, year.id_prefix), SCALES[year.quantity]
        left, right = margins(self.sheet)
        self.heading = heading(self.sheet, year.moment.figures if year.moment else ())
        top = self.heading.bottom + 14
        self.frame = Frame(left, top, right, top + (192 if self.sheet.narrow else 264))
        self.across = Axis(0, len(year.values), left, right)
        self.up = Axis(0, 24, self.frame.bottom, top)
        self.bottom = self.frame.bottom

    def draw_cells(self) -> None:
        frame, levels = self.frame, self.scale.level(self.year.values)
        place = {"x": frame.left, "y": frame.top, "width": frame.right - frame.left, "height": frame.bottom - frame.top}
        if (levels < 0).any():
            self.sheet.textured("rect", "cross", tone="unknown", **place)
        picture = png_uri(levels.T[::-1], self.scale)
        self.sheet.add(picture_element(picture, place["x"], place["y"], place["width"], place["height"]))
        if self.year.quantity == "reserve":
            edge = zero_line(self.year.values, self.across, self.up)
            self.sheet.add(el("path", cls="zero-edge", fill="none", d=edge) if edge else "")
        self.sheet.add(el("rect", cls="edge", fill="none", **place))

    def draw_lines(self) -> None:
        x = self.across.over(np.arange(len(self.year.values)) + 0.5)
        ways = [self._broken(x, hours) for hours in (self.year.sunrise_hour, self.year.sunset_hour)]
        for cls in ("sun-line-under", "sun-line"):
            self.sheet.add(*(el("path", cls=cls, fill="none", d=way) for way in ways if way))
        for change in self.year.clock_changes:
            at = num(self.across.at(change.day))
            for cls in ("clock-line-under", "clock-line"):
                self.sheet.add(el("path", cls=cls, d=f"M{at} {num(self.frame.top)}V{num(self.frame.bottom + 5)}"))

    def _broken(self, x: Floats, hours: Floats) -> str:
        jumps = np.flatnonzero(np.abs(np.diff(hours)) > JUMP_H) + 1
        return line_path(np.insert(x, jumps, np.nan), np.insert(self.up.over(hours), jumps, np.nan))

    def draw_hours(self) -> None:
        marks = []
        for hour in range(0, 25, 3):
            y = self.up.at(hour)
            marks.append(f"M{num(self.frame.left)} {num(y)}h-4")
            if hour % 6 == 0 or not self.sheet.narrow:
                self.sheet.text(f"{hour}", self.frame.left - 8, y + 4.5, anchor="end")
        self.sheet.add(el("path", cls="tick", d="".join(marks)))

    def draw_months(self) -> None:
        bottom, starts = self.frame.bottom, _month_starts(self.year.first_day, len(self.year.values))
        self.sheet.add(
            el("path", cls="tick", d="".join(f"M{num(self.across.at(d))} {num(bottom)}v5" for d, _ in starts))
        )
        ends = [day for day, _ in starts[1:]] + [len(self.year.values)]
        for (start, month), end in zip(starts, ends, strict=True):
            name = MONTHS[month - 1][: 1 if self.sheet.narrow else 3]
            left, right = self.across.at(start), self.across.at(end)
            if text_width(name) < right - left:
                self.sheet.text(name, (left + right) / 2, bottom + 19, anchor="middle")
        self.bottom = self._name_changes(bottom + 26)

    def _name_changes(self, top: float) -> float:
        """The words of the clock changes under their lines, one row below another where they would meet."""
        rows = 0
        placer = Placer(Box(0, top, self.sheet.units, top + 18 * (len(self.year.clock_changes) + 1)))
        for change in self.year.clock_changes:
            middle = keep_between(self.across.at(change.day), text_width(change.words), 0, self.sheet.units)
            lines = [Place(middle, top + 13 + LINE_STEP * row, "middle") for row in range(len(self.year.clock_changes))]
            place = placer.find(change.words, lines)
            if place:
                self.sheet.text(change.words, place.x, place.y, anchor="middle")
                rows = max(rows, lines.index(place) + 1)
        return top + LINE_STEP * rows

    def draw_moment(self) -> None:
        moment = self.year.moment
        if moment is None:
            return
        x, y = self.across.at(moment.day + 0.5), self.up.at(moment.hour)
        for cls in ("crosshair-under", "crosshair"):
            down = (
                f"M{num(x)} {num(self.heading.bottom + 2)}V{num(y - 7)}M{num(x)} {num(y + 7)}V{num(self.frame.bottom)}"
            )
            self.sheet.add(el("path", cls=cls, d=down))
        self.sheet.add(el("circle", cls="ring-under", cx=x, cy=y, r=7), el("circle", cls="ring", cx=x, cy=y, r=7))
        self.heading.draw(self.sheet, x)

    def finish(self) -> str:
        bottom = self.bottom + 4
        for line in wrap((f"hours in {self.year.zone_words}",), self.sheet.units - self.frame.left):
            self.sheet.text(line, self.frame.left, bottom + 14)
            bottom += LINE_STEP + 6
        bottom = lay_scale(self.sheet, self.scale, 0, bottom)
        items = []
        if np.isfinite(self.year.sunrise_hour).any() or np.isfinite(self.year.sunset_hour).any():
            items.append(line_item("sunrise and sunset", "sun-line", "map-ground"))
        if self.year.quantity == "reserve":
            items.append(line_item("0 stops in hand", "zero-edge", "map-ground"))
        if np.isnan(self.year.values).any():
            items.append(texture_item(self.year.gap_words, "cross", "unknown"))
        bottom = lay_key(self.sheet, items, 0, self.sheet.units, bottom)
        field = {"x0": self.frame.left, "x1": self.frame.right, "y0": self.frame.bottom, "y1": self.frame.top}
        days = {"first_day": self.year.first_day.isoformat(), "days": f"{len(self.year.values)}"}
        return self.sheet.finish(bottom + 2, self.year.title, self.year.desc, **field, **days)


def zero_line(values: Floats, across: Axis, up: Axis) -> str:
    """Path data of the edges between cells (days, quarters) with something in hand and cells without, runs joined."""
    known, beaten = np.isfinite(values), values >= 0
    level = known[:, 1:] & known[:, :-1] & (beaten[:, 1:] != beaten[:, :-1])
    upright = known[1:] & known[:-1] & (beaten[1:] != beaten[:-1])
    hour = 24 / values.shape[1]
    parts = []
    for quarter, start, end in _stretches(level.T):
        parts.append(f"M{num(across.at(start))} {num(up.at((quarter + 1) * hour))}H{num(across.at(end))}")
    for day, start, end in _stretches(upright):
        parts.append(f"M{num(across.at(day + 1))} {num(up.at(start * hour))}V{num(up.at(end * hour))}")
    return "".join(parts)


def _stretches(marked: np.ndarray[tuple[int, int], np.dtype[np.bool_]]) -> list[tuple[int, int, int]]:
    """(row, first, after) of each run of True along the rows."""
    edges = np.diff(marked.astype(np.int8), axis=1, prepend=0, append=0)
    (rows, starts), ends = np.nonzero(edges == 1), np.nonzero(edges == -1)[1]
    return list(zip(rows.tolist(), starts.tolist(), ends.tolist(), strict=True))


def _month_starts(first_day: date, days: int) -> list[tuple[int, int]]:
    """(day index, month) of the first day and of every first of a month."""
    all_days = [first_day + timedelta(days=index) for index in range(days)]
    return [(index, day.month) for index, day in enumerate(all_days) if index == 0 or day.day == 1]
