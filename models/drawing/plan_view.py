"""The setup from above, to scale, the camera looking up the sheet: the pavement's slabs measure it, each one pace.

####### wall ##################
|    |    |  / edge|    |    |
|    |    o model  |    |    |     o and lines: to scale
|  key   /|    |    |  <- sun, shadow 2.8 m
|    |  camera     |    |    |
------ kerb -------------------
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import hypot, radians, tan

from models.drawing.heading import heading
from models.drawing.lettering import Box, Place, Placer, text_box, wrap
from models.drawing.plan_parts import (
    HOLDER_M,
    MODEL_M,
    PERSON_M,
    PlanLight,
    PlanPavement,
    PlanView,
    Point,
    at,
    left_line,
    plus,
    towards,
)
from models.drawing.svg import LINE_STEP, Frame, Sheet, Width, el, num, titled
from models.light.placing import PACE_M

PAST_M = 0.5  # how far a beam is drawn past the model
ROOM_M = 0.7  # kept free round everything
TALLEST = {"wide": 430.0, "narrow": 400.0}
LARGEST = {"wide": 96.0, "narrow": 80.0}  # units a metre
TEXT_UNITS, SUN_UNITS = 13.0, 46.0
FAR = (0.0, 10.0, 22.0, 40.0)  # words further off than the second are no longer than need be
CLEARLY_UNITS = 8.0  # nearer to what words name than to anything else
FREE_SHOWN_M = 3.5  # of a wide pavement beside the setup; the figure says the rest
EDGES = {"wall": "wall", "kerb": "kerb, beyond it no pavement"}


def draw_plan_view(plan: PlanView, width: Width) -> str:
    """The plan as an SVG; "wide" for a desk, "narrow" for a phone."""
    board = _Board(plan, width)
    board.draw_ground()
    board.draw_view()
    board.draw_shadow()
    for light in plan.lights:
        board.draw_beam(light)
    for light in plan.lights:
        board.draw_light(light)
    board.draw_people()
    board.draw_sun()
    board.draw_words()
    return board.finish()


@dataclass(frozen=True, slots=True)
class _Label:
    """Words beside a point, the longest that fit; `away` units from it at least. elsewhere: points as good."""

    texts: tuple[str, ...]
    x: float
    y: float
    away: float
    bold: bool = False
    elsewhere: tuple[Point, ...] = ()


class _Board:
    """The plan on its sheet: x, y take metres right and up of the model."""

    def __init__(self, plan: PlanView, width: Width) -> None:
        self.plan, self.sheet = plan, Sheet(width, plan.id_prefix)
        self.heading = heading(self.sheet, plan.figures)
        reach = list(self._reach())
        low_x, high_x = min(x for x, _ in reach) - ROOM_M, max(x for x, _ in reach) + ROOM_M
        low_y, high_y = min(y for _, y in reach) - ROOM_M, max(y for _, y in reach) + ROOM_M
        room = self.sheet.units - 2
        self.scale = min(room / (high_x - low_x), TALLEST[width] / (high_y - low_y), LARGEST[width])
        top = self.heading.bottom + 6
        self.frame = Frame(1, top, self.sheet.units - 1, top + (high_y - low_y) * self.scale)
        self.middle_x = self.sheet.units / 2 - (low_x + high_x) / 2 * self.scale
        self.middle_y = top + high_y * self.scale
        self.clip = self.sheet.clip("field", self.frame)
        self.placer = Placer(Box(self.frame.left + 3, top + 3, self.frame.right - 3, self.frame.bottom - 3))
        self.labels: list[_Label] = []

    def _reach(self) -> Iterator[Point]:
        """What has to lie on the sheet."""
        yield 0.0, MODEL_M
        yield at(0, self.plan.camera_m + PERSON_M)
        for light in self.plan.lights:
            yield at(light.axis_deg, light.ground_m + (HOLDER_M + PERSON_M if light.held else 0.3))
        pavement = self.plan.pavement
        if pavement:
            yield towards(pavement.wall_deg, pavement.wall_m)
            yield left_line(pavement)[0]
            yield towards(pavement.wall_deg + 180, min(pavement.kerb_m, pavement.taken_m + FREE_SHOWN_M))

    def xy(self, point: Point) -> Point:
        return self.middle_x + point[0] * self.scale, self.middle_y - point[1] * self.scale

    def path(self, points: Sequence[Point], *, closed: bool = False) -> str:
        placed = " ".join(f"{num(x)} {num(y)}" for x, y in map(self.xy, points))
        return f"M{placed}{'Z' if closed else ''}"

    def draw_ground(self) -> None:
        """Slabs of a pace along the wall, the wall itself, the kerb, and what is left beside the setup."""
        pavement = self.plan.pavement
        turned = pavement.wall_deg if pavement else 0.0
        self._draw_slabs(turned)
        if pavement is None:
            return
        far = 40.0
        along = towards(turned + 90, far)
        for side, start_m, name in ((0, pavement.wall_m, "wall"), (180, pavement.kerb_m, "kerb")):
            edge, out = towards(turned + side, start_m), towards(turned + side, start_m + (0.35 if side == 0 else far))
            ring = [plus(edge, along), plus(edge, along, -1), plus(out, along, -1), plus(out, along)]
            shape = {"d": self.path(ring, closed=True), "clip_path": self.clip}
            if side == 0:
                self.sheet.textured("path", "brick", tone="wall-surveyed", **shape)
            else:
                self.sheet.textured("path", "dash", tone="road", **shape)
            line = self.path(ring[:2])
            self.sheet.add(el("path", titled(name), cls="outline-surveyed", fill="none", d=line, clip_path=self.clip))
            self._name_edge(name, edge, along)
        self._draw_left(pavement)

    def _draw_slabs(self, turned: float) -> None:
        ways = []
        for direction in (turned, turned + 90):
            for k in range(-40, 41):
                middle, along = towards(direction, (k + 0.5) * PACE_M), towards(direction + 90, 40.0)
                ways.append(self.path([plus(middle, along), plus(middle, along, -1)]))
        self.sheet.add(el("path", cls="slab", fill="none", d="".join(ways), clip_path=self.clip))

    def _name_edge(self, name: str, edge: Point, along: Point) -> None:
        """Its word beside the line, wherever the line shows."""
        length, frame = hypot(*along), self.frame
        points = [self.xy(plus(edge, along, step / 4 / length)) for step in (6, -6, *range(-60, 61))]
        shown = tuple(
            (x, y) for x, y in points if frame.left < x < frame.right and frame.top + 10 < y < frame.bottom - 4
        )
        self.placer.block(*(Box(x - 3, y - 3, x + 3, y + 3) for x, y in shown))
        if shown:
            self.labels.append(_Label((EDGES[name], name), *shown[0], 6, elsewhere=shown[1:]))

    def _draw_left(self, pavement: PlanPavement) -> None:
        """From the setup's reach to the kerb, with the figure."""
        way = pavement.wall_deg + 180
        line = left_line(pavement)
        if pavement.kerb_m - pavement.taken_m > 0.05:
            self.sheet.add(el("path", cls="bracket", fill="none", d=self.path(line), clip_path=self.clip))
            for metre in range(0, int((pavement.kerb_m - pavement.taken_m) * 8) + 1):
                self._block(plus(line[0], towards(way, metre / 8)), 0.06)
            for point in line:
                tick = towards(pavement.wall_deg + 90, 0.09)
                ends = [plus(point, tick), plus(point, tick, -1)]
                self.sheet.add(el("path", cls="bracket", d=self.path(ends), clip_path=self.clip))
        shown_m = min(pavement.kerb_m - pavement.taken_m, FREE_SHOWN_M)
        x, y = self.xy(plus(line[0], towards(way, shown_m / 2)))
        self.labels.append(_Label((pavement.left_words,), x, y, 8, bold=True))

    def draw_view(self) -> None:
        """The two edges of what the camera takes in."""
        camera = at(0, self.plan.camera_m)
        for side in (-1, 1):
            end = plus(camera, towards(side * self.plan.view_deg / 2, 40.0))
            way = self.path([camera, end])
            self.sheet.add(el("path", cls="backdrop", fill="none", d=way, clip_path=self.clip))

    def draw_shadow(self) -> None:
        sun = self.plan.sun
        if sun is None or sun.shadow_m is None:
            return
        length = min(sun.shadow_m, 30.0)
        away, across = towards(sun.bearing_deg + 180, length), towards(sun.bearing_deg + 90, MODEL_M * 0.8)
        ring = [across, plus(across, away), plus(away, across, -1), (-across[0], -across[1])]
        shape = {"d": self.path(ring, closed=True), "clip_path": self.clip}
        self.sheet.textured("path", "hatch", tone="cast", **shape)
        x, y = self.xy(towards(sun.bearing_deg + 180, min(length, 1.3)))
        self.labels.append(_Label((sun.shadow_words, "shadow"), x, y, 10))

    def draw_beam(self, light: PlanLight) -> None:
        """Its edges to a little past the model; only the way it aims where its angle is not known."""
        source = at(light.axis_deg, light.ground_m)
        if light.beam_deg is None or light.beam_deg >= 150:
            end = at(light.axis_deg, -PAST_M)
            way = self.path([source, end])
            self.sheet.add(el("path", titled(f"{light.name} aims"), cls="aim", fill="none", d=way, clip_path=self.clip))
            return
        far = light.ground_m + PAST_M
        half = far * tan(radians(light.beam_deg / 2)) + light.face_m / 2
        aim, across = at(light.axis_deg + 180, 1.0), at(light.axis_deg + 90, 1.0)
        near = light.face_m / 2
        ring = [
            plus(source, across, near),
            plus(plus(source, aim, far), across, half),
            plus(plus(source, aim, far), across, -half),
            plus(source, across, -near),
        ]
        said = titled(f"beam of the {light.name}")
        self.sheet.add(el("path", said, cls="beam", d=self.path(ring, closed=True), clip_path=self.clip))

    def draw_light(self, light: PlanLight) -> None:
        """Its lit face as wide as it is; who holds it, or its stand, behind it."""
        source, across = at(light.axis_deg, light.ground_m), at(light.axis_deg + 90, 1.0)
        near = max(light.face_m, 0.16) / 2
        behind = at(light.axis_deg, light.ground_m + (HOLDER_M if light.held else 0.12))
        self.sheet.add(el("path", cls="tick", d=self.path([source, behind])))
        face = self.path([plus(source, across, near), plus(source, across, -near)])
        self.sheet.add(el("path", titled(light.words), cls="lit-face", d=face))
        x, y = self.xy(behind)
        if light.held:
            self.sheet.add(el("circle", titled("holder"), cls="person", cx=x, cy=y, r=PERSON_M * self.scale))
        else:
            self.sheet.add(el("rect", titled("stand"), cls="person", x=x - 5, y=y - 5, width=10, height=10))
        self._block(behind, PERSON_M)
        self._block(source, near)
        label_x, label_y = self.xy(at(light.axis_deg, light.ground_m + (HOLDER_M if light.held else 0.12)))
        where = light.place if light.held else f"{light.place}, on a stand"
        self.labels.append(_Label((where, light.place, light.name), label_x, label_y, PERSON_M * self.scale + 4, True))
        if light.held:
            self.labels.append(_Label(("holder",), label_x, label_y, PERSON_M * self.scale + 4))

    def draw_people(self) -> None:
        for words, point, radius, bold in (
            ("model", (0.0, 0.0), MODEL_M, True),
            (self.plan.camera_words, at(0, self.plan.camera_m), PERSON_M, True),
        ):
            x, y = self.xy(point)
            r = radius * self.scale
            self.sheet.add(el("circle", titled(words), cls="person", cx=x, cy=y, r=r))
            self._block(point, radius)
            self.labels.insert(0, _Label((words, words.partition(",")[0]), x, y, r + 4, bold))
        x, y = self.xy((0.0, 0.0))
        self.sheet.add(el("path", cls="bracket", d=f"M{num(x)} {num(y)}v{num(MODEL_M * self.scale + 5)}"))

    def draw_sun(self) -> None:
        """An arrow from where it stands, in from the edge of the sheet."""
        sun = self.plan.sun
        if sun is None:
            return
        way = towards(sun.bearing_deg, 1.0)
        room_x = (self.frame.right - self.middle_x if way[0] > 0 else self.middle_x - self.frame.left) - 12
        room_y = (self.middle_y - self.frame.top if way[1] > 0 else self.frame.bottom - self.middle_y) - 12
        far = min(room_x / max(abs(way[0]), 1e-6), room_y / max(abs(way[1]), 1e-6)) / self.scale
        tail, tip = towards(sun.bearing_deg, far), towards(sun.bearing_deg, max(far - SUN_UNITS / self.scale, 0.5))
        cls = "sun-arrow" if sun.shadow_m is not None else "sun-arrow-hidden"
        self.sheet.add(el("path", titled(sun.words), cls=cls, fill="none", d=self.path([tail, tip])))
        barbs = [plus(tip, towards(sun.bearing_deg + turn, 12 / self.scale)) for turn in (25, -25)]
        self.sheet.add(el("path", cls=cls, fill="none", d=self.path([barbs[0], tip, barbs[1]])))
        x, y = self.xy(((tail[0] + tip[0]) / 2, (tail[1] + tip[1]) / 2))
        for step in range(9):
            self._block(plus(tip, plus(tail, tip, -1), step / 8), 5 / self.scale)
        self.labels.insert(2, _Label((sun.words, sun.words.partition(",")[0]), x, y, 16))

    def _block(self, point: Point, radius_m: float) -> None:
        x, y = self.xy(point)
        r = radius_m * self.scale
        self.placer.block(Box(x - r, y - r, x + r, y + r))

    def draw_words(self) -> None:
        for label in self.labels:
            for words in label.texts:
                far = FAR if words == label.texts[-1] else FAR[:2]
                places = [place for place in _beside(label, far) if self._by_its_own(label, words, place)]
                place = self.placer.find(words, places, bold=label.bold)
                if place is not None:
                    cls = "strong" if label.bold else "soft"
                    self.sheet.text(words, place.x, place.y, anchor=place.anchor, bold=label.bold, cls=cls)
                    break

    def _by_its_own(self, label: _Label, words: str, place: Place) -> bool:
        """Whether words would stand clearly nearer to what they name than to any other person or light; along a line
        they may stand anywhere."""
        if label.elsewhere:
            return True
        box, own = text_box(words, place, bold=label.bold), (label.x, label.y)
        others = [(other.x, other.y) for other in self.labels if other.bold and (other.x, other.y) != own]
        return all(_gap(box, *other) > _gap(box, *own) + CLEARLY_UNITS for other in others)

    def finish(self) -> str:
        """The frame, and under it all in full."""
        frame = self.frame
        box = {"x": frame.left, "y": frame.top, "width": frame.right - frame.left, "height": frame.bottom - frame.top}
        self.sheet.add(el("rect", cls="edge", fill="none", **box))
        self.heading.draw(self.sheet, self.sheet.units / 2)
        y = frame.bottom + 6
        for words in () if self.plan.bare else self.plan.said_under:
            for line in wrap(words.split(), self.sheet.units - 4, joint=" "):
                y += LINE_STEP
                self.sheet.text(line, 2, y)
            y += 3
        return self.sheet.finish(y + 8, self.plan.title, self.plan.desc)


def _gap(box: Box, x: float, y: float) -> float:
    """Units from a box to a point, 0 inside it."""
    return hypot(max(box.left - x, x - box.right, 0.0), max(box.top - y, y - box.bottom, 0.0))


def _beside(label: _Label, further: Sequence[float]) -> Iterator[Place]:
    """Right, left, over and under each point, then further off."""
    for x, y in ((label.x, label.y), *label.elsewhere):
        for away in (label.away + more for more in further):
            yield Place(x + away, y + 4.5, "start")
            yield Place(x - away, y + 4.5, "end")
            yield Place(x, y + away + TEXT_UNITS, "middle")
            yield Place(x, y - away - 4, "middle")
            for down in (away * 0.7 + 8, -away * 0.7):
                yield Place(x + away * 0.7, y + down, "start")
                yield Place(x - away * 0.7, y + down, "end")
