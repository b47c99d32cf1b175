"""The day's turning points in words: of the sky over a town, and of the sun at one spot."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from math import ceil

from models.clock import from_unix_s, to_local, unix_s
from models.planning.answers import Moment, TurningPoint
from models.sky.events import DayEvents, Limits, crossings, day_events
from models.store.engine import Store
from models.store.settings import get_setting
from models.store.spots import Spot


def limits_of(store: Store) -> Limits:
    """The golden and blue hour as the organiser set them."""
    with store.reading() as s:
        golden, blue = get_setting(s, "golden_limits"), get_setting(s, "blue_limits")
    return Limits((golden[0], golden[1]), (blue[0], blue[1]))


def events_at(store: Store, spot: Spot, moment: Moment) -> DayEvents:
    """Sun, golden and blue hour of the moment's local date at a spot."""
    day = to_local(moment.instant, spot.zone).date()
    return day_events(day, spot.zone, spot.latitude_deg, spot.longitude_deg, limits_of(store))


def town_turns(store: Store, spot: Spot, moment: Moment) -> tuple[TurningPoint, ...]:
    """What every spot of a town shares: sunrise, noon, sunset, lamps on and off, by the clock of the moment."""
    day = to_local(moment.instant, moment.zone).date()
    events = day_events(day, moment.zone, spot.latitude_deg, spot.longitude_deg, limits_of(store))
    with store.reading() as s:
        lighting_up = float(get_setting(s, "lighting_up_deg"))
    turns = [*_sun(events, moment.zone)]
    for crossing in crossings(lighting_up, events.start, events.end, spot.latitude_deg, spot.longitude_deg):
        words = "lamps off" if crossing.rising else "lamps on"
        turns.append(turn(crossing.instant, words, moment.zone))
    return tuple(sorted(turns, key=lambda point: point.instant))


def turn(instant: datetime, words: str, zone: str) -> TurningPoint:
    """A turning point at the first whole minute after it, when it can be seen to have happened; with its local time."""
    minute = from_unix_s(ceil(unix_s(instant) / 60) * 60)
    return TurningPoint(minute, words, f"{to_local(minute, zone):%H:%M}")


def _sun(events: DayEvents, zone: str) -> Iterator[TurningPoint]:
    if events.sunrise:
        yield turn(events.sunrise, "sunrise", zone)
    if events.highest_deg > 0:
        yield turn(events.noon, "sun highest", zone)
    if events.sunset:
        yield turn(events.sunset, "sunset", zone)
