"""The page of a running order: every block with light, footfall and rule hours at its minutes, and what to mind."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from functools import partial

from models.clock import day_words, time_words, to_local, zone_short
from models.planning.rules.what_if import span_words
from models.planning.rules.workshops import footprint_of
from models.planning.workshops.fallback import FallbackOrder, fallback_order
from models.planning.workshops.minding import minding_of
from models.planning.workshops.minutes import Minutes, minutes_of
from models.planning.workshops.order_blocks import BlockShown, blocks_shown
from models.planning.workshops.running import Running, Worked, happened, planned, running_of
from models.rules.workshop import Workshop
from models.store.engine import Store
from models.store.spots import Spot
from models.words import running as words
from models.words.people import Private
from models.words.said import Said, said
from models.workshop.fitting import fitting
from models.workshop.running_order import seconds_for_rounds, unknown_edits


@dataclass(frozen=True, slots=True)
class WayShown:
    """A way to make it fit. kind: what would be changed, '' where it is no way but says how much is lacking."""

    words: str
    kind: str


@dataclass(frozen=True, slots=True)
class OrderPage:
    """missing: what has to be there before there is an order. ways: how it would fit, where it does not. version: of
    the plan, 0 where none is kept. left_over: what was typed for blocks that are gone.
    changed: something happened on the day, which this does not take in. working: how the times come about."""

    workshop: Workshop
    spot: Spot
    when: str
    zone: str
    answer: Said
    missing: tuple[str, ...]
    blocks: tuple[BlockShown, ...]
    ways: tuple[WayShown, ...]
    cautions: tuple[str, ...]
    no_picture: tuple[Private, ...]
    feels: str
    rests: tuple[str, ...]
    windows_note: str
    fallback: FallbackOrder | None
    left_over: tuple[str, ...]
    version: int
    changed: bool = False
    working: tuple[str, ...] = ()
    rests_note: str = words.RESTS_NOTE


def order_page(store: Store, workshop_id: int, now: datetime) -> OrderPage:
    """Raises Missing."""
    running = running_of(store, workshop_id, now)
    grounds, worked = running.grounds, running.worked
    workshop, spot = grounds.workshop, grounds.spot
    when = span_words(footprint_of(workshop, spot.zone), spot.zone)
    if worked is None:
        why = words.missing_words(running.missing)
        return OrderPage(
            workshop=workshop, spot=spot, when=when, zone=zone_short(workshop.starts, spot.zone),
            answer=said(f"{when}, {spot.name}: ", "there is no running order", f", {why}."), missing=running.missing,
            blocks=(), ways=(), cautions=(), no_picture=(), feels="", rests=(), windows_note="", fallback=None,
            left_over=(), version=grounds.plan_version,
        )  # fmt: skip
    minutes = minutes_of(store, running, worked.order)
    day, mind = to_local(workshop.starts, spot.zone).date(), minding_of(store, running)
    return OrderPage(
        workshop=workshop,
        spot=spot,
        when=when,
        zone=zone_short(workshop.starts, spot.zone),
        answer=words.order_answer(worked.order, f"{day_words(day)}, {spot.name}", partial(time_words, zone=spot.zone)),
        missing=(),
        blocks=tuple(blocks_shown(running, worked, minutes, mind.wind)),
        ways=tuple(_ways(running, worked)),
        cautions=(*mind.loud, *words.cautions(worked.schedule, running.station_names)),
        no_picture=mind.pictures(running),
        feels=words.feels_words(running.feels),
        rests=tuple(words.rest_words(rest, running.station_names) for rest in worked.schedule.rests)
        or (words.NO_RESTS,),
        windows_note=_windows_note(minutes),
        fallback=fallback_order(store, running),
        changed=happened(store, workshop.id),
        working=tuple(_working(running, worked)),
        left_over=tuple(edit.key for edit in unknown_edits(grounds.plan, worked.order)),
        version=grounds.plan_version,
    )


def _working(running: Running, worked: Worked) -> Iterator[str]:
    """What a frame takes at each station as the first round begins, and what is added to a turn and a round."""
    starts_s, plan = worked.schedule.starts_s, running.grounds.plan
    for number, name in running.station_names.items():
        yield f"{name}: {words.frame_words(worked.case.paces[number], starts_s)}"
    yield words.turn_words(plan, worked.schedule.frames)


def _ways(running: Running, worked: Worked) -> Iterator[WayShown]:
    """First how much it is over, then every way; none where it fits."""
    plan, workshop = running.grounds.plan, running.grounds.workshop
    within_s = seconds_for_rounds(plan, workshop.starts, workshop.ends)
    found = fitting(worked.case, within_s, partial(planned, running))
    if found.fits and not worked.order.fits:
        yield WayShown(words.typed_over_words(worked.order.over_s), "")
    if not found.fits:
        lines = words.fitting_words(found, running.station_names)
        kinds = ["" for _ in lines[: len(lines) - len(found.ways)]] + [way.kind for way in found.ways]
        yield from (WayShown(line, kind) for line, kind in zip(lines, kinds, strict=True))


def _windows_note(minutes: Minutes) -> str:
    if minutes.windows:
        return "Hours that rules or answers name begin or end on the way; they stand at their block."
    return "No hours that a rule or an answer names begin or end between set-up and packed up."
