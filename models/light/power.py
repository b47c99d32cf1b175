"""Flash power: what is needed for settings, alone and together with the light already there, and the rung to set."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, log2

import numpy as np
from numpy.typing import ArrayLike, NDArray

from models.light.exposure import Settings, ev100_of_settings
from models.light.kit import Choice
from models.light.reserve import ev_to_beat_series, guide_number, sync, working_aperture

HALF_RUNG_STOPS = 1 / 6
"""Beyond half a third of a stop under the lowest rung, that rung is too strong."""

_LOWEST_THIRDS = 24
"""Rungs are named down to 1/256."""

_WRITTEN_ROUND = 0.015
"""A rung written in three digits, such as 0.157, lies within this much of a third of itself."""


@dataclass(frozen=True, slots=True)
class Power:
    """Power as a fraction of full, for one of the units, at the settings it belongs to. May exceed 1 or any rung."""

    fraction: float
    settings: Settings

    @property
    def stops_under_full(self) -> float:
        return -log2(self.fraction)

    @property
    def words(self) -> str:
        return f"{fraction_words(self.fraction)} power at {self.settings.words}"


@dataclass(frozen=True, slots=True)
class Rung:
    """A rung of the flash's ladder and the settings it belongs to.

    remainder_stops: what the power needed lies above it (+) or under it (-); beyond a sixth only at the ladder's ends.
    """

    fraction: float
    words: str
    remainder_stops: float
    settings: Settings

    @property
    def with_settings(self) -> str:
        power = f"{self.words} power" if self.fraction else "flash off"
        return f"{power} at {self.settings.words}"


def power_alone(choice: Choice, settings: Settings) -> Power:
    """Power at which flash alone exposes the subject; 2^-reserve at the sync speed."""
    full = working_aperture(guide_number(choice).metres, choice.distance_m, iso=settings.iso)
    return Power((settings.aperture / full) ** 2, settings)


def power_sum(alone: Power, subject_ev100: float) -> Power | None:
    """Power at which flash and the light already on the subject come right together: alone x (1 - 2^-a), the ambient
    lying a stops under. None when a <= 0: the ambient alone exposes."""
    under = ev100_of_settings(alone.settings) - subject_ev100
    return Power(alone.fraction * (1 - 2**-under), alone.settings) if under > 0 else None


def rung(power: Power, lowest: float = 1 / 128, per_stop: int = 3) -> Rung:
    """The nearest rung, in thirds of a stop unless the ladder is coarser, from 1/1 down to the flash's lowest."""
    last = round(-per_stop * log2(lowest))
    step = min(max(round(per_stop * power.stops_under_full), 0), last)
    fraction = 2 ** (-step / per_stop)
    return Rung(fraction, _rung_words(step, per_stop), log2(power.fraction / fraction), power.settings)


def no_flash(settings: Settings) -> Rung:
    """What to start at where the ambient alone exposes."""
    return Rung(0.0, "off", 0.0, settings)


def too_strong_stops(needed: Rung, lowest: float) -> float:
    """How far the lowest rung overshoots what is needed, 0 when the ladder reaches down."""
    at_bottom = needed.fraction <= lowest * 2**HALF_RUNG_STOPS
    return -needed.remainder_stops if at_bottom and needed.remainder_stops < -HALF_RUNG_STOPS - 1e-9 else 0.0


def too_strong_series(choice: Choice, subject_ev: ArrayLike, behind_ev: ArrayLike | None) -> NDArray[np.bool_]:
    """Whether the lowest rung overshoots, for arrays of EV100 of one shape.

    The same rules as for one instant, without the rounding of dials to thirds (so within a sixth of a stop of it):
    the start is kept within a third, else the shutter goes first, between sync speed and hand-held limit.
    """
    subject = np.asarray(subject_ev, dtype=np.float64)
    to_beat = ev_to_beat_series(choice, subject, behind_ev)
    fastest = sync(choice).shutter_s
    slowest = max(choice.hand_held_s, fastest)
    more = to_beat - choice.start.ev100
    shutter_s = np.clip(choice.start.shutter_s * np.where(np.abs(more) <= 1 / 3, 1.0, 2.0**-more), fastest, slowest)
    full = working_aperture(guide_number(choice).metres, choice.distance_m)
    under = to_beat - subject
    needed = 2.0**to_beat * shutter_s / full**2 * (1 - 2.0 ** -np.maximum(under, 0.0))
    return (under > 0) & (needed < choice.flash.lowest_power * 2**-HALF_RUNG_STOPS)


def fraction_words(fraction: float) -> str:
    """A power on a rung in thirds of a stop as a rung is written, "1/32 + 2/3 stop"; between rungs "1/5.34", "1/1400";
    above full "1.4 ×"."""
    if fraction > 1:
        return f"{fraction:.1f} ×"
    thirds = -3 * log2(fraction)
    if abs(thirds - round(thirds)) < _WRITTEN_ROUND and round(thirds) <= _LOWEST_THIRDS:
        return _rung_words(round(thirds), 3)
    return f"1/{1 / fraction:.0f}" if fraction < 1 / 100 else f"1/{1 / fraction:.3g}"


def _rung_words(step: int, per_stop: int) -> str:
    """Full stops as "1/4"; thirds or halves counted up from the full stop under: "1/4 + 1/3 stop"."""
    stops = ceil(step / per_stop)
    more = stops * per_stop - step
    return f"1/{2**stops}" + (f" + {more}/{per_stop} stop" if more else "")
