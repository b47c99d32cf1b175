"""A whole year at a spot by local quarter hours, from the same light as one instant."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from models.clock import local_day, to_local, zone_short
from models.drawing.year_map import ClockChange, YearMap, YearMoment
from models.light.flash import Choice, reserve_series
from models.planning.answers import Moment
from models.planning.facings import behind_ev, face_ev
from models.planning.grids import year_quarters
from models.planning.light import SpotLight, light_series
from models.planning.memory import Memory
from models.sky.events import crossings
from models.sky.sun import SUN_DEG
from models.street.spot import SpotGround

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Year:
    """EV100 of face and backdrop, (days, 96) by local quarter hours; nan where the clocks skip one."""

    first_day: date
    face_ev: Floats
    behind_ev: Floats | None


_MEMORY: Memory[Year] = Memory(most=24)
_SUN_HOURS: Memory[tuple[Floats, Floats]] = Memory(most=200)


def year_at(light: SpotLight, year: int, oktas: float, looking_deg: float | None) -> Year:
    """The year at a spot, worked out once for each sky and bearing."""
    key = repr((light.key, year, oktas, looking_deg))
    return _MEMORY.once(key, lambda: _worked_out(light, year, oktas, looking_deg))


def year_map_of(
    year: Year, light: SpotLight, moment: Moment, choice: Choice, figures: tuple[str, ...], quantity: str
) -> YearMap:
    """What the year map shows: stops in hand, or EV."""
    in_hand = quantity == "reserve"
    values = reserve_series(choice, year.face_ev, year.behind_ev) if in_hand else year.face_ev
    rise, fall = _kept_sun_hours(light.spot, year.first_day, len(year.face_ev))
    local = moment.local
    shown = "Stops in hand" if in_hand else "Light on the face"
    return YearMap(
        title=f"{shown} through {year.first_day.year} at {light.spot.name}",
        desc="Days of the year across, hours of the local clock up, with sunrise and sunset.",
        first_day=year.first_day,
        values=values,
        quantity="reserve" if in_hand else "ev",
        sunrise_hour=rise,
        sunset_hour=fall,
        zone_words=_zone_words(light.spot.zone, year.first_day),
        clock_changes=_clock_changes(light.spot.zone, year.first_day, len(values)),
        moment=YearMoment((local.date() - year.first_day).days, local.hour + local.minute / 60, figures),
    )


def _worked_out(light: SpotLight, year: int, oktas: float, looking_deg: float | None) -> Year:
    unix = year_quarters(year, light.spot.zone)
    flat = unix.ravel()
    known = np.isfinite(flat)
    series = light_series(light, flat[known], oktas, () if looking_deg is None else (looking_deg,))
    face = _grid(face_ev(series.light, looking_deg), known, unix.shape)
    behind = None if looking_deg is None else _grid(behind_ev(series.light, looking_deg), known, unix.shape)
    return Year(date(year, 1, 1), face, behind)


def _grid(values: Floats, known: NDArray[np.bool_], shape: tuple[int, ...]) -> Floats:
    grid = np.full(known.shape, np.nan)
    grid[known] = values
    return grid.reshape(shape)


def _kept_sun_hours(spot: SpotGround, first: date, days: int) -> tuple[Floats, Floats]:
    """Worked out once for each place and year."""
    key = repr((spot.zone, spot.latitude_deg, spot.longitude_deg, first.year))
    return _SUN_HOURS.once(key, lambda: _sun_hours(spot, first, days))


def _sun_hours(spot: SpotGround, first: date, days: int) -> tuple[Floats, Floats]:
    """Local clock hours of each day's first sunrise and last sunset, (days,) each, nan for none."""
    start, end = local_day(first, spot.zone)[0], local_day(first + timedelta(days=days), spot.zone)[0]
    rise, fall = np.full((2, days), np.nan)
    for sun in crossings(SUN_DEG, start, end, spot.latitude_deg, spot.longitude_deg):
        local = to_local(sun.instant, spot.zone)
        day, hour = (local.date() - first).days, local.hour + local.minute / 60 + local.second / 3600
        if not sun.rising:
            fall[day] = hour
        elif np.isnan(rise[day]):
            rise[day] = hour
    return rise, fall


def _zone_words(zone: str, first: date) -> str:
    """'CET and CEST', or the one name where the clocks do not change."""
    names = [zone_short(local_day(date(first.year, month, 1), zone)[0], zone) for month in (1, 7)]
    return " and ".join(dict.fromkeys(names))


def _clock_changes(zone: str, first: date, days: int) -> tuple[ClockChange, ...]:
    found = []
    for k in range(days):
        day = first + timedelta(days=k)
        start, end = local_day(day, zone)
        before, after = to_local(start, zone).utcoffset(), to_local(end, zone).utcoffset()
        if before != after and before is not None and after is not None:
            way = "forward" if after > before else "back"
            found.append(ClockChange(k, f"clocks {way} {day.day} {day:%b}"))
    return tuple(found)
