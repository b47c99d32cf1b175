"""What is said of weather that is kept for a spot: who says so, how old it is, what the light takes from it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from models.street.forecast import A_DAY_OKTAS, AT_ONCE_OKTAS, Cloud, lead_oktas
from models.street.weather import BEAUFORT_NAMES, WeatherHour, beaufort
from models.words.said import signed_minus

BY_HAND = "by hand"
OUR_RULE = "our planning rule, no source"


def age_words(since: datetime, now: datetime) -> str:
    """'under an hour', '3 h', '2 days'."""
    hours = (now - since).total_seconds() / 3600
    if hours < 1:
        return "under an hour"
    return f"{int(hours)} h" if hours < 48 else f"{int(hours / 24)} days"


def cloud_by_words(hour: WeatherHour, kept_at: datetime, now: datetime) -> str:
    """Who says what the cloud is: 'by forecast of 3 h ago', 'typed 2 h ago'."""
    if hour.issued_at is not None:
        return f"by forecast of {age_words(hour.issued_at, now)} ago"
    who = "" if hour.source == BY_HAND else f" ({hour.source})"
    return f"typed {age_words(kept_at, now)} ago{who}"


def figures_words(hour: WeatherHour) -> str:
    """'5 of 8 covered, wind 4 m/s, gusts 9 m/s (force 5, fresh breeze), 12 °C, humidity 70 %, 0.4 mm of rain'."""
    return ", ".join(_figures(hour)) or "nothing given"


def source_words(hour: WeatherHour, kept_at: datetime, now: datetime) -> str:
    """'MET Norway forecast, 3 h old'; 'by hand, typed 2 h ago'."""
    if hour.issued_at is not None:
        return f"{hour.source}, {age_words(hour.issued_at, now)} old"
    return f"{hour.source}, typed {age_words(kept_at, now)} ago"


def wind_words(wind_m_s: float) -> str:
    """'6.8 m/s, force 4, moderate breeze'."""
    force = beaufort(wind_m_s)
    return f"{wind_m_s:.3g} m/s, force {force}, {BEAUFORT_NAMES[force]}"


def cloud_working(cloud: Cloud, step_oktas: float, doubt_stops: float) -> Iterator[str]:
    """How the spread of a forecast's cloud comes about, with its numbers in it."""
    if cloud.hour.issued_at is None:
        yield "Cloud as typed, taken at its word: it adds no doubt of its own beyond that of broken cloud."
        return
    lead_h = max(0.0, (cloud.hour.starts - cloud.hour.issued_at).total_seconds() / 3600)
    lead = lead_oktas(cloud.hour)
    yield (
        f"Age: {AT_ONCE_OKTAS:g} + {A_DAY_OKTAS:g} × {lead_h:.0f} h / 24 h = {lead:.1f} eighths; hours beside it: half "
        f"of {step_oktas:.1f} = {step_oktas / 2:.1f} eighths"
    )
    yield (
        f"Spread = √({lead:.1f}² + {step_oktas / 2:.1f}²), at most 4 = {cloud.spread_oktas:.1f} eighths either way; "
        f"half the stops between its ends, by Kasten and Czeplak's cloud = {doubt_stops:.2f} stop ({OUR_RULE})"
    )


def _figures(hour: WeatherHour) -> Iterator[str]:
    if hour.oktas is not None:
        yield f"{hour.oktas:.2g} of 8 covered"
    if hour.wind_m_s is not None or hour.gust_m_s is not None:
        yield _wind(hour)
    if hour.temperature_c is not None:
        yield f"{signed_minus(hour.temperature_c, 0)} °C"
    if hour.humidity_pct is not None:
        yield f"humidity {hour.humidity_pct:.0f} %"
    if hour.rain_mm is not None:
        yield f"{hour.rain_mm:.2g} mm of rain" if hour.rain_mm else "no rain"


def _wind(hour: WeatherHour) -> str:
    force = beaufort(hour.strongest_m_s or 0.0)
    mean = "wind not given" if hour.wind_m_s is None else f"wind {hour.wind_m_s:.3g} m/s"
    gusts = "" if hour.gust_m_s is None else f", gusts {hour.gust_m_s:.3g} m/s"
    return f"{mean}{gusts} (force {force}, {BEAUFORT_NAMES[force]})"
