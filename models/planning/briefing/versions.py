"""Issuing a briefing in numbered versions, and what its readers get: the latest that was issued, else a draft.

What changed is told against each version that somebody may have read last: whoever skipped one still learns of a move.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from itertools import pairwise, zip_longest
from typing import Any

from models.clock import to_local
from models.planning.briefing.facts import facts_of
from models.store.briefings import Issued, keep_issued, latest_two, recent_of
from models.store.engine import Store
from models.store.rules import get_workshop
from models.store.spots import shelf as spots
from models.words.briefing_changes import all_changes
from models.words.briefing_since import (
    Bases,
    as_issued,
    changes_since,
    instead_words,
    is_moved,
    moved_from,
    moved_since,
)
from models.words.briefing_voices import briefing_of
from models.workshop.briefing import Briefing, Facts, Reader

LAST_READ, AT_LEAST = timedelta(days=14), 3
"""Changes are told against versions that were the latest within so long, and against so many at least: our rule."""


@dataclass(frozen=True, slots=True)
class Current:
    """What readers are told now. version: 0 and issued: None for a draft. bases: the versions before that somebody may
    have read last, latest first, with their numbers. ahead: what holds now where the workshop was moved since."""

    facts: Facts
    bases: Bases
    version: int
    issued: date | None
    ahead: Facts | None = None

    @property
    def before(self) -> Facts | None:
        """The version before, None for none."""
        return self.bases[0][1] if self.bases else None

    @property
    def moved(self) -> str:
        """That the workshop was moved since, in words, '' where it was not."""
        return moved_since(self.ahead) if self.ahead else ""

    def briefing(self, reader: Reader) -> Briefing:
        told = briefing_of(self.facts, reader, self.version, self.issued, self.before)
        if told.standing == "called off":
            return replace(told, changes=())
        changes = changes_since(self.bases, self.facts, reader, self.ahead)
        if self.ahead is None:
            was = moved_from(self.bases, self.facts)
            return replace(told, changes=changes, **(_instead(was, self.facts) if was else {}))
        now = briefing_of(self.ahead, reader, self.version, self.issued, None)
        return replace(
            told,
            **_instead(self.facts, self.ahead),
            answer=now.answer,
            changes=(self.moved, *changes),
            sections=as_issued(told.sections, self.facts, self.ahead),
            meeting=now.meeting,
            spot=now.spot,
            starts=now.starts,
            ends=now.ends,
        )


@dataclass(frozen=True, slots=True)
class VersionShown:
    """A version that was issued, with what changed since the one before, for all readers."""

    number: int
    on: date
    changes: tuple[str, ...]


def current(store: Store, workshop_id: int, now: datetime) -> Current:
    """The latest version with what happened to the workshop since: called off or moved is told at once, all else waits
    for the next version. A draft where none was issued. Raises Missing."""
    with store.reading() as s:
        workshop, issued = get_workshop(s, workshop_id), recent_of(s, workshop_id, now - LAST_READ, AT_LEAST + 1)
        spot = spots.find(s, workshop.spot_id)[0]
    if not issued:
        return Current(facts_of(store, workshop_id, now), (), 0, None)
    last, bases = issued[0], bases_of(issued, now)
    if workshop.called_off:
        return Current(replace(last.facts, called_off=True), bases, last.number, _on(last))
    moved = is_moved(last.facts, workshop.starts, (spot.latitude_deg, spot.longitude_deg))
    ahead = facts_of(store, workshop_id, now) if moved else None
    return Current(last.facts, bases, last.number, _on(last), ahead)


def bases_of(issued: Sequence[Issued], now: datetime) -> Bases:
    """Those before the first that somebody may have read last. issued: latest first."""
    followed = enumerate(pairwise(issued))
    return tuple(
        (each.number, each.facts)
        for place, (after, each) in followed
        if place < AT_LEAST or after.at >= now - LAST_READ
    )


def issued_briefing(store: Store, workshop_id: int, reader: Reader, now: datetime) -> Briefing:
    """What `current` says, in the words of one reader. Raises Missing."""
    return current(store, workshop_id, now).briefing(reader)


def issue(store: Store, workshop_id: int, now: datetime) -> Issued | None:
    """The next version, of what is known now; None, and nothing kept, where the last one says all of it. Raises
    Missing."""
    facts = facts_of(store, workshop_id, now)
    with store.writing() as s:
        get_workshop(s, workshop_id)
        last = latest_two(s, workshop_id)
        return None if last and last[0].facts == facts else keep_issued(s, facts, now)


def shown_versions(issued: Sequence[Issued]) -> tuple[VersionShown, ...]:
    """As they come, latest first."""
    return tuple(
        VersionShown(each.number, _on(each), all_changes(was.facts, each.facts) if was else ())
        for each, was in zip_longest(issued, issued[1:])
    )


def _on(issued: Issued) -> date:
    """The local day at the spot."""
    return to_local(issued.at, issued.facts.zone).date()


def _instead(was: Facts, now: Facts) -> dict[str, Any]:
    return {"standing": "moved", "instead": instead_words(was, now)}
