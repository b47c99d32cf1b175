"""The page of a running order: every block with light, footfall and rule hours at its minutes, and what to mind."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime

import numpy as np

from models.clock import to_local, unix_s, zone_short
from models.planning.rules.what_if import span_words
from models.planning.rules.workshops import footprint_of
from models.planning.setups.over_time import timed_redials
from models.planning.workshops.fallback import FallbackOrder, fallback_order
from models.planning.workshops.minutes import Minutes, minutes_of
from models.planning.workshops.running import Running, Worked, running_of
from models.rules.workshop import Workshop
from models.store.engine import Store
from models.store.spots import Spot
from models.words import running as words
from models.words.running_warnings import warning_words
from models.words.said import Said, said, stops_in_hand_words
from models.words.street import NOT_COUNTED
from models.workshop.fitting import fitting
from models.workshop.rotation import plan_rota
from models.workshop.running_order import Block, seconds_for_rounds, unknown_edits
from models.workshop.timing import Span
from models.workshop.warnings import warnings_of

MISSING_WORDS = {
    "people": "nobody is down for it yet",
    "stations": "no station is set up for it yet",
    "too many people": "more people than a rota is made for (40)",
}


@dataclass(frozen=True, slots=True)
class StationLine:
    """One station in one block. light: EV on the face over the block's minutes. hand: stops in hand at its weakest."""

    station: str
    light: str
    hand: str


@dataclass(frozen=True, slots=True)
class BlockShown:
    """key: what its fields are named after. minutes, note: as typed over. doubt: of a length that was worked out."""

    key: str
    title: str
    starts: str
    ends: str
    lasts: str
    doubt: str
    minutes: str
    note: str
    heads: str
    stations: tuple[StationLine, ...]
    footfall: str
    windows: tuple[str, ...]
    redials: tuple[str, ...]
    warnings: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OrderPage:
    """missing: what has to be there before there is an order. ways: how it would fit, where it does not. version: of
    the plan, 0 where none is kept. left_over: what was typed for blocks that are gone."""

    workshop: Workshop
    spot: Spot
    when: str
    zone: str
    answer: Said
    missing: tuple[str, ...]
    blocks: tuple[BlockShown, ...]
    ways: tuple[str, ...]
    cautions: tuple[str, ...]
    rests: tuple[str, ...]
    windows_note: str
    fallback: FallbackOrder | None
    left_over: tuple[str, ...]
    version: int
    rests_note: str = words.RESTS_NOTE


def order_page(store: Store, workshop_id: int, now: datetime) -> OrderPage:
    """Raises Missing."""
    running = running_of(store, workshop_id, now)
    return shown(store, running, now)


def shown(store: Store, running: Running, now: datetime) -> OrderPage:
    grounds, worked = running.grounds, running.worked
    workshop, spot = grounds.workshop, grounds.spot
    when = span_words(footprint_of(workshop, spot.zone), spot.zone)
    if worked is None:
        why = " and ".join(MISSING_WORDS[each] for each in running.missing)
        return OrderPage(
            workshop=workshop, spot=spot, when=when, zone=zone_short(workshop.starts, spot.zone),
            answer=said(f"{when}, {spot.name}: ", "there is no running order", f", {why}."), missing=running.missing,
            blocks=(), ways=(), cautions=(), rests=(), windows_note="", fallback=None, left_over=(),
            version=getattr(grounds.plan, "version", 0),
        )  # fmt: skip
    minutes = minutes_of(store, running, worked.order)
    day = to_local(workshop.starts, spot.zone)
    return OrderPage(
        workshop=workshop,
        spot=spot,
        when=when,
        zone=zone_short(workshop.starts, spot.zone),
        answer=words.order_answer(worked.order, f"{day:%A} {day.day} {day:%B %Y}, {spot.name}", clock_of(running)),
        missing=(),
        blocks=tuple(_blocks(store, running, worked, minutes)),
        ways=tuple(_ways(running, worked)),
        cautions=tuple(words.cautions(worked.schedule, running.station_names)),
        rests=tuple(words.rest_words(rest, running.station_names) for rest in worked.schedule.rests),
        windows_note=_windows_note(minutes),
        fallback=fallback_order(store, running, now),
        left_over=tuple(edit.key for edit in unknown_edits(grounds.plan, worked.order)),
        version=getattr(grounds.plan, "version", 0),
    )


