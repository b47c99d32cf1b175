"""Ground seen from above with north up: metres to units, a length to measure by, the mark of the north.

What every sketch of places shares, so that none measures otherwise than the others.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor, log10

from models.drawing.lettering import text_width
from models.drawing.svg import Frame, Sheet, el, num

Metres = tuple[float, float]
"""East and north of any one point."""


@dataclass(frozen=True, slots=True)
class Ground:
    """middle: of the ground, in metres, laid on the middle of the frame. scale: units a metre."""

    frame: Frame
    middle: Metres
    scale: float

    @classmethod
    def fitted(cls, points: Sequence[Metres], across: float, *, aside_m: float, least: float, most: float) -> Ground:
        """At the top of a sheet so wide, with aside_m free on every side; least, most: units the field is tall."""
        east, north = ([point[k] for point in points] for k in (0, 1))
        wide_m, tall_m = max(east) - min(east) + 2 * aside_m, max(north) - min(north) + 2 * aside_m
        scale = min(across / wide_m, most / tall_m)
        frame = Frame(0.0, 0.0, across, max(least, tall_m * scale))
        return cls(frame, ((max(east) + min(east)) / 2, (max(north) + min(north)) / 2), scale)

    def at(self, point: Metres) -> tuple[float, float]:
        """x and y of a point."""
        east, north = point[0] - self.middle[0], point[1] - self.middle[1]
        across, down = (self.frame.left + self.frame.right) / 2, (self.frame.top + self.frame.bottom) / 2
        return across + east * self.scale, down - north * self.scale

    def path(self, points: Sequence[Metres]) -> str:
        """Path data through the points."""
        return "M" + " ".join(f"{num(x)} {num(y)}" for x, y in map(self.at, points))


def draw_length(sheet: Sheet, left: float, y: float, scale: float, most: float) -> None:
    """A bar of at most so many units from `left` on, with its length."""
    length_m = round_length(most / scale)
    right = left + length_m * scale
    line = f"M{num(left)} {num(y - 4)}v8M{num(left)} {num(y)}H{num(right)}m0 -4v8"
    sheet.add(el("path", cls="bracket", fill="none", d=line))
    sheet.text(f"{length_m:g} m", right + 8, y + 5)


def draw_north(sheet: Sheet, right: float, y: float) -> None:
    """The arrow with its word, ending at `right`."""
    word = "north"
    x = right - text_width(word) - 14
    sheet.add(el("path", cls="bracket", fill="none", d=f"M{num(x)} {num(y + 9)}v-18l-4 6m4 -6l4 6"))
    sheet.text(word, x + 10, y + 5)


def round_length(most_m: float) -> float:
    """The longest of 1, 2, 5, 10, 20, 50 ... metres that is no longer than that."""
    power = 10.0 ** floor(log10(most_m))
    return next(step * power for step in (5.0, 2.0, 1.0) if step * power <= most_m)
