"""A forecast in the form of MET Norway's Locationforecast 2.0 (GeoJSON), read hour by hour.

Which members there are and their units: from memory. What is missing is not given; what cannot be weather refuses the
whole forecast, so that nothing of it is half kept.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise
from typing import Any

from models.clock import require_aware
from models.problems import InputProblem
from models.street.weather import WeatherHour, checked_weather

MOST_STEPS = 500
FURTHEST = timedelta(days=30)
"""From the making of a forecast to any of its hours."""
FIELD = "forecast"
LARGEST = 1e6
DETAILS: dict[str, tuple[str, str, float]] = {
    "oktas": ("cloud_area_fraction", "%", 0.08),
    "wind_m_s": ("wind_speed", "m/s", 1.0),
    "gust_m_s": ("wind_speed_of_gust", "m/s", 1.0),
    "temperature_c": ("air_temperature", "celsius", 1.0),
    "humidity_pct": ("relative_humidity", "%", 1.0),
}
"""By our field: its name there, its unit there, and what turns it into ours."""
RAIN, RAIN_UNIT = "precipitation_amount", "mm"
RAIN_OVER_H = {"next_1_hours": 1, "next_6_hours": 6}
"""Rain of six hours counts as an even sixth an hour."""


@dataclass(frozen=True, slots=True)
class Forecast:
    """hours: rising by their start, each named after `source`."""

    issued_at: datetime
    hours: tuple[WeatherHour, ...]


def read_forecast(data: bytes, source: str) -> Forecast:
    """Raises InputProblem('forecast', ...) for whatever is not a forecast."""
    try:
        tree = json.loads(data, parse_constant=_no_number)
        properties = _part(_part(tree, "the answer").get("properties"), "properties")
        return _forecast(_part(properties.get("meta"), "meta"), properties.get("timeseries"), source)
    except (ValueError, RecursionError) as problem:
        if isinstance(problem, InputProblem):
            raise InputProblem(FIELD, f"{_lead()}: {problem.message}.") from None
        raise InputProblem(FIELD, f"{_lead()}: it is no JSON.") from None


def _forecast(meta: Mapping[str, Any], steps: Any, source: str) -> Forecast:
    _check_units(_part(meta.get("units", {}), "units"))
    issued_at = _instant(meta.get("updated_at"), "updated_at")
    if not isinstance(steps, list) or not 1 <= len(steps) <= MOST_STEPS:
        raise InputProblem(FIELD, f"timeseries is no list of 1 to {MOST_STEPS} steps")
    hours = tuple(_hour(step, issued_at, source) for step in steps)
    if any(later.starts <= before.starts for before, later in pairwise(hours)):
        raise InputProblem(FIELD, "its hours do not follow one another")
    if any(abs(hour.starts - issued_at) > FURTHEST for hour in hours):
        raise InputProblem(FIELD, "its hours lie far from when it was made")
    given = tuple(hour for hour in hours if any(getattr(hour, name) is not None for name in (*DETAILS, "rain_mm")))
    if not given:
        raise InputProblem(FIELD, "it holds no figure at all")
    return Forecast(issued_at, given)


def _hour(step: Any, issued_at: datetime, source: str) -> WeatherHour:
    step = _part(step, "a step")
    starts, data = _instant(step.get("time"), "time"), _part(step.get("data"), "data")
    details = _part(_part(data.get("instant", {}), "instant").get("details", {}), "details")
    figures = {name: _figure(details, there, factor) for name, (there, _, factor) in DETAILS.items()}
    wind, gust = figures["wind_m_s"], figures["gust_m_s"]
    if wind is not None and gust is not None:
        figures["gust_m_s"] = max(wind, gust)  # the gust is the hour's, the wind the instant's
    hour = WeatherHour(starts=starts, source=source, issued_at=issued_at, rain_mm=_rain(data), **figures)
    try:
        return checked_weather(hour)
    except InputProblem as problem:
        raise InputProblem(FIELD, f"{problem.field} at {starts:%Y-%m-%d %H:%M} UTC: {problem.message}") from None


def _rain(data: Mapping[str, Any]) -> float | None:
    for name, hours in RAIN_OVER_H.items():
        if name in data:
            details = _part(_part(data[name], name).get("details", {}), f"details of {name}")
            amount = _figure(details, RAIN, 1 / hours)
            if amount is not None:
                return amount
    return None


def _figure(details: Mapping[str, Any], name: str, factor: float) -> float | None:
    value = details.get(name)
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int | float) or not abs(value) < LARGEST:
        raise InputProblem(FIELD, f"{name} is no number that weather has")
    return round(value * factor, 3)


def _check_units(units: Mapping[str, Any]) -> None:
    for name, unit in _units():
        if units.get(name, unit) != unit:
            raise InputProblem(FIELD, f"{name} comes in another unit than {unit}")


def _units() -> Iterator[tuple[str, str]]:
    yield from ((name, unit) for name, unit, _ in DETAILS.values())
    yield RAIN, RAIN_UNIT


def _instant(value: Any, name: str) -> datetime:
    try:
        return require_aware(datetime.fromisoformat(value))
    except (TypeError, ValueError, OverflowError):
        raise InputProblem(FIELD, f"{name} is no instant") from None


def _part(value: Any, name: str) -> Mapping[str, Any]:
    if not isinstance(value, dict):
        raise InputProblem(FIELD, f"{name} is no object")
    return value


def _no_number(text: str) -> float:
    raise InputProblem(FIELD, f"{text} is no number")


def _lead() -> str:
    return "The service answered with something that is no forecast"
