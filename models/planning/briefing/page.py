"""The organiser's page of a briefing: what changed since it was issued, and the briefing as each reader gets it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from models.clock import day_words
from models.drawing.map_sketch import draw_map_sketch
from models.planning.briefing.facts import facts_of
from models.planning.briefing.looking import names_in, sounds_allowed
from models.planning.briefing.places import told_places
from models.planning.briefing.plans import setup_plans
from models.planning.briefing.sketch import map_sketch
from models.planning.briefing.versions import Current, VersionShown, bases_of, current, shown_versions
from models.planning.rules.what_if import span_words
from models.planning.rules.workshops import footprint_of, get_workshop, spot_of
from models.planning.spot_answers import Drawing
from models.problems import InputProblem
from models.rules.workshop import Workshop
from models.store.briefings import Issued, issued_of
from models.store.engine import Store
from models.store.people import people_of
from models.store.spots import Spot
from models.words.briefing_changes import all_changes
from models.words.briefing_page import missing_of, page_answer, shown_words
from models.words.people import Private
from models.words.said import Said
from models.workshop.briefing import READERS, Briefing, Facts, Reader


@dataclass(frozen=True, slots=True)
class BriefingPage:
    """issued: the latest version, 0 for none; next: the number that an issue now would get, 0 where nothing changed.
    changes: since the latest, for all readers. missing: what nobody filled in. named: people who come and whose names
    stand in a text. sounds: wording that reads as a permission. shown: which version `briefing` is, in words. sketch:
    None for a version that is named. drawings: plans of setups by number, where `briefing` wants them."""

    workshop: Workshop
    spot: Spot
    when: str
    answer: Said
    next: int
    issued: int
    changes: tuple[str, ...]
    missing: tuple[str, ...]
    named: tuple[Private, ...]
    sounds: tuple[str, ...]
    versions: tuple[VersionShown, ...]
    reader: Reader
    shown: str
    briefing: Briefing
    sketch: Drawing | None
    drawings: tuple[tuple[int, Drawing], ...]


def briefing_page(
    store: Store, workshop_id: int, now: datetime, reader: str = "", version: int | None = None
) -> BriefingPage:
    """reader: attendees where it is none of READERS. version: one that was issued, None for the latest there is, with
    what changed since. Raises Missing, InputProblem("version")."""
    workshop = get_workshop(store, workshop_id)
    spot = spot_of(store, workshop)
    facts = facts_of(store, workshop_id, now)
    with store.reading() as s:
        issued, people = issued_of(s, workshop_id), people_of(s, workshop_id)
    last = issued[0] if issued else None
    changed = last is None or last.facts != facts
    whose: Reader = reader if reader in READERS else READERS[0]
    shown = _shown(store, workshop_id, now, facts, issued, version, changed=changed)
    changes = all_changes(last.facts, facts) if last else ()
    versions = shown_versions(issued)
    last_day = day_words(versions[0].on) if versions else ""
    briefing = shown.briefing(whose)
    return BriefingPage(
        workshop=workshop,
        spot=spot,
        when=span_words(footprint_of(workshop, spot.zone), spot.zone),
        answer=page_answer(last.number if last else 0, last_day, len(changes)),
        next=(last.number if last else 0) + 1 if changed else 0,
        issued=last.number if last else 0,
        changes=changes,
        missing=missing_of(facts),
        named=names_in(facts, people),
        sounds=sounds_allowed(facts),
        versions=versions,
        reader=whose,
        shown=shown_words(shown.version, versions[0].number if versions else 0, issued=shown.issued is not None),
        briefing=briefing,
        sketch=_sketch(store, workshop_id, now, shown) if version is None else None,
        drawings=_drawings(store, workshop_id, now, briefing),
    )


def _sketch(store: Store, workshop_id: int, now: datetime, shown: Current) -> Drawing:
    """Of the places as they would be issued now, else as the latest version has them."""
    drawn = map_sketch(store, told_places(store, workshop_id, shown, now))
    return Drawing(draw_map_sketch(drawn), "", drawn.desc)


def _drawings(store: Store, workshop_id: int, now: datetime, briefing: Briefing) -> tuple[tuple[int, Drawing], ...]:
    """As the setups stand now."""
    plans = setup_plans(store, workshop_id, briefing, now)
    return tuple((number, Drawing("", plan, f"Plan of setup {number}, from above.")) for number, plan in plans.items())


def _shown(
    store: Store,
    workshop_id: int,
    now: datetime,
    facts: Facts,
    issued: Sequence[Issued],
    version: int | None,
    *,
    changed: bool,
) -> Current:
    """An issued version, else what an issue now would say, else the latest."""
    if version is not None:
        return _issued(issued, version)
    if not changed:
        return current(store, workshop_id, now)
    if not issued:
        return Current(facts, (), 0, None)
    last = issued[0]
    return Current(facts, ((last.number, last.facts), *bases_of(issued, now)), last.number + 1, None)


def _issued(issued: Sequence[Issued], version: int) -> Current:
    found = next((place for place, each in enumerate(issued) if each.number == version), None)
    if found is None:
        raise InputProblem("version", f"no version {version} was issued.")
    day = shown_versions(issued)[found].on
    return Current(issued[found].facts, bases_of(issued[found:], issued[found].at), version, day)
