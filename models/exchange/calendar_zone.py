"""A zone's clocks round an event as a VTIMEZONE (RFC 5545 section 3.6.5), from the time zone database.

Every change of the clocks near the event is its own observance: its onset stands in the local time of before, as the
section asks, and needs no rule that somebody would have to guess.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from icalendar import Timezone, TimezoneDaylight, TimezoneStandard

ROUND = timedelta(days=400)
"""Before and after the event: a year's changes, and what moves with a lunar calendar."""
STEP = timedelta(days=1)
EARLIEST = datetime(1970, 1, 1)  # noqa: DTZ001  a clock on the wall


def timezone_of(zone: str, starts: datetime, ends: datetime) -> Timezone:
    """starts, ends: aware. Raises zoneinfo's errors for an unknown zone."""
    clock, first = ZoneInfo(zone), starts.astimezone(UTC) - ROUND
    component = Timezone()
    component.add("tzid", zone)
    component.add_component(_observance(first.astimezone(clock), EARLIEST, _offset(first, clock)))
    for at in _changes(clock, first, ends.astimezone(UTC) + ROUND):
        before = _offset(at - timedelta(seconds=1), clock)
        onset = at.replace(tzinfo=None) + before
        component.add_component(_observance(at.astimezone(clock), onset, before))
    return component


def _changes(clock: ZoneInfo, first: datetime, last: datetime) -> Iterator[datetime]:
    """The instants (UTC) from which another offset or name holds."""
    at = first
    while at < last:
        after = at + STEP
        if _kind(at, clock) != _kind(after, clock):
            yield _between(at, after, clock)
        at = after


def _between(early: datetime, late: datetime, clock: ZoneInfo) -> datetime:
    """The change to the second; there is one at most in a step."""
    while late - early > timedelta(seconds=1):
        middle = early + timedelta(seconds=(late - early).total_seconds() // 2)
        early, late = (middle, late) if _kind(middle, clock) == _kind(early, clock) else (early, middle)
    return late.replace(microsecond=0)


def _kind(at: datetime, clock: ZoneInfo) -> tuple[timedelta, str | None]:
    local = at.astimezone(clock)
    return _offset(at, clock), local.tzname()


def _offset(at: datetime, clock: ZoneInfo) -> timedelta:
    return at.astimezone(clock).utcoffset() or timedelta()


def _observance(local: datetime, onset: datetime, before: timedelta) -> TimezoneStandard | TimezoneDaylight:
    """local: an instant at which it holds."""
    part = TimezoneDaylight() if local.dst() else TimezoneStandard()
    part.add("dtstart", onset)
    part.add("tzoffsetfrom", before)
    part.add("tzoffsetto", local.utcoffset() or timedelta())
    part.add("tzname", local.tzname() or "")
    return part
