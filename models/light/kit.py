"""The kit as it is stored and chosen from: flash, modifier, camera, trigger, gel, and the choice made for one setup."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import isfinite
from typing import Literal

from models.light.battery import BatterySet
from models.light.exposure import START, Settings
from models.problems import InputProblem

ModifierKind = Literal["bare", "grid", "diffuser", "umbrella", "box", "other"]


@dataclass(frozen=True, slots=True)
class Flash:
    """A battery flash.

    guide_numbers: (zoom in mm, guide number in metres at ISO 100 and full power), by rising zoom; a head that does not
    zoom has one pair. measured: someone metered them outdoors. lowest_power: the fraction its ladder ends at.
    recycle_full_s: after a full-power flash, fresh rechargeable cells. clean_sync_s: the shortest shutter time that
    still takes in the whole flash. hss_loss_stops: what high-speed sync costs, None if the flash has none.
    """

    id: str
    name: str
    guide_numbers: tuple[tuple[float, float], ...]
    measured: bool = False
    lowest_power: float = 1 / 128
    recycle_full_s: float = 2.9
    clean_sync_s: float = 1 / 250
    hss_loss_stops: float | None = None
    beam_note: str = ""

    def __post_init__(self) -> None:
        if not self.guide_numbers:
            raise InputProblem("guide_numbers", "give at least one zoom and its guide number")
        zooms = [zoom for zoom, _ in self.guide_numbers]
        if zooms != sorted(set(zooms)):
            raise InputProblem("guide_numbers", "zoom steps must rise and differ")
        _above_zero("guide_numbers", *(n for pair in self.guide_numbers for n in pair))
        _above_zero("recycle_full_s", self.recycle_full_s)
        _above_zero("clean_sync_s", self.clean_sync_s)
        if not 0 < self.lowest_power <= 1:
            raise InputProblem("lowest_power", "must be a fraction of full power, such as 1/128")
        if self.hss_loss_stops is not None and not 0 <= self.hss_loss_stops < 10:
            raise InputProblem("hss_loss_stops", "give the stops that high-speed sync costs, 0 to 10")


@dataclass(frozen=True, slots=True)
class Modifier:
    """What stands before the head. Its loss belongs to the zoom it was measured at (None: not recorded)."""

    id: str
    name: str
    kind: ModifierKind
    loss_stops: float
    measured_zoom_mm: float | None = None

    def __post_init__(self) -> None:
        if not 0 <= self.loss_stops < 10:
            raise InputProblem("loss_stops", "give the stops it takes, 0 to 10")
        if self.measured_zoom_mm is not None:
            _above_zero("measured_zoom_mm", self.measured_zoom_mm)

    @property
    def zooms(self) -> bool:
        """Whether the zoom of the head still counts behind it."""
        return self.kind in ("bare", "grid")


@dataclass(frozen=True, slots=True)
class Camera:
    """A camera with its lens. min_shutter_s is its fastest shutter; highest_iso the most the organiser would use."""

    id: str
    name: str
    sync_s: float = 1 / 200
    base_iso: int = 100
    min_shutter_s: float = 1 / 4000
    widest_aperture: float = 2.8
    smallest_aperture: float = 22.0
    highest_iso: int = 6400

    def __post_init__(self) -> None:
        _above_zero("sync_s", self.sync_s)
        _above_zero("min_shutter_s", self.min_shutter_s)
        _above_zero("base_iso", self.base_iso)
        _above_zero("widest_aperture", self.widest_aperture)
        if self.smallest_aperture < self.widest_aperture:
            raise InputProblem("smallest_aperture", "must not be wider than the widest aperture")
        if self.highest_iso < self.base_iso:
            raise InputProblem("highest_iso", "must not be under the base ISO")
        if self.min_shutter_s > self.sync_s:
            raise InputProblem("min_shutter_s", "must not be slower than the sync speed")


@dataclass(frozen=True, slots=True)
class Trigger:
    """What fires the flash off the camera, and the fastest shutter it keeps up with."""

    id: str
    name: str
    sync_s: float = 1 / 200
    passes_hss: bool = False

    def __post_init__(self) -> None:
        _above_zero("sync_s", self.sync_s)


@dataclass(frozen=True, slots=True)
class Gel:
    """A colour filter on the flash: stops it takes, and its shift in mired (+ warmer)."""

    name: str
    loss_stops: float
    shift_mired: float


@dataclass(frozen=True, slots=True)
class Kit:
    """What the organiser owns, in the order to be shown."""

    flashes: tuple[Flash, ...]
    modifiers: tuple[Modifier, ...]
    cameras: tuple[Camera, ...]
    triggers: tuple[Trigger, ...]
    batteries: tuple[BatterySet, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One setup as its sentence says it.

    zoom_mm None is the widest the head goes. surroundings_under (k) and face_under (r): stops under the working
    exposure at which surroundings and the light already on the face are wanted. hand_held_s: slowest shutter.
    """

    flash: Flash
    camera: Camera
    units: int = 1
    zoom_mm: float | None = None
    modifier: Modifier | None = None
    gel: Gel | None = None
    distance_m: float = 2.0
    trigger: Trigger | None = None
    surroundings_under: float = 2 / 3
    face_under: float = 2 / 3
    hand_held_s: float = 1 / 60
    start: Settings = START
    battery: BatterySet | None = None

    def __post_init__(self) -> None:
        if self.units < 1:
            raise InputProblem("units", "use at least one flash")
        _above_zero("distance_m", self.distance_m)
        _above_zero("hand_held_s", self.hand_held_s)
        if self.zoom_mm is not None:
            _above_zero("zoom_mm", self.zoom_mm)
        for field in ("surroundings_under", "face_under"):
            if not -5 <= getattr(self, field) <= 10:
                raise InputProblem(field, "give stops under, from -5 to 10")


def _above_zero(field: str, *values: float) -> None:
    if not all(_positive(values)):
        raise InputProblem(field, "must be a number above zero")


def _positive(values: Iterable[float]) -> Iterable[bool]:
    return (isfinite(value) and value > 0 for value in values)
