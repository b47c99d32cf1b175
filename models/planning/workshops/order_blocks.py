"""The blocks of a running order as they are shown: light, footfall and what to dial at their minutes, what to mind."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

import numpy as np

from models.clock import clock_words, unix_s
from models.planning.setups.over_time import TimedRedial, timed_redials
from models.planning.workshops.minutes import Minutes
from models.planning.workshops.running import Running, Worked
from models.words import running as words
from models.words.running_warnings import warnings_said
from models.words.said import listed, stops_in_hand_words
from models.words.street import NOT_COUNTED
from models.workshop.running_order import SET_UP, Block
from models.workshop.timing import Span
from models.workshop.warnings import Warned, warnings_of

SAME_EV = 0.05


@dataclass(frozen=True, slots=True)
class StationLine:
    """One station in one block. light: EV on the face over the block's minutes. hand: stops in hand at its weakest."""

    station: str
    light: str
    hand: str


@dataclass(frozen=True, slots=True)
class BlockShown:
    """key: what its fields are named after. minutes, note: as typed over. lasts: with the footfall's doubt. worked_out:
    what it would last had nobody typed minutes, '' where nobody did."""

    key: str
    title: str
    starts: str
    ends: str
    lasts: str
    worked_out: str
    minutes: str
    note: str
    heads: str
    stations: tuple[StationLine, ...]
    footfall: str
    redials: tuple[str, ...]
    warnings: tuple[str, ...]


def blocks_shown(
    running: Running, worked: Worked, minutes: Minutes, at_set_up: Sequence[str] = ()
) -> Iterator[BlockShown]:
    """at_set_up: what to mind then, beside what the minutes warn of."""
    warned = warnings_of(worked.order, minutes.stations, minutes.windows, worked.cells, minutes.dark)
    redials = tuple(redials_of(running, worked))
    notes = {edit.key: edit for edit in running.grounds.plan.blocks}
    for block in worked.order.blocks:
        mine = [each for each in warned if each.block == block.key and not _said_otherwise(each, running)]
        before = at_set_up if block.key == SET_UP else ()
        typed_min = notes[block.key].minutes if block.key in notes else None
        span = words.span_words(Span(block.worked_out_s, block.low_s, block.high_s))
        yield BlockShown(
            key=block.key,
            title=words.block_words(block),
            starts=clock_words(block.starts, running.zone),
            ends=clock_words(block.ends, running.zone),
            lasts="not known" if not block.known else words.lasts_words(block.length_s) if block.typed else span,
            worked_out=span if block.typed else "",
            minutes="" if typed_min is None else f"{typed_min:g} min",
            note=block.note,
            heads=words.HEADS_WORDS.get(block.key, "") if block.heads else "",
            stations=tuple(_station_lines(running, minutes, block)) if block.round or block.key == SET_UP else (),
            footfall=_footfall(running, block) if block.round else "",
            redials=tuple(line for at, line in redials if block.starts <= at < block.ends),
            warnings=(
                *before,
                *(f"{clock_words(at, running.zone)} {said}" for at, said in warnings_said(mine, running.station_names)),
            ),
        )


def redials_of(running: Running, worked: Worked) -> Iterator[tuple[datetime, str]]:
    """What is dialled over the rounds, by instant, what is the same at several stations once; the first line of each
    stands at the first round. Lines that turn nothing are left out."""
    rounds = [block for block in worked.order.blocks if block.round is not None]
    alike: dict[tuple[datetime, str], list[tuple[str, TimedRedial]]] = {}
    for number, one in running.lights.items() if rounds else ():
        light, moment = one.lit.light, one.lit.moment
        if light is None or moment is None or not one.kept.lights:
            continue
        at, until = replace(moment, instant=rounds[0].starts), unix_s(rounds[-1].ends)
        for line in timed_redials(one.setup, one.kept.wanted, light, at, one.lit.looking_deg, until):
            if line.changes:
                alike.setdefault((line.at, line.camera), []).append((running.station_names[number], line))
    for (instant, camera), same in sorted(alike.items()):
        yield instant, f"{listed([name for name, _ in same])}: {camera}. {_flashes(same)}"


def _said_otherwise(warned: Warned, running: Running) -> bool:
    """The page's head says where nobody counted; lines of what to dial say where the light has moved."""
    return warned.kind == "not counted" or (warned.kind == "light moved" and warned.post in running.lights)


def _station_lines(running: Running, minutes: Minutes, block: Block) -> Iterator[StationLine]:
    first, last = minutes.place(block.starts), minutes.place(block.ends)
    stations = {each.post: each for each in minutes.stations}
    for number, name in running.station_names.items():
        face = minutes.face_ev.get(number)
        if face is None:
            yield StationLine(name, "light not known: no setup in the light", "")
            continue
        there = face[first : last + 1]
        steady = float(np.nanmax(there) - np.nanmin(there)) < SAME_EV
        light = f"EV100 {there[0]:.1f}" if steady else f"EV100 {there[0]:.1f} to {there[-1]:.1f}"
        hand = float(np.min(np.asarray(stations[number].reserve_stops[first : last + 1])))
        yield StationLine(name, light, stops_in_hand_words(hand) if np.isfinite(hand) else "reserve not known")


def _footfall(running: Running, block: Block) -> str:
    """People an hour at its middle, with the interval."""
    rate = running.grounds.rate(block.starts + (block.ends - block.starts) / 2)
    if rate is None:
        return f"Footfall {NOT_COUNTED} at this hour."
    return f"{rate.people_per_h:.0f} people an hour come by ({rate.low_per_h:.0f} to {rate.high_per_h:.0f})."


def _flashes(same: list[tuple[str, TimedRedial]]) -> str:
    """Said once where it is the same at all of them."""
    if len({line.flashes for _, line in same}) == 1:
        return same[0][1].flashes
    return " ".join(f"{name}: {line.flashes}" for name, line in same)