def clock_of(running: Running) -> words.Clock:
    """'16:40 CEST', by the clocks of the spot."""
    zone = running.zone
    return lambda instant: f"{to_local(instant, zone):%H:%M} {zone_short(instant, zone)}"


def bare_clock(instant: datetime, zone: str) -> str:
    return f"{to_local(instant, zone):%H:%M}"


def _blocks(store: Store, running: Running, worked: Worked, minutes: Minutes) -> Iterator[BlockShown]:
    names = running.station_names
    warned = warnings_of(worked.order, minutes.stations, minutes.windows, worked.cells, minutes.dark)
    redials = _redials(running, worked)
    for block in worked.order.blocks:
        mine = [each for each in warned if each.block == block.key]
        edit = next((one for one in running.grounds.plan.blocks if one.key == block.key), None)
        span = words.span_words(Span(block.worked_out_s, block.low_s, block.high_s))
        yield BlockShown(
            key=block.key,
            title=words.block_words(block),
            starts=bare_clock(block.starts, running.zone),
            ends=bare_clock(block.ends, running.zone),
            lasts=words.lasts_words(block.length_s) if block.known else "not known",
            doubt=span if block.typed or span != words.lasts_words(block.length_s) else "",
            minutes="" if edit is None or edit.minutes is None else f"{edit.minutes:g} min",
            note=block.note,
            heads=words.HEADS_WORDS.get(block.key, "") if block.heads else "",
            stations=tuple(_station_lines(running, minutes, block)) if block.round or block.key == "set up" else (),
            footfall=_footfall(running, block) if block.round else "",
            windows=tuple(each.what for each in mine if each.kind == "window ends"),
            redials=tuple(line for at, line in redials if block.starts <= at < block.ends),
            warnings=tuple(
                f"{bare_clock(each.at, running.zone)} {warning_words(each, names)}"
                for each in mine
                if each.kind != "not counted"
            ),
        )


def _station_lines(running: Running, minutes: Minutes, block: Block) -> Iterator[StationLine]:
    first, last = minutes.place(block.starts), minutes.place(block.ends)
    stations = {each.post: each for each in minutes.stations}
    for number, name in running.station_names.items():
        face = minutes.face_ev.get(number)
        if face is None:
            yield StationLine(name, "light not known: no setup in the light", "")
            continue
        low, high = float(np.nanmin(face[first : last + 1])), float(np.nanmax(face[first : last + 1]))
        light = f"EV100 {high:.1f}" if high - low < 0.05 else f"EV100 {face[first]:.1f} to {face[last]:.1f}"
        hand = float(np.min(np.asarray(stations[number].reserve_stops[first : last + 1])))
        yield StationLine(name, light, stops_in_hand_words(hand) if np.isfinite(hand) else "reserve not known")


def _footfall(running: Running, block: Block) -> str:
    """People an hour at its middle, with the interval."""
    rate = running.grounds.rate(block.starts + (block.ends - block.starts) / 2)
    if rate is None:
        return f"Footfall {NOT_COUNTED} at this hour."
    return f"{rate.people_per_h:.0f} people an hour come by ({rate.low_per_h:.0f} to {rate.high_per_h:.0f})."


def _redials(running: Running, worked: Worked) -> list[tuple[datetime, str]]:
    """The lines of every station's setup over the rounds, by instant; the first of each stands at its first round."""
    rounds = [block for block in worked.order.blocks if block.round is not None]
    if not rounds:
        return []
    found = []
    for number, one in running.lights.items():
        light, moment = one.lit.light, one.lit.moment
        if light is None or moment is None or not one.kept.lights:
            continue
        at, until = replace(moment, instant=rounds[0].starts), unix_s(rounds[-1].ends)
        for instant, line in timed_redials(one.setup, one.kept.wanted, light, at, one.lit.looking_deg, until):
            found.append((instant, f"{running.station_names[number]}: {line}"))
    return sorted(found)


def _ways(running: Running, worked: Worked) -> Iterator[str]:
    plan, workshop = running.grounds.plan, running.grounds.workshop
    within_s = seconds_for_rounds(plan, workshop.starts, workshop.ends)
    found = fitting(worked.case, within_s, lambda people, posts: plan_rota(people, posts, plan.group_size))
    if not found.fits:
        yield from words.fitting_words(found, running.station_names)


def _windows_note(minutes: Minutes) -> str:
    if minutes.windows:
        return "Hours that rules or answers name begin or end on the way; they stand at their block."
    return "No hours that a rule or an answer names begin or end between set-up and packed up."
