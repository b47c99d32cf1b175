"""Stops in hand: what a setup still has over the light that is there.

Working aperture N = GN sqrt(ISO/100) sqrt(power) sqrt(units) 2^(-loss/2) / distance (guide numbers: ISO 1230:2007;
scaling by common photographic handbooks). Capacity is the EV100 at which that aperture and the fastest clean sync speed
expose right, log2(GN_eff^2 / (distance^2 t_sync)). The ambient sets EV_w = max(backdrop + k, face + r). What is left
between the two is the reserve; ISO is on both sides and cancels.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot, sqrt
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from models.light.exposure import EvFigure, aperture_value, time_value
from models.light.kit import UNMEASURED_LOW_STOPS, Choice
from models.light.series import metres_words, shutter_words, stops_words, tenths

Binding = Literal["backdrop", "face", "spot"]


@dataclass(frozen=True, slots=True)
class GuideNumber:
    """What all units together give on the subject's side of the modifier, metres at ISO 100, full power."""

    metres: float
    doubt_stops: float
    working: str
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Sync:
    """The fastest shutter that takes in the whole flash, and which of the kit holds it there."""

    shutter_s: float
    held_by: str


@dataclass(frozen=True, slots=True)
class Reserve:
    """Stops in hand. other_falls_stops: how far the term that does not bind falls under the working exposure."""

    stops: float
    doubt_stops: float
    binds: Binding
    other_falls_stops: float | None
    ev_to_beat: float
    capacity_ev: float
    working: tuple[str, ...]
    notes: tuple[str, ...] = ()


def working_aperture(
    guide_number_m: float,
    distance_m: float,
    *,
    iso: float = 100,
    power: float = 1.0,
    units: int = 1,
    loss_stops: float = 0.0,
) -> float:
    """The f-number at which the flash alone exposes the subject."""
    return guide_number_m * sqrt(iso / 100 * power * units) * 2 ** (-loss_stops / 2) / distance_m


def guide_number(choice: Choice) -> GuideNumber:
    """GN_eff of a choice: zoom where it counts, modifier, gel, units, and half a stop off if nobody measured it."""
    zoom_mm, notes = _zoom(choice)
    printed_m = _interpolated(choice, zoom_mm)
    shapers = [shaper for shaper in (choice.modifier, choice.grid) if shaper is not None]
    loss = sum(shaper.loss_stops for shaper in shapers) + (choice.gel.loss_stops if choice.gel else 0.0)
    unmeasured = 0.0 if choice.flash.measured else UNMEASURED_LOW_STOPS
    metres = working_aperture(printed_m, 1.0, units=choice.units, loss_stops=loss + unmeasured)
    if unmeasured:
        notes += ("Nobody measured this flash: its guide number is taken half a stop low, give or take half a stop.",)
    notes += tuple(note for note in (choice.flash.guide_note, *(shaper.loss_note for shaper in shapers)) if note)
    working = (
        f"GN_eff = {printed_m:.1f} m at {zoom_mm:.0f} mm × √{choice.units} × 2^(−({loss:.1f} + {unmeasured:.1f})/2)"
    )
    doubt = hypot(choice.flash.guide_doubt_stops(zoom_mm), *(shaper.loss_doubt_stops for shaper in shapers))
    return GuideNumber(metres, doubt, f"{working} = {metres:.1f} m", notes)


def sync(choice: Choice) -> Sync:
    """The slowest of camera, trigger and flash."""
    links = [(choice.camera.sync_s, "camera"), (choice.flash.clean_sync_s, "flash")]
    if choice.trigger is not None:
        links.insert(1, (choice.trigger.sync_s, "trigger"))
    shutter_s, held_by = max(links, key=lambda link: link[0])
    return Sync(shutter_s, held_by)


def capacity_ev(choice: Choice) -> tuple[float, float]:
    """The EV100 that this setup can beat at full power and the fastest sync speed, and its doubt in stops."""
    number = guide_number(choice)
    return _capacity(number.metres, choice.distance_m, sync(choice).shutter_s), number.doubt_stops


