"""Exposure values, APEX, and the dial: which settings give a wanted exposure.

EV = log2(N^2 / t), EV100 = EV - log2(S / 100): Ray, "Camera features", in The Manual of Photography, 9th ed. 2000,
p. 318; ISO 2720:1974. APEX: ASA PH2.5-1960, Av = log2 N^2, Tv = -log2 t, Sv = log2(S / 3.125), Ev = Av + Tv.
Figures are worked with the nominal numbers printed on cameras, as handbooks do; the exact ones lie within 0.15 EV.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import log2
from typing import Literal

from models.light.series import APERTURES, ISOS, SHUTTERS, Step, nearest, shutter_words
from models.problems import InputProblem

__all__ = ["APERTURES", "ISOS", "SHUTTERS", "START", "Dialled", "EvFigure", "Limits", "Settings", "dial"]

Fit = Literal["fits", "too bright", "too dark"]

KEEP_START_STOPS = 1 / 3
"""The organiser's start is kept when it lies this near: a third of a stop, the finest step of a dial."""

_SAME = 1.005
"""Two nominal settings nearer than this ratio are the same one."""


@dataclass(frozen=True, slots=True)
class EvFigure:
    """A brightness as EV at ISO 100, give or take `doubt_stops` (one standard deviation)."""

    ev100: float
    doubt_stops: float = 0.0


@dataclass(frozen=True, slots=True)
class Settings:
    """Shutter in seconds, f-number and ISO that belong together."""

    shutter_s: float
    aperture: float
    iso: float

    def __post_init__(self) -> None:
        for field in ("shutter_s", "aperture", "iso"):
            if not 0 < getattr(self, field) < float("inf"):
                raise InputProblem(field, "must be a number above zero")

    @property
    def words(self) -> str:
        return f"{shutter_words(self.shutter_s)}, f/{self.aperture:.3g}, ISO {self.iso:.0f}"

    @property
    def ev100(self) -> float:
        return ev100_of_settings(self)


def ev100_of_settings(settings: Settings) -> float:
    """The EV at ISO 100 that these settings expose for."""
    return aperture_value(settings.aperture) + time_value(settings.shutter_s) - log2(settings.iso / 100)


def aperture_value(aperture: float) -> float:
    """APEX Av of an f-number."""
    return 2 * log2(aperture)


def time_value(shutter_s: float) -> float:
    """APEX Tv of a time in seconds."""
    return -log2(shutter_s)


def speed_value(iso: float) -> float:
    """APEX Sv of an ISO speed; ISO 100 is 5."""
    return log2(iso / 3.125)


START = Settings(1 / 125, 5.6, 200)
"""Where the trade starts in the street: common practice, no source. Exposes for EV100 10.94."""


@dataclass(frozen=True, slots=True)
class Limits:
    """What the dials may reach. fastest_s is the sync speed, slowest_s the hand-held limit; the sync speed wins."""

    fastest_s: float
    slowest_s: float
    widest_aperture: float
    smallest_aperture: float
    base_iso: float
    highest_iso: float


@dataclass(frozen=True, slots=True)
class Dialled:
    """Settings found. off_stops: how much darker (+) or brighter (-) they expose than was wanted."""

    settings: Settings
    off_stops: float
    kept_start: bool
    fit: Fit
    at_limits: tuple[str, ...]


def dial(wanted_ev100: float, limits: Limits, start: Settings = START, keep_stops: float = KEEP_START_STOPS) -> Dialled:
    """Settings that expose for an EV100: the start if near enough, else shutter first, then aperture, then ISO."""
    dials = _dials(limits)
    off = start.ev100 - wanted_ev100
    if abs(off) <= keep_stops + 1e-9 and _reachable(start, limits):
        return Dialled(start, off, True, "fits", ())
    here = [_place(dial_, value) for dial_, value in zip(dials, _values(start), strict=True)]
    thirds = round(3 * (wanted_ev100 - _settings(dials, here).ev100))
    tries = [_turned(dials, here, thirds + more) for more in (0, -1, 1)]
    best = min(tries, key=lambda places: round(abs(_settings(dials, places).ev100 - wanted_ev100), 9))
    settings = _settings(dials, best)
    off = settings.ev100 - wanted_ev100
    return Dialled(settings, off, False, _fit(off), _at_limits(dials, best))


def _fit(off_stops: float) -> Fit:
    if abs(off_stops) <= KEEP_START_STOPS:
        return "fits"
    return "too bright" if off_stops < 0 else "too dark"


_Dials = tuple[tuple[Step, ...], tuple[Step, ...], tuple[Step, ...]]


def _dials(limits: Limits) -> _Dials:
    """Shutter, aperture, ISO, each ordered from most exposure to least."""
    slowest = max(limits.slowest_s, limits.fastest_s)
    return (
        _between(SHUTTERS, limits.fastest_s, slowest),
        _between(APERTURES, limits.widest_aperture, limits.smallest_aperture),
        _between(ISOS, limits.base_iso, limits.highest_iso)[::-1],
    )


def _between(series: tuple[Step, ...], least: float, most: float) -> tuple[Step, ...]:
    """The steps within two limits; if none lies there, the nearest one at or above the lower."""
    inside = tuple(step for step in series if least / _SAME <= step.nominal <= most * _SAME)
    above = [step for step in series if step.nominal >= least / _SAME]
    return inside or (min(above, key=lambda step: step.nominal, default=nearest(series, least)),)


def _reachable(settings: Settings, limits: Limits) -> bool:
    return (
        limits.fastest_s / _SAME <= settings.shutter_s <= max(limits.slowest_s, limits.fastest_s) * _SAME
        and limits.widest_aperture / _SAME <= settings.aperture <= limits.smallest_aperture * _SAME
        and limits.base_iso / _SAME <= settings.iso <= limits.highest_iso * _SAME
    )


def _values(settings: Settings) -> tuple[float, float, float]:
    return settings.shutter_s, settings.aperture, settings.iso


def _place(dial_: tuple[Step, ...], value: float) -> int:
    return dial_.index(nearest(dial_, value))


def _settings(dials: _Dials, places: list[int]) -> Settings:
    shutter, aperture, iso = (dial_[place].nominal for dial_, place in zip(dials, places, strict=True))
    return Settings(shutter, aperture, iso)


def _turned(dials: _Dials, places: list[int], thirds: int) -> list[int]:
    """Takes away (+) or adds (-) thirds of a stop, each dial to its end before the next is touched."""
    turned = []
    for dial_, place in zip(dials, places, strict=True):
        there = min(max(place + thirds, 0), len(dial_) - 1)
        thirds -= there - place
        turned.append(there)
    return turned


def _at_limits(dials: _Dials, places: list[int]) -> tuple[str, ...]:
    names = (("hand-held limit", "sync speed"), ("widest aperture", "smallest aperture"), ("highest ISO", "base ISO"))
    found = []
    for dial_, place, (most, least) in zip(dials, places, names, strict=True):
        found += [most] if place == 0 else []
        found += [least] if place == len(dial_) - 1 else []
    return tuple(found)


def at_sync(settings: Settings, limits: Limits) -> Dialled | None:
    """The same exposure at the fastest sync speed: wider aperture, then more ISO; None if that gains nothing or
    cannot be reached."""
    fastest = _between(SHUTTERS, limits.fastest_s, float("inf"))[-1].nominal
    if settings.shutter_s <= fastest * 1.1:
        return None
    only_sync = replace(limits, slowest_s=fastest)
    found = dial(settings.ev100, only_sync, replace(settings, shutter_s=fastest), keep_stops=0.0)
    return found if found.fit == "fits" else None
