"""What a link opens: the briefing of its reader, with the sketch of its places and the ways there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import datetime

from models.exchange.places import links_to
from models.planning.briefing.plans import setup_plans
from models.planning.briefing.sketch import sketch_of
from models.planning.briefing.versions import current
from models.store.engine import Store
from models.words.briefing_page import READER_WORDS
from models.words.briefing_parts import standing_words, version_words
from models.words.directions import all_unturned, unturned
from models.words.said import counted
from models.workshop.briefing import Briefing, Reader

LIGHT_BYTES = 140_000
"""A page with all it loads stays under 150 kB, for a poor signal: our rule."""
SHEET_BYTES, MARKUP = 8_000, 1.6
"""What sheet and script take at most, and how much longer words get on a page: up to 1.47 times measured."""
LEFT_OUT = "{count} left out here, so that this stays light enough for a poor signal: ask for the PDF."


@dataclass(frozen=True, slots=True)
class Way:
    """A press that leads to a place: in a map program of the phone, or on the web."""

    words: str
    address: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened:
    """readers: in words. standing: said before anything else, '' where nothing is. issued: which version, in words.

    sketch: an SVG, '' for none. drawings: plans of setups, SVG by number. left_out: that some are not there, in words.
    """

    workshop_id: int
    briefing: Briefing
    readers: str
    standing: str
    issued: str
    sketch: str = ""
    drawings: Mapping[int, str] = field(default_factory=dict)
    left_out: str = ""
    ways: tuple[Way, ...] = ()


def whole_briefing(store: Store, workshop_id: int, reader: Reader, now: datetime) -> Opened:
    """All that one kind of reader gets. Raises Missing."""
    told = current(store, workshop_id, now)
    briefing = told.briefing(reader)
    plans = setup_plans(store, workshop_id, briefing, now)
    return opened(briefing, sketch_of(store, workshop_id, told, now), workshop_id, plans)


def opened(
    briefing: Briefing, sketch_svg: str = "", workshop_id: int = 0, drawings: Mapping[int, str] | None = None
) -> Opened:
    briefing, sketch_svg = all_unturned((briefing, sketch_svg))
    plans = _light_enough(briefing, sketch_svg, drawings or {})
    lost = len(drawings or {}) - len(plans)
    return Opened(
        workshop_id=workshop_id,
        briefing=briefing,
        readers=READER_WORDS[briefing.reader],
        standing=standing_words(briefing),
        issued=version_words(briefing),
        sketch=sketch_svg,
        drawings=plans,
        left_out=LEFT_OUT.format(count=counted(lost, "plan is", "plans are")) if lost else "",
        ways=tuple(_ways(briefing)),
    )


def _light_enough(briefing: Briefing, sketch_svg: str, drawings: Mapping[int, str]) -> dict[int, str]:
    """The plans for which there is room beside the words and the sketch, first come."""
    room = LIGHT_BYTES - SHEET_BYTES - len(sketch_svg.encode()) - MARKUP * len(repr(briefing).encode())
    kept = {}
    for setup, plan in drawings.items():
        room -= len(plan.encode())
        if room >= 0:
            kept[setup] = unturned(plan)
    return kept


def _ways(briefing: Briefing) -> Iterator[Way]:
    """Where people are to be first comes first."""
    for words, place in (("Meeting point", briefing.meeting), ("Spot", briefing.spot)):
        for link in links_to(place) if place else ():
            yield Way(f"{words}: {link.words.lower()}", link.href)
