"""The sky of a moment whose address names none: the weather kept for the spot, else the month's usual cloud."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from sqlalchemy.orm import Session

from models.planning.answers import Moment
from models.store.engine import Store
from models.store.settings import get_setting
from models.store.weather import FIGURES, KeptHour, hours_at
from models.street.forecast import HOUR, LONGEST_STEP, Cloud, cloud_at, holding
from models.street.weather import WeatherHour
from models.words.weather import cloud_by_words


def under_weather(store: Store, moment: Moment, spot_id: int | None, now: datetime) -> Moment:
    """The moment with the cloud kept for the spot then, typed before forecast; past that the organiser's usual cloud
    of the month; past that, and where the address names a sky, as it is."""
    if moment.oktas_by != "assumed":
        return moment
    with store.reading() as s:
        found = None if spot_id is None else cloud_kept(s, spot_id, moment.instant)
        usual = get_setting(s, "cloud_by_month")
    if found:
        cloud, kept = found
        by = cloud_by_words(cloud.hour, kept.kept_at, now)
        return replace(
            moment, oktas=whole(cloud.oktas), oktas_by=by, oktas_spread=round(cloud.spread_oktas, 3), of_hour=True
        )
    if usual:
        local = moment.local
        return replace(
            moment, oktas=whole(usual[local.month - 1]), oktas_by=f"assumed, usual for {local:%B}", of_hour=True
        )
    return moment


def cloud_kept(s: Session, spot_id: int, instant: datetime) -> tuple[Cloud, KeptHour] | None:
    """The cloud at an instant and the hour it is from."""
    for row in _rows(s, spot_id, instant):
        hours = [kept.hour for kept in row]
        found = cloud_at(hours, instant)
        if found:
            return found, row[hours.index(found.hour)]
    return None


def weather_kept(s: Session, spot_id: int, instant: datetime) -> WeatherHour | None:
    """All that is kept of the hour: what was typed, and of a forecast what was not."""
    rows = [[kept.hour for kept in row] for row in _rows(s, spot_id, instant)]
    found = [row[k] for row in rows if (k := holding(row, instant)) is not None]
    if len(found) < 2:
        return found[0] if found else None
    typed, forecast = found
    missing = {name: getattr(forecast, name) for name in FIGURES if getattr(typed, name) is None}
    given = {name: value for name, value in missing.items() if value is not None}
    if not given:
        return typed
    both = f"{typed.source}, the rest from {forecast.source}"
    return replace(typed, **given, source=both, issued_at=forecast.issued_at)


def whole(oktas: float) -> int:
    """To the nearest eighth, a half up."""
    return int(oktas + 0.5)


def _rows(s: Session, spot_id: int, instant: datetime) -> tuple[list[KeptHour], list[KeptHour]]:
    """The hours round an instant with those beside them: typed, then forecast."""
    found = hours_at(s, spot_id, instant - 2 * LONGEST_STEP, instant + LONGEST_STEP + HOUR)
    return [hour for hour in found if hour.issued_at is None], [hour for hour in found if hour.issued_at is not None]
