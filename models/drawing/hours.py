"""The hours of a local day as an axis shows them, with the clock change if there is one."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta

from models.clock import to_local, zone_short

_QUARTER = timedelta(minutes=15)


def full_hours(start: datetime, end: datetime, zone: str, step: int) -> Iterator[tuple[datetime, str]]:
    """Instants between start and end at which the local clock shows a multiple of `step` hours, with its figure.

    An hour that comes twice is yielded twice, one that the clocks jump over not at all.
    """
    instant = start
    while instant < end:
        local = to_local(instant, zone)
        if local.minute == 0 and local.hour % step == 0:
            yield instant, f"{local.hour}"
        instant += _QUARTER


def clock_change(start: datetime, end: datetime, zone: str) -> datetime | None:
    """The first quarter of an hour with another offset than the day began with; None on an ordinary day."""
    offset, instant = to_local(start, zone).utcoffset(), start
    while instant < end:
        if to_local(instant, zone).utcoffset() != offset:
            return instant
        instant += _QUARTER
    return None


def zone_words(start: datetime, end: datetime, zone: str) -> tuple[str, ...]:
    """'hours in CEST', and on a clock-change day from when on in which time."""
    change = clock_change(start, end, zone)
    before = f"hours in {zone_short(start, zone)}"
    if change is None:
        return (before,)
    forward = (to_local(change, zone).utcoffset() or timedelta()) > (to_local(start, zone).utcoffset() or timedelta())
    turn = "forward" if forward else "back"
    local = to_local(change, zone)
    return before, f"clocks go {turn} to {local.hour}:{local:%M} {zone_short(change, zone)}"
