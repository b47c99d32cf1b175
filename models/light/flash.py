"""Can this flash beat the light there: the whole answer, and everything pages and the terminal import for it."""

from __future__ import annotations

from dataclasses import dataclass

from models.light.accessories import Gel
from models.light.battery import BatterySet, flashes_per_set, recycle_s
from models.light.dial import FasterSync, SetUp, set_up
from models.light.exposure import START, EvFigure, Settings
from models.light.facing import Facing, facing_order
from models.light.gels import GELS, white_balance_words
from models.light.kit import Camera, Choice, Flash, Modifier, Trigger
from models.light.power import Power, Rung, too_strong_series, too_strong_stops
from models.light.reserve import Reserve, Sync, capacity_ev, reserve, reserve_series, sync, working_aperture
from models.light.series import tenths
from models.light.ways_out import (
    Alternative,
    Alternatives,
    WayOut,
    WiderAperture,
    when_too_strong,
    when_too_weak,
    wider_apertures,
)

__all__ = [
    "GELS",
    "START",
    "Alternative",
    "Alternatives",
    "BatterySet",
    "Camera",
    "Choice",
    "EvFigure",
    "Facing",
    "FasterSync",
    "Flash",
    "FlashAnswer",
    "Gel",
    "Modifier",
    "Power",
    "Reserve",
    "Rung",
    "Settings",
    "Sync",
    "Trigger",
    "WayOut",
    "WiderAperture",
    "answer",
    "capacity_ev",
    "facing_order",
    "reserve",
    "reserve_series",
    "sync",
    "too_strong_series",
    "working_aperture",
]


SHOWN_STOPS = 0.05
"""Less than this is printed as 0.0 stops."""


@dataclass(frozen=True, slots=True)
class FlashAnswer:
    """What to set and what to do.

    off_stops: how much darker (+) or brighter (-) the settings expose than the light asks for.
    face_under_stops: a, how far the light already on the subject lies under them.
    ambient_exposes: that light needs no flash, and start_at is off.
    too_weak: flash alone falls short of the working exposure even at the fastest sync speed, by SHOWN_STOPS or more.
    too_strong: the lowest power overshoots.
    recycle_s: with fresh cells; recycle_tired_s: towards the end of a set.
    """

    reserve: Reserve
    settings: Settings
    off_stops: float
    kept_start: bool
    face_under_stops: float
    power_alone: Power
    power_sum: Power | None
    start_at: Rung
    ambient_exposes: bool
    too_weak: bool
    too_strong: bool
    ways_out: tuple[WayOut, ...]
    faster_sync: FasterSync | None
    wider_apertures: tuple[WiderAperture, ...]
    recycle_s: float
    recycle_tired_s: float
    flashes_per_set: int | None
    white_balance_words: str
    notes: tuple[str, ...]


def answer(
    choice: Choice,
    subject: EvFigure,
    behind: EvFigure | None,
    *,
    elsewhere: Alternatives = Alternatives(),  # noqa: B008 - frozen
    sun_elevation_deg: float | None = None,
    sun_reaches: bool = False,
) -> FlashAnswer:
    """Settings, power and ways out for one choice in one light.

    subject: EV100 of the incident light on the face; behind: EV100 of the mean luminance behind it, None before a
    bearing is chosen. The sun's elevation, and whether it reaches the subject or what is behind, choose the gel.
    """
    in_hand = reserve(choice, subject, behind)
    found = set_up(choice, in_hand.ev_to_beat, subject)
    over = too_strong_stops(found.start_at, choice.flash.lowest_power)
    power, full_s = found.start_at.fraction, choice.flash.recycle_full_s
    at_sync = found.faster.settings if found.faster else found.dialled.settings
    return FlashAnswer(
        reserve=in_hand,
        settings=found.dialled.settings,
        off_stops=found.dialled.off_stops,
        kept_start=found.dialled.kept_start,
        face_under_stops=found.dialled.settings.ev100 - subject.ev100,
        power_alone=found.alone,
        power_sum=found.together,
        start_at=found.start_at,
        ambient_exposes=found.together is None,
        too_weak=_short(in_hand),
        too_strong=over > 0,
        ways_out=_ways_out(choice, in_hand, over, found, elsewhere),
        faster_sync=found.faster,
        wider_apertures=wider_apertures(choice, in_hand.stops, at_sync),
        recycle_s=recycle_s(full_s, power, choice.battery),
        recycle_tired_s=recycle_s(full_s, power, choice.battery, tired=True),
        flashes_per_set=flashes_per_set(choice.battery, power) if choice.battery and power else None,
        white_balance_words=white_balance_words(sun_elevation_deg, sun_reaches, choice.gel),
        notes=(*in_hand.notes, *found.notes, *_notes(in_hand, found.together)),
    )


def _short(in_hand: Reserve) -> bool:
    """Short by something that a figure with one decimal shows."""
    return in_hand.stops <= -SHOWN_STOPS


def _ways_out(
    choice: Choice, in_hand: Reserve, over_stops: float, found: SetUp, elsewhere: Alternatives
) -> tuple[WayOut, ...]:
    weak = when_too_weak(choice, in_hand.stops, elsewhere) if _short(in_hand) else ()
    strong = when_too_strong(choice, over_stops, found.dialled.settings) if over_stops > 0 else ()
    return weak + strong


def _notes(in_hand: Reserve, together: Power | None) -> tuple[str, ...]:
    if together is None:
        return ("The light already on the subject exposes it alone at these settings: flash would overexpose.",)
    if _short(in_hand) and together.fraction <= 1:
        return (
            f"Flash alone falls {tenths(-in_hand.stops)} stops short; with the light already there the subject still "
            f"comes right, but that light leads.",
        )
    return ()
