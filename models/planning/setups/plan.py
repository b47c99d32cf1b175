"""The plan of a setup at a spot: who stands where, where the sun comes from, what the pavement leaves for walkers."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import radians, tan

import numpy as np
from numpy.typing import NDArray

from models.clock import zone_short
from models.drawing.plan_parts import (
    HOLDER_M,
    PERSON_M,
    PlanLight,
    PlanPavement,
    PlanSun,
    PlanView,
    Point,
    at,
    towards,
)
from models.drawing.plan_view import draw_plan_view
from models.light.beam import zoom_angle_deg
from models.light.placing import clock_half_hours, paces
from models.light.series import metres_words
from models.light.setup import Light, Setup, beam_of
from models.light.setup_warnings import Street
from models.planning.setups.lit import Lit
from models.planning.spot_answers import Drawing
from models.store.setups import SetupDraft
from models.street.clearance import KERB_ALLOWANCE_M, Pavement
from models.words.dial_card import CLOCK_NOTE
from models.words.setup import away_words, clock_words, paces_words, place_words
from models.words.setup_answer import light_names

TALL_M = 1.7
"""Of the model, whose shadow is drawn: our assumption."""

OPEN_DEG = 5.0
WALL_LOOKS_DEG = 60.0
"""The wall lies where the skyline stands highest over so wide an angle, none under 5 degrees: our planning rule, no
source."""

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class PavementAt:
    """The pavement round a setup that keeps to the wall. wall_deg: compass bearing of the wall from the model. taken_m:
    how far the setup reaches from the model towards the kerb."""

    wall_deg: float
    wall_m: float
    kerb_m: float
    taken_m: float
    pavement: Pavement

    @property
    def left_words(self) -> str:
        left = self.pavement.left_m
        return f"{left:.2f} m left for walkers" if left > 0 else "nothing left for walkers"


def plan_of(draft: SetupDraft, setup: Setup, lit: Lit) -> Drawing:
    """The plan at both widths."""
    plan = plan_view_of(draft, setup, lit)
    caption = "To scale from above, the camera looking up the sheet. One slab is a pace, 0.75 m."
    return Drawing(draw_plan_view(plan, "wide"), draw_plan_view(plan, "narrow"), caption)


def plan_view_of(draft: SetupDraft, setup: Setup, lit: Lit) -> PlanView:
    """What the plan shows."""
    ground = pavement_at(draft, setup, lit)
    names = light_names(setup)
    view_deg = zoom_angle_deg(draft.lens_mm, "long")
    return PlanView(
        title=f"Plan of {draft.title}",
        desc="From above, to scale, the camera looking up: " + "; ".join(map(place_words, setup.lights)) + ".",
        lights=tuple(_light(light, name) for light, name in zip(setup.lights, names, strict=True)),
        camera_m=draft.camera_m,
        view_deg=view_deg,
        camera_words=f"camera, {paces_words(paces(draft.camera_m))}, takes in {view_deg:.0f}°",
        sun=_sun(lit),
        pavement=_drawn(ground, lit) if ground else None,
        figures=tuple(_figures(lit, ground)),
        notes=(_ground_words(ground, lit), CLOCK_NOTE),
    )


def pavement_at(draft: SetupDraft, setup: Setup, lit: Lit) -> PavementAt | None:
    """None where no pavement width is noted, no bearing chosen, or nothing stands there."""
    width = lit.spot.pavement_width_m if lit.spot else None
    wall_deg = _wall_deg(lit)
    if not width or lit.looking_deg is None or wall_deg is None:
        return None
    off = wall_deg - lit.looking_deg
    reaches = [_along(point, off) for point in _places(draft, setup)]
    wall_m, taken_m = max(reaches) + PERSON_M, PERSON_M - min(reaches)
    pavement = Pavement(width, min(wall_m + taken_m, 50.0))
    return PavementAt(wall_deg, wall_m, width - wall_m, taken_m, pavement)


def street_of(draft: SetupDraft, setup: Setup, lit: Lit) -> Street | None:
    """What warnings judge by: the way people walk, and the kerb, beyond which others ride or drive."""
    found = pavement_at(draft, setup, lit)
    if found is None:
        return None
    across_deg = (found.wall_deg + 180) % 360
    return Street((found.wall_deg + 90) % 180, across_deg, max(found.kerb_m, 0.0), lane="kerb")


def highest_side_deg(elevation_deg: Floats) -> float | None:
    """Bearing of the side on which a skyline (n,) stands highest; None on open ground."""
    count = len(elevation_deg)
    if not count or elevation_deg.max() < OPEN_DEG:
        return None
    window = max(1, round(WALL_LOOKS_DEG / 360 * count))
    turned = np.concatenate([elevation_deg, elevation_deg[:window]])
    means = np.convolve(turned, np.ones(window) / window, "valid")[:count]
    return float(((int(np.argmax(means)) + window / 2) * 360 / count) % 360)


def shadow_m(sun_elevation_deg: float) -> float:
    """Length of the model's shadow on level ground (plane geometry)."""
    return TALL_M / tan(radians(max(sun_elevation_deg, 0.5)))


