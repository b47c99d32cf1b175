"""Issuing a briefing in numbered versions, and what its readers get: the latest that was issued, else a draft."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from itertools import zip_longest

from models.clock import to_local
from models.planning.briefing.facts import facts_of
from models.rules.workshop import Workshop
from models.store.briefings import Issued, issued_of, keep_issued, latest_two
from models.store.engine import Store
from models.store.rules import get_workshop
from models.store.spots import Spot
from models.store.spots import shelf as spots
from models.words.briefing_changes import all_changes, moved_since
from models.words.briefing_voices import briefing_of
from models.workshop.briefing import Briefing, Facts, Reader


@dataclass(frozen=True, slots=True)
class Current:
    """What readers are told now. version: 0 and issued: None for a draft. before: the version before, None for none.
    moved: that the workshop was moved since, in words, '' where it was not."""

    facts: Facts
    before: Facts | None
    version: int
    issued: date | None
    moved: str

    def briefing(self, reader: Reader) -> Briefing:
        told = briefing_of(self.facts, reader, self.version, self.issued, self.before)
        if not self.moved or told.standing == "called off":
            return told
        return replace(told, standing="moved", changes=(self.moved, *told.changes))


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
        workshop, issued = get_workshop(s, workshop_id), latest_two(s, workshop_id)
        spot = spots.find(s, workshop.spot_id)[0]
    if not issued:
        return Current(facts_of(store, workshop_id, now), None, 0, None, "")
    last, before = issued[0], issued[1].facts if len(issued) > 1 else None
    facts = replace(last.facts, called_off=True) if workshop.called_off else last.facts
    return Current(facts, before, last.number, _on(last), _moved(last.facts, workshop, spot))


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


def versions_of(store: Store, workshop_id: int) -> tuple[VersionShown, ...]:
    """All that were issued, latest first."""
    with store.reading() as s:
        return shown_versions(issued_of(s, workshop_id))


def shown_versions(issued: Sequence[Issued]) -> tuple[VersionShown, ...]:
    """As they come, latest first."""
    return tuple(
        VersionShown(each.number, _on(each), all_changes(was.facts, each.facts) if was else ())
        for each, was in zip_longest(issued, issued[1:])
    )


def _on(issued: Issued) -> date:
    """The local day at the spot."""
    return to_local(issued.at, issued.facts.zone).date()


def _moved(facts: Facts, workshop: Workshop, spot: Spot) -> str:
    return moved_since(facts, workshop.starts, spot.name, (spot.latitude_deg, spot.longitude_deg))
