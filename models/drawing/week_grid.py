"""Who comes by in a week: hours down, kinds of day across, each cell its figure, its doubt, or "not counted".

hour    weekdays            Saturdays           Sundays and holidays
 15   |==[==|====]   240    not counted
 16   |===[===|=====] 310  |=====[==|==]  520    not counted
       0          600
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from models.drawing.heading import heading
from models.drawing.lettering import Box, fit, text_width, wrap
from models.drawing.svg import LINE_STEP, Axis, Sheet, Width, el, nothing_to_draw, num, titled

NOT_COUNTED = "not counted"
LABEL = 46.0  # units for the hours
GAP = 12.0
STEPS = (20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000, 20_000, 50_000)


@dataclass(frozen=True, slots=True)
class GridCell:
    """An hour's figure and its interval, as values and in words ('240', '195–290')."""

    value: float
    low: float
    high: float
    figure: str
    interval: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekGrid:
    """All that the grid shows. columns: the kinds of day in words. cells: by (column, hour 0..23); what is missing was
    not counted. chosen: the cell pointed at. id_prefix: unique in the page."""

    title: str
    desc: str
    columns: tuple[str, ...]
    cells: dict[tuple[int, int], GridCell]
    chosen: tuple[int, int] | None = None
    figures: tuple[str, ...] = ()
    unit: str = "people an hour"
    id_prefix: str = "week"


def draw_week_grid(grid: WeekGrid, width: Width) -> str:
    """The grid as an SVG; "wide" for a desk, "narrow" for a phone."""
    if not grid.cells:
        return nothing_to_draw(width, grid.id_prefix, grid.title, "Nobody has counted here yet.")
    board = _Board(grid, width)
    board.draw_head()
    board.draw_hours()
    for column in range(len(grid.columns)):
        for first, after in board.gaps(column):
            board.draw_gap(column, first, after)
    for (column, hour), cell in sorted(grid.cells.items()):
        board.draw_cell(column, hour, cell)
    board.draw_chosen()
    return board.finish()


