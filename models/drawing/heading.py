"""What the strips and the map have in common: their margins, and on top the words of the moment pointed at."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from models.drawing.lettering import keep_between, text_width, wrap
from models.drawing.svg import LINE_STEP, Sheet


@dataclass(frozen=True, slots=True)
class Heading:
    """Lines of words; `bottom` is where the line down to the moment's mark begins, or 0 without words."""

    lines: tuple[str, ...]

    @property
    def bottom(self) -> float:
        return LINE_STEP * len(self.lines)

    def draw(self, sheet: Sheet, x: float) -> None:
        """The lines over x, moved sideways as little as needed to stay on the sheet."""
        width = max((text_width(line, bold=True) for line in self.lines), default=0.0)
        middle = keep_between(x, width, 0, sheet.units)
        for row, line in enumerate(self.lines):
            sheet.text(line, middle, 13 + LINE_STEP * row, anchor="middle", bold=True, cls="strong")


def heading(sheet: Sheet, figures: Sequence[str]) -> Heading:
    """The figures of a moment, in as few lines as the sheet is wide for."""
    return Heading(wrap(figures, sheet.units - 2, bold=True))


def margins(sheet: Sheet) -> tuple[float, float]:
    """Left and right end of the plotted field, in units."""
    return (34.0, sheet.units - 8) if sheet.narrow else (40.0, sheet.units - 10)
