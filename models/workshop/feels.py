"""Whether an hour is hot or cold for people who stand about, as far as it is known."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from models.street.comfort import heat, heat_index_c, wind_chill_c
from models.street.weather import WeatherHour
from models.workshop.hazards import HEAT_BEGINS_C, STANDING_ABOUT_COLD_C


@dataclass(frozen=True, slots=True)
class Feels:
    """which: "not known" without a temperature. index_c: of the wind chill or the heat index, where there is one."""

    which: Literal["cold", "heat", "neither", "not known"]
    temperature_c: float | None = None
    index_c: float | None = None

    @property
    def heat_or_cold(self) -> bool:
        """Whether models rest for longer; not known is taken as neither."""
        return self.which in ("cold", "heat")


def feels_of(hour: WeatherHour | None) -> Feels:
    """By the published indices; where no humidity is known, heat goes by the air's temperature alone."""
    if hour is None or hour.temperature_c is None:
        return Feels("not known")
    air_c = hour.temperature_c
    chilled_c = None if hour.wind_m_s is None else wind_chill_c(air_c, hour.wind_m_s)
    heated_c = None if hour.humidity_pct is None else heat_index_c(air_c, hour.humidity_pct)
    if air_c <= STANDING_ABOUT_COLD_C:
        return Feels("cold", air_c, chilled_c)
    if heat(heated_c) != "none" or (hour.humidity_pct is None and air_c >= HEAT_BEGINS_C):
        return Feels("heat", air_c, heated_c)
    return Feels("neither", air_c)
