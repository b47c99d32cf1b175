"""Exposure values, APEX and the third-stop series of cameras.

EV = log2(N^2 / t), EV100 = EV - log2(S / 100): Ray, "Camera features", in The Manual of Photography, 9th ed. 2000,
p. 318; ISO 2720:1974. APEX: ASA PH2.5-1960, Av = log2 N^2, Tv = -log2 t, Sv = log2(S / 3.125), Ev = Av + Tv.
Figures are worked with the nominal numbers printed on cameras, as handbooks do; the exact ones lie within 0.1 EV.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import log2

from models.problems import InputProblem

THIRD = 1 / 3


@dataclass(frozen=True, slots=True)
class EvFigure:
    """A brightness as EV at ISO 100, give or take `doubt_stops` (one standard deviation)."""

    ev100: float
    doubt_stops: float = 0.0


@dataclass(frozen=True, slots=True)
class Step:
    """One third-stop step: `index` counts thirds from 1 (f/1, 1 s) or ISO 100; `exact` is the power of two meant."""

    index: int
    nominal: float
    exact: float
    words: str


def _apertures() -> tuple[Step, ...]:
    """f/1 to f/32, nominal values by camera practice (ISO 517)."""
    nominal = "1 1.1 1.2 1.4 1.6 1.8 2 2.2 2.5 2.8 3.2 3.5 4 4.5 5 5.6 6.3 7.1 8 9 10 11 13 14 16 18 20 22 25 29 32"
    return tuple(Step(k, float(n), 2.0 ** (k / 6), f"f/{n}") for k, n in enumerate(nominal.split()))


def _shutters() -> tuple[Step, ...]:
    """30 s to 1/8000 s, nominal values by camera practice (ISO 516); the index grows with the time."""
    whole = "30 25 20 15 13 10 8 6 5 4 3.2 2.5 2 1.6 1.3 1 0.8 0.6 0.5 0.4 0.3"
    parts = (
        "4 5 6 8 10 13 15 20 25 30 40 50 60 80 100 125 160 200 250 320 400 500 640 800 "
        "1000 1250 1600 2000 2500 3200 4000 5000 6400 8000"
    )
    nominal = [(float(n), f"{n} s") for n in whole.split()] + [(1 / int(n), f"1/{n} s") for n in parts.split()]
    return tuple(Step(15 - k, n, 2.0 ** ((15 - k) / 3), words) for k, (n, words) in enumerate(nominal))


def _isos() -> tuple[Step, ...]:
    """ISO 50 to 25600, nominal values by camera practice (ISO 12232)."""
    nominal = (
        "50 64 80 100 125 160 200 250 320 400 500 640 800 1000 1250 1600 2000 2500 3200 4000 5000 6400 8000 10000 "
        "12800 16000 20000 25600"
    )
    return tuple(Step(k - 3, float(n), 100 * 2.0 ** ((k - 3) / 3), f"ISO {n}") for k, n in enumerate(nominal.split()))


APERTURES = _apertures()
SHUTTERS = _shutters()
ISOS = _isos()


def nearest(series: tuple[Step, ...], value: float) -> Step:
    """The step of a series nearest in stops to a value (f-number, seconds or ISO)."""
    return min(series, key=lambda step: abs(log2(step.nominal / value)))


def shutter_words(shutter_s: float) -> str:
    """A shutter time as a camera shows it, "1/125 s"; one off the series as a plain fraction or seconds."""
    step = nearest(SHUTTERS, shutter_s)
    if abs(log2(step.nominal / shutter_s)) < 0.01:
        return step.words
    return f"1/{1 / shutter_s:.0f} s" if shutter_s < 0.3 else f"{shutter_s:.3g} s"


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
