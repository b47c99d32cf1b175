"""The drawing board: escaped markup, numbers, paths, text with a halo, textures under names of their own.

Geometry goes into attributes, colour into class names that webapp/static/css/drawings.css gives light and dark tones;
no style attributes and no style element, so that a strict content policy can stay strict.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, field
from typing import Literal

import numpy as np
import shapely
from numpy.typing import ArrayLike, NDArray

from models.drawing.textures import TEXTURES

Width = Literal["wide", "narrow"]
Floats = NDArray[np.float64]

UNITS: dict[Width, float] = {"wide": 900.0, "narrow": 340.0}
"""Units across. One unit is about a pixel where the stylesheet shows the drawing (pages from 960 px; phones)."""

TEXT_SIZE = 13.0
LINE_STEP = 18.0
TOLERANCE = 0.12  # units by which a simplified line may leave the true one: under a fifth of a pixel

_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_NOT_ID = re.compile(r"[^A-Za-z0-9_-]")


def escape(text: str) -> str:
    """Text for content or attributes; characters that XML 1.0 does not know (section 2.2) become a question mark."""
    clean = _NOT_XML.sub("?", text)
    for raw, entity in (("&", "&amp;"), ("<", "&lt;"), (">", "&gt;"), ('"', "&quot;"), ("'", "&#39;")):
        clean = clean.replace(raw, entity)
    return clean


def num(value: float) -> str:
    """A coordinate with at most one decimal. Raises ValueError for what is no number."""
    if not math.isfinite(value):
        raise ValueError(f"no place to draw {value}")
    text = f"{value:.1f}".removesuffix(".0")
    return "0" if text == "-0" else text


def el(name: str, *children: str, **attributes: str | float | None) -> str:
    """An element of finished children. Attribute values are escaped, None is left out, underscores become hyphens.

    `cls` is the class attribute, which Python has no name for.
    """
    written = "".join(_attribute(key, value) for key, value in attributes.items() if value is not None)
    return f"<{name}{written}>{''.join(children)}</{name}>" if children else f"<{name}{written}/>"


def titled(words: str) -> str:
    """A title child: what is said when the mark is pointed at."""
    return el("title", escape(words))


@dataclass(frozen=True, slots=True)
class Axis:
    """A straight scale: value `low` lies at unit `start`, `high` at `end`."""

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float) -> float:
        return self.start + (value - self.low) / (self.high - self.low) * (self.end - self.start)

    def over(self, values: ArrayLike) -> Floats:
        """Units for an array of values, same shape; nan stays nan."""
        share = (np.asarray(values, float) - self.low) / (self.high - self.low)
        return np.asarray(self.start + share * (self.end - self.start), float)


@dataclass(frozen=True, slots=True)
class Frame:
    """The field a drawing plots in, in units."""

    left: float
    top: float
    right: float
    bottom: float


def line_path(x: ArrayLike, y: ArrayLike) -> str:
    """Path data through the points (n,), broken where a value is nan, points that change nothing left out."""
    return "".join(_moves(run) for run in _runs(np.column_stack([x, y])))


def band_path(x: ArrayLike, low: ArrayLike, high: ArrayLike) -> str:
    """Path data of the areas between two lines (n,), one for each stretch without nan."""
    rows = np.column_stack([x, low, high])
    return "".join(
        _moves(np.vstack([_simple(run[:, [0, 2]]), _simple(run[:, [0, 1]])[::-1]])) + "Z" for run in _runs(rows)
    )


@dataclass(slots=True)
class Sheet:
    """One drawing in the making. prefix makes ids unique in a page that holds several drawings and both widths.

    width: None for a drawing that is one for every width, `across` units of its own.
    """

    width: Width | None
    prefix: str
    parts: list[str] = field(default_factory=list)
    textures: dict[str, None] = field(default_factory=dict)
    clips: dict[str, Frame] = field(default_factory=dict)
    across: float = 0.0

    @property
    def units(self) -> float:
        return UNITS[self.width] if self.width else self.across

    @property
    def narrow(self) -> bool:
        return self.width == "narrow"

    def id(self, name: str) -> str:
        return f"d-{_NOT_ID.sub('-', self.prefix)}-{self.width or 'any'}-{name}"

    def add(self, *markup: str) -> None:
        self.parts.extend(markup)

    def text(
        self, words: str, x: float, y: float, *, anchor: str = "start", bold: bool = False, cls: str = "soft"
    ) -> None:
        """A line of text; its halo comes from the stylesheet."""
        weight = "650" if bold else None
        shown = escape(words)
        self.add(el("text", shown, cls=cls, x=x, y=y, text_anchor=anchor, font_size=TEXT_SIZE, font_weight=weight))

    def textured(self, shape: str, texture: str, *, tone: str, **geometry: str | float) -> None:
        """A shape twice: its tone by class, and the texture over it."""
        self.add(el(shape, cls=tone, **geometry))
        if texture:
            self.textures[texture] = None
            self.add(el(shape, fill=f"url(#{self.id(texture)})", **geometry))

    def clip(self, name: str, frame: Frame) -> str:
        """The value of a clip-path attribute that keeps marks inside the frame."""
        self.clips[name] = frame
        return f"url(#{self.id(name)})"

    def finish(self, height: float, title: str, desc: str, **data: str | float) -> str:
        """The whole SVG. data become data- attributes on the root, for scripts that point at a place in the drawing."""
        names = [self.id("title")] + ([self.id("desc")] if desc else [])
        head = el("title", escape(title) or "Drawing", id=names[0])
        head += el("desc", escape(desc), id=names[1]) if desc else ""
        view = f"0 0 {num(self.units)} {num(height)}"
        opening: dict[str, str | float] = {
            "cls": f"drawing {self.width}-only" if self.width else "drawing any-width",
            "xmlns": "http://www.w3.org/2000/svg",
            "viewBox": view,
        }
        opening |= {
            "role": "img",
            "aria_labelledby": " ".join(names),
            **{f"data_{key}": value for key, value in data.items()},
        }
        body = "".join(self.parts)
        return el("svg", head, self._defs(), body, **opening)

    def _defs(self) -> str:
        patterns = [TEXTURES[name].pattern(self.id(name)) for name in self.textures]
        clips = [
            el(
                "clipPath",
                el("rect", x=f.left, y=f.top, width=f.right - f.left, height=f.bottom - f.top),
                id=self.id(n),
            )
            for n, f in self.clips.items()
        ]
        return el("defs", *patterns, *clips) if patterns or clips else ""


def nothing_to_draw(width: Width, prefix: str, title: str, words: str) -> str:
    """The sheet shown where there is no figure at all: a rule and the words for it."""
    sheet = Sheet(width, prefix)
    sheet.add(el("path", cls="rule", d=f"M0 8.5H{num(sheet.units)}", fill="none"))
    sheet.text(words, 0, 34)
    return sheet.finish(48, title, words)


def _attribute(key: str, value: str | float) -> str:
    name = "class" if key == "cls" else key.replace("_", "-")
    return f' {name}="{escape(value) if isinstance(value, str) else num(value)}"'


def _runs(rows: Floats) -> list[Floats]:
    """Stretches of at least two rows without nan."""
    good = np.isfinite(rows).all(axis=1)
    edges = np.flatnonzero(np.diff(good.astype(np.int8), prepend=0, append=0))
    return [rows[a:b] for a, b in zip(edges[::2], edges[1::2], strict=True) if b - a > 1]


def _simple(points: Floats) -> Floats:
    return np.asarray(shapely.get_coordinates(shapely.simplify(shapely.linestrings(points), TOLERANCE)), float)


def _moves(points: Floats) -> str:
    return "M" + " ".join(f"{num(x)} {num(y)}" for x, y in _simple(points))
