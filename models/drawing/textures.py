"""Textures: what says wall, leaves, shade or dark without colour. Tones come from the stylesheet."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Texture:
    """A tile: marks of (x, y, path data from there), drawn as lines, or filled where `solid`."""

    width: float
    height: float
    marks: tuple[tuple[float, float, str], ...]
    cls: str = "grain"
    solid: bool = False

    def path(self, columns: int = 1, rows: int = 1) -> str:
        """Path data of so many tiles side by side and below one another."""
        return "".join(
            f"M{x + column * self.width:g} {y + row * self.height:g}{tail}"
            for row in range(rows)
            for column in range(columns)
            for x, y, tail in self.marks
        )

    def mark(self, columns: int = 1, rows: int = 1) -> str:
        fill = "" if self.solid else ' fill="none"'
        return f'<path class="{self.cls}" d="{self.path(columns, rows)}"{fill}/>'

    def pattern(self, name: str) -> str:
        """The tile as an SVG pattern under an id."""
        size = f'width="{self.width:g}" height="{self.height:g}"'
        return f'<pattern id="{name}" {size} patternUnits="userSpaceOnUse">{self.mark()}</pattern>'


_RING = "a1.6 1.6 0 1 0 3.2 0a1.6 1.6 0 1 0 -3.2 0z"
_LEAF = "q3.5 -4.5 7 0q-3.5 4.5 -7 0z"

TEXTURES: dict[str, Texture] = {
    "brick": Texture(14, 8, ((0, 0.5, "h14"), (0, 4.5, "h14"), (3.5, 0.5, "v4"), (10.5, 4.5, "v4"))),
    "assumed": Texture(10, 10, ((0, 0, "l10 10"),)),
    "plumb": Texture(6, 8, ((3, 0, "v8"),)),
    "leaf": Texture(16, 12, ((1, 4, _LEAF), (9, 10, _LEAF)), cls="leafage", solid=True),
    "roof": Texture(8, 5, ((0, 1, "h8"), (0, 2.6, "h8"))),
    "dots": Texture(7, 7, ((1.75, 1.75, "h0"), (5.25, 5.25, "h0")), cls="grain dot"),
    "dash": Texture(8, 8, ((1, 7, "l3 -3"), (5, 3, "l3 -3"))),
    "hatch": Texture(6, 6, ((0, 6, "l6 -6"), (-1, 1, "l2 -2"), (5, 7, "l2 -2"))),
    "lamps": Texture(16, 12, ((2, 4, _RING), (10, 10, _RING)), cls="lamplight", solid=True),
    "stripes": Texture(28, 14, ((2, 12.5, "l8 -11"), (10, 12.5, "l8 -11"), (18, 12.5, "l8 -11")), cls="answer-mark"),
    "weave": Texture(7, 7, ((0, 7, "l7 -7"), (0, 0, "l7 7")), cls="answer-mark answer-light"),
    "crosses": Texture(9, 14, ((2, 4.5, "l5 5"), (7, 4.5, "l-5 5")), cls="answer-mark answer-loud"),
    "breaks": Texture(9, 14, ((2, 4.5, "h5"), (2, 9.5, "h5")), cls="answer-mark"),
    "pauses": Texture(9, 14, ((4.5, 7, "h0"),), cls="answer-mark dot"),
    "lines": Texture(28, 14, ((4, 4.5, "h20"), (4, 9.5, "h20")), cls="answer-mark"),
    "line": Texture(28, 14, ((4, 7, "h20"),), cls="answer-mark answer-thin"),
    "cross": Texture(8, 8, ((2, 2, "l4 4"), (6, 2, "l-4 4"))),
}