def reserve(choice: Choice, subject: EvFigure, behind: EvFigure | None) -> Reserve:
    """Stops in hand. subject: incident light on the face (or of the spot, before a bearing is chosen: behind None)."""
    number = guide_number(choice)
    capacity, _ = capacity_ev(choice)
    to_beat, binds, doubt = _to_beat(choice, subject, behind)
    falls = None
    if behind is not None:
        falls = to_beat - (subject.ev100 if binds == "backdrop" else behind.ev100)
    working = (
        number.working,
        _capacity_working(choice, number.metres, capacity),
        _to_beat_working(choice, subject, behind, to_beat),
        f"Reserve = {tenths(capacity)} − {tenths(to_beat)} = {tenths(capacity - to_beat)} stops; ISO cancels",
    )
    doubt = hypot(doubt, number.doubt_stops)
    return Reserve(capacity - to_beat, doubt, binds, falls, to_beat, capacity, working, number.notes)


def reserve_series(choice: Choice, subject_ev: ArrayLike, behind_ev: ArrayLike | None) -> NDArray[np.float64]:
    """Stops in hand for arrays of EV100 of one shape: the same formula."""
    return capacity_ev(choice)[0] - ev_to_beat_series(choice, subject_ev, behind_ev)


def ev_to_beat_series(choice: Choice, subject_ev: ArrayLike, behind_ev: ArrayLike | None) -> NDArray[np.float64]:
    """EV_w for arrays of EV100 of one shape."""
    subject = np.asarray(subject_ev, dtype=np.float64)
    if behind_ev is None:
        return subject + choice.surroundings_under
    behind = np.asarray(behind_ev, dtype=np.float64)
    return np.maximum(behind + choice.surroundings_under, subject + choice.face_under)


def _capacity(guide_number_m: float, distance_m: float, sync_s: float) -> float:
    return aperture_value(working_aperture(guide_number_m, distance_m)) + time_value(sync_s)


def _zoom(choice: Choice) -> tuple[float, tuple[str, ...]]:
    """The zoom whose guide number counts, and what to say about it."""
    zooms = [zoom for zoom, _ in choice.flash.guide_numbers]
    asked = choice.zoom_mm if choice.zoom_mm is not None else zooms[0]
    modifier = choice.modifier
    notes: tuple[str, ...] = ()
    if modifier is not None and not modifier.zooms:
        measured = modifier.measured_zoom_mm
        if measured is None:
            notes += (f"Not measured: the zoom that the loss of {modifier.name} belongs to; the widest is taken.",)
        elif choice.zoom_mm is not None and choice.zoom_mm != measured:
            notes += (
                f"Not measured: {modifier.name} at {asked:.0f} mm. Its loss was measured at {measured:.0f} mm, "
                "and zooming behind it changes nothing here.",
            )
        asked = zooms[0] if measured is None else measured
    used = min(max(asked, zooms[0]), zooms[-1])
    if used != asked:
        known = f"at {used:.0f} mm only" if len(zooms) == 1 else f"from {zooms[0]:.0f} to {zooms[-1]:.0f} mm"
        notes += (f"The guide number is known {known}; {asked:.0f} mm is taken as {used:.0f} mm.",)
    return used, notes


def _interpolated(choice: Choice, zoom_mm: float) -> float:
    zooms, numbers = zip(*choice.flash.guide_numbers, strict=True)
    return float(np.interp(zoom_mm, zooms, numbers))


def _to_beat(choice: Choice, subject: EvFigure, behind: EvFigure | None) -> tuple[float, Binding, float]:
    """EV_w, the term that sets it, and that term's doubt."""
    if behind is None:
        return subject.ev100 + choice.surroundings_under, "spot", subject.doubt_stops
    backdrop, face = behind.ev100 + choice.surroundings_under, subject.ev100 + choice.face_under
    if backdrop >= face:
        return backdrop, "backdrop", behind.doubt_stops
    return face, "face", subject.doubt_stops


def _capacity_working(choice: Choice, guide_number_m: float, capacity: float) -> str:
    held = sync(choice)
    return (
        f"Reaches EV100 {tenths(capacity)} = log2({guide_number_m:.1f}² / ({metres_words(choice.distance_m)}² × t)), "
        f"t = {shutter_words(held.shutter_s)}, the sync speed of the {held.held_by}"
    )


def _to_beat_working(choice: Choice, subject: EvFigure, behind: EvFigure | None, to_beat: float) -> str:
    under = stops_words(choice.surroundings_under)
    if behind is None:
        return f"To beat: EV100 {tenths(to_beat)} = spot {tenths(subject.ev100)} + {under}"
    return (
        f"To beat: EV100 {tenths(to_beat)} = the larger of backdrop {tenths(behind.ev100)} + {under} "
        f"and face {tenths(subject.ev100)} + {stops_words(choice.face_under)}"
    )
