"""Figures of the weather as people type them: 5 m/s, 18 km/h, 4 bft, 20 C, 68 F, 5/8, 60 %, overcast."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress

from models.planning.moments import SKIES, sky_words
from models.planning.street.sky import whole
from models.problems import InputProblem
from models.store.weather import FIGURES
from models.street.weather import BEAUFORT_FROM_M_S, RANGES
from models.words.said import signed_minus
from models.words.weather import wind_words

_NUMBER = re.compile(
    r"(?P<number>[-−+]?\d{1,4}(?:[.,]\d{1,3})?)\s*(?P<unit>[a-z/%°][a-z/%° ]*|(?:/|of)\s*8|)$", re.ASCII
)
_WIND = {
    "": 1.0, "m/s": 1.0, "ms": 1.0, "km/h": 1 / 3.6, "kmh": 1 / 3.6, "kph": 1 / 3.6, "mph": 0.44704, "kn": 0.514444,
    "kt": 0.514444, "knots": 0.514444,
}  # fmt: skip
"""Metres a second; 1 mile is 1609.344 m, 1 knot 1852 m an hour, both by definition."""
_UNITS: dict[str, dict[str, float]] = {
    "oktas": {"": 1.0, "oktas": 1.0, "okta": 1.0, "/8": 1.0, "of8": 1.0, "%": 0.08},
    "wind_m_s": _WIND,
    "gust_m_s": _WIND,
    "temperature_c": {"": 1.0, "c": 1.0, "°c": 1.0, "°": 1.0},
    "humidity_pct": {"": 1.0, "%": 1.0},
    "rain_mm": {"": 1.0, "mm": 1.0, "in": 25.4},
}
_FAHRENHEIT, _BEAUFORT = ("f", "°f"), ("bft", "beaufort", "bf")
_SHOWN: dict[str, str] = {
    "oktas": "5, 5/8, 60 % or overcast", "wind_m_s": "5 m/s, 18 km/h, 11 mph, 10 kn or 4 bft",
    "gust_m_s": "9 m/s, 32 km/h, 20 mph, 17 kn or 5 bft", "temperature_c": "20 C or 68 F", "humidity_pct": "60 %",
    "rain_mm": "0.4 mm or 0.02 in",
}  # fmt: skip


def read_figure(name: str, text: str) -> float | None:
    """A figure of `FIGURES` in our unit, None for nothing typed. Raises InputProblem under its name."""
    typed = " ".join(text.strip().lower().split())
    if not typed:
        return None
    words = {words: oktas for oktas, words in SKIES} if name == "oktas" else {}
    if typed in words:
        return float(words[typed])
    value = _value(name, typed)
    if value is None:
        raise InputProblem(name, f"“{text.strip()[:40]}” is not understood. Type it like {_SHOWN[name]}.")
    lowest, highest, unit = RANGES[name]
    if not lowest <= value <= highest:
        raise InputProblem(name, f"{value:g} is outside {lowest:g} to {highest:g} {unit}")
    return value


def figure_text(name: str, value: float | None) -> str:
    """As it may be typed again: in our unit to one decimal, else in the unit in which it is as short, as 50 km/h."""
    if value is None:
        return ""
    plain = f"{value:.7g}"
    if len(plain.partition(".")[2]) <= 1:
        return plain.replace("-", "−")
    others = (text for text in _in_other_units(name, value) if _value(name, text.lower()) == value)
    return next(others, plain).replace("-", "−")


def understood_figures(form: Mapping[str, str]) -> dict[str, str]:
    """By field, what is meant; what is empty or cannot be read is left out."""
    said: dict[str, str] = {}
    for name in FIGURES:
        with suppress(InputProblem):
            value = read_figure(name, form.get(name, ""))
            if value is not None:
                said[name] = _WORDS[name](value)
    return said


def _value(name: str, typed: str) -> float | None:
    found = _NUMBER.match(typed)
    if not found:
        return None
    number = float(found["number"].replace("−", "-").replace(",", "."))
    unit = found["unit"].replace(" ", "")
    if name == "temperature_c" and unit in _FAHRENHEIT:
        return round((number - 32) * 5 / 9, 3)
    if name in ("wind_m_s", "gust_m_s") and unit in _BEAUFORT:
        return _of_force(number)
    factor = _UNITS[name].get(unit)
    return None if factor is None else round(number * factor, 3)


def _in_other_units(name: str, value: float) -> Iterator[str]:
    """The figure to the whole, then to a tenth or hundredth, in each unit that people type it in."""
    others = {unit: factor for unit, factor in _UNITS[name].items() if factor != 1.0}
    for digits in (0, 1, 2):
        if name == "temperature_c":
            yield f"{value * 9 / 5 + 32:.{digits}f} F"
        yield from (f"{value / factor:.{digits}f} {unit}" for unit, factor in others.items())
        if name in ("wind_m_s", "gust_m_s") and not digits:
            yield from (f"{force} bft" for force in range(len(BEAUFORT_FROM_M_S) + 1))


def _of_force(force: float) -> float | None:
    """The middle of a Beaufort force; where the last begins, which has no end. None for what is no force."""
    if force != int(force) or not 0 <= force <= len(BEAUFORT_FROM_M_S):
        return None
    ends = (0.0, *BEAUFORT_FROM_M_S)[int(force) :][:2]
    return round(sum(ends) / len(ends), 3)


_WORDS: dict[str, Callable[[float], str]] = {
    "oktas": lambda value: f"{value:.2g} of 8 covered, {sky_words(whole(value))}",
    "wind_m_s": wind_words,
    "gust_m_s": wind_words,
    "temperature_c": lambda value: f"{signed_minus(value, 1)} °C",
    "humidity_pct": lambda value: f"{value:g} %",
    "rain_mm": lambda value: f"{value:.3g} mm in the hour",
}
