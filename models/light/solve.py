"""Powers, and where the ladder runs out distances, for all lights of a setup at once; or which light cannot, and by how
much.

The surroundings set the exposure, EV_w = max(backdrop + k, face + r). At a shutter time t a light at full power that
gives the f-number F at ISO 100 has to fire at share x 2^EV_w x t / F^2 of it: aperture and ISO cancel, so the shutter
alone decides whether every light stays on its ladder.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import ceil, floor

import numpy as np
from numpy.typing import NDArray

from models.light.exposure import Dialled, EvFigure, Limits, dial
from models.light.placing import FACE_M
from models.light.power import HALF_RUNG_STOPS, Power, Rung, no_flash, rung
from models.light.reserve import guide_number, reserve, working_aperture
from models.light.setup import (
    Light,
    Setup,
    SetupFigures,
    ambient_share_of_exposure,
    choice_of,
    setup_figures,
    setup_limits,
)
from models.light.wanted import Wanted, shares_wanted
from models.light.ways_out import CLOSEST_M

Floats = NDArray[np.float64]
_JUST = 1e-9


@dataclass(frozen=True, slots=True)
class SolvedLight:
    """One light with its power and distance put in.

    share: of the working exposure, wanted of it. moved_m: nearer (-) or further (+) than asked. cannot_stops: what it
    lacks (+) or gives too much (-) at the end of its ladder and its way, 0 where it comes right.
    """

    light: Light
    rung: Rung
    share: float
    moved_m: float
    cannot_stops: float


@dataclass(frozen=True, slots=True)
class Solved:
    """setup: with settings, powers and distances put in; figures: worked forward from it. ambient_under_stops: how far
    the light already on the face lies under the settings, None without a spot. ambient_exposes: it needs no flash.
    ambient_fills: it alone fills more than the wanted face ratio leaves, so the ratio falls short."""

    setup: Setup
    dialled: Dialled
    lights: tuple[SolvedLight, ...]
    ambient_under_stops: float | None
    ambient_exposes: bool
    ambient_fills: bool
    figures: SetupFigures

    @property
    def works(self) -> bool:
        return self.dialled.fit == "fits" and not self.cannot

    @property
    def cannot(self) -> tuple[SolvedLight, ...]:
        """The lights that do not come right, the furthest off first."""
        return tuple(sorted((one for one in self.lights if one.cannot_stops), key=lambda one: -abs(one.cannot_stops)))


def solve(setup: Setup, wanted: Wanted, subject: EvFigure, behind: EvFigure | None, *, move: bool = True) -> Solved:
    """The setup with settings, powers and distances that give what is wanted; its settings are where the dials start.

    subject, behind: EV100 on the face and behind it, None before a bearing is chosen. move: lights may be moved.
    """
    found = dialled_for(setup, wanted, subject, behind)
    return solve_at(setup, wanted, found, subject, behind, move=move)


def solve_at(
    setup: Setup,
    wanted: Wanted,
    dialled: Dialled,
    subject: EvFigure | None,
    behind: EvFigure | None,
    *,
    move: bool = True,
) -> Solved:
    """The same at settings already found, such as one camera setting for all stations."""
    settings = dialled.settings
    ambient = ambient_share_of_exposure(settings, subject)
    shares = [float(share) for share in shares_wanted(setup, wanted, ambient)]
    there = replace(setup, settings=settings)
    lights = tuple(
        _fitted(light, share, there, wanted.farthest_m if move else None)
        for light, share in zip(setup.lights, shares, strict=True)
    )
    done = replace(there, lights=tuple(one.light for one in lights))
    under = settings.ev100 - subject.ev100 if subject is not None else None
    fills = wanted.ratio == "face" and ambient > 2**-wanted.ratio_stops + _JUST
    return Solved(done, dialled, lights, under, ambient >= 1, fills, setup_figures(done, subject, behind))


def dialled_for(setup: Setup, wanted: Wanted, subject: EvFigure, behind: EvFigure | None) -> Dialled:
    """Settings for the surroundings, the shutter where all lights stay on their ladders if there is such a time."""
    to_beat = reserve(choice_of(setup.lights[0], setup), subject, behind).ev_to_beat
    limits = setup_limits(setup, wanted.aperture)
    ambient = 2 ** (subject.ev100 - to_beat)
    most, least, _ = shutter_bounds_s(setup, wanted, np.asarray(to_beat), np.asarray(ambient))
    return dial(to_beat, _narrowed(limits, float(least), float(most)), setup.settings)


def shutter_bounds_s(
    setup: Setup, wanted: Wanted, to_beat_ev: Floats, ambient_share: Floats
) -> tuple[Floats, Floats, NDArray[np.intp]]:
    """The longest shutter time that the weakest light allows at full power, the shortest that the strongest allows at
    its lowest, and which light is the weakest; arrays like the inputs."""
    most, least = [], []
    for light, share in zip(setup.lights, shares_wanted(setup, wanted, ambient_share), strict=True):
        full = working_aperture(guide_number(choice_of(light, setup)).metres, light.distance_m)
        with np.errstate(divide="ignore"):
            at_full_s = np.where(share > 0, full**2 / (share * 2.0**to_beat_ev), np.inf)
        most.append(at_full_s * 2**HALF_RUNG_STOPS)
        least.append(np.where(share > 0, at_full_s * light.flash.lowest_power * 2**-HALF_RUNG_STOPS, 0.0))
    stacked = np.array(most)
    return stacked.min(axis=0), np.array(least).max(axis=0), stacked.argmin(axis=0)


def _narrowed(limits: Limits, least_s: float, most_s: float) -> Limits:
    """The limits with the shutter between two times, as near to them as it goes; as they were if the times cross."""
    if least_s > most_s:
        return limits
    slowest = max(limits.slowest_s, limits.fastest_s)
    fastest_s, slowest_s = (min(max(time_s, limits.fastest_s), slowest) for time_s in (least_s, most_s))
    return replace(limits, fastest_s=fastest_s, slowest_s=slowest_s)


def _fitted(light: Light, share: float, setup: Setup, farthest_m: float | None) -> SolvedLight:
    """One light at the rung that gives its share, moved if the ladder ends before and it may be moved."""
    if share <= 0:
        return SolvedLight(replace(light, power=0.0), no_flash(setup.settings), 0.0, 0.0, 0.0)
    found = _rung(light, share, setup)
    moved = light
    if farthest_m is not None and _off_ladder(found, light):
        moved = replace(light, distance_m=_moved_m(light, found.remainder_stops, farthest_m))
        found = _rung(moved, share, setup)
    away = moved.distance_m - light.distance_m
    return SolvedLight(replace(moved, power=found.fraction), found, share, away, _off_ladder(found, light))


def _rung(light: Light, share: float, setup: Setup) -> Rung:
    settings = setup.settings
    full = working_aperture(guide_number(choice_of(light, setup)).metres, light.distance_m, iso=settings.iso)
    needed = Power(share * (settings.aperture / full) ** 2, settings)
    return rung(needed, light.flash.lowest_power, light.flash.rungs_per_stop)


def _off_ladder(found: Rung, light: Light) -> float:
    """Stops that the power needed lies beyond an end of the ladder, 0 within half a rung of it."""
    half_rung = 1 / (2 * light.flash.rungs_per_stop)
    return found.remainder_stops if abs(found.remainder_stops) > half_rung + _JUST else 0.0


def _moved_m(light: Light, short_stops: float, farthest_m: float) -> float:
    """Where a light that falls short by so many stops (- for too strong) comes right, to a tenth of a metre, no nearer
    or further than a light may stand."""
    wanted_m = light.distance_m * 2 ** (-short_stops / 2)
    if short_stops > 0:
        nearest_m = max(CLOSEST_M, ceil(abs(light.height_m - FACE_M) * 10) / 10)
        return min(max(floor(wanted_m * 10) / 10, nearest_m), light.distance_m)
    return max(min(ceil(wanted_m * 10) / 10, farthest_m), light.distance_m)
