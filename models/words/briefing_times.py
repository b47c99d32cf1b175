"""Which times of a day are other than they were, in words: each shift once, however many rows it moves."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta

from models.clock import day_words, to_local
from models.words.briefing_parts import clock, meets, sentence
from models.words.briefing_parts import packed as packed_up
from models.words.running import lasts_words
from models.workshop.briefing import Facts, TimedBlock

JUST = timedelta(seconds=30)
MOST = 3
"""Of how many blocks a new note is told in full: common practice, no source."""


def times_told(before: Facts, after: Facts) -> Iterator[str]:
    """The day, when we meet, then each time that did not just go along."""
    was, now = (to_local(each.starts, each.zone).date() for each in (before, after))
    if was != now:
        yield f"The day is now {day_words(now)}; it was {day_words(was)}."
    if before.zone != after.zone:
        yield f"Times are now those of {after.zone}."
    meet, set_up, packed = (
        _since(before, after, meets(before), meets(after)),
        _since(before, after, before.starts, after.starts),
        _since(before, after, packed_up(before), packed_up(after)),
    )
    clocks = (clock(after, meets(after)), clock(after, after.starts), clock(after, packed_up(after)))
    if abs(meet) >= JUST and max(abs(set_up - meet), abs(packed - meet)) < JUST:
        at = f"meet at {clocks[0]}, set-up at {clocks[1]}, packed up by {clocks[2]}"
        yield f"Everything is {_later(meet).removesuffix(', ')}: {at}."
    else:
        if abs(meet) >= JUST or was != now:
            yield f"Meet {_later(meet)}at {clocks[0]}."
        if abs(set_up) >= JUST:
            yield f"Set-up {_later(set_up)}at {clocks[1]}."
        if abs(packed) >= JUST:
            yield f"Packed up {_later(packed)}by {clocks[2]}."
    ends = _since(before, after, before.ends, after.ends)
    if min(abs(ends), abs(ends - packed)) >= JUST:
        yield f"The time there ends {_later(ends)}at {clock(after, after.ends)}."
    yield from _blocks(before, after, (meet, set_up))


def _blocks(before: Facts, after: Facts, along: Sequence[timedelta]) -> Iterator[str]:
    """along: shifts that were said already."""
    then, now = ({block.key: block for block in each.blocks} for each in (before, after))
    new = [block.title for key, block in now.items() if key not in then]
    gone = [block.title for key, block in then.items() if key not in now]
    if new:
        yield f"New in the running order: {', '.join(new)}."
    if gone:
        yield f"No longer in the running order: {', '.join(gone)}."
    pairs = [(then[key], block) for key, block in now.items() if key in then]
    yield from _shifts(before, after, pairs, along)
    yield from _lengths(pairs)
    noted = [block for was, block in pairs if (was.note, was.title) != (block.note, block.title)]
    if len(noted) > MOST:
        yield f"Other notes in the timetable: {', '.join(block.title for block in noted)}."
        return
    yield from (f"{each.title}: {sentence(each.note) if each.note else 'nothing is noted any more.'}" for each in noted)


def _shifts(
    before: Facts, after: Facts, pairs: Sequence[tuple[TimedBlock, TimedBlock]], along: Sequence[timedelta]
) -> Iterator[str]:
    """Blocks that moved by as much as one another are told together."""
    alike: dict[int, list[TimedBlock]] = {}
    for was, block in pairs:
        shift = _since(before, after, was.starts, block.starts)
        if abs(shift) >= JUST and all(abs(shift - told) >= JUST for told in along):
            alike.setdefault(_minutes(shift), []).append(block)
    for minutes, blocks in alike.items():
        said = _later(timedelta(minutes=minutes))
        if len(blocks) == 1:
            yield f"{blocks[0].title} begins {said}at {clock(after, blocks[0].starts)}."
        else:
            times = (f"{each.title} at {clock(after, each.starts)}" for each in blocks)
            yield f"These begin {said.removesuffix(', ')}: {', '.join(times)}."


def _lengths(pairs: Sequence[tuple[TimedBlock, TimedBlock]]) -> Iterator[str]:
    alike: dict[timedelta, list[str]] = {}
    for was, block in pairs:
        longer = (block.ends - block.starts) - (was.ends - was.starts)
        if abs(longer) >= JUST:
            alike.setdefault(timedelta(minutes=_minutes(longer)), []).append(block.title)
    for longer, titles in alike.items():
        much = f"{_lasts(longer)} {'longer' if longer > timedelta() else 'less'}"
        yield f"{titles[0]} takes {much}." if len(titles) == 1 else f"Each takes {much}: {', '.join(titles)}."


def _minutes(length: timedelta) -> int:
    """Never 0 for what is told: half a minute counts as one."""
    return round(length.total_seconds() / 60) or (1 if length > timedelta() else -1)


def _since(before: Facts, after: Facts, was: datetime, now: datetime) -> timedelta:
    """How much later by the clock on the wall, the day left out: a move to another day says so by itself."""
    then, later = (to_local(at, facts.zone).replace(tzinfo=None) for at, facts in ((was, before), (now, after)))
    days = to_local(after.starts, after.zone).date() - to_local(before.starts, before.zone).date()
    return later - then - days


def _later(shift: timedelta) -> str:
    """'15 minutes earlier, ', '' where the hour is the same."""
    if abs(shift) < JUST:
        return ""
    return f"{_lasts(shift)} {'later' if shift > timedelta() else 'earlier'}, "


def _lasts(length: timedelta) -> str:
    """To the minute: nobody meets by the second."""
    seconds = abs(length.total_seconds())
    return lasts_words(60 * round(seconds / 60) if seconds >= 60 else seconds)
