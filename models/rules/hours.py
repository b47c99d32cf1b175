"""Days and hours that a record names, held against set-up to packed up."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from models.clock import require_aware
from models.rules.footprint import Footprint

MIDNIGHT = time()


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """Local hours of local days. None and empty: open. weekdays: Monday 0.

    Hours that end no later than they begin go on over midnight, and belong to the day on which they begin.
    """

    first_day: date | None = None
    last_day: date | None = None
    weekdays: tuple[int, ...] = ()
    from_time: time | None = None
    to_time: time | None = None

    def has_day(self, day: date) -> bool:
        return (
            (self.first_day is None or day >= self.first_day)
            and (self.last_day is None or day <= self.last_day)
            and (not self.weekdays or day.weekday() in self.weekdays)
        )


OPEN = Span()


def touches(span: Span, footprint: Footprint) -> bool:
    """Whether any of set-up to packed up lies in it."""
    if span == OPEN:
        return True
    starts, ends = _instants(footprint)
    return any(
        opens <= starts < closes or max(opens, starts) < min(closes, ends)
        for opens, closes in _windows(span, footprint)
    )


def fills(span: Span, footprint: Footprint) -> bool:
    """Whether all of set-up to packed up lies in it."""
    reached, ends = _instants(footprint)
    for opens, closes in _windows(span, footprint):
        if opens <= reached < closes:
            reached = closes
    return reached >= ends and reached > footprint.starts


def edges(span: Span, footprint: Footprint) -> tuple[tuple[datetime, bool], ...]:
    """Instants between set-up and packed up at which its hours begin (True) or end (False), in order; none of an open
    one, and none where one day's hours go on into the next day's."""
    if span.from_time is None and span.to_time is None:
        return ()
    starts, ends = _instants(footprint)
    found = {
        (at, begins) for window in _windows(span, footprint) for at, begins in zip(window, (True, False), strict=True)
    }
    return tuple(sorted((at, begins) for at, begins in found if starts < at < ends and (at, not begins) not in found))


def _windows(span: Span, footprint: Footprint) -> Iterator[tuple[datetime, datetime]]:
    """Opening and closing instants (UTC) on each day that may matter, in turn."""
    zone = footprint.starts.tzinfo
    opens, closes = span.from_time or MIDNIGHT, span.to_time or MIDNIGHT
    day, last = footprint.starts.date() - timedelta(days=1), footprint.ends.astimezone(zone).date()
    while day <= last:
        if span.has_day(day):
            end = day if closes > opens else day + timedelta(days=1)
            yield tuple(require_aware(datetime.combine(on, at, zone)) for on, at in ((day, opens), (end, closes)))  # type: ignore[misc]
        day += timedelta(days=1)


def _instants(footprint: Footprint) -> tuple[datetime, datetime]:
    return require_aware(footprint.starts), require_aware(footprint.ends)
