"""The lights round one model: what each gives at the subject, the two ratios, and the light that is already there.

Flash exposures add on the face: key and fill each give (its aperture / working aperture)^2 of the working exposure, the
ambient that lies a stops under gives 2^-a. Edge, hair and background lights do not fall on the face and are left out.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import log2
from typing import Literal, get_args

from models.light.accessories import Gel, Stand, above_zero
from models.light.battery import BatterySet, flashes_per_set, recycle_s
from models.light.beam import BARE_HEAD_M, ApparentSize, Beam, apparent_size, beam
from models.light.dial import limits_of
from models.light.exposure import START, EvFigure, Limits, Settings, at_sync
from models.light.kit import Camera, Choice, Flash, Modifier, Trigger
from models.light.placing import FACE_M, ground_m
from models.light.reserve import GuideNumber, Reserve, Sync, guide_number, reserve, sync, working_aperture
from models.problems import InputProblem

Role = Literal["key", "fill", "edge", "hair", "background"]
ROLES: tuple[Role, ...] = get_args(Role)
ON_THE_FACE: tuple[Role, ...] = ("key", "fill")
MOST_LIGHTS = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Light:
    """One light, of one flash or several ganged.

    distance_m: straight to the subject's face, or to what a background light lights. height_m: above the ground.
    axis_deg: bearing off the camera axis round the model, 0 at the camera, + to its right. power: of each unit, 0 is
    off. zoom_mm None: the widest the head goes. held: in somebody's hand, else on a stand.
    """

    role: Role
    flash: Flash
    distance_m: float = 2.0
    height_m: float = 2.0
    axis_deg: float = 0.0
    power: float = 0.5
    units: int = 1
    zoom_mm: float | None = None
    modifier: Modifier | None = None
    grid: Modifier | None = None
    gel: Gel | None = None
    battery: BatterySet | None = None
    held: bool = True
    stand: Stand | None = None

    def __post_init__(self) -> None:
        if self.role not in ROLES:
            raise InputProblem("role", f"is one of {', '.join(ROLES)}")
        above_zero("distance_m", self.distance_m)
        if not 0 <= self.height_m <= 10:
            raise InputProblem("height_m", "give metres above the ground, 0 to 10")
        if abs(self.height_m - FACE_M) > self.distance_m:
            raise InputProblem("height_m", f"lies further from a face at {FACE_M} m than the distance says")
        if not -180 <= self.axis_deg <= 180:
            raise InputProblem("axis_deg", "give degrees off the camera axis, -180 to 180, above zero to its right")
        if not 0 <= self.power <= 1:
            raise InputProblem("power", "give a fraction of full power, 0 for off")
        if self.units < 1:
            raise InputProblem("units", "use at least one flash")
        if self.zoom_mm is not None:
            above_zero("zoom_mm", self.zoom_mm)

    @property
    def ground_m(self) -> float:
        """Distance from the subject along the ground."""
        return ground_m(self.distance_m, self.height_m)


@dataclass(frozen=True, slots=True, kw_only=True)
class Setup:
    """Up to four lights round one model, one camera and one kind of trigger for all, and the settings worked at."""

    lights: tuple[Light, ...]
    camera: Camera
    trigger: Trigger | None = None
    settings: Settings = START
    surroundings_under: float = 2 / 3
    face_under: float = 2 / 3
    hand_held_s: float = 1 / 60

    def __post_init__(self) -> None:
        if not 1 <= len(self.lights) <= MOST_LIGHTS:
            raise InputProblem("lights", f"give one to {MOST_LIGHTS} lights")


@dataclass(frozen=True, slots=True)
class Ratio:
    """kind: "key:fill" is flash against flash; "face" is (key + fill) : fill with the ambient counted as fill."""

    kind: Literal["key:fill", "face"]
    stops: float

    @property
    def to_one(self) -> float:
        """n of n:1."""
        return float(2**self.stops)


@dataclass(frozen=True, slots=True)
class LightFigures:
    """One light of a setup.

    aperture: f-number at which this light alone exposes the subject. over_stops: against the working aperture, + is
    brighter; None when off. share: of the working exposure. beam: None where its angle is not known. recycle_s with
    fresh cells. reserve: at full power over the light of a spot, None without one.
    """

    light: Light
    guide: GuideNumber
    aperture: float
    over_stops: float | None
    share: float
    beam: Beam | None
    looks: ApparentSize | None
    recycle_s: float
    recycle_tired_s: float
    flashes_per_set: int | None
    reserve: Reserve | None


@dataclass(frozen=True, slots=True)
class SetupFigures:
    """key_fill: None without both. face: None where neither flash fill nor ambient fills. ambient_share: the ambient's
    part of all light on the face; face_over_stops: all of it against the working exposure, None where nothing falls on
    it. surroundings_under_stops: as these settings take what is behind. recycle_s: the slowest light's."""

    lights: tuple[LightFigures, ...]
    key_fill: Ratio | None
    face: Ratio | None
    ambient_share: float | None
    face_over_stops: float | None
    surroundings_under_stops: float | None
    recycle_s: float
    recycle_tired_s: float
    fewest_flashes: int | None


