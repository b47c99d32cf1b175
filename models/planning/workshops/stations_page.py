"""The stations of a workshop with what each rests on, their sum, and one setting for all of them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from models.clock import to_local
from models.drawing.stations_sketch import SketchStation, StationsSketch, draw_stations_sketch
from models.light.card import OneSetting, one_setting
from models.light.card import Station as CardStation
from models.light.solve import solve_at
from models.planning.rules.what_if import span_words
from models.planning.rules.workshops import footprint_of
from models.planning.sentence import bearing_words
from models.planning.spot_answers import Drawing
from models.planning.street.width_ask import short_metres
from models.planning.workshops.grounds import Grounds, grounds_of, moment_of
from models.planning.workshops.people_open import model_cautions
from models.planning.workshops.station_look import StationLight, StationLook, look_and_light, station_light
from models.planning.workshops.station_wind import StationWind, wind_of
from models.planning.workshops.take_over import TakeOver, take_over_of
from models.rules.workshop import Workshop
from models.store.engine import Store
from models.store.spots import Spot
from models.street.plane import LocalPlane
from models.words import stations as words
from models.words.findings import HEADS
from models.words.hazards import no_stands_at_words
from models.words.people import Private
from models.words.rules import STANDING_NOTE
from models.words.said import Said, signed_minus
from models.words.setup_answer import light_names, rung_said, solved_answer
from models.words.street import NOT_COUNTED
from models.workshop.station import MOST_STATIONS

NOBODY_YET = "No station is set yet. A station is one setup with its model at one exact place: begin with A."


@dataclass(frozen=True, slots=True)
class StationShown:
    """A station in words. facts: (what, figure). setup_at, width_at: parameters of the pages that show the working.
    no_picture: why none is taken of its model. wind: what to do about the wind of the hour, "" for nothing."""

    look: StationLook
    no_picture: Private | None
    wind: str
    ends: Said | None
    facts: tuple[tuple[str, str], ...]
    setup_at: Mapping[str, str]
    width_at: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class OneSettingShown:
    """rows: of each station, what its flashes are set to with that setting."""

    answer: Said
    fits: bool
    rows: tuple[tuple[str, str], ...]
    note: str = words.ONE_SETTING_NOTE


@dataclass(frozen=True, slots=True)
class StationsPage:
    """may_add: there is room for another one. group: people of a group."""

    workshop: Workshop
    spot: Spot
    when: str
    answer: Said | str
    stations: tuple[StationShown, ...]
    may_add: bool
    sketch: Drawing | None
    take_over: TakeOver
    one_setting: OneSettingShown | None
    group: int
    standing_note: str = STANDING_NOTE


def stations_page(store: Store, workshop_id: int, now: datetime) -> StationsPage:
    """Raises Missing."""
    grounds = grounds_of(store, workshop_id, now)
    workshop, spot = grounds.workshop, grounds.spot
    looked = [look_and_light(store, grounds, station, workshop.starts) for station in grounds.stations]
    looks = [look for look, _ in looked]
    with store.reading() as s:
        cautions = model_cautions(s, workshop, spot.zone, now)
    winds = [wind_of(store, grounds, light) for _, light in looked]
    when = span_words(footprint_of(workshop, spot.zone), spot.zone)
    return StationsPage(
        workshop=workshop,
        spot=spot,
        when=when,
        answer=_answer(looks, winds, f"{when}, {spot.name}") if looks else NOBODY_YET,
        stations=tuple(
            _shown(store, grounds, look, cautions.get(look.station.model_id or 0), wind)
            for look, wind in zip(looks, winds, strict=True)
        ),
        may_add=len(looks) < MOST_STATIONS,
        sketch=_sketch(spot, looks) if looks else None,
        take_over=take_over_of(grounds, looks),
        one_setting=_one_setting(looked),
        group=grounds.plan.group_size,
    )


def _answer(looks: Sequence[StationLook], winds: Sequence[StationWind | None], when: str) -> Said:
    known = [(look.width_left_m, look.station.name) for look in looks if look.width_left_m is not None]
    least = min(known, default=None)
    head = HEADS[min(look.strictest for look in looks)]
    far = [(look.station.name, look.off_m) for look in looks if look.off_m >= words.FAR_M]
    blown = [look.station.name for look, wind in zip(looks, winds, strict=True) if wind and wind.advice == "no stands"]
    besides = no_stands_at_words(blown) + words.far_words(far)
    return words.stations_answer(when, [_works(look) for look in looks], least and (least[1], least[0]), head, besides)


def _works(look: StationLook) -> words.Working | None:
    if look.works is None:
        return None
    return "not" if not look.works else "once moved" if look.only_moved else "as set up"


def _shown(
    store: Store, grounds: Grounds, look: StationLook, no_picture: Private | None, wind: StationWind | None
) -> StationShown:
    ends = station_light(store, grounds, look.station, grounds.workshop.ends)
    local = to_local(look.at, grounds.spot.zone)
    moment = {"on": f"{local:%Y-%m-%d}", "at": f"{local:%H:%M}", "sky": str(moment_of(store, grounds, look.at).oktas)}
    looking = {} if look.looking_deg is None else {"looking": f"{look.looking_deg:.10g}"}
    station = look.station
    depth = {} if station.depth_m is None else {"depth": short_metres(station.depth_m)}
    length = {} if station.width_m is None else {"length": short_metres(station.width_m)}
    return StationShown(
        look=look,
        ends=solved_answer(ends.solved) if ends else None,
        facts=(*_facts(grounds, look), *([("Wind", wind.words)] if wind else [])),
        no_picture=no_picture,
        wind=wind.done if wind else "",
        setup_at={"spot": str(grounds.spot.id)} | moment | looking,
        width_at=moment | depth | length,
    )


def _facts(grounds: Grounds, look: StationLook) -> Iterator[tuple[str, str]]:
    if look.works is not None:
        yield "Key has left", words.key_left_words(look.key_left_stops)
    if look.recycle_s is not None and look.recycle_tired_s is not None:
        yield "Ready again", f"{look.recycle_s:.1f} s with fresh cells, {look.recycle_tired_s:.1f} s with tired ones"
    yield "A pose takes", f"{look.pose_s:g} s"
    left = look.width_left_m
    crowd = look.crowd.crowd if look.crowd else f"footfall {NOT_COUNTED} in that hour"
    yield "Left for walkers", f"{words.left_words(left)}, {crowd}" if left is not None else "not known"
    yield "Hands", words.hands_words(look.holders, look.station.watchers)
    looking = look.looking_deg
    yield "Camera looks", bearing_words(looking) if looking is not None else "not chosen"


def _one_setting(looked: Sequence[tuple[StationLook, StationLight | None]]) -> OneSettingShown | None:
    """None for fewer than two stations whose light is known."""
    lit = [(look.station.name, light) for look, light in looked if light is not None and light.subject is not None]
    if len(lit) < 2:
        return None
    stations = [CardStation(one.setup, one.subject, one.lit.behind) for _, one in lit if one.subject]
    kept_at = {one.kept.wanted.aperture for _, one in lit}
    found = one_setting(stations, kept_at.pop() if len(kept_at) == 1 else None)
    rows = tuple((name, _powers(one, found)) for name, one in lit)
    return OneSettingShown(words.one_setting_words([name for name, _ in lit], found), found.fits, rows)


def _powers(one: StationLight, found: OneSetting) -> str:
    solved = solve_at(one.setup, one.kept.wanted, found.dialled, one.subject, one.lit.behind)
    parts = []
    for name, light in zip(light_names(solved.setup), solved.lights, strict=True):
        lacks = light.cannot_stops
        off = f", {signed_minus(-lacks, 1).lstrip('−')} stops {'short' if lacks > 0 else 'too much'}" if lacks else ""
        parts.append(f"{name} {rung_said(light)}{off}")
    return "; ".join(parts)


def _sketch(spot: Spot, looks: Sequence[StationLook]) -> Drawing:
    plane = LocalPlane(spot.latitude_deg, spot.longitude_deg)
    drawn = []
    for look in looks:
        east, north = plane.to_metres(*look.station.place) if look.station.place else (0.0, 0.0)
        drawn.append(SketchStation(look.station.name, float(east), float(north), look.looking_deg))
    sketch = StationsSketch(title=f"Stations at {spot.name}", stations=tuple(drawn), spot=spot.name)
    caption = "North is up, to scale. Each letter stands where the model stands; its line is the way the camera looks."
    return Drawing(draw_stations_sketch(sketch, "wide"), draw_stations_sketch(sketch, "narrow"), caption)
