"""The kit as it is stored and chosen from: flash, modifier, camera, trigger, and the choice made for one setup."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from models.light.accessories import Filter, Gel, HeatRow, Stand, above_zero
from models.light.battery import BatterySet
from models.light.exposure import START, Settings
from models.problems import InputProblem
from models.units import METRES_PER_FOOT

ModifierKind = Literal["bare", "grid", "diffuser", "umbrella", "box", "other"]

UNMEASURED_LOW_STOPS = 0.5
UNMEASURED_DOUBT_STOPS = 0.5
"""A printed guide number includes the room it was taken in; outdoors expect 0.5 to 1 stop less: common practice, no
source. Until someone measures it, it is taken half a stop low, give or take half a stop."""


@dataclass(frozen=True, slots=True)
class Flash:
    """A battery flash.

    guide_numbers: (zoom in mm, guide number in metres at ISO 100 and full power), by rising zoom; a head that does not
    zoom has one pair. measured: someone metered them outdoors. lowest_power: the fraction its ladder ends at.
    recycle_full_s: after a full-power flash, fresh rechargeable cells. clean_sync_s: the shortest shutter time that
    still takes in the whole flash. hss_loss_stops: what high-speed sync costs, None if the flash has none. heat:
    printed limits, as far as known. rungs_per_stop: the finest step of its power ladder, 3 for thirds of a stop.
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
    heat: tuple[HeatRow, ...] = ()
    rungs_per_stop: int = 3

    def __post_init__(self) -> None:
        if not self.guide_numbers:
            raise InputProblem("guide_numbers", "give at least one zoom and its guide number")
        zooms = [zoom for zoom, _ in self.guide_numbers]
        if zooms != sorted(set(zooms)):
            raise InputProblem("guide_numbers", "zoom steps must rise and differ")
        above_zero("guide_numbers", *(n for pair in self.guide_numbers for n in pair))
        above_zero("recycle_full_s", self.recycle_full_s)
        above_zero("clean_sync_s", self.clean_sync_s)
        if not 0 < self.lowest_power <= 1:
            raise InputProblem("lowest_power", "must be a fraction of full power, such as 1/128")
        if self.hss_loss_stops is not None and not 0 <= self.hss_loss_stops < 10:
            raise InputProblem("hss_loss_stops", "give the stops that high-speed sync costs, 0 to 10")
        if self.rungs_per_stop not in (1, 2, 3):
            raise InputProblem("rungs_per_stop", "a ladder has 1, 2 or 3 rungs a stop")

    def guide_doubt_stops(self, zoom_mm: float) -> float:
        """How far the guide number may lie off at a zoom: half a stop for a printed one, less for a metered one."""
        return 0.0 if self.measured else UNMEASURED_DOUBT_STOPS

    @property
    def guide_note(self) -> str:
        """What is said about where the guide number comes from, empty where it is as kept."""
        return ""


@dataclass(frozen=True, slots=True)
class Modifier:
    """What stands before the head. Its loss belongs to the zoom it was measured at (None: not recorded).

    beam_deg: full angle of the beam behind it. face_m: width and height of its lit face. None where not known.
    """

    id: str
    name: str
    kind: ModifierKind
    loss_stops: float
    measured_zoom_mm: float | None = None
    beam_deg: float | None = None
    face_m: tuple[float, float] | None = None
    weight_kg: float | None = None

    def __post_init__(self) -> None:
        if not 0 <= self.loss_stops < 10:
            raise InputProblem("loss_stops", "give the stops it takes, 0 to 10")
        if self.measured_zoom_mm is not None:
            above_zero("measured_zoom_mm", self.measured_zoom_mm)
        if self.beam_deg is not None and not 0 < self.beam_deg < 180:
            raise InputProblem("beam_deg", "give the full angle of the beam, 0 to 180 degrees")
        if self.face_m is not None:
            above_zero("face_m", *self.face_m)
        if self.weight_kg is not None:
            above_zero("weight_kg", self.weight_kg)

    @property
    def zooms(self) -> bool:
        """Whether the zoom of the head still counts behind it."""
        return self.kind in ("bare", "grid")

    @property
    def loss_doubt_stops(self) -> float:
        """How far a metered loss may lie off; one as kept joins no doubt."""
        return 0.0

    @property
    def loss_note(self) -> str:
        """What is said about where the loss comes from, empty where it is as kept."""
        return ""


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
        above_zero("sync_s", self.sync_s)
        above_zero("min_shutter_s", self.min_shutter_s)
        above_zero("base_iso", self.base_iso)
        above_zero("widest_aperture", self.widest_aperture)
        if self.smallest_aperture < self.widest_aperture:
            raise InputProblem("smallest_aperture", "must not be wider than the widest aperture")
        if self.highest_iso < self.base_iso:
            raise InputProblem("highest_iso", "must not be under the base ISO")
        if self.min_shutter_s > self.sync_s:
            raise InputProblem("min_shutter_s", "must not be slower than the sync speed")


@dataclass(frozen=True, slots=True)
class Trigger:
    """What fires the flash off the camera, and the fastest shutter it keeps up with. channels: None where not known."""

    id: str
    name: str
    sync_s: float = 1 / 200
    passes_hss: bool = False
    channels: int | None = None

    def __post_init__(self) -> None:
        above_zero("sync_s", self.sync_s)
        if self.channels is not None and self.channels < 1:
            raise InputProblem("channels", "a trigger has at least one channel")


@dataclass(frozen=True, slots=True)
class Kit:
    """What the organiser owns, in the order to be shown. An external pack is a battery set of that kind."""

    flashes: tuple[Flash, ...]
    modifiers: tuple[Modifier, ...]
    cameras: tuple[Camera, ...]
    triggers: tuple[Trigger, ...]
    batteries: tuple[BatterySet, ...]
    gels: tuple[Gel, ...] = ()
    filters: tuple[Filter, ...] = ()
    stands: tuple[Stand, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One setup as its sentence says it.

    zoom_mm None is the widest the head goes. grid: before the head or the modifier. surroundings_under (k) and
    face_under (r): stops under the working exposure at which surroundings and the light already on the face are wanted.
    hand_held_s: slowest shutter.
    """

    flash: Flash
    camera: Camera
    units: int = 1
    zoom_mm: float | None = None
    modifier: Modifier | None = None
    grid: Modifier | None = None
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
        above_zero("distance_m", self.distance_m)
        above_zero("hand_held_s", self.hand_held_s)
        if self.zoom_mm is not None:
            above_zero("zoom_mm", self.zoom_mm)
        for field in ("surroundings_under", "face_under"):
            if not -5 <= getattr(self, field) <= 10:
                raise InputProblem(field, "give stops under, from -5 to 10")


def guide_numbers_m(pairs: Iterable[tuple[float, float]], unit: Literal["m", "ft"]) -> tuple[tuple[float, float], ...]:
    """(zoom in mm, guide number) pairs in metres, from pairs in metres or feet."""
    factor = METRES_PER_FOOT if unit == "ft" else 1.0
    return tuple((zoom_mm, number * factor) for zoom_mm, number in pairs)
