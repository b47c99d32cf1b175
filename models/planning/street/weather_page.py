"""The weather kept for a spot: what holds at the moment, what the light takes from it, and all of it by day."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from itertools import groupby

from models.clock import day_words, to_local
from models.planning.answers import Moment
from models.planning.moments import ASSUMED_OKTAS, moment_words, sky_words
from models.planning.now import sky_of, spread_stops
from models.planning.street.forecast import Service, service
from models.planning.street.sky import cloud_kept, under_weather, weather_kept
from models.planning.street.weather_form import span_words
from models.store.engine import Store
from models.store.spots import Spot, get_spot
from models.store.weather import KeptHour, hours_at
from models.street.forecast import Cloud, kind_of, lasts, step_oktas
from models.street.weather import WeatherHour
from models.words.said import Said, said
from models.words.street import comfort_words, sources_of
from models.words.weather import age_words, cloud_working, figures_words, source_words

MOST_DAYS = 30
SOURCES_SHOWN = (
    *sources_of("Wind", "Cold and heat"),
    ("Cloud", "of a forecast, turned into eighths; its light by Kasten and Czeplak, 1980; its spread by our own rule"),
)


@dataclass(frozen=True, slots=True)
class HourRow:
    """An hour as it is listed. kind: typed or forecast. over: a typed hour stands over this one."""

    id: int
    version: int
    kind: str
    span: str
    figures: str
    source: str
    over: bool
    hour: WeatherHour


@dataclass(frozen=True, slots=True)
class DayRows:
    day: date
    words: str
    rows: tuple[HourRow, ...]


@dataclass(frozen=True, slots=True)
class WeatherPage:
    """hour: all that is kept of the moment's hour. sky: the moment as the light takes it where no sky is set.

    days: from the moment's day on; earlier: days before it, the latest first. left_out: days of both not shown.
    """

    spot: Spot
    moment: Moment
    answer: Said
    hour: WeatherHour | None
    sky: Moment
    cautions: tuple[str, ...]
    service: Service
    fetched: str
    days: tuple[DayRows, ...]
    earlier: tuple[DayRows, ...]
    left_out: int
    working: tuple[str, ...]
    sources: tuple[tuple[str, str], ...]


def weather_page(store: Store, spot_id: int, moment: Moment, now: datetime) -> WeatherPage:
    """Raises Missing."""
    unset = Moment(moment.instant, moment.zone, ASSUMED_OKTAS, "assumed")
    sky = under_weather(store, unset, spot_id, now)
    with store.reading() as s:
        spot, offered = get_spot(s, spot_id), service(s)
        hours = hours_at(s, spot_id)
        hour, found = weather_kept(s, spot_id, moment.instant), cloud_kept(s, spot_id, moment.instant)
    days, today = _days(hours, spot.zone, now), moment.local.date()
    later, before = [day for day in days if day.day >= today], [day for day in days if day.day < today][::-1]
    return WeatherPage(
        spot=spot,
        moment=moment,
        answer=_answer(spot, moment, hour, sky, now),
        hour=hour,
        sky=sky,
        cautions=() if hour is None else tuple(comfort_words(hour)),
        service=offered,
        fetched=_fetched([hour for hour in hours if hour.issued_at is not None], spot.zone, now),
        days=tuple(later[:MOST_DAYS]),
        earlier=tuple(before[:MOST_DAYS]),
        left_out=len(later[MOST_DAYS:]) + len(before[MOST_DAYS:]),
        working=() if found is None else tuple(_working(hours, *found, sky)),
        sources=SOURCES_SHOWN,
    )


def _answer(spot: Spot, moment: Moment, hour: WeatherHour | None, sky: Moment, now: datetime) -> Said:
    when = f"{moment_words(moment)}, {spot.name}. "
    if hour is None:
        first = said(when, "No weather is kept for this hour", ".")
    else:
        figures = figures_words(hour)
        old = "" if hour.issued_at is None else f", {age_words(hour.issued_at, now)} old"
        first = said(when, figures[0].upper() + figures[1:], f": {hour.source}{old}.")
    off = f", give or take {sky.oktas_spread:.1f} eighths" if sky.oktas_spread else ""
    light = f" The light here goes by {sky.oktas} of 8 covered ({sky_words(sky.oktas)}), {sky.oktas_by}{off}."
    chosen = f" This address sets the sky to {moment.oktas} of 8 instead." if moment.oktas_by == "you set it" else ""
    return first + said(light + chosen)


def _fetched(hours: Sequence[KeptHour], zone: str, now: datetime) -> str:
    """What is kept of forecasts, in words."""
    if not hours:
        return "None is kept yet."
    newest = max(hours, key=lambda hour: (hour.issued_at or now, hour.starts))
    last = to_local(newest.starts, zone)
    reach = f"it reaches to {day_words(last.date())}, {last:%H:%M}"
    return f"Kept is the {source_words(newest.hour, newest.kept_at, now)}; {reach}."


def _working(hours: Sequence[KeptHour], cloud: Cloud, kept: KeptHour, sky: Moment) -> Iterator[str]:
    """How the doubt of the cloud comes about."""
    fetched = [hour.hour for hour in hours if hour.issued_at is not None]
    step = step_oktas(fetched, fetched.index(cloud.hour)) if kept.issued_at is not None else 0.0
    yield from cloud_working(cloud, step, spread_stops(*sky_of(sky)))


def _days(hours: Sequence[KeptHour], zone: str, now: datetime) -> list[DayRows]:
    """The hours by local day, rising."""
    typed = [hour for hour in hours if hour.issued_at is None]
    fetched = [hour for hour in hours if hour.issued_at is not None]
    over = {hour.starts for hour in typed}
    rows = [(hour.starts, _row(row, k, zone, now, over)) for row in (typed, fetched) for k, hour in enumerate(row)]
    rows.sort(key=lambda each: each[0])
    return [
        DayRows(day, day_words(day), tuple(row for _, row in group))
        for day, group in groupby(rows, key=lambda each: to_local(each[0], zone).date())
    ]


def _row(row: Sequence[KeptHour], k: int, zone: str, now: datetime, over: set[datetime]) -> HourRow:
    kept = row[k]
    hour = kept.hour
    typed = kept.issued_at is None
    return HourRow(
        id=kept.id,
        version=kept.version,
        kind=kind_of(hour),
        span=span_words(hour.starts, hour.starts + lasts([each.hour for each in row[k : k + 2]], 0), zone),
        figures=figures_words(hour),
        source=source_words(hour, kept.kept_at, now),
        over=not typed and hour.starts in over,
        hour=hour,
    )
