"""Which hour of a row of weather hours holds at an instant, and how far its cloud may lie off.

Rows rise by their start. A forecast gives full hours for some days ahead and steps of six hours after that.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from math import hypot
from typing import Literal

from models.street.weather import WeatherHour

HOUR, LONGEST_STEP = timedelta(hours=1), timedelta(hours=6)
"""What a typed hour holds for; between hours further apart than the second nothing is known."""
AT_ONCE_OKTAS, A_DAY_OKTAS, MOST_OKTAS = 1.0, 0.5, 4.0
"""How far the cloud of a forecast may lie off when it is made, more for each day ahead, and at most: our planning rule,
no source."""

Kind = Literal["typed", "forecast"]


@dataclass(frozen=True, slots=True)
class Cloud:
    """Eighths of cloud at an instant, how far they may lie off either way, and the hour they are from."""

    oktas: float
    spread_oktas: float
    hour: WeatherHour


def kind_of(hour: WeatherHour) -> Kind:
    return "typed" if hour.issued_at is None else "forecast"


def holding(hours: Sequence[WeatherHour], instant: datetime) -> int | None:
    """The place of the hour that holds at the instant, None where none does."""
    k = bisect_right([hour.starts for hour in hours], instant) - 1
    return k if k >= 0 and instant < hours[k].starts + lasts(hours, k) else None


def cloud_at(hours: Sequence[WeatherHour], instant: datetime) -> Cloud | None:
    """The cloud at the instant, None where none is given. Typed hours are taken at their word."""
    k = holding(hours, instant)
    if k is None:
        return None
    hour = hours[k]
    if hour.oktas is None:
        return None
    return Cloud(hour.oktas, 0.0 if hour.issued_at is None else spread_oktas(hours, k), hour)


def spread_oktas(hours: Sequence[WeatherHour], k: int) -> float:
    """How far the cloud of a forecast's hour may lie off either way.

    Half the larger step to the hours beside it, for the edge of a cloud field comes sooner or later than said, and what
    grows with the time since the forecast was made, as if independent of it.
    """
    return min(MOST_OKTAS, hypot(step_oktas(hours, k) / 2, lead_oktas(hours[k])))


def step_oktas(hours: Sequence[WeatherHour], k: int) -> float:
    """The larger step of cloud to the hours beside it, 0 where there are none."""
    own = hours[k].oktas
    beside = [hours[n] for n in (k - 1, k + 1) if 0 <= n < len(hours)]
    near = [hour.oktas for hour in beside if abs(hour.starts - hours[k].starts) <= LONGEST_STEP]
    return max((abs(oktas - own) for oktas in near if oktas is not None and own is not None), default=0.0)


def lead_oktas(hour: WeatherHour) -> float:
    """How far off for the time between making the forecast and its hour."""
    days = 0.0 if hour.issued_at is None else max(0.0, (hour.starts - hour.issued_at) / timedelta(days=1))
    return AT_ONCE_OKTAS + A_DAY_OKTAS * days


def lasts(hours: Sequence[WeatherHour], k: int) -> timedelta:
    """A typed hour is an hour; one of a forecast lasts until the next, if that is near."""
    if hours[k].issued_at is None or k + 1 == len(hours):
        return HOUR
    step = hours[k + 1].starts - hours[k].starts
    return step if step <= LONGEST_STEP else HOUR
