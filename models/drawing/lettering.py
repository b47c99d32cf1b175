"""How much room words take, and where they go so that no two of them meet.

Widths are those of DejaVu Sans, an open font and among the widest that a browser takes for `system-ui`: in a narrower
face the words need less room than was kept for them.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Literal

from models.drawing.svg import TEXT_SIZE

Anchor = Literal["start", "middle", "end"]

_ADVANCES = {  # hundredths of an em: advance widths of DejaVu Sans 2.37, read from the font with Pillow, rounded up
    28: "ijl'",
    30: "IJ",
    33: " ,.·",
    36: "-/:;|\\",
    40: "()[]ft",
    42: "!r",
    47: '"',
    51: "*_`°–",
    56: "cszL?",
    60: "kvxyF",
    62: "aeoTP",
    64: "0123456789bdghnpquE$SY{}",
    70: "ABCKRVXZ",
    76: "HNU",
    80: "DOQG&",
    84: "#+<=>^~±−×w",
    100: "@%WMm…½⅓⅔",
}
_WIDTH = {letter: hundredths / 100 for hundredths, letters in _ADVANCES.items() for letter in letters}
BOLD = 1.17  # DejaVu Sans Bold over the widths above: 1.09 to 1.15 in sentences, only runs of i, l and t come near 1.2
ASCENT, DESCENT = 0.80, 0.25  # of an em, capitals with accents left out; DejaVu Sans


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle in units, y downwards."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Box, gap: float = 0.0) -> bool:
        return (
            self.left < other.right + gap
            and other.left < self.right + gap
            and self.top < other.bottom + gap
            and other.top < self.bottom + gap
        )

    def inside(self, other: Box) -> bool:
        return (
            self.left >= other.left
            and self.right <= other.right
            and self.top >= other.top
            and self.bottom <= other.bottom
        )


@dataclass(frozen=True, slots=True)
class Place:
    """Where a line of text may stand: its anchor point on the base line."""

    x: float
    y: float
    anchor: Anchor = "start"


@dataclass(slots=True)
class Placer:
    """Gives words a place inside `bounds` where nothing stands yet; who asks first gets the better place."""

    bounds: Box
    taken: list[Box] = field(default_factory=list)

    def block(self, *boxes: Box) -> None:
        self.taken.extend(boxes)

    def find(self, words: str, places: Iterable[Place], *, bold: bool = False, gap: float = 2.0) -> Place | None:
        """The first free place, which is then taken; None if there is none."""
        for place in places:
            box = text_box(words, place, bold=bold)
            if box.inside(self.bounds) and not any(box.meets(other, gap) for other in self.taken):
                self.taken.append(box)
                return place
        return None


def text_width(words: str, *, bold: bool = False) -> float:
    """Units that a line of text takes at most."""
    return sum(map(_advance, words)) * TEXT_SIZE * (BOLD if bold else 1.0)


def text_box(words: str, place: Place, *, bold: bool = False) -> Box:
    width = text_width(words, bold=bold)
    left = place.x - {"start": 0.0, "middle": width / 2, "end": width}[place.anchor]
    return Box(left, place.y - ASCENT * TEXT_SIZE, left + width, place.y + DESCENT * TEXT_SIZE)


def fit(words: str, room: float, *, bold: bool = False) -> str:
    """The words, cut short with an ellipsis where they would take more than `room` units."""
    if text_width(words, bold=bold) <= room:
        return words
    while words and text_width(words + "…", bold=bold) > room:
        words = words[:-1]
    return words.rstrip() + "…"


def wrap(parts: Sequence[str], room: float, *, joint: str = ", ", bold: bool = False) -> tuple[str, ...]:
    """The parts joined into as few lines as fit into `room` units; a part that is longer alone is cut short."""
    lines: list[str] = []
    for part in (fit(part, room, bold=bold) for part in parts if part):
        longer = f"{lines[-1]}{joint}{part}" if lines else part
        if lines and text_width(longer, bold=bold) <= room:
            lines[-1] = longer
        else:
            lines.append(part)
    return tuple(lines)


def keep_between(middle: float, width: float, left: float, right: float) -> float:
    """The middle moved as little as needed for something so wide to lie between left and right, half a unit inside."""
    return max(left + 0.5 + width / 2, min(right - 0.5 - width / 2, middle))


def _advance(letter: str) -> float:
    known = _WIDTH.get(letter)
    if known is not None:
        return known
    if unicodedata.combining(letter):
        return 0.0
    base = unicodedata.normalize("NFD", letter)[0]
    if base in _WIDTH:
        return _WIDTH[base]
    return 1.3 if unicodedata.east_asian_width(letter) in "WF" else 1.0
