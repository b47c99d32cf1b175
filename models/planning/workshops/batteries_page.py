"""Batteries of a workshop: how often every flash fires, how many sets that takes, when they are changed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from models.clock import zone_short
from models.planning.workshops.running import Running, Worked, running_of
from models.rules.workshop import Workshop
from models.store.engine import Store
from models.store.spots import Spot
from models.words import running as words
from models.words.said import Said, counted, listed, said
from models.workshop.batteries import UnitUse


@dataclass(frozen=True, slots=True)
class UnitShown:
    """changes: when its set is changed; slow: from when on it is ready later."""

    words: str
    changes: tuple[str, ...]
    slow: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BatteriesPage:
    workshop: Workshop
    spot: Spot
    zone: str
    answer: Said
    missing: tuple[str, ...]
    charge: tuple[str, ...]
    units: tuple[UnitShown, ...]
    note: str = words.NIGHT_BEFORE


def batteries_page(store: Store, workshop_id: int, now: datetime) -> BatteriesPage:
    """Raises Missing."""
    running = running_of(store, workshop_id, now)
    grounds, worked = running.grounds, running.worked
    why = words.missing_words(running.missing)
    return BatteriesPage(
        workshop=grounds.workshop,
        spot=grounds.spot,
        zone=zone_short(grounds.workshop.starts, grounds.spot.zone),
        answer=_answer(worked) if worked else said("", "Nothing can be counted yet", f": {why}."),
        missing=running.missing,
        charge=tuple(words.charge_words(worked.cells, running.station_names)) if worked else (),
        units=tuple(_units(running, worked)) if worked else (),
    )


def _answer(worked: Worked) -> Said:
    cells = worked.cells
    if not cells.to_charge:
        return said("", "No sets can be counted", ": no battery is given for any light of the stations.")
    sets = listed([f"{counted(count, 'set', 'sets')} of {battery.name}" for battery, count in cells.to_charge])
    fired = sum(unit.fired * unit.units for unit in cells.units)
    unknown = " Not all lights are counted." if cells.unknown or cells.without_setup else ""
    return said("Charge ", sets, f" the night before; all flashes together fire {fired} times.{unknown}")


def _units(running: Running, worked: Worked) -> Iterator[UnitShown]:
    for unit in worked.cells.units:
        yield UnitShown(
            words.unit_words(unit, running.station_names),
            tuple(_changes(running, worked, unit)),
            tuple(
                f"from {running.round_clock(worked, slow.round, slow.at_s)} on ready after about {slow.recycle_s:.1f} s"
                for slow in unit.slow
            ),
        )


def _changes(running: Running, worked: Worked, unit: UnitUse) -> Iterator[str]:
    for change in unit.changes:
        at = running.round_clock(worked, change.round, change.at_s)
        yield f"{at}, before round {change.round}, turn {change.turn}, after {change.flashes} flashes"
    if unit.before_picture:
        yield "before the group picture"
