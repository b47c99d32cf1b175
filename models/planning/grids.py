"""Instants to work out: a local day in steps, a year by local quarter hours."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import NDArray

from models.clock import local_day, unix_s

QUARTERS = 96
QUARTER_S = 900.0


def day_steps(day: date, zone: str, step_min: int = 5) -> NDArray[np.float64]:
    """Unix seconds from the local date's first instant to its last, both in; 23, 24 or 25 hours of them."""
    start, end = local_day(day, zone)
    return np.arange(unix_s(start), unix_s(end) + 1, step_min * 60.0)


def year_quarters(year: int, zone: str) -> NDArray[np.float64]:
    """(days, 96) unix seconds of each local quarter hour; nan where the clocks skip it, the first where they repeat."""
    days = [date(year, 1, 1) + timedelta(days=k) for k in range((date(year + 1, 1, 1) - date(year, 1, 1)).days)]
    place = ZoneInfo(zone)
    return np.stack([_quarters_of(day, place) for day in days])


def _quarters_of(day: date, place: ZoneInfo) -> NDArray[np.float64]:
    wall = datetime.combine(day, time(), UTC).timestamp() + QUARTER_S * np.arange(QUARTERS, dtype=np.float64)
    offsets = {_offset_s(day, clock, place, fold) for clock in (time(0), time(23, 45)) for fold in (0, 1)}
    if len(offsets) == 1:
        return wall - offsets.pop()
    return np.array([_instant(day, k, place) for k in range(QUARTERS)])


def _offset_s(day: date, clock: time, place: ZoneInfo, fold: int) -> float:
    offset = datetime.combine(day, clock, place).replace(fold=fold).utcoffset()
    assert offset is not None  # noqa: S101  a ZoneInfo always answers
    return offset.total_seconds()


def _instant(day: date, quarter: int, place: ZoneInfo) -> float:
    local = datetime.combine(day, time(quarter // 4, quarter % 4 * 15), place)
    exists = local.astimezone(UTC).astimezone(place).replace(tzinfo=None) == local.replace(tzinfo=None)
    return local.timestamp() if exists else float("nan")
