"""Lines over time with their doubt, and words beside them where they meet nothing."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from models.drawing.lettering import Box, Place
from models.drawing.scale import RESERVE
from models.drawing.svg import Axis, Floats, Frame, Sheet, band_path, el, line_path, num

EV_STEP = 4
EV_FLOOR = -4.0  # nights without a lamp lie below and are cut off there; no flash plan turns on them
CLEARANCE = 14.0  # units from a word to a line that it does not name


@dataclass(frozen=True, slots=True, eq=False)
class Curve:
    """A line by class name: values (n,), doubt (n,) either way or None, and the words that name it."""

    name: str
    words: str
    values: Floats
    doubt: Floats | None = None

    @property
    def doubted(self) -> bool:
        return self.doubt is not None and bool(np.nanmax(self.doubt, initial=0) > 0)


@dataclass(frozen=True, slots=True, eq=False)
class Plot:
    """A field with time across (unix seconds (n,)) and a value up."""

    sheet: Sheet
    frame: Frame
    across: Axis
    up: Axis
    unix_s: Floats
    clip: str

    @property
    def x(self) -> Floats:
        return self.across.over(self.unix_s)

    def draw_levels(self, values: Sequence[int], *, signed: bool = False) -> None:
        """A rule and a figure at each value."""
        for value in values:
            y = self.up.at(value)
            cls = "zero" if signed and value == 0 else "rule"
            self.sheet.add(el("path", cls=cls, d=f"M{num(self.frame.left)} {num(y)}H{num(self.frame.right)}"))
            words = f"{value:+d}" if signed and value else f"{value}"
            self.sheet.text(words.replace("-", "−"), self.frame.left - 6, y + 4.5, anchor="end")

    def draw_doubt(self, curve: Curve) -> None:
        if curve.doubted:
            low, high = (self.up.over(curve.values + sign * np.asarray(curve.doubt)) for sign in (-1, 1))
            self.sheet.add(el("path", cls=f"{curve.name}-doubt", clip_path=self.clip, d=band_path(self.x, low, high)))

    def draw_line(self, curve: Curve) -> None:
        way = line_path(self.x, self.up.over(curve.values))
        if way:
            self.sheet.add(el("path", cls=curve.name, fill="none", clip_path=self.clip, d=way))

    def draw_limit(self, value: float) -> None:
        y = num(self.up.at(value))
        self.sheet.add(el("path", cls="limit", d=f"M{num(self.frame.left)} {y}H{num(self.frame.right)}"))

    def draw_bars(self, values: Floats) -> None:
        """Boxes from zero to the value in its colour on the reserve scale, rounded to half a stop."""
        zero = self.up.at(0)
        for start, end, stops in _levels(self.unix_s, values):
            y, left, right = self.up.at(stops), self.across.at(start), self.across.at(end)
            place = {"x": left, "y": min(y, zero), "width": right - left, "height": abs(y - zero)}
            self.sheet.add(el("rect", cls="data", fill=RESERVE.hex(stops), **place))


def ev_range(curves: Sequence[Curve]) -> tuple[float, float]:
    """The lowest and highest EV of the field, in whole steps, never less than 0 to 16."""
    seen = np.concatenate([curve.values[np.isfinite(curve.values)] for curve in curves])
    low = max(EV_FLOOR, math.floor(seen.min() / EV_STEP) * EV_STEP)
    return min(0.0, low), max(16.0, math.ceil(seen.max() / EV_STEP) * EV_STEP)


def value_at(unix_s: float, times: Floats, values: Floats) -> float:
    """The line's value at an instant, between its points; nan beyond them or in a gap."""
    return float(np.interp(unix_s, times, values, left=np.nan, right=np.nan)) if len(times) else math.nan


def curve_boxes(x: Floats, y: Floats) -> list[Box]:
    """What a line covers, in small boxes."""
    spans = zip(x[:-1], x[1:], y[:-1], y[1:], strict=True)
    return [Box(a, min(c, d) - 2, b, max(c, d) + 2) for a, b, c, d in spans if math.isfinite(c + d)]


def beside_curve(x: Floats, y: Floats, others: Sequence[Floats], width: float) -> Iterator[Place]:
    """Places for a word of this width above or below a line, flat and middle stretches first, no other line near."""
    found: list[tuple[int, float, Place]] = []
    centre = (x[0] + x[-1]) / 2
    for middle in np.linspace(x[0] + width / 2, x[-1] - width / 2, 24):
        here = (x >= middle - width / 2) & (x <= middle + width / 2)
        span = y[here]
        if len(span) < 2 or not np.isfinite(span).all():
            continue
        top, bottom = float(span.min()), float(span.max())
        for base, edge in ((top - 8, top - 20), (bottom + 18, bottom + 20)):
            near = min((_distance(other[here], edge) for other in others), default=math.inf)
            if near > CLEARANCE:
                found.append((round((bottom - top) / 8), abs(middle - centre), Place(float(middle), base, "middle")))
    return (place for _, _, place in sorted(found, key=lambda one: one[:2]))


def _distance(y: Floats, edge: float) -> float:
    """From a height to the nearest point of a line; far away where the line is not drawn."""
    return float(np.nanmin(np.abs(y - edge), initial=math.inf))


def _levels(unix_s: Floats, values: Floats) -> Iterator[tuple[float, float, float]]:
    """(start, end, value) of stretches of equal half stops within the scale; a point stands for the time round it."""
    if len(unix_s) < 2:
        return
    rounded = np.round(np.clip(values, RESERVE.low, RESERVE.high) * 2) / 2
    between = (unix_s[1:] + unix_s[:-1]) / 2
    edges = np.concatenate([unix_s[:1], between, unix_s[-1:]])
    starts = np.flatnonzero(np.concatenate([[True], rounded[1:] != rounded[:-1]]))
    for first, after in zip(starts, [*starts[1:], len(rounded)], strict=True):
        if math.isfinite(rounded[first]) and rounded[first] != 0:
            yield float(edges[first]), float(edges[after]), float(rounded[first])
