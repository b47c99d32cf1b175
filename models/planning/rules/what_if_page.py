"""The page of a what-if: the answer, every activity with its answers, the areas, the walk, the fallback, the papers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from models.clock import to_local
from models.planning.answers import Moment
from models.planning.rules import findings, typed
from models.planning.rules.findings import ActivityShown, AreaShown, FallbackShown, SpotFindings
from models.planning.rules.open import PaperShown, papers_shown
from models.planning.rules.what_if import WhatIf, read_what_if, span_words
from models.planning.street.walk import WalkAnswer, walk_between
from models.rules.answers import Answer
from models.store.engine import Store
from models.store.spots import Spot, get_spot
from models.words.findings import findings_answer
from models.words.rules import STANDING_NOTE
from models.words.said import Said
from models.words.width import pavement_words


@dataclass(frozen=True, slots=True)
class WalkShown:
    """The walk from a meeting point, as it may be typed again. distance_m: as the crow flies. areas: those that control
    passing and lie on that line."""

    words: str
    distance_m: float
    areas: tuple[AreaShown, ...]
    walk: WalkAnswer


@dataclass(frozen=True, slots=True)
class WhatIfPage:
    """Everything found for a footprint at a spot. pavement_words: the spot's pavement, where only that was measured."""

    spot: Spot
    moment: Moment
    when: str
    answer: Said
    strictest: Answer
    what_if: WhatIf
    pavement_words: str
    activities: tuple[ActivityShown, ...]
    areas: tuple[AreaShown, ...]
    walk: WalkShown | None
    fallback: FallbackShown | None
    fallback_walk: WalkAnswer | None
    papers: tuple[PaperShown, ...]
    calendar_words: str
    standing_note: str


def what_if_page(store: Store, spot_id: int, moment: Moment, asked: Mapping[str, str], now: datetime) -> WhatIfPage:
    """The page of a what-if in the address. Raises Missing, or InputProblem naming a parameter."""
    with store.reading() as s:
        spot = get_spot(s, spot_id)
    what_if = read_what_if(store, asked, spot, moment)
    footprint, today = what_if.footprint, to_local(now, spot.zone).date()
    when = span_words(footprint, spot.zone)
    with store.reading() as s:
        found = findings.findings_at(s, spot, footprint, today=today, meeting_point=what_if.meeting_point)
        other = what_if.fallback
        fallback = findings.fallback_shown(s, spot, found.areas, other) if other else None
        papers = papers_shown(s, footprint)
    return WhatIfPage(
        spot=spot,
        moment=moment,
        when=when,
        answer=findings_answer(f"{when}, {spot.name}", found.found, findings.activity_names(found.found)),
        strictest=found.strictest,
        what_if=what_if,
        pavement_words="" if footprint.width_left_m is not None else pavement_words(spot.pavement_width_m),
        activities=findings.activities_shown(found.found, spot, today),
        areas=findings.areas_shown(found.areas),
        walk=walk_shown(store, spot, what_if.meeting_point, found),
        fallback=fallback,
        fallback_walk=spot_to_spot(store, spot, what_if.fallback) if what_if.fallback else None,
        papers=papers,
        calendar_words=found.calendar_words,
        standing_note=STANDING_NOTE,
    )


def walk_shown(
    store: Store, spot: Spot, meeting_point: tuple[float, float] | None, found: SpotFindings
) -> WalkShown | None:
    """The walk from the meeting point, None where there is none."""
    if meeting_point is None:
        return None
    walk = walk_between(store, meeting_point, (spot.latitude_deg, spot.longitude_deg))
    words = typed.meeting_words(meeting_point, store)
    return WalkShown(words, walk.straight_m, findings.areas_shown(found.passed), walk)


def spot_to_spot(store: Store, spot: Spot, other: Spot) -> WalkAnswer:
    """The walk from a spot to its fallback."""
    start, goal = ((place.latitude_deg, place.longitude_deg) for place in (spot, other))
    return walk_between(store, start, goal)
