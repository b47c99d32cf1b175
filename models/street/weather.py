"""One hour's weather as it is typed in or fetched, and what its wind is called.

Instants are UTC; None means "not given".
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass, replace
from datetime import datetime
from math import isfinite

from models.clock import require_aware
from models.problems import InputProblem
from models.street.spot import LONGEST_NAME, trimmed

RANGES: dict[str, tuple[float, float, str]] = {
    "oktas": (0.0, 8.0, "eighths of cloud"),
    "wind_m_s": (0.0, 115.0, "metres a second"),
    "gust_m_s": (0.0, 115.0, "metres a second"),
    "temperature_c": (-90.0, 60.0, "degrees Celsius"),
    "humidity_pct": (0.0, 100.0, "per cent"),
    "rain_mm": (0.0, 310.0, "millimetres in the hour"),
}
"""What can be meant at all: a little beyond the records of the World Meteorological Organization (from memory)."""

BEAUFORT_FROM_M_S = (0.3, 1.6, 3.4, 5.5, 8.0, 10.8, 13.9, 17.2, 20.8, 24.5, 28.5, 32.7)
"""Where forces 1 to 12 begin, mean wind at 10 m: WMO-No. 306, code table 1100."""
BEAUFORT_NAMES = (
    "calm", "light air", "light breeze", "gentle breeze", "moderate breeze", "fresh breeze", "strong breeze",
    "near gale", "gale", "strong gale", "storm", "violent storm", "hurricane",
)  # fmt: skip
AIR_KG_M3 = 1.225
"""At sea level and 15 degrees (International Standard Atmosphere)."""
DRAG_CUP = 1.4
"""Drag coefficient of a hollow half sphere with its hollow to the wind (fluid mechanics textbooks, from memory)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WeatherHour:
    """The hour from `starts`. gust_m_s: the strongest gust. source: who says so, "by hand" or a forecast's name.

    issued_at: when the forecast was made, None for what was typed in.
    """

    starts: datetime
    oktas: float | None = None
    wind_m_s: float | None = None
    gust_m_s: float | None = None
    temperature_c: float | None = None
    humidity_pct: float | None = None
    rain_mm: float | None = None
    source: str = "by hand"
    issued_at: datetime | None = None

    @property
    def strongest_m_s(self) -> float | None:
        """The gust where one is given, else the wind."""
        return max((wind for wind in (self.wind_m_s, self.gust_m_s) if wind is not None), default=None)


def checked_weather(hour: WeatherHour) -> WeatherHour:
    """The hour in UTC with its source trimmed, or InputProblem naming the field."""
    for name, (lowest, highest, unit) in RANGES.items():
        value = getattr(hour, name)
        if value is not None and not (isfinite(value) and lowest <= value <= highest):
            raise InputProblem(name, f"{value:g} is outside {lowest:g} to {highest:g} {unit}")
    if hour.wind_m_s is not None and hour.gust_m_s is not None and hour.gust_m_s < hour.wind_m_s:
        raise InputProblem("gust_m_s", f"gusts of {hour.gust_m_s:g} m/s under a wind of {hour.wind_m_s:g} m/s")
    source = trimmed("source", hour.source, LONGEST_NAME)
    if not source:
        raise InputProblem("source", "say who says so")
    issued_at = None if hour.issued_at is None else _utc("issued_at", hour.issued_at)
    return replace(hour, starts=_utc("starts", hour.starts), source=source, issued_at=issued_at)


def beaufort(wind_m_s: float) -> int:
    """The force, 0 to 12, of a wind at 10 m."""
    return bisect_right(BEAUFORT_FROM_M_S, wind_m_s)


def drag_n(wind_m_s: float, face_m2: float, coefficient: float = DRAG_CUP) -> float:
    """Newtons of a wind square on a face: F = rho Cd A v^2 / 2."""
    return AIR_KG_M3 * coefficient * face_m2 * wind_m_s**2 / 2


def _utc(field: str, instant: datetime) -> datetime:
    try:
        return require_aware(instant)
    except ValueError as problem:
        raise InputProblem(field, str(problem)) from problem
