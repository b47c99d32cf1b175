"""The key under a drawing: a small piece of each texture, line or mark that it uses, with its word."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from models.drawing.lettering import fit, text_width
from models.drawing.svg import Sheet, el, num

SWATCH_WIDTH, SWATCH_HEIGHT = 26.0, 14.0
ROW_STEP = 24.0
_GAP, _BETWEEN = 7.0, 20.0


@dataclass(frozen=True, slots=True)
class KeyItem:
    """A word and what draws its sample: called with the sheet, the left end and the middle height, in units."""

    words: str
    draw: Callable[[Sheet, float, float], None]


def lay_key(sheet: Sheet, items: Sequence[KeyItem], left: float, right: float, top: float) -> float:
    """Rows of samples with words between left and right; the height below the last row."""
    x, y = left, top + ROW_STEP / 2
    for item in items:
        words = fit(item.words, right - left - SWATCH_WIDTH - _GAP)
        width = SWATCH_WIDTH + _GAP + text_width(words)
        if x > left and x + width > right:
            x, y = left, y + ROW_STEP
        item.draw(sheet, x, y)
        sheet.text(words, x + SWATCH_WIDTH + _GAP, y + 4.5)
        x += width + _BETWEEN
    return y + ROW_STEP / 2 if items else top


def texture_item(words: str, texture: str, tone: str, edge: str = "edge") -> KeyItem:
    """A box of a tone, a texture and an edge class."""

    def draw(sheet: Sheet, x: float, y: float) -> None:
        box = {"x": x + 0.5, "y": y - SWATCH_HEIGHT / 2, "width": SWATCH_WIDTH - 1, "height": SWATCH_HEIGHT}
        sheet.textured("rect", texture, tone=tone, **box)
        sheet.add(el("rect", cls=edge, fill="none", **box))

    return KeyItem(words, draw)


def line_item(words: str, cls: str, band: str = "") -> KeyItem:
    """A piece of a line, on a piece of its band if it has one."""

    def draw(sheet: Sheet, x: float, y: float) -> None:
        if band:
            sheet.add(el("rect", cls=band, x=x, y=y - 5, width=SWATCH_WIDTH, height=10))
        if cls:
            sheet.add(el("path", cls=cls, d=f"M{num(x)} {num(y)}h{num(SWATCH_WIDTH)}", fill="none"))

    return KeyItem(words, draw)


def mark_item(words: str, mark: Callable[[float, float], str]) -> KeyItem:
    """A mark drawn about a point."""

    def draw(sheet: Sheet, x: float, y: float) -> None:
        sheet.add(mark(x + SWATCH_WIDTH / 2, y))

    return KeyItem(words, draw)
