"""The way of a walk, to scale with north up: walls faint, the way strong, both ends named.

  |__|  |___      to Foundry Yard
 ___  ____  o----x
|   | |  |  |            north
|___| |__|  |              ^
  o---------'      |----|  |
from Foundry Lane   50 m
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from models.drawing.ground import Ground, Metres, draw_length, draw_north
from models.drawing.lettering import Box, Place, Placer, fit
from models.drawing.svg import LINE_STEP, Sheet, Width, el, nothing_to_draw

LEAST_ASIDE_M = 20.0  # shown beside the way
ASIDE = 0.08  # of its extent, where that is more
TALLEST = {"wide": 460.0, "narrow": 380.0}
LEAST_TALL = 150.0
BAR_SHARE = 0.3  # of the sheet, at most, for the scale bar
FOOT = 34.0
MARK = 5.0


@dataclass(frozen=True, slots=True, kw_only=True)
class WaySketch:
    """All that the sketch shows, in metres.

    way: from start to goal. known: it runs along recorded footways; else it is drawn as the broken straight line that
    it is. outlines: rings of walls near it. start, goal: names of both ends. id_prefix: unique in the page.
    """

    title: str
    desc: str
    way: tuple[Metres, ...]
    known: bool
    start: str
    goal: str
    outlines: tuple[tuple[Metres, ...], ...] = ()
    id_prefix: str = "way"


def draw_way_sketch(sketch: WaySketch, width: Width) -> str:
    """The sketch as an SVG; "wide" for a desk, "narrow" for a phone."""
    if len(sketch.way) < 2:
        return nothing_to_draw(width, sketch.id_prefix, sketch.title, "There is no walk to draw.")
    board = _Board(sketch, width)
    board.draw_walls()
    board.draw_way()
    board.draw_names()
    board.draw_foot()
    return board.finish()


class _Board:
    """The sketch on its sheet; the field fills its width, the scale is that of the longer side."""

    def __init__(self, sketch: WaySketch, width: Width) -> None:
        self.sketch, self.sheet = sketch, Sheet(width, sketch.id_prefix)
        extent_m = max(max(at) - min(at) for at in zip(*sketch.way, strict=True))
        self.ground = Ground.fitted(
            sketch.way, self.sheet.units,
            aside_m=max(LEAST_ASIDE_M, ASIDE * extent_m), least=LEAST_TALL, most=TALLEST[width],
        )  # fmt: skip
        self.tall = self.ground.frame.bottom
        self.placer = Placer(Box(2.0, 2.0, self.sheet.units - 2, self.tall - 2))
        self.bottom = self.tall + FOOT

    def draw_walls(self) -> None:
        rings = "".join(f"{self.ground.path(ring)}Z" for ring in self.sketch.outlines if len(ring) > 2)
        clip = self.sheet.clip("field", self.ground.frame)
        if rings:
            self.sheet.add(el("path", cls="town-wall", fill_rule="evenodd", clip_path=clip, d=rings))
        edge = {"x": 0.5, "y": 0.5, "width": self.sheet.units - 1, "height": self.tall - 1}
        self.sheet.add(el("rect", cls="rule", fill="none", **edge))

    def draw_way(self) -> None:
        way = self.ground.path(self.sketch.way)
        if self.sketch.known:
            self.sheet.add(el("path", cls="way-under", fill="none", d=way))
        self.sheet.add(el("path", cls="way" if self.sketch.known else "way-guessed", fill="none", d=way))
        for cls, point in (("now", self.sketch.way[0]), ("now-down", self.sketch.way[-1])):
            x, y = self.ground.at(point)
            self.sheet.add(el("circle", cls=cls, cx=x, cy=y, r=MARK))

    def draw_names(self) -> None:
        """Each name beside its end, where no other stands; below the field where there is no room."""
        ends = [self.ground.at(point) for point in (self.sketch.way[0], self.sketch.way[-1])]
        self.placer.block(*(Box(x - MARK, y - MARK, x + MARK, y + MARK) for x, y in ends))
        names = (f"from {self.sketch.start}", f"to {self.sketch.goal}")
        for (x, y), name in zip(ends, names, strict=True):
            words = fit(name, self.sheet.units * 0.6, bold=True)
            place = self.placer.find(words, _beside(x, y), bold=True)
            if place is None:
                self.bottom += LINE_STEP
                place, words = Place(0.0, self.bottom - 4), fit(name, self.sheet.units - 2, bold=True)
            self.sheet.text(words, place.x, place.y, anchor=place.anchor, bold=True, cls="strong")

    def draw_foot(self) -> None:
        """The scale bar with its length, and the arrow to the north."""
        draw_length(self.sheet, 1, self.tall + 12, self.ground.scale, BAR_SHARE * self.sheet.units)
        draw_north(self.sheet, self.sheet.units, self.tall + 12)

    def finish(self) -> str:
        return self.sheet.finish(self.bottom, self.sketch.title, self.sketch.desc, scale=self.ground.scale)


def _beside(x: float, y: float) -> Iterator[Place]:
    """Right of a mark, left, above, below, then further up and down."""
    yield Place(x + 10, y + 4)
    yield Place(x - 10, y + 4, "end")
    for step in (14.0, 26.0, 40.0):
        for base in (y - step + 4, y + step + 6):
            yield from (Place(x, base, "middle"), Place(x + 4, base), Place(x - 4, base, "end"))
