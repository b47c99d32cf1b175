"""What your own meter says: the true guide number of a flash and the true loss of a modifier, from dated readings.

A reading of f/N at d metres is a guide number of N d / sqrt(ISO/100 x power) (ISO 1230:2007; scaling by common
photographic handbooks). Readings stand in for what is printed, which then has no say; several are averaged in stops,
each weighing by its doubt.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, fields
from datetime import date
from math import hypot, log2, sqrt

import numpy as np

from models.light.accessories import above_zero
from models.light.calibration import READING_STOPS, Posterior, Reading, ReadingKind, posterior
from models.light.kit import UNMEASURED_DOUBT_STOPS, Flash, Modifier
from models.light.series import stops_words, tenths
from models.problems import InputProblem

NO_PRIOR_STOPS = 1e6
"""So wide a prior that it weighs nothing."""

LEAST_M, MOST_M = 0.5, 500.0
"""Guide numbers outside these are slips of typing: our bounds, far beyond any flash."""

_SAME_ZOOM_MM = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class FlashReading:
    """What a meter at the subject read of one flash alone.

    zoom_mm: None for the widest. modifier_id: what stood before the head, None for bare. kind: by a meter, or by the
    settings of a photo that came out right.
    """

    flash_id: str
    on: date
    distance_m: float
    aperture: float
    iso: float = 100.0
    power: float = 1.0
    zoom_mm: float | None = None
    modifier_id: str | None = None
    kind: ReadingKind = "incident"

    def __post_init__(self) -> None:
        for field in ("distance_m", "aperture", "iso"):
            above_zero(field, getattr(self, field))
        if not 0 < self.power <= 1:
            raise InputProblem("power", "give a fraction of full power, such as 1/2")
        if self.zoom_mm is not None:
            above_zero("zoom_mm", self.zoom_mm)
        if self.kind not in READING_STOPS:
            raise InputProblem("kind", "a reading is incident or from a photo")
        if not LEAST_M <= self.guide_number_m <= MOST_M:
            what = f"makes a guide number of {self.guide_number_m:.3g} m, which no flash has"
            raise InputProblem("aperture", f"{what}: check distance, ISO and power")

    @property
    def guide_number_m(self) -> float:
        """Metres at ISO 100 and full power, with whatever stood before the head."""
        return self.aperture * self.distance_m / sqrt(self.iso / 100 * self.power)


@dataclass(frozen=True, slots=True)
class Metered:
    """A guide number (metres at ISO 100, full power) or a loss (stops) as metered at one zoom."""

    zoom_mm: float
    value: float
    doubt_stops: float
    readings: int
    last_on: date


@dataclass(frozen=True, slots=True)
class MeteredFlash(Flash):
    """A flash with its guide numbers as metered. A zoom that nobody metered is moved by as much as its neighbours that
    somebody did, and keeps the doubt of a printed one. printed: the guide numbers as they were."""

    metered: tuple[Metered, ...] = ()
    printed: tuple[tuple[float, float], ...] = ()

    def guide_doubt_stops(self, zoom_mm: float) -> float:
        doubts = [one.doubt_stops for one in self.metered if abs(one.zoom_mm - zoom_mm) <= _SAME_ZOOM_MM]
        return doubts[0] if doubts else UNMEASURED_DOUBT_STOPS

    @property
    def guide_note(self) -> str:
        parts = [f"{one.value:.1f} m at {one.zoom_mm:.0f} mm ({_times(one)})" for one in self.metered]
        was = [f"{guide_number_at(self.printed, one.zoom_mm):.1f} m" for one in self.metered]
        return f"Metered: guide number {', '.join(parts)} instead of the {', '.join(was)} it was down for."


@dataclass(frozen=True, slots=True)
class MeteredModifier(Modifier):
    """A modifier with its loss as metered. kept_loss_stops: the loss it was down for."""

    metered: Metered | None = None
    kept_loss_stops: float = 0.0

    @property
    def loss_doubt_stops(self) -> float:
        return self.metered.doubt_stops if self.metered else 0.0

    @property
    def loss_note(self) -> str:
        if self.metered is None:
            return ""
        counted = ", counted as none" if self.metered.value < 0 else ""
        return (
            f"Metered: {self.name} takes {tenths(self.metered.value)} stops{counted} at {self.metered.zoom_mm:.0f} mm "
            f"({_times(self.metered)}) instead of the {stops_words(self.kept_loss_stops)} it was down for."
        )


def metered_flash(flash: Flash, readings: Iterable[FlashReading]) -> Flash:
    """The flash with what its bare readings say in place of what is printed; as it was where there are none."""
    metered = tuple(_guide_number(zoom_mm, at_zoom) for zoom_mm, at_zoom in _by_zoom(flash, None, readings).items())
    if not metered:
        return flash
    sheet = {field.name: getattr(flash, field.name) for field in fields(Flash)}
    given = sheet | {"guide_numbers": _moved(flash, metered), "measured": True}
    return MeteredFlash(**given, metered=metered, printed=flash.guide_numbers)


def metered_modifier(modifier: Modifier, flashes: Iterable[Flash], readings: Sequence[FlashReading]) -> Modifier:
    """The modifier with the loss that readings with it and without it give, same flash and same zoom, in place of the
    one it is down for; as it was where no such pair exists. Of several zooms the one read last."""
    losses = [
        _loss(zoom_mm, bare[zoom_mm], behind)
        for flash in flashes
        for bare in (_by_zoom(flash, None, readings),)
        for zoom_mm, behind in _by_zoom(flash, modifier.id, readings).items()
        if zoom_mm in bare
    ]
    if not losses:
        return modifier
    zoom_mm = max(losses, key=lambda loss: loss.last_on).zoom_mm
    metered = _mean_loss([loss for loss in losses if loss.zoom_mm == zoom_mm])
    sheet = {field.name: getattr(modifier, field.name) for field in fields(Modifier)}
    given = sheet | {"loss_stops": max(metered.value, 0.0), "measured_zoom_mm": zoom_mm}
    return MeteredModifier(**given, metered=metered, kept_loss_stops=modifier.loss_stops)


def _by_zoom(
    flash: Flash, modifier_id: str | None, readings: Iterable[FlashReading]
) -> dict[float, list[FlashReading]]:
    """The readings of that flash behind that modifier, by zoom, the widest first."""
    widest = flash.guide_numbers[0][0]
    found: dict[float, list[FlashReading]] = {}
    for reading in readings:
        if (reading.flash_id, reading.modifier_id) == (flash.id, modifier_id):
            found.setdefault(widest if reading.zoom_mm is None else reading.zoom_mm, []).append(reading)
    return dict(sorted(found.items()))


def _guide_number(zoom_mm: float, readings: Sequence[FlashReading]) -> Metered:
    mean = _mean(readings)
    return _metered(zoom_mm, 2 ** (mean.offset_stops / 2), mean.doubt_stops, readings)


def _mean(readings: Sequence[FlashReading]) -> Posterior:
    """Mean of the readings in stops over a guide number of 1 m, and its doubt."""
    offsets = [Reading(2 * log2(reading.guide_number_m), reading.kind) for reading in readings]
    return posterior(offsets, NO_PRIOR_STOPS)


def _loss(zoom_mm: float, bare: Sequence[FlashReading], behind: Sequence[FlashReading]) -> Metered:
    over, under = _mean(bare), _mean(behind)
    doubt = hypot(over.doubt_stops, under.doubt_stops)
    return _metered(zoom_mm, over.offset_stops - under.offset_stops, doubt, [*bare, *behind])


def _mean_loss(losses: Sequence[Metered]) -> Metered:
    """One loss from those metered on several flashes, each weighing by its doubt."""
    weights = [loss.doubt_stops**-2 for loss in losses]
    value = float(np.average([loss.value for loss in losses], weights=weights))
    readings, last_on = sum(loss.readings for loss in losses), max(loss.last_on for loss in losses)
    return Metered(losses[0].zoom_mm, value, sum(weights) ** -0.5, readings, last_on)


def _metered(zoom_mm: float, value: float, doubt_stops: float, readings: Sequence[FlashReading]) -> Metered:
    return Metered(zoom_mm, value, doubt_stops, len(readings), max(reading.on for reading in readings))


def _moved(flash: Flash, metered: Sequence[Metered]) -> tuple[tuple[float, float], ...]:
    """The guide numbers at every printed and every metered zoom, moved in stops between the metered ones."""
    zooms = sorted({zoom for zoom, _ in flash.guide_numbers} | {one.zoom_mm for one in metered})
    off = [log2(one.value / guide_number_at(flash.guide_numbers, one.zoom_mm)) for one in metered]
    moved = np.exp2(np.interp(np.log(zooms), np.log([one.zoom_mm for one in metered]), off))
    was = [guide_number_at(flash.guide_numbers, zoom) for zoom in zooms]
    return tuple((zoom, number * by) for zoom, number, by in zip(zooms, was, moved.tolist(), strict=True))


def guide_number_at(guide_numbers: Sequence[tuple[float, float]], zoom_mm: float) -> float:
    """Between the zoom steps in a straight line, beyond them as at the last."""
    zooms, numbers = zip(*guide_numbers, strict=True)
    return float(np.interp(zoom_mm, zooms, numbers))


def _times(one: Metered) -> str:
    count = "one reading" if one.readings == 1 else f"{one.readings} readings, the last"
    return f"{count} of {one.last_on.day} {one.last_on:%B %Y}"
