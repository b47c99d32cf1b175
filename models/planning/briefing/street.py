"""The street in a briefing: weather and hazards, what was asked and answered, papers to carry, the leaf for trouble."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from sqlalchemy.orm import Session

from models.planning.rules.open import papers_shown
from models.planning.rules.workshops import footprint_of
from models.planning.street.hazards import basis_of
from models.planning.street.sky import weather_kept
from models.planning.workshops.fallback import FallbackOrder, fallbacks_of
from models.planning.workshops.grounds import Grounds
from models.planning.workshops.leaf import LeafPage, leaf_shown
from models.planning.workshops.running import Running
from models.rules.activities import ACTIVITIES
from models.rules.coverage import differences
from models.rules.enquiry import Enquiry
from models.rules.footprint import Footprint
from models.store import rules as kept
from models.store.engine import Store
from models.store.hazards import KeptSheet, Looked
from models.street.weather import WeatherHour
from models.words.briefing_spot import says_no_pavement, without_pavement
from models.words.said import listed
from models.words.weather import BY_HAND, figures_words
from models.workshop.hazards import HazardLine

Asked = tuple[str, str, str, str]
NO_FALLBACK = "No fallback is chosen: pack, walk to the meeting point, count heads."
STATE_WORDS = {
    "planned": "planned, not asked yet",
    "asked": "asked, no answer yet",
    "granted": "granted",
    "refused": "refused",
    "withdrawn": "withdrawn",
    "lapsed": "lapsed",
}


@dataclass(frozen=True, slots=True)
class Safety:
    """every: all lines of the hazards sheet. here: those known of this place and hour, without who does it."""

    every: tuple[str, ...]
    here: tuple[str, ...]


def weather_told(s: Session, grounds: Grounds, sheet: KeptSheet | None) -> str:
    """Of the hour in which set-up begins: as typed in the hazards sheet, else as kept for the spot; '' for neither."""
    starts = grounds.workshop.starts
    hour: WeatherHour | None = sheet.hour.at(starts) if sheet else None
    hour = hour or weather_kept(s, grounds.spot.id, starts)
    if hour is None:
        return ""
    return figures_words(hour) if hour.source == BY_HAND else f"{figures_words(hour)} ({hour.source})"


def hazards_told(s: Session, workshop_id: int, sheet: KeptSheet | None) -> Safety:
    """The sheet as edited, else as it would be filled in."""
    lines = sheet.lines if sheet else None
    if lines is None:
        basis = basis_of(s, workshop_id)
        lines = basis.lines(Looked(), basis.filled)
    told = [(line, _line(line)) for line in lines]
    if says_no_pavement([words for line, words in told if line.rests == "here"]):
        told = [(line, without_pavement(words)) for line, words in told]
    here = tuple(words for line, words in told if line.rests == "here")
    return Safety(tuple(f"{words} ({line.who})" if line.who else words for line, words in told), here)


def papers_told(s: Session, grounds: Grounds) -> tuple[str, ...]:
    """Every paper with its reference and where it lies, and what it lacks for this workshop."""
    shown = papers_shown(s, _footprint(grounds))
    return tuple(". ".join(filter(None, (": ".join(filter(None, (p.title, p.words))), p.open))) for p in shown)


def asked_told(s: Session, grounds: Grounds) -> tuple[Asked, ...]:
    """Enquiries of this workshop, and those of no workshop about its spot that name its day; by whom was asked."""
    workshop, spot, footprint = grounds.workshop, grounds.spot, _footprint(grounds)
    areas = kept.areas_at(s, spot.latitude_deg, spot.longitude_deg)
    about = kept.enquiries_for(s, [area.id for area in areas], spot.id)
    own = [each for each in kept.list_enquiries(s) if each.workshop_id == workshop.id]
    others = [each for each in about if each.workshop_id is None and _names_day(each, footprint)]
    return tuple(_asked(each, footprint) for each in sorted((*own, *others), key=lambda each: each.id))


def leaf_told(store: Store, running: Running) -> Iterator[str]:
    """What was worked out beforehand for trouble, without anybody's name."""
    if running.worked is None:
        return
    page: LeafPage = leaf_shown(store, running)
    for lost in page.lost:
        yield f"The spot is lost after round {lost.after}, at {lost.leave}: {_elsewhere(lost.order)}"
    further = [spot.name for spot in fallbacks_of(store, running.grounds)[1:]]
    if further:
        yield f"If we cannot stay there either: {listed(further)}, in that order."
    rotas = (*page.fewer, *((page.station_fewer,) if page.station_fewer else ()))
    yield from (f"{rota.title}: {rota.words}" for rota in rotas)


def _elsewhere(order: FallbackOrder | None) -> str:
    if order is None:
        return NO_FALLBACK
    blocks = "; ".join(f"{block.starts} {block.title.lower()}" for block in order.blocks)
    guard = f" Same guard, so no fallback: {listed(order.same_guard)}." if order.same_guard else (
        "" if order.known else " Who controls each of the two is not recorded: ask."
    )  # fmt: skip
    return f"go to {order.name}. {order.walk} {order.fits}{f' {blocks}.' if blocks else ''}{guard}"


def _line(line: HazardLine) -> str:
    """With one colon at most between what it is and what is done."""
    if not line.done:
        return line.what
    return f"{line.what}. {line.done}" if ":" in line.what else f"{line.what}: {line.done}"


def _footprint(grounds: Grounds) -> Footprint:
    return footprint_of(grounds.workshop, grounds.spot.zone)


def _names_day(enquiry: Enquiry, footprint: Footprint) -> bool:
    first, last = enquiry.first_day, enquiry.last_day
    return first is not None and last is not None and first <= footprint.day <= last


def _asked(enquiry: Enquiry, footprint: Footprint) -> Asked:
    return enquiry.to_whom, enquiry.reference, _state(enquiry, footprint), enquiry.conditions


def _state(enquiry: Enquiry, footprint: Footprint) -> str:
    """How it stands; of a grant also what it names, and what of the workshop it does not cover."""
    words = STATE_WORDS[enquiry.state]
    named = listed([ACTIVITIES[each].words for each in _known(enquiry.activities)])
    for_what = f" for {named}" if named else ""
    lacks = differences(enquiry, footprint) if enquiry.state == "granted" else ()
    return f"{words}{for_what}{f'; {listed(lacks)}' if lacks else ''}"


def _known(activities: Iterable[str]) -> tuple[str, ...]:
    return tuple(each for each in activities if each in ACTIVITIES)
