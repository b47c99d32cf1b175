"""Instants, local days and clock changes.

An instant is an aware datetime; everything here answers in UTC. Arithmetic is done in UTC only, since two datetimes of
one zone subtract without the clock change between them.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from functools import lru_cache
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

FIRST_YEAR, LAST_YEAR = 1900, 2100
"""Years for which the low-precision sun formulas of models/sky/sun.py hold (NOAA solar calculator: 1901 to 2099)."""

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


class UnknownZone(ValueError):
    """A time zone name that the zone database does not have."""

    def __init__(self, zone: str) -> None:
        super().__init__(f"{zone!r} is not a known time zone: write it like Europe/Amsterdam")
        self.zone = zone


class TimeInGap(ValueError):
    """A local time that the clocks jump over. `choices`: the instants (UTC) just as far before and after the jump."""

    def __init__(self, local: datetime, zone: str, choices: tuple[datetime, datetime]) -> None:
        before, after = (to_local(choice, zone) for choice in choices)
        self.local, self.zone, self.choices = f"{local:%Y-%m-%d %H:%M}", zone, choices
        super().__init__(
            f"{self.local} does not exist in {zone}: the clocks go forward over it. "
            f"Choose {before:%H:%M} or {after:%H:%M}"
        )


class TimeIsAmbiguous(ValueError):
    """A local time that the clocks show twice. `choices`: the two instants (UTC), earlier first: fold 0 and fold 1."""

    def __init__(self, local: datetime, zone: str, choices: tuple[datetime, datetime]) -> None:
        first, second = (zone_short(choice, zone) for choice in choices)
        self.local, self.zone, self.choices = f"{local:%Y-%m-%d %H:%M}", zone, choices
        super().__init__(
            f"{self.local} comes twice in {zone}: the clocks go back over it. "
            f"Choose the first ({first}) or the second ({second})"
        )


def require_aware(instant: datetime) -> datetime:
    """The instant in UTC; ValueError for a naive datetime, which names no instant."""
    if instant.utcoffset() is None:
        raise ValueError(f"{instant.isoformat()} has no time zone")
    return instant.astimezone(UTC)


def local_day(day: date, zone: str) -> tuple[datetime, datetime]:
    """First instant of the local date and first instant of the next one (UTC).

    23, 24 or 25 hours as the clocks go; of no length for a date that the zone leaves out.
    """
    _require_reach(day)
    where = _zone(zone)
    return _first_instant(day, where), _first_instant(day + timedelta(days=1), where)


def resolve_local(day: date, clock_time: time, zone: str, fold: int | None = None) -> datetime:
    """The instant (UTC) at which the clocks of `zone` show this; `fold` 0 or 1 picks one of two.

    Raises TimeInGap, TimeIsAmbiguous (only while `fold` is None) or UnknownZone.
    """
    if clock_time.tzinfo is not None:
        raise ValueError("a clock time carries no zone of its own")
    _require_reach(day)
    local = datetime.combine(day, clock_time)
    first, second = _both_folds(local, _zone(zone))
    if first > second:
        raise TimeInGap(local, zone, (second, first))
    if first < second and fold is None:
        raise TimeIsAmbiguous(local, zone, (first, second))
    return second if fold == 1 else first


def to_local(instant: datetime, zone: str) -> datetime:
    """The instant as the clocks of `zone` show it, aware."""
    return require_aware(instant).astimezone(_zone(zone))


def zone_short(instant: datetime, zone: str) -> str:
    """Short name of the time in force, "CEST", or "UTC+04" where the zone has no letters."""
    name = to_local(instant, zone).tzname() or ""
    return f"UTC{name}" if name[:1] in "+-" else name


def clock_words(instant: datetime, zone: str) -> str:
    """'16:40', where the zone stands beside it already."""
    return f"{to_local(instant, zone):%H:%M}"


def time_words(instant: datetime, zone: str) -> str:
    """'16:40 CEST'."""
    return f"{clock_words(instant, zone)} {zone_short(instant, zone)}"


def instant_words(instant: datetime, zone: str) -> str:
    """'Saturday 17 October 2026, 16:40 CEST'."""
    return f"{day_words(to_local(instant, zone).date())}, {time_words(instant, zone)}"


@lru_cache(maxsize=4096)
def day_words(day: date) -> str:
    """'Saturday 17 October 2026'."""
    return f"{day:%A} {day.day} {day:%B %Y}"


def unix_s(instant: datetime) -> float:
    """Seconds since 1970-01-01T00:00Z, leap seconds not counted."""
    return require_aware(instant).timestamp()


def from_unix_s(seconds: float) -> datetime:
    """The instant (UTC) of `unix_s`, to the microsecond."""
    return datetime(1970, 1, 1, tzinfo=UTC) + timedelta(seconds=float(seconds))


def _zone(zone: str) -> ZoneInfo:
    try:
        return ZoneInfo(zone)
    except (ZoneInfoNotFoundError, ValueError, OSError) as problem:
        raise UnknownZone(zone) from problem


def _require_reach(day: date) -> None:
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise ValueError(f"{day.isoformat()} is out of reach: give a date from {FIRST_YEAR} to {LAST_YEAR}")


def _both_folds(local: datetime, where: ZoneInfo) -> tuple[datetime, datetime]:
    """The local time read with the clock before (fold 0) and after (fold 1) a change; equal but near a change."""
    first, second = (local.replace(tzinfo=where, fold=fold).astimezone(UTC) for fold in (0, 1))
    return first, second


def _first_instant(day: date, where: ZoneInfo) -> datetime:
    first, second = _both_folds(datetime.combine(day, time()), where)
    return first if first <= second else _jump_between(second, first, where)


def _jump_between(before: datetime, after: datetime, where: ZoneInfo) -> datetime:
    """The instant, to the second, at which the zone's offset changes between the two."""
    old = before.astimezone(where).utcoffset()
    while after - before > timedelta(seconds=1):
        middle = before + timedelta(seconds=(after - before) // timedelta(seconds=2))
        before, after = (middle, after) if middle.astimezone(where).utcoffset() == old else (before, middle)
    return after