class _Board:
    """The grid on its sheet, from the first hour counted in, or chosen, to the last."""

    def __init__(self, grid: WeekGrid, width: Width) -> None:
        self.grid, self.sheet = grid, Sheet(width, grid.id_prefix)
        self.heading = heading(self.sheet, grid.figures)
        hours = [hour for _, hour in [*grid.cells, *([grid.chosen] if grid.chosen else [])]]
        self.first, self.after = min(hours), max(hours) + 1
        self.row = 52.0 if self.sheet.narrow else 28.0
        self.across = (self.sheet.units - LABEL) / len(grid.columns)
        highest = max(cell.high for cell in grid.cells.values())
        self.most = next((step for step in STEPS if step >= highest), STEPS[-1])
        self.top = 0.0

    def box(self, column: int, first: int, after: int) -> Box:
        """Of some hours of a column."""
        left = LABEL + column * self.across
        top = self.top + (first - self.first) * self.row
        return Box(left, top + 2, left + self.across - GAP, top + (after - first) * self.row - 2)

    def draw_head(self) -> None:
        """The kinds of day over their columns, in as many lines as the longest takes."""
        room = self.across - GAP
        lines = [wrap(words.split(), room, joint=" ") for words in self.grid.columns]
        top = self.heading.bottom + 4
        self.heading.draw(self.sheet, self.sheet.units / 2)
        for column, words in enumerate(lines):
            for number, line in enumerate(words):
                x, y = LABEL + column * self.across, top + 13 + LINE_STEP * number
                self.sheet.text(line, x, y, cls="strong")
        self.top = top + LINE_STEP * max(map(len, lines)) + 6
        self.sheet.text("hour", 0, self.top - 11)

    def draw_hours(self) -> None:
        for hour in range(self.first, self.after):
            box = self.box(0, hour, hour + 1)
            self.sheet.text(f"{hour}–{hour + 1}", 0, (box.top + box.bottom) / 2 + 4.5)
            rule = f"M0 {num(box.bottom + 2)}H{num(self.sheet.units - GAP)}"
            self.sheet.add(el("path", cls="rule", d=rule))

    def gaps(self, column: int) -> Iterator[tuple[int, int]]:
        """Runs of hours of a column that nobody counted in."""
        start = None
        for hour in range(self.first, self.after + 1):
            missing = hour < self.after and (column, hour) not in self.grid.cells
            if missing and start is None:
                start = hour
            elif not missing and start is not None:
                yield start, hour
                start = None

    def draw_gap(self, column: int, first: int, after: int) -> None:
        box = self.box(column, first, after)
        place = {"x": box.left, "y": box.top, "width": box.right - box.left, "height": box.bottom - box.top}
        self.sheet.textured("rect", "cross", tone="unknown", **place)
        self.sheet.text(NOT_COUNTED, box.left + 6, (box.top + box.bottom) / 2 + 4.5)

    def draw_cell(self, column: int, hour: int, cell: GridCell) -> None:
        """The interval as a band from low to high with a mark at the figure, and both in words."""
        box = self.box(column, hour, hour + 1)
        bars = self._bars(box)
        up, down = (box.bottom - 11, box.bottom - 2) if self.sheet.narrow else (box.top + 3, box.bottom - 3)
        low, high, at = (bars.at(min(value, self.most)) for value in (cell.low, cell.high, cell.value))
        words = f"{cell.figure} {self.grid.unit}, {cell.interval}"
        self.sheet.add(
            el("path", cls="rule", d=f"M{num(bars.start)} {num(down)}H{num(bars.end)}"),
            el("rect", titled(words), cls="doubt", x=low, y=up, width=max(1.5, high - low), height=down - up),
            el("path", cls="cursor", d=f"M{num(at)} {num(up - 1)}V{num(down + 1)}"),
        )
        self._write(cell, box, bars.end + 10)

    def _write(self, cell: GridCell, box: Box, beside: float) -> None:
        """Figure and interval: one over the other on a phone, beside the bars on a desk."""
        if self.sheet.narrow:
            self.sheet.text(cell.figure, box.left, box.top + 14, cls="strong")
            self.sheet.text(fit(cell.interval, box.right - box.left), box.left, box.top + 31)
            return
        line, left = (box.top + box.bottom) / 2 + 4.5, beside + text_width(cell.figure) + 8
        self.sheet.text(cell.figure, beside, line, cls="strong")
        self.sheet.text(fit(cell.interval, box.right - left), left, line)

    def _bars(self, box: Box) -> Axis:
        """From nothing to `most`, over the cell's left part on a desk and over all of it on a phone."""
        return Axis(0, self.most, box.left, box.right - 4 if self.sheet.narrow else box.left + 0.4 * self.across)

    def draw_chosen(self) -> None:
        if self.grid.chosen is None or self.grid.chosen[0] >= len(self.grid.columns):
            return
        column, hour = self.grid.chosen
        box = self.box(column, hour, hour + 1)
        place = {
            "x": box.left - 5,
            "y": box.top - 1,
            "width": box.right - box.left + 8,
            "height": box.bottom - box.top + 2,
        }
        self.sheet.add(el("rect", cls="outlined", fill="none", **place))

    def finish(self) -> str:
        last = self.box(0, self.after - 1, self.after)
        bars, y = self._bars(last), last.bottom + 8
        self.sheet.add(el("path", cls="tick", d=f"M{num(bars.start)} {num(y)}v-5M{num(bars.end)} {num(y)}v-5"))
        self.sheet.text("0", bars.start, y + 14)
        words = f"{self.most:,}"
        self.sheet.text(words, bars.end, y + 14, anchor="end")
        self.sheet.text(f"{self.grid.unit}; the band is the 80 % interval", 0, y + 14 + LINE_STEP)
        return self.sheet.finish(y + 22 + LINE_STEP, self.grid.title, self.grid.desc)
