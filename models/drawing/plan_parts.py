"""What a plan of a setup holds, and where its places lie on the ground: metres right and up, the camera below."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, radians, sin

Point = tuple[float, float]
MODEL_M, PERSON_M = 0.25, 0.22  # radius of a standing person, seen from above
HOLDER_M = 0.45  # behind the flash


@dataclass(frozen=True, slots=True)
class PlanLight:
    """One light. axis_deg: off the camera axis, + to its right; ground_m: along the ground; beam_deg: full angle, None
    where not known; face_m: how wide it is; words: its place, 'key, 10 o'clock, 2 paces', and all about it."""

    name: str
    place: str
    words: str
    axis_deg: float
    ground_m: float
    beam_deg: float | None
    face_m: float
    held: bool


@dataclass(frozen=True, slots=True)
class PlanSun:
    """bearing_deg: off the way the camera looks, + to its right. shadow_m: of the model, None where no sun falls."""

    bearing_deg: float
    words: str
    shadow_m: float | None = None
    shadow_words: str = ""


@dataclass(frozen=True, slots=True)
class PlanPavement:
    """wall_deg: where the wall lies, off the way the camera looks. wall_m, kerb_m: from the model. taken_m: how far the
    setup reaches towards the kerb. left_words: what walkers keep, with its figure."""

    wall_deg: float
    wall_m: float
    kerb_m: float
    taken_m: float
    left_words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanView:
    """All that the plan shows. view_deg: the camera's angle of view. figures: what is said over it, in short pieces.
    notes: said under it. bare: nothing is written under it. id_prefix: unique in the page."""

    title: str
    desc: str
    lights: tuple[PlanLight, ...]
    camera_m: float
    view_deg: float
    camera_words: str
    sun: PlanSun | None = None
    pavement: PlanPavement | None = None
    figures: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    id_prefix: str = "plan"
    bare: bool = False

    @property
    def said_under(self) -> tuple[str, ...]:
        """Every light and the sky in full, then the notes."""
        sky = (", ".join(filter(None, (self.sun.words, self.sun.shadow_words))),) if self.sun else ()
        return (*(light.words for light in self.lights), *sky, *self.notes)


def at(axis_deg: float, metres: float) -> Point:
    """Metres right and up of the model, the camera at 0 degrees below it."""
    return metres * sin(radians(axis_deg)), -metres * cos(radians(axis_deg))


def towards(bearing_deg: float, metres: float) -> Point:
    """Metres right and up, by a bearing off the way the camera looks."""
    return metres * sin(radians(bearing_deg)), metres * cos(radians(bearing_deg))


def left_line(pavement: PlanPavement) -> tuple[Point, Point]:
    """From the setup's reach to the kerb, beside the setup."""
    aside = towards(pavement.wall_deg + 90, -1.1)
    reach_m = min(pavement.taken_m, pavement.kerb_m)
    start, end = (towards(pavement.wall_deg + 180, far_m) for far_m in (reach_m, pavement.kerb_m))
    return plus(start, aside), plus(end, aside)


def plus(one: Point, other: Point, times: float = 1.0) -> Point:
    return one[0] + times * other[0], one[1] + times * other[1]
