"""The page of a workshop: what is still open first, then every activity with its answers and what lies around."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from models.clock import to_local
from models.planning.rules import findings, typed
from models.planning.rules.findings import ActivityShown, AreaShown, FallbackShown
from models.planning.rules.open import (
    OpenShown,
    OpenThing,
    PaperShown,
    by_thing,
    open_items,
    open_shown,
    papers_shown,
    sentence_case,
)
from models.planning.rules.what_if import doing_words, span_words, what_if_address
from models.planning.rules.what_if_page import WalkShown, spot_to_spot, walk_shown
from models.planning.rules.workshops import footprint_of
from models.planning.street.walk import WalkAnswer
from models.planning.workshops.past import past_words
from models.planning.workshops.people_open import people_items
from models.planning.workshops.summary import summary_of
from models.rules.answers import Answer
from models.rules.still_open import OpenItem
from models.rules.workshop import Workshop
from models.store import rules as kept
from models.store.engine import Store
from models.store.spots import Spot
from models.store.spots import shelf as spots
from models.words.findings import OpenDays, open_answer
from models.words.rules import STANDING_NOTE
from models.words.said import Said, listed
from models.words.width import pavement_words


@dataclass(frozen=True, slots=True)
class WorkshopPage:
    """what_if: parameters of the address that asks the same again, otherwise. over: it has ended. past: what is
    said once its day is over, with when its people are erased, "" before. run: (what, in words) of how it is run.
    pavement_words: the spot's pavement, where the width left was not measured but that was."""

    workshop: Workshop
    spot: Spot
    when: str
    over: bool
    answer: Said
    past: str
    doing: str
    pavement_words: str
    run: tuple[tuple[str, str], ...]
    strictest: Answer
    still_open: tuple[OpenShown, ...]
    activities: tuple[ActivityShown, ...]
    areas: tuple[AreaShown, ...]
    walk: WalkShown | None
    fallback: FallbackShown | None
    fallback_walk: WalkAnswer | None
    papers: tuple[PaperShown, ...]
    what_if: Mapping[str, str]
    calendar_words: str
    standing_note: str

    @property
    def things_open(self) -> tuple[OpenThing, ...]:
        """`still_open`, a card for each thing."""
        return by_thing(self.still_open)


def workshop_page(store: Store, workshop_id: int, now: datetime) -> WorkshopPage:
    """Raises Missing."""
    with store.reading() as s:
        workshop = kept.get_workshop(s, workshop_id)
        spot, _ = spots.find(s, workshop.spot_id)
        footprint, today = footprint_of(workshop, spot.zone), to_local(now, spot.zone).date()
        found = findings.findings_at(s, spot, footprint, today=today, meeting_point=workshop.meeting_point)
        other = workshop.fallback_spot_id and spots.find(s, workshop.fallback_spot_id)[0]
        fallback = findings.fallback_shown(s, spot, found.areas, other) if other else None
        items = open_items(kept.list_papers(s), footprint, found, fallback)
        items += people_items(s, workshop, spot.zone, now)
        papers = papers_shown(s, footprint)
        run = summary_of(s, workshop_id)
        past = past_words(s, workshop, spot.zone, now)
    when = span_words(footprint, spot.zone)
    return WorkshopPage(
        workshop=workshop,
        spot=spot,
        when=when,
        over=workshop.ends < now,
        answer=open_answer(f"{when}, {spot.name}", found.strictest, len(items), open_days(items, now, spot.zone)),
        past=past,
        doing=_doing(workshop),
        run=run,
        strictest=found.strictest,
        still_open=open_shown(items, footprint, fallback, today),
        activities=findings.activities_shown(found.found, spot, today),
        areas=findings.areas_shown(found.areas),
        walk=walk_shown(store, spot, workshop.meeting_point, found),
        fallback=fallback,
        fallback_walk=spot_to_spot(store, spot, other) if other else None,
        papers=papers,
        pavement_words="" if workshop.width_left_m is not None else pavement_words(spot.pavement_width_m),
        what_if=_at_its_time(workshop, spot.zone)
        | what_if_address(footprint, workshop.meeting_point, workshop.fallback_spot_id),
        calendar_words=found.calendar_words,
        standing_note=STANDING_NOTE,
    )


def open_days(items: tuple[OpenItem, ...], now: datetime, zone: str) -> OpenDays:
    """By when what stands open must be done: what is past its day, and the next day to come."""
    today = to_local(now, zone).date()
    past = [item.by for item in items if item.by and item.by < today]
    coming = [item.by for item in items if item.by and item.by >= today]
    return OpenDays(min(coming, default=None), len(past), min(past, default=None))


def _at_its_time(workshop: Workshop, zone: str) -> dict[str, str]:
    local = to_local(workshop.starts, zone)
    twice = local.replace(fold=0).utcoffset() != local.replace(fold=1).utcoffset()
    return {"on": f"{local:%Y-%m-%d}", "at": f"{local:%H:%M}"} | ({"fold": str(local.fold)} if twice else {})


def _doing(workshop: Workshop) -> str:
    width = workshop.width_left_m
    left = "Width left for walkers: not measured." if width is None else f"{typed.width_text(width)} left for walkers."
    return f"{sentence_case(listed(doing_words(workshop.doing)))}. {left}"