def setup_figures(setup: Setup, subject: EvFigure | None = None, behind: EvFigure | None = None) -> SetupFigures:
    """All figures of a setup as it stands. subject, behind: EV100 on the face and of what is behind, None where no spot
    is chosen; the ambient is then left out."""
    lights = tuple(light_figures(light, setup, subject, behind) for light in setup.lights)
    key, fill = (sum(one.share for one in lights if one.light.role == role) for role in ON_THE_FACE)
    ambient = ambient_share_of_exposure(setup.settings, subject)
    whole = key + fill + ambient
    counts = [one.flashes_per_set for one in lights if one.flashes_per_set is not None]
    return SetupFigures(
        lights,
        Ratio("key:fill", log2(key / fill)) if key and fill else None,
        Ratio("face", log2(whole / (fill + ambient))) if fill + ambient else None,
        ambient / whole if subject is not None else None,
        log2(whole) if whole else None,
        setup.settings.ev100 - behind.ev100 if behind is not None else None,
        max(one.recycle_s for one in lights),
        max(one.recycle_tired_s for one in lights),
        min(counts, default=None),
    )


def light_figures(
    light: Light, setup: Setup, subject: EvFigure | None = None, behind: EvFigure | None = None
) -> LightFigures:
    """One light as it stands."""
    choice = choice_of(light, setup)
    guide = guide_number(choice)
    aperture = working_aperture(guide.metres, light.distance_m, iso=setup.settings.iso, power=light.power)
    share = (aperture / setup.settings.aperture) ** 2
    full_s = light.flash.recycle_full_s
    return LightFigures(
        light,
        guide,
        aperture,
        log2(share) if share else None,
        share,
        beam_of(light),
        looks_of(light),
        recycle_s(full_s, light.power, light.battery),
        recycle_s(full_s, light.power, light.battery, tired=True),
        flashes_per_set(light.battery, light.power) if light.battery and light.power else None,
        reserve(choice, subject, behind) if subject is not None else None,
    )


def choice_of(light: Light, setup: Setup) -> Choice:
    """One light as the single-flash answer takes it."""
    return Choice(
        flash=light.flash,
        camera=setup.camera,
        units=light.units,
        zoom_mm=light.zoom_mm,
        modifier=light.modifier,
        grid=light.grid,
        gel=light.gel,
        distance_m=light.distance_m,
        trigger=setup.trigger,
        surroundings_under=setup.surroundings_under,
        face_under=setup.face_under,
        hand_held_s=setup.hand_held_s,
        start=setup.settings,
        battery=light.battery,
    )


def ambient_share_of_exposure(settings: Settings, subject: EvFigure | None) -> float:
    """What the light already on the subject gives of the working exposure; 0 without a spot."""
    return float(2 ** (subject.ev100 - settings.ev100)) if subject is not None else 0.0


def distance_at_working_aperture_m(light: Light, setup: Setup, over_stops: float = 0.0) -> float:
    """How far off the light, at its power, gives the working aperture or `over_stops` more."""
    full = working_aperture(guide_number(choice_of(light, setup)).metres, 1.0, iso=setup.settings.iso)
    return full * float((light.power / 2**over_stops) ** 0.5) / setup.settings.aperture


def power_at_sync(light: Light, setup: Setup) -> float | None:
    """The power that gives the same at the fastest sync speed with a wider aperture or more ISO; None where that is
    already set or out of reach."""
    found = at_sync(setup.settings, setup_limits(setup))
    if found is None:
        return None
    wider = (found.settings.aperture / setup.settings.aperture) ** 2
    return light.power * wider * setup.settings.iso / found.settings.iso


def setup_sync(setup: Setup) -> Sync:
    """The slowest of camera, trigger and all flashes."""
    return max((sync(choice_of(light, setup)) for light in setup.lights), key=lambda held: held.shutter_s)


def setup_limits(setup: Setup, aperture: float | None = None) -> Limits:
    """What the dials may reach with all of its kit; with `aperture` the lens stays there."""
    limits = replace(limits_of(choice_of(setup.lights[0], setup)), fastest_s=setup_sync(setup).shutter_s)
    return limits if aperture is None else replace(limits, widest_aperture=aperture, smallest_aperture=aperture)


def beam_of(light: Light) -> Beam | None:
    """The beam at the subject, None where a modifier spreads the light and its angle is not known."""
    shapers: Sequence[Modifier] = [shaper for shaper in (light.modifier, light.grid) if shaper is not None]
    grids = [shaper.beam_deg for shaper in shapers if shaper.kind == "grid" and shaper.beam_deg is not None]
    spreads = light.modifier is not None and not light.modifier.zooms
    widest_mm, longest_mm = light.flash.guide_numbers[0][0], light.flash.guide_numbers[-1][0]
    return beam(
        light.distance_m,
        zoom_mm=None if spreads else min(max(light.zoom_mm or widest_mm, widest_mm), longest_mm),
        grid_deg=min(grids, default=None),
        modifier_deg=light.modifier.beam_deg if light.modifier is not None and spreads else None,
    )


def looks_of(light: Light) -> ApparentSize | None:
    """How large the light looks from the subject, None where the face of its modifier is not known."""
    face_m = BARE_HEAD_M if light.modifier is None or light.modifier.zooms else light.modifier.face_m
    return apparent_size(face_m, light.distance_m) if face_m else None
