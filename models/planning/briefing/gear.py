"""The gear of a briefing: stations where their dials start and why, the kit list, what to charge and when to swap."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime

from models.clock import time_words
from models.light.setup import Light
from models.planning.workshops.order_blocks import redials_of
from models.planning.workshops.running import Running, Worked
from models.planning.workshops.station_look import StationLight, StationLook, look_and_light
from models.store.engine import Store
from models.words.running import charge_words, unit_words
from models.words.said import doubt_words, ev_words, listed
from models.words.setup_answer import light_names
from models.workshop.batteries import UnitUse
from models.workshop.briefing import Place, StationTold

DARKER = "The surroundings are kept darker, so that the face stands out."


def at_first_round(store: Store, running: Running) -> Running:
    """With the light and the dials of when the first round begins; as it is where no rounds are planned yet."""
    first = _first_round(running)
    if first is None or first == running.grounds.workshop.starts:
        return running
    seen = {each.id: look_and_light(store, running.grounds, each, first) for each in running.grounds.stations}
    lights = {number: light for number, (_, light) in seen.items() if light is not None}
    return replace(running, looks={number: look for number, (look, _) in seen.items()}, lights=lights)


def stations_told(running: Running) -> Iterator[StationTold]:
    """Every station, never with the name of its model."""
    for number, look in running.looks.items():
        light = running.lights.get(number)
        yield StationTold(
            name=look.station.name,
            setup=look.setup_title,
            setup_id=look.station.setup_id,
            settings=look.settings,
            powers=tuple(f"{unit.name} {unit.power_words}" for unit in look.units),
            lesson=look.station.lesson,
            place=_place(look),
            reason=_reason(look, light),
        )


def light_told(running: Running) -> str:
    """EV on the face at each station as the first round begins, else at set-up; '' where none is known."""
    first = _first_round(running)
    at = f"{_clock(running, first)}, when round 1 begins" if first else (
        f"{_clock(running, running.grounds.workshop.starts)}, at set-up"
    )  # fmt: skip
    read = [(running.station_names[number], light.subject) for number, light in running.lights.items() if light.subject]
    if not read:
        return ""
    doubt = max(subject.doubt_stops for _, subject in read)
    told = listed([f"{ev_words(subject.ev100)} at {name}" for name, subject in read])
    give = f", give or take {doubt_words(doubt)}" if doubt else ""
    return f"On the face at {at}: {told}{give} (ISO 100)"


def redials_told(running: Running) -> tuple[str, ...]:
    """What is dialled after the first frame, as the light moves."""
    first = _first_round(running)
    if running.worked is None or first is None:
        return ()
    return tuple(line for at, line in redials_of(running, running.worked) if at > first)


def kit_told(running: Running) -> Iterator[str]:
    """What each station takes along; one whose setup or kit is not there says so."""
    for number, look in running.looks.items():
        light = running.lights.get(number)
        if light is None:
            yield f"{look.station.name}: {look.power_words.text or 'its kit is not known yet'}"
            continue
        trigger = light.setup.trigger
        if trigger:
            yield f"{look.station.name}: {trigger.name}, a transmitter and a receiver for every flash"
        for name, one in zip(light_names(light.setup), light.setup.lights, strict=True):
            yield f"{look.station.name}, {name}: {_pieces(one)}"


def charge_told(running: Running) -> tuple[str, ...]:
    return tuple(charge_words(running.worked.cells, running.station_names)) if running.worked else ()


def cells_told(running: Running) -> Iterator[str]:
    """The battery plan: every light's flashes and sets, and when its set is changed."""
    if running.worked is None:
        return
    for unit in running.worked.cells.units:
        yield " ".join((unit_words(unit, running.station_names), *_swaps(running, running.worked, unit)))


def _reason(look: StationLook, light: StationLight | None) -> str:
    """Why nothing is dialled there or why it does not work as it is set up; what works stands in its row."""
    if light is None or light.subject is None or not look.works or look.only_moved:
        return look.power_words.text
    under = light.solved.figures.surroundings_under_stops if light.solved.figures else None
    return DARKER if under is not None and under > 0.05 else ""


def _first_round(running: Running) -> datetime | None:
    if running.worked is None:
        return None
    return next((block.starts for block in running.worked.order.blocks if block.round is not None), None)


def _place(look: StationLook) -> Place | None:
    """Where it stands apart from the spot's own point."""
    if look.station.place is None:
        return None
    latitude_deg, longitude_deg = look.station.place
    return Place(name=look.station.name, latitude_deg=latitude_deg, longitude_deg=longitude_deg)


def _pieces(light: Light) -> str:
    several = f"{light.units} of " if light.units > 1 else ""
    parts = [f"{several}{light.flash.name}"]
    parts += [each.name for each in (light.modifier, light.grid) if each]
    parts += [f"{light.gel.name} gel"] if light.gel else []
    parts += [f"cells: {light.battery.name}"] if light.battery else []
    stand = light.stand.name if light.stand else "a stand"
    return ", ".join((*parts, "held in the hand" if light.held else f"on {stand}"))


def _swaps(running: Running, worked: Worked, unit: UnitUse) -> Iterator[str]:
    for change in unit.changes:
        at = _clock(running, worked.order.instant(change.round, change.at_s))
        yield f"New set at {at}, before round {change.round}, turn {change.turn}."
    if unit.before_picture:
        yield "New set before the group picture."


def _clock(running: Running, instant: datetime) -> str:
    return time_words(instant, running.zone)
