"""The stations' sum taken over into the workshop: what it leaves for walkers, and the stands and flashes it has."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from math import floor

from models.planning.rules.typed import WIDEST_M, width_text
from models.planning.rules.what_if import COUNTED, NOT_MEASURED
from models.planning.rules.workshops import draft_of
from models.planning.workshops.grounds import Grounds, grounds_of
from models.planning.workshops.station_look import StationLook, station_look
from models.problems import InputProblem
from models.rules.footprint import Doing
from models.rules.workshop import Workshop
from models.store import rules as kept
from models.store.engine import Store

STANDS = ("stand_ground", "stand_held", "flash_held")


@dataclass(frozen=True, slots=True)
class TakeOver:
    """width_left_m: the least of all stations, None where not all are known. changes: (what, before, after) in words,
    none where the workshop has it so already."""

    width_left_m: float | None
    doing: Doing
    changes: tuple[tuple[str, str, str], ...]


def take_over_of(grounds: Grounds, looks: Sequence[StationLook]) -> TakeOver:
    """Where not every station's width is known, the workshop's stays; the same with its stands and their setups."""
    workshop = grounds.workshop
    widths = [look.width_left_m for look in looks]
    known = [width for width in widths if width is not None]
    least = floor(min(known) * 100 + 1e-6) / 100 if known and len(known) == len(widths) else None
    doing = workshop.doing
    if looks and all(look.setup_title for look in looks):
        ground, on_held, in_hand = _stands(grounds)
        doing = replace(doing, stand_ground=ground, stand_held=on_held, flash_held=in_hand)
    if any(look.obstructs for look in looks):
        doing = replace(doing, obstruction=True)
    return TakeOver(least, doing, tuple(_changes(workshop, least, doing)))


def take_over(store: Store, workshop_id: int, version: int, now: datetime) -> tuple[Workshop, TakeOver]:
    """Put it into the workshop. Raises Clash where somebody changed it in between, Missing, InputProblem."""
    grounds = grounds_of(store, workshop_id, now)
    found = take_over_of(grounds, [station_look(store, grounds, station) for station in grounds.stations])
    if not found.changes:
        raise InputProblem("stations", "there is nothing to take over: the workshop has it so already.")
    width = grounds.workshop.width_left_m if found.width_left_m is None else min(found.width_left_m, WIDEST_M)
    draft = replace(draft_of(grounds.workshop), width_left_m=width, doing=found.doing)
    with store.writing() as s:
        return kept.change_workshop(s, workshop_id, version, draft), found


def _stands(grounds: Grounds) -> tuple[int, int, int]:
    """Lights on the ground, on stands in a hand, and in a bare hand, over all stations."""
    chosen = [grounds.setups.get(station.setup_id or 0) for station in grounds.stations]
    lights = [light for setup in chosen if setup for light in setup.lights]
    ground = sum(not light.held for light in lights)
    on_held = sum(light.held and bool(light.stand) for light in lights)
    return ground, on_held, len(lights) - ground - on_held


def _changes(workshop: Workshop, least: float | None, doing: Doing) -> list[tuple[str, str, str]]:
    found = []
    if least is not None and (workshop.width_left_m is None or abs(workshop.width_left_m - least) >= 0.005):
        found.append(("width left for walkers", width_text(workshop.width_left_m) or NOT_MEASURED, width_text(least)))
    for name in STANDS:
        before, after = getattr(workshop.doing, name), getattr(doing, name)
        if before != after:
            found.append((COUNTED[name].label, str(before), str(after)))
    if doing.obstruction and not workshop.doing.obstruction:
        found.append(("footway", "left free", "obstructed, being short of a width asked for"))
    return found