def _places(draft: SetupDraft, setup: Setup) -> Iterator[Point]:
    """Where people and stands are, metres right and up."""
    yield 0.0, 0.0
    yield at(0.0, draft.camera_m)
    for light in setup.lights:
        yield at(light.axis_deg, light.ground_m + (HOLDER_M if light.held else 0.0))


def _along(point: Point, off_deg: float) -> float:
    way = towards(off_deg, 1.0)
    return point[0] * way[0] + point[1] * way[1]


def _wall_deg(lit: Lit) -> float | None:
    """Compass bearing of the wall beside the spot."""
    return None if lit.light is None else highest_side_deg(lit.light.standing.skyline.elevation_deg)


def _light(light: Light, name: str) -> PlanLight:
    where = f"{clock_words(clock_half_hours(light.axis_deg))}, {away_words(light.ground_m)}"
    beam = beam_of(light)
    face = light.modifier.face_m if light.modifier and not light.modifier.zooms else None
    held = "held by somebody" if light.held else f"on {light.stand.name if light.stand else 'a stand'}"
    known = "" if beam else "; its beam is not known, so only its aim is drawn"
    words = (
        f"{name}: {where} ({metres_words(light.ground_m)} m along the ground), {metres_words(light.height_m)} m high, "
        f"{held}{known}"
    )
    return PlanLight(
        name, f"{name}, {where}", words, light.axis_deg, light.ground_m, beam.wide_deg if beam else None,
        face[0] if face else 0.1, light.held,
    )  # fmt: skip


def _sun(lit: Lit) -> PlanSun | None:
    now = lit.now
    if now is None or lit.looking_deg is None or now.sun_elevation_deg <= 0:
        return None
    off = (now.sun_azimuth_deg - lit.looking_deg + 180) % 360 - 180
    side = _side(off)
    if not now.sun_reaches:
        return PlanSun(off, f"sun hidden, {side}, {now.sun_elevation_deg:.0f}° up")
    length = shadow_m(now.sun_elevation_deg)
    leaves = " through leaves" if now.state == "leaves" else ""
    return PlanSun(
        off, f"sun{leaves}, {side}, {now.sun_elevation_deg:.0f}° up", length, f"the model's shadow, {length:.1f} m"
    )


def _side(off_deg: float) -> str:
    if abs(off_deg) < 20:
        return "in the lens"
    if abs(off_deg) > 160:
        return "behind the camera"
    side = "from camera right" if off_deg > 0 else "from camera left"
    return f"{side}, behind the model" if abs(off_deg) < 70 else side


def _drawn(ground: PavementAt, lit: Lit) -> PlanPavement:
    off = ground.wall_deg - (lit.looking_deg or 0.0)
    return PlanPavement(off, ground.wall_m, ground.kerb_m, ground.taken_m, ground.left_words)


def _figures(lit: Lit, ground: PavementAt | None) -> Iterator[str]:
    if lit.now and lit.moment:
        yield f"{lit.moment.local:%H:%M} {zone_short(lit.moment.instant, lit.moment.zone)}"
        yield f"the model stands {lit.now.state_words}"
    if ground:
        yield ground.left_words


def _ground_words(ground: PavementAt | None, lit: Lit) -> str:
    if ground is None:
        if lit.spot is None:
            return "Wall, kerb and sun are drawn once a spot is chosen."
        if lit.looking_deg is None:
            return "Wall, kerb and sun are drawn once a camera bearing is chosen."
        return "Wall and kerb are not drawn: note the pavement's width with the spot."
    return (
        f"The pavement is {ground.pavement.width_m:g} m wide; the setup keeps to the wall and takes "
        f"{ground.pavement.depth_m:.2f} m, {KERB_ALLOWANCE_M:g} m are kept free at the kerb. The wall is taken to lie "
        "where the skyline stands highest; look before you trust it."
    )
