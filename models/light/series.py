"""The third-stop series of cameras: nominal numbers as printed, and the exact powers of two they stand for."""

from __future__ import annotations

from dataclasses import dataclass
from math import log2


@dataclass(frozen=True, slots=True)
class Step:
    """One third-stop step: `index` counts thirds from f/1, 1 s or ISO 100; `exact` is the power of two meant."""

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
    """A shutter time as a camera shows it, "1/125 s"; one off the series as a plain fraction or in seconds."""
    step = nearest(SHUTTERS, shutter_s)
    if abs(log2(step.nominal / shutter_s)) < 0.01:
        return step.words
    return f"1/{1 / shutter_s:.0f} s" if shutter_s < 0.3 else f"{shutter_s:.3g} s"


def stops_words(stops: float) -> str:
    """Stops as photographers write them: "2/3", "1 1/3", "2"; anything off the thirds with one decimal."""
    thirds = round(abs(stops) * 3)
    if abs(abs(stops) * 3 - thirds) > 0.03:
        return f"{stops:.1f}"
    whole, part = divmod(thirds, 3)
    words = " ".join(([str(whole)] if whole or not part else []) + ([f"{part}/3"] if part else []))
    return f"−{words}" if stops < 0 and thirds else words


def tenths(number: float) -> str:
    """One decimal with a real minus sign, never "−0.0"."""
    return f"{round(number, 1) + 0.0:.1f}".replace("-", "−")


def metres_words(metres: float) -> str:
    """Metres to the nearest tenth, without an idle ".0"; the unit is left to the sentence."""
    return f"{round(metres, 1):g}"
