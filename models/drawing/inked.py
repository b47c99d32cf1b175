"""A drawing for a PDF: its tones written into it, white paper, and in place of a halo a white ground behind words.

An outlined letter becomes a shape of its own in a PDF and takes forty times the room of a letter.
"""

from __future__ import annotations

import html
import re

from models.drawing.lettering import ASCENT, DESCENT, text_width
from models.drawing.on_paper import PAPER, on_paper
from models.drawing.svg import TEXT_SIZE, el, escape

NARROWER = 0.81
"""What a book face takes of the room that lettering.py keeps for words: measured on sentences."""
GROUND_OPACITY = "0.8"
WHITE = "#ffffff"

_ROOT = re.compile(r"<svg\b[^>]*>")
_TEXT = re.compile(r"<text\b([^>]*)>([^<]*)</text>")
_PAIR = re.compile(r'([\w-]+)="([^"]*)"')
_HALO = re.compile(r' (?:stroke(?:-width|-linejoin)?|paint-order)="[^"]*"')
_WEIGHT = re.compile(r' font-weight="[^"]*"')
_LEFT_OF = {"start": 0.0, "middle": 0.5, "end": 1.0}


def inked(svg: str, families: str) -> str:
    """The SVG with its letters in these typefaces. Raises ValueError where there is no svg element."""
    toned = on_paper(svg).replace(PAPER, WHITE)
    root = _ROOT.search(toned)
    if root is None:
        raise ValueError("no drawing: it has no svg element")
    opening = f'{root[0][:-1].removesuffix("/")} font-family="{escape(families)}">'
    return f"{toned[: root.start()]}{opening}{_TEXT.sub(_grounded, toned[root.end() :])}"


def _grounded(found: re.Match[str]) -> str:
    """A line of words on a white ground, without halo; a weight between those that fonts come in becomes bold."""
    said = dict(_PAIR.findall(found[1]))
    plain = _WEIGHT.sub(' font-weight="700"', _HALO.sub("", found[1]))
    words = f"<text{plain}>{found[2]}</text>"
    if not found[2].strip():
        return words
    size = float(said.get("font-size", TEXT_SIZE))
    width = text_width(html.unescape(found[2]), bold="font-weight" in said) * NARROWER * size / TEXT_SIZE
    left = float(said.get("x", 0)) - width * _LEFT_OF.get(said.get("text-anchor", "start"), 0.0)
    ground = el(
        "rect", x=left, y=float(said.get("y", 0)) - ASCENT * size, width=width, height=(ASCENT + DESCENT) * size,
        fill=WHITE, fill_opacity=GROUND_OPACITY,
    )  # fmt: skip
    return ground + words
