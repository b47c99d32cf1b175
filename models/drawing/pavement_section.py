"""The pavement cut across, to scale: what the station, the door and the kerb take, and what walkers keep.

|##|:::|//////|   o   o   |...|
|##|:::|//////|  /|\\ /|\\  |...|
|##|:::|//////|   |   |   |...|_____
|  door station  1.35 m left kerb   road
           |<--- 1.50 m asked for -->|
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from models.drawing.heading import heading
from models.drawing.lettering import Box, Place, keep_between, text_box, text_width, wrap
from models.drawing.svg import LINE_STEP, Sheet, Width, el, nothing_to_draw, num, titled
from models.street.clearance import Pavement
from models.street.crowding import BODY_M

WALL_M, ROAD_M = 0.3, 0.6  # how much of them is shown
TALL_M = 2.1
HEAD_M, SHOULDER_M, HALF_BODY_M = 1.58, 1.4, 0.22  # a plain figure 1.7 m tall
KERB_DROP_M = 0.12
STRIDE_M = 0.9  # from walker to walker: a body and the air round it
LARGEST = {"wide": 130.0, "narrow": 96.0}  # units a metre
EDGE = 6.0
TEXT_CLASS = ("soft", "strong")


@dataclass(frozen=True, slots=True)
class Asked:
    """A width that somebody asks for, drawn under what is left; words with its figure, in short pieces."""

    width_m: float
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PavementSection:
    """All that the section shows. figures: what is said over it, in short pieces. id_prefix: unique in the page."""

    title: str
    desc: str
    pavement: Pavement
    figures: tuple[str, ...] = ()
    asked: tuple[Asked, ...] = ()
    id_prefix: str = "section"


def draw_pavement_section(section: PavementSection, width: Width) -> str:
    """The section as an SVG; "wide" for a desk, "narrow" for a phone."""
    if section.pavement.width_m <= 0:
        return nothing_to_draw(width, section.id_prefix, section.title, "The pavement has not been measured here yet.")
    board = _Board(section, width)
    board.draw_ground()
    board.draw_zones()
    board.draw_walkers()
    board.draw_widths()
    board.draw_asked()
    return board.finish()


@dataclass(frozen=True, slots=True)
class _Zone:
    """A stretch of the pavement from the wall on, in metres."""

    words: str
    start_m: float
    end_m: float
    tone: str = ""
    texture: str = ""


@dataclass(frozen=True, slots=True)
class Label:
    """Words at a place, their box, and the line that leads down to them from x."""

    words: str
    place: Place
    box: Box
    leader: Box
    x: float

    def over(self, other: Label) -> bool:
        return self.box.meets(other.box, 2)

    def crosses(self, other: Label) -> bool:
        """Whether the words meet, or one's words the line that leads to the other's."""
        return self.over(other) or self.leader.meets(other.box) or other.leader.meets(self.box)


def arranged(candidates: Sequence[Sequence[Label]]) -> list[Label]:
    """One candidate for each label, in as few rows as will do: no words meet others, nor, if it can be, their lines.

    There are as many rows among the candidates as there are labels, or more.
    """
    heights = sorted({label.place.y for labels in candidates for label in labels})
    for meets in (Label.crosses, Label.over):
        for lowest in heights:
            within = [[label for label in labels if label.place.y <= lowest] for labels in candidates]
            found = _arranged(within, [], meets)
            if found is not None:
                return found
    raise ValueError("more labels than rows")


def _arranged(
    candidates: Sequence[Sequence[Label]], placed: list[Label], meets: Callable[[Label, Label], bool]
) -> list[Label] | None:
    if len(placed) == len(candidates):
        return placed
    for label in candidates[len(placed)]:
        if not any(meets(label, other) for other in placed):
            found = _arranged(candidates, [*placed, label], meets)
            if found is not None:
                return found
    return None


class _Board:
    """The section on its sheet. Heights are counted from the pavement, `ground`."""

    def __init__(self, section: PavementSection, width: Width) -> None:
        self.section, self.sheet = section, Sheet(width, section.id_prefix)
        self.heading = heading(self.sheet, section.figures)
        pavement = section.pavement
        self.reach_m = max(pavement.width_m, pavement.door_m + pavement.depth_m)
        self.scale = min(LARGEST[width], (self.sheet.units - 2 * EDGE) / (WALL_M + self.reach_m + ROAD_M))
        self.wall_x = EDGE + WALL_M * self.scale
        self.ground = self.heading.bottom + 24 + TALL_M * self.scale
        self.bottom = self.ground

    def x(self, metres: float) -> float:
        return self.wall_x + metres * self.scale

    def y(self, metres: float) -> float:
        return self.ground - metres * self.scale

    def draw_ground(self) -> None:
        wall = {"x": EDGE, "y": self.y(TALL_M), "width": self.wall_x - EDGE, "height": TALL_M * self.scale}
        self.sheet.textured("rect", "brick", tone="wall-surveyed", **wall)
        edge, drop = self.x(self.section.pavement.width_m), max(4.0, KERB_DROP_M * self.scale)
        way = f"M{num(self.wall_x)} {num(self.y(TALL_M))}V{num(self.ground)}H{num(edge)}v{num(drop)}"
        road = f"H{num(self.x(self.reach_m + ROAD_M))}"
        self.sheet.add(el("path", cls="outline-surveyed", fill="none", d=way + road))
        self.bottom = self.ground + drop

    def draw_zones(self) -> None:
        for zone in _zones(self.section.pavement):
            if zone.tone and zone.end_m > zone.start_m:
                left, wide = self.x(zone.start_m), (zone.end_m - zone.start_m) * self.scale
                box = {"x": left, "y": self.y(TALL_M), "width": wide, "height": TALL_M * self.scale}
                self.sheet.textured("rect", zone.texture, tone=zone.tone, **box)
                self.sheet.add(el("rect", titled(zone.words), cls="edge", fill="transparent", **box))

    def draw_walkers(self) -> None:
        """As many plain figures as walk abreast in the width left, three at most."""
        start_m, left_m = _left(self.section.pavement)
        abreast = min(3, int(left_m / STRIDE_M)) or int(left_m >= BODY_M)
        for number in range(abreast):
            self.sheet.add(self._walker(start_m + left_m * (2 * number + 1) / (2 * abreast)))

    def _walker(self, middle_m: float) -> str:
        head = el("circle", cls="walker", cx=self.x(middle_m), cy=self.y(HEAD_M), r=0.12 * self.scale)
        half = HALF_BODY_M * self.scale
        box = {"x": self.x(middle_m) - half, "y": self.y(SHOULDER_M), "width": 2 * half}
        return head + el("rect", cls="walker", height=SHOULDER_M * self.scale, rx=0.7 * half, **box)

    def draw_widths(self) -> None:
        """A line with a stop at every boundary, and each stretch's word and figure under it."""
        zones, y = _zones(self.section.pavement), self.bottom + 12
        stops = sorted({metre for zone in zones for metre in (zone.start_m, zone.end_m)})
        way = f"M{num(self.x(stops[0]))} {num(y)}H{num(self.x(stops[-1]))}"
        ticks = "".join(f"M{num(self.x(metre))} {num(y - 5)}v10" for metre in stops)
        self.sheet.add(el("path", cls="bracket", fill="none", d=way + ticks))
        labels = arranged([self._candidates(zone, y) for zone in zones])
        for zone, label in zip(zones, labels, strict=True):
            bold = not zone.tone
            self.sheet.add(el("path", cls="tick", d=f"M{num(label.x)} {num(y)}V{num(label.leader.bottom)}"))
            place = label.place
            self.sheet.text(label.words, place.x, place.y, anchor=place.anchor, bold=bold, cls=TEXT_CLASS[bold])
        self.bottom = max(label.place.y for label in labels) + 8

    def _candidates(self, zone: _Zone, y: float) -> list[Label]:
        """Where a stretch's words could stand: by rows, under its middle or to either side of it."""
        words, middle = f"{zone.words} {zone.end_m - zone.start_m:.2f} m", self.x((zone.start_m + zone.end_m) / 2)
        sheet, found = Box(0, 0, self.sheet.units, y + 400), []
        for row in range(4):
            base = y + 20 + LINE_STEP * row
            wide = text_width(words, bold=not zone.tone)
            places = [Place(keep_between(middle, wide, 0, self.sheet.units), base, "middle")]
            places += [Place(middle - 1, base, "start"), Place(middle + 1, base, "end")]
            boxes = [text_box(words, place, bold=not zone.tone) for place in places]
            leader = Box(middle - 0.5, y, middle + 0.5, base - 11)
            found += [
                Label(words, place, box, leader, middle)
                for place, box in zip(places, boxes, strict=True)
                if box.inside(sheet)
            ]
        return found

    def draw_asked(self) -> None:
        """What is asked for, measured from the kerb's allowance back to where it would reach."""
        start_m, left_m = _left(self.section.pavement)
        for asked in self.section.asked:
            y, right = self.bottom + 14, self.x(start_m + left_m)
            left = max(EDGE, right - asked.width_m * self.scale)
            self.sheet.add(el("path", cls="limit", fill="none", d=f"M{num(left)} {num(y)}H{num(right)}"))
            ends = f"M{num(left)} {num(y - 4)}v8M{num(right)} {num(y - 4)}v8"
            self.sheet.add(el("path", cls="tick", d=ends))
            self.bottom = y
            for line in wrap(asked.words, self.sheet.units - 2):
                middle = keep_between((left + right) / 2, text_width(line), 0, self.sheet.units)
                self.bottom += LINE_STEP
                self.sheet.text(line, middle, self.bottom - 1, anchor="middle")

    def finish(self) -> str:
        self.sheet.text("wall", EDGE, self.y(TALL_M) - 6)
        road_x = min(self.x(self.reach_m) + 4, self.sheet.units - text_width("road"))
        self.sheet.text("road", road_x, self.ground - 2)
        self.heading.draw(self.sheet, self.x(self.section.pavement.width_m / 2))
        field = {"scale": self.scale, "wall_x": self.wall_x}
        return self.sheet.finish(self.bottom + 8, self.section.title, self.section.desc, **field)


def _left(pavement: Pavement) -> tuple[float, float]:
    """Where the width left begins, and how wide it is."""
    return pavement.door_m + pavement.depth_m, pavement.left_m


def _zones(pavement: Pavement) -> list[_Zone]:
    start_m, left_m = _left(pavement)
    kerb_m = min(pavement.kerb_m, max(0.0, pavement.width_m - start_m))
    stretches = (
        _Zone("door", 0.0, pavement.door_m, "allowance", "plumb"),
        _Zone("station", pavement.door_m, start_m, "station", "hatch"),
        _Zone("left for walkers", start_m, start_m + left_m),
        _Zone("kerb", pavement.width_m - kerb_m, pavement.width_m, "allowance", "dots"),
    )
    return [zone for zone in stretches if zone.end_m > zone.start_m or not zone.tone]
