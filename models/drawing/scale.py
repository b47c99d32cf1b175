"""The two colour scales, one meaning each, used by every map, key and swatch.

Brightness runs over cividis from EV100 0 to 16. Reserve runs over brown to teal around a near-white zero: brown where
the flash is too weak, teal where it has stops in hand; four stops either way are the ends.
"""

from __future__ import annotations

import base64
import io
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray
from PIL import Image

from models.drawing.scale_tables import BROWN_TEAL, CIVIDIS
from models.drawing.svg import Sheet, el, escape, num
from models.drawing.textures import TEXTURES

Bytes = NDArray[np.uint8]


@dataclass(frozen=True, slots=True, eq=False)
class Scale:
    """Values from low to high in as many even steps as there are colours; beyond the ends the end colours hold.

    colours: (k, 3) sRGB. ends are the words at low, middle and high.
    """

    unit: str
    low: float
    high: float
    colours: Bytes
    ends: tuple[str, str, str]

    def level(self, values: ArrayLike) -> NDArray[np.int64]:
        """Index of the colour of each value, same shape; -1 where the value is nan."""
        share = (np.asarray(values, float) - self.low) / (self.high - self.low)
        last = len(self.colours) - 1
        near = np.round(np.clip(np.nan_to_num(share, nan=0.0, posinf=1.0, neginf=0.0), 0, 1) * last)
        return np.where(np.isnan(share), -1, near).astype(np.int64)

    def hex(self, value: float) -> str:
        """The colour of a value as '#rrggbb'. Raises ValueError for nan, which has no colour."""
        level = int(self.level(value))
        if level < 0:
            raise ValueError("an unknown value has no colour")
        return "#" + bytes(self.colours[level]).hex()


def palette(table: str, steps: int) -> Bytes:
    """So many colours (steps, 3) evenly along a table of stops, linear in sRGB between them."""
    stops = np.frombuffer(bytes.fromhex(table), np.uint8).reshape(-1, 3).astype(float)
    at = np.linspace(0, len(stops) - 1, steps)
    channels = [np.interp(at, np.arange(len(stops)), stops[:, channel]) for channel in range(3)]
    return np.round(np.column_stack(channels)).astype(np.uint8)


BRIGHTNESS = Scale("EV100", 0.0, 16.0, palette(CIVIDIS, 129), ("0 or less", "8", "16 or more"))
RESERVE = Scale("stops in hand", -4.0, 4.0, palette(BROWN_TEAL, 65), ("−4 or worse", "0", "+4 or more"))
"""An eighth of a stop a colour, finer than any figure's doubt; an odd count, so that zero has a colour of its own."""


def swatch(scale: Scale, value: float | None, words: str) -> str:
    """A small box of the value's colour for a line in a list; crossed where the value is not known."""
    known = value is not None and np.isfinite(value)
    box = {"x": 0.5, "y": 0.5, "width": 27, "height": 13}
    if known and value is not None:
        inside = el("rect", cls="data", fill=scale.hex(value), **box)
    else:
        inside = el("rect", cls="unknown", **box) + TEXTURES["cross"].mark(3, 1)
    return small_box(words, inside)


def small_box(words: str, inside: str) -> str:
    """The frame of a swatch, 28 x 14 units, named by its words."""
    edge = el("rect", cls="edge", x=0.5, y=0.5, width=27, height=13, fill="none")
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="drawing swatch" viewBox="0 0 28 14" width="28" height="14" '
        f'role="img" aria-label="{escape(words)}"><title>{escape(words)}</title>{inside}{edge}</svg>'
    )


def lay_scale(sheet: Sheet, scale: Scale, left: float, top: float) -> float:
    """The bar with its unit and the words at its ends; the height below it."""
    length = 300.0 if sheet.narrow else 380.0
    row = np.arange(len(scale.colours))[None, :]
    sheet.text(scale.unit, left, top + 12, cls="strong")
    picture = png_uri(row, scale)
    sheet.add(picture_element(picture, left, top + 18, length, 12))
    sheet.add(el("rect", cls="edge", x=left, y=top + 18, width=length, height=12, fill="none"))
    for share, words, anchor in zip((0, 0.5, 1), scale.ends, ("start", "middle", "end"), strict=True):
        x = left + share * length
        sheet.add(el("path", cls="tick", d=f"M{num(x)} {num(top + 30)}v4"))
        sheet.text(words, x, top + 47, anchor=anchor)
    return top + 52


def picture_element(uri: str, x: float, y: float, width: float, height: float) -> str:
    """A picture stretched over a field, its cells kept sharp."""
    where = {"x": x, "y": y, "width": width, "height": height}
    return el("image", cls="data", href=uri, preserveAspectRatio="none", image_rendering="pixelated", **where)


def png_uri(levels: NDArray[np.int64], scale: Scale) -> str:
    """Levels (rows, columns), the first row on top, as a palette PNG in a data: URI; -1 is transparent."""
    cells = np.where(levels < 0, len(scale.colours), levels).astype(np.uint8)
    picture = Image.frombytes("P", cells.shape[::-1], cells.tobytes())
    picture.putpalette([*scale.colours.ravel().tolist(), 0, 0, 0])
    written = io.BytesIO()
    picture.save(written, "PNG", optimize=True, transparency=len(scale.colours))
    return "data:image/png;base64," + base64.b64encode(written.getvalue()).decode("ascii")
