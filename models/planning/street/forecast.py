"""Fetching a forecast for a spot: off until switched on, on a press only, and not before the last one expires."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from urllib.parse import urlsplit

from sqlalchemy.orm import Session

from models.clock import time_words, to_local
from models.exchange.forecast import DECIMALS, Asked, Refused, ask_forecast
from models.problems import InputProblem
from models.store.caches import get_cache, put_cache
from models.store.engine import Store
from models.store.settings import MET_NORWAY, get_setting
from models.store.spots import Spot, get_spot
from models.store.weather import draft_of, has_forecast, replace_forecast
from models.words.weather import age_words

Ask = Callable[..., Asked]
MET_ATTRIBUTION = "Data from MET Norway, licence CC BY 4.0; cloud turned into eighths."


@dataclass(frozen=True, slots=True)
class Service:
    """The forecast service as it is set. on: whether it may be asked. leaves: what leaves the machine, in words."""

    on: bool
    name: str
    host: str
    attribution: str
    leaves: str


@dataclass(frozen=True, slots=True)
class _Last:
    """What is known of the last time: when to ask again, whether it failed, and what to send along."""

    again_at: datetime
    failed: bool
    last_modified: str


def service(s: Session) -> Service:
    address = str(get_setting(s, "forecast_address"))
    host = urlsplit(address).hostname or ""
    own = address == MET_NORWAY
    leaves = (
        f"One press sends {host} the place of the spot to {DECIMALS} decimals (some 10 m), the contact of the "
        "settings, and this machine's network address; no name and no note."
    )
    return Service(
        on=get_setting(s, "forecast") == "on" and bool(get_setting(s, "forecast_contact")),
        name="MET Norway forecast" if own else f"forecast by {host}"[:100],
        host=host,
        attribution=MET_ATTRIBUTION if own else f"Forecast from {host}: its own terms hold.",
        leaves=leaves,
    )


def fetch_forecast(store: Store, spot_id: int, *, now: datetime, ask: Ask = ask_forecast) -> str:
    """Ask for the forecast of a spot and keep it; in words what came of it. Raises InputProblem('forecast'), Missing.

    The network is asked between two looks at the database, never within one.
    """
    with store.reading() as s:
        spot, found, last = get_spot(s, spot_id), service(s), _last(s, spot_id)
        address, contact = get_setting(s, "forecast_address"), get_setting(s, "forecast_contact")
        kept = has_forecast(s, spot_id)
    if not found.on:
        raise InputProblem("forecast", "Forecasts are off. Switch them on in the settings first.")
    if last and now < last.again_at and (kept or last.failed):
        return _not_yet(spot, last)
    told = last.last_modified if last and kept else ""
    try:
        asked = ask(address, spot.latitude_deg, spot.longitude_deg, contact, found.name, told, now=now)
    except Refused as refused:
        with store.writing() as s:
            _remember(s, spot, address, _Last(now + refused.again_after, True, told), now)
        raise
    with store.writing() as s:
        _remember(s, spot, address, _Last(asked.expires, False, asked.last_modified), now)
        if asked.forecast is None:
            return "The service has nothing newer than what is kept."
        replace_forecast(s, spot_id, [draft_of(spot_id, hour, now) for hour in asked.forecast.hours])
    last_hour = to_local(asked.forecast.hours[-1].starts, spot.zone)
    made = age_words(asked.forecast.issued_at, now)
    return f"The forecast is kept: made {made} ago, it reaches to {last_hour:%A} {last_hour.day} {last_hour:%B %H:%M}."


def _not_yet(spot: Spot, last: _Last) -> str:
    clock = time_words(last.again_at, spot.zone)
    if last.failed:
        return f"The service failed a moment ago and is left alone until {clock}."
    return f"Nothing was asked: the forecast kept here holds until {clock}, when the service has a new one."


def _key(spot_id: int) -> str:
    return f"forecast:{spot_id}"


def _place(spot: Spot, address: str) -> str:
    return f"{address} {spot.latitude_deg:.{DECIMALS}f} {spot.longitude_deg:.{DECIMALS}f}"


def _last(s: Session, spot_id: int) -> _Last | None:
    """None where nothing was asked yet, for this place and from this service."""
    kept = get_cache(s, _key(spot_id))
    if kept is None:
        return None
    found = json.loads(kept)
    if found.pop("place") != _place(get_spot(s, spot_id), get_setting(s, "forecast_address")):
        return None
    return _Last(**found | {"again_at": datetime.fromisoformat(found["again_at"])})


def _remember(s: Session, spot: Spot, address: str, last: _Last, now: datetime) -> None:
    value = {
        "place": _place(spot, address),
        "again_at": last.again_at.isoformat(),
        "failed": last.failed,
        "last_modified": last.last_modified,
    }
    put_cache(s, _key(spot.id), json.dumps(value).encode(), now=now)
