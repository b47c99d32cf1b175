"""What changed over several versions of a briefing, for whoever read any of them; and where people meet instead."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from datetime import datetime

from models.words.briefing_changes import places_told, pressing, same_place, standing_of, the_rest, wording
from models.words.briefing_parts import clock, day_of, meets
from models.words.briefing_times import JUST
from models.workshop.briefing import Facts, Place, Reader, Section

Bases = Sequence[tuple[int, Facts]]
"""Versions that somebody may have read last, with their numbers, latest first."""
AS_ISSUED = "What is written here is as issued, before the move: go by what stands first in this briefing."
MOST_OLD = 4
"""How many changes that are not pressing are told one by one for each older version; our rule."""


def changes_since(bases: Bases, after: Facts, reader: Reader, ahead: Facts | None = None) -> tuple[str, ...]:
    """Everything other than in any of these versions, each said once and named after the latest it is new to; times and
    places first, wording last. ahead: where the workshop was moved since, which says its times by itself."""
    first = _each(bases, lambda was: places_told(was, ahead) if ahead else pressing(was, after))
    rest = _each(bases, lambda was: the_rest(was, after, reader), MOST_OLD)
    told = [*first, *rest, *_each(bases, lambda was: wording(was, after, reader), MOST_OLD)]
    alone = all(number == bases[0][0] for number, _ in told)
    return tuple(line if alone else f"Since version {number}: {line}" for number, line in told)


def moved_from(bases: Bases, after: Facts) -> Facts | None:
    """The latest of these versions against which the workshop was moved, None where there is none."""
    return next((was for _, was in bases if standing_of(after, was) == "moved"), None)


def is_moved(facts: Facts, starts: datetime, point: tuple[float, float]) -> bool:
    """Whether a workshop was moved after this was issued. starts: of its set-up now. point: of its spot now, latitude
    and longitude in degrees."""
    return starts != facts.starts or (facts.spot.latitude_deg, facts.spot.longitude_deg) != point


def instead_words(before: Facts, after: Facts) -> str:
    """When and where people meet now: 'Meet at 13:22 CEST instead of 13:07 CEST.'; '' where that is as it was."""
    return " ".join((*_when_instead(before, after), *_where_instead(before, after)))


def moved_since(ahead: Facts) -> str:
    """That a workshop was moved after its briefing was issued. ahead: what holds now."""
    return (
        f"Moved since this version was issued: {day_of(ahead)}, meet at {clock(ahead, meets(ahead))}, set-up at "
        f"{clock(ahead, ahead.starts)}, {ahead.spot.name}. What stands below is not yet worked over; a new version "
        "follows."
    )


def as_issued(sections: Sequence[Section], facts: Facts, ahead: Facts) -> tuple[Section, ...]:
    """Times and places of a version after which the workshop was moved say that they are those of before."""
    elsewhere = any(_where_instead(facts, ahead))
    stale = ("when", "where") if elsewhere else ("when",)
    return tuple(
        replace(each, paragraphs=(AS_ISSUED, *each.paragraphs)) if each.key in stale else each for each in sections
    )


def _each(bases: Bases, told: Callable[[Facts], Sequence[str]], most: int | None = None) -> Iterator[tuple[int, str]]:
    """With the number of the version; most: how many for each but the latest."""
    said: set[str] = set()
    for place, (number, was) in enumerate(bases):
        lines = [line for line in told(was) if line not in said]
        said.update(lines)
        if most is not None and place and len(lines) > most:
            yield number, f"{len(lines)} more things changed that are neither time nor place: read it anew."
        else:
            yield from ((number, line) for line in lines)


def _when_instead(before: Facts, after: Facts) -> Iterator[str]:
    was, now = meets(before), meets(after)
    days = day_of(before), day_of(after)
    if days[0] != days[1]:
        yield f"Meet on {days[1]} at {clock(after, now)} instead of {days[0]} at {clock(before, was)}."
    elif abs(now - was) >= JUST:
        yield f"Meet at {clock(after, now)} instead of {clock(before, was)}."
    elif abs(after.starts - before.starts) >= JUST:
        yield f"Set-up is at {clock(after, after.starts)} instead of {clock(before, before.starts)}."


def _where_instead(before: Facts, after: Facts) -> Iterator[str]:
    was, now = before.meeting or before.spot, after.meeting or after.spot
    if not same_place(was, now):
        yield _instead("Meet at", "The meeting point", was, now)
    if not same_place(before.spot, after.spot) and now != after.spot:
        yield _instead("The spot is now", "The spot", before.spot, after.spot)


def _instead(start: str, what: str, was: Place, now: Place) -> str:
    if was.name == now.name:
        return f"{what}, {now.name}, lies elsewhere now."
    return f"{start} {now.name} instead of {was.name}."
