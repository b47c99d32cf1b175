"""Settings and power for one choice: the dial turned within the kit's limits, and the faster-sync way beside it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from models.light.battery import recycle_s
from models.light.exposure import Dialled, EvFigure, Limits, Settings, at_sync, dial
from models.light.kit import Choice
from models.light.power import HALF_RUNG_STOPS, Power, Rung, no_flash, power_alone, power_sum, rung, too_strong_stops
from models.light.reserve import sync
from models.light.series import shutter_words, tenths


@dataclass(frozen=True, slots=True)
class FasterSync:
    """The same surroundings at the fastest sync speed with a wider aperture: less power, faster recycling."""

    settings: Settings
    power_alone: Power
    power_sum: Power
    start_at: Rung
    recycle_s: float
    words: str


@dataclass(frozen=True, slots=True)
class SetUp:
    """Settings, the power for flash alone and for the sum (None: ambient alone exposes), the rung to start at."""

    dialled: Dialled
    alone: Power
    together: Power | None
    start_at: Rung
    faster: FasterSync | None
    notes: tuple[str, ...]


def limits_of(choice: Choice) -> Limits:
    """What the dials may reach with this kit."""
    camera = choice.camera
    return Limits(
        fastest_s=sync(choice).shutter_s,
        slowest_s=choice.hand_held_s,
        widest_aperture=camera.widest_aperture,
        smallest_aperture=camera.smallest_aperture,
        base_iso=camera.base_iso,
        highest_iso=camera.highest_iso,
    )


def set_up(choice: Choice, wanted_ev100: float, subject: EvFigure) -> SetUp:
    """The start kept if near enough, else shutter, aperture, ISO; the fastest sync speed where full power needs it."""
    dialled = dial(wanted_ev100, limits_of(choice), choice.start)
    alone, together, start_at = _powers(choice, dialled.settings, subject)
    faster = _faster_sync(choice, dialled, subject)
    short_stops = start_at.remainder_stops if start_at.fraction == 1 else 0.0
    if faster is None or short_stops <= HALF_RUNG_STOPS:
        return SetUp(dialled, alone, together, start_at, faster, _limit_notes(choice, dialled))
    why = (
        f"At {shutter_words(dialled.settings.shutter_s)} full power falls {tenths(short_stops)} stops short, so the "
        f"shutter goes to {shutter_words(faster.settings.shutter_s)}."
    )
    off = dialled.off_stops + faster.settings.ev100 - dialled.settings.ev100
    moved = replace(dialled, settings=faster.settings, off_stops=off, kept_start=False)
    return SetUp(moved, faster.power_alone, faster.power_sum, faster.start_at, None, (why,))


def _powers(choice: Choice, settings: Settings, subject: EvFigure) -> tuple[Power, Power | None, Rung]:
    alone = power_alone(choice, settings)
    together = power_sum(alone, subject.ev100)
    return alone, together, rung(together, choice.flash.lowest_power) if together else no_flash(settings)


def _faster_sync(choice: Choice, dialled: Dialled, subject: EvFigure) -> FasterSync | None:
    found = at_sync(dialled.settings, limits_of(choice)) if dialled.fit == "fits" else None
    if found is None:
        return None
    alone, together, start_at = _powers(choice, found.settings, subject)
    if together is None or too_strong_stops(start_at, choice.flash.lowest_power) > 0:
        return None
    seconds = recycle_s(choice.flash.recycle_full_s, start_at.fraction, choice.battery)
    words = f"Same surroundings at {start_at.with_settings}: less power, ready again in {tenths(seconds)} s"
    return FasterSync(found.settings, alone, together, start_at, seconds, words)


def _limit_notes(choice: Choice, dialled: Dialled) -> tuple[str, ...]:
    off, ends, held = tenths(abs(dialled.off_stops)), ", ".join(dialled.at_limits), sync(choice)
    notes = []
    if choice.start.shutter_s < held.shutter_s * 0.99:
        notes.append(
            f"Your start's {shutter_words(choice.start.shutter_s)} is faster than the {held.held_by} syncs: "
            f"{shutter_words(held.shutter_s)}."
        )
    if dialled.fit == "too bright":
        notes.append(
            f"Too bright: nothing on this camera fits ({ends}); {dialled.settings.words} overexposes by {off} stops. "
            f"A neutral-density filter of that much brings it in reach and leaves the reserve as it is."
        )
    if dialled.fit == "too dark":
        notes.append(
            f"Too dark: nothing on this camera fits ({ends}); at {dialled.settings.words} the surroundings fall "
            f"{off} stops further than wanted."
        )
    return tuple(notes)
