"""The dial card: what camera and flashes of one station are set to, their channel, and what to check first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import inf
from typing import Literal

from models.light.exposure import KEEP_START_STOPS, Dialled, EvFigure, Limits, Settings, dial
from models.light.gels import white_balance_words
from models.light.kit import Trigger
from models.light.placing import clock_half_hours, paces
from models.light.power import Power, Rung, no_flash, rung
from models.light.redial import REDIAL_STOPS
from models.light.reserve import reserve
from models.light.setup import Light, Role, Setup, choice_of, setup_limits
from models.problems import InputProblem

Check = Literal["auto ISO off", "mechanical shutter", "exposure preview off", "single frame", "raw"]
CHECKS: tuple[Check, ...] = ("auto ISO off", "mechanical shutter", "exposure preview off", "single frame", "raw")
"""Common practice, no source. An electronic shutter fires no flash on most cameras; a preview of the exposure shows the
picture without the flash."""

Rigging = Literal["brace the tilt", "hold the umbrella", "lock the tilt"]

HEAVY_KG = 0.4
"""From this weight on a modifier at the front of a hot-shoe flash tips its head: our caution, no source."""


@dataclass(frozen=True, slots=True)
class LightCard:
    """One flash, or several ganged, on the card. zoom_mm: None behind a modifier whose zoom nobody noted.
    clock_half_hours: past 12 on the model's clock. paces: along the ground."""

    role: Role
    name: str
    units: int
    rung: Rung
    zoom_mm: float | None
    modifier: str
    grid: str
    gel: str
    distance_m: float
    height_m: float
    paces: float
    clock_half_hours: int
    held: bool
    rigging: Rigging


@dataclass(frozen=True, slots=True)
class DialCard:
    """mode is manual and the drive single frame, always. channel: None without a trigger."""

    settings: Settings
    white_balance: str
    channel: int | None
    checks: tuple[Check, ...]
    lights: tuple[LightCard, ...]
    mode: str = "manual"
    drive: str = "single frame"


@dataclass(frozen=True, slots=True)
class Station:
    """A setup in the light of its spot."""

    setup: Setup
    subject: EvFigure
    behind: EvFigure | None = None


@dataclass(frozen=True, slots=True)
class OneSetting:
    """One camera setting for all stations. over_stops: for each, how much brighter (+) its surroundings come than it
    wants; fits: none by more than a re-dial step."""

    dialled: Dialled
    over_stops: tuple[float, ...]
    fits: bool


def dial_card(
    setup: Setup, *, channel: int | None = None, sun_elevation_deg: float | None = None, sun_reaches: bool = False
) -> DialCard:
    """The card of a setup whose powers are found. The white balance follows the key's gel (the first light's without a
    key) and the sun, as for a single flash."""
    key = next((light for light in setup.lights if light.role == "key"), setup.lights[0])
    return DialCard(
        setup.settings,
        white_balance_words(sun_elevation_deg, sun_reaches, key.gel),
        channel,
        CHECKS,
        tuple(_light_card(light, setup.settings) for light in setup.lights),
    )


def channels_for(triggers: Sequence[Trigger | None]) -> tuple[int | None, ...]:
    """A channel for each station's trigger, all different, those with the fewest served first; None where there is no
    trigger.

    Raises InputProblem where a trigger is known to have too few.
    """
    found: list[int | None] = [None] * len(triggers)
    fired = [(trigger.channels or inf, place, trigger) for place, trigger in enumerate(triggers) if trigger is not None]
    for channel, (most, place, trigger) in enumerate(sorted(fired, key=lambda one: one[:2]), start=1):
        if channel > most:
            raise InputProblem(
                "trigger", f"{trigger.name} has {most} channels; station {place + 1} needs one of its own"
            )
        found[place] = channel
    return tuple(found)


def one_setting(stations: Sequence[Station], aperture: float | None = None) -> OneSetting:
    """The settings halfway between what the stations want, within the dials of all their cameras; the first station's
    start where that is near enough. Solve each station at them with `solve_at`."""
    if not stations:
        raise InputProblem("stations", "give at least one station")
    wanted = [
        reserve(choice_of(one.setup.lights[0], one.setup), one.subject, one.behind).ev_to_beat for one in stations
    ]
    limits = _shared([setup_limits(one.setup, aperture) for one in stations])
    middle, start = (min(wanted) + max(wanted)) / 2, stations[0].setup.settings
    kept, nearest = (_one_setting(dial(middle, limits, start, keep), wanted) for keep in (KEEP_START_STOPS, 0.0))
    return kept if kept.fits else nearest


def rigging(light: Light) -> Rigging:
    """What keeps the modifier up: heavy ones tip the head, umbrellas catch the wind."""
    if light.modifier is not None and light.modifier.kind == "umbrella":
        return "hold the umbrella"
    weight = sum(shaper.weight_kg or 0.0 for shaper in (light.modifier, light.grid) if shaper is not None)
    unknown = light.modifier is not None and light.modifier.kind == "box" and light.modifier.weight_kg is None
    return "brace the tilt" if weight >= HEAVY_KG or unknown else "lock the tilt"


def _one_setting(found: Dialled, wanted: Sequence[float]) -> OneSetting:
    over = tuple(ev - found.settings.ev100 for ev in wanted)
    return OneSetting(found, over, max(map(abs, over)) <= REDIAL_STOPS + 1e-9)


def _light_card(light: Light, settings: Settings) -> LightCard:
    flash, modifier = light.flash, light.modifier
    found = rung(Power(light.power, settings), flash.lowest_power, flash.rungs_per_stop) if light.power else None
    zoom_mm = flash.guide_numbers[0][0] if light.zoom_mm is None else light.zoom_mm
    return LightCard(
        light.role,
        flash.name,
        light.units,
        found or no_flash(settings),
        zoom_mm if modifier is None or modifier.zooms else modifier.measured_zoom_mm,
        modifier.name if modifier else "",
        light.grid.name if light.grid else "",
        light.gel.name if light.gel else "",
        light.distance_m,
        light.height_m,
        paces(light.ground_m),
        clock_half_hours(light.axis_deg),
        light.held,
        rigging(light),
    )


def _shared(limits: Sequence[Limits]) -> Limits:
    """What the dials of every camera reach."""
    return replace(
        limits[0],
        fastest_s=max(one.fastest_s for one in limits),
        slowest_s=min(one.slowest_s for one in limits),
        widest_aperture=max(one.widest_aperture for one in limits),
        smallest_aperture=min(one.smallest_aperture for one in limits),
        base_iso=max(one.base_iso for one in limits),
        highest_iso=min(one.highest_iso for one in limits),
    )
