"""What one station rests on at an instant: its setup in the light, the width it leaves, the rules there, the hands."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from math import log2

from models.exchange.geodesy import metres_between
from models.light.exposure import EvFigure
from models.light.setup import LightFigures, Setup
from models.light.solve import Solved
from models.planning.rules.findings import activity_names, findings_at
from models.planning.rules.typed import SAME_PLACE_M
from models.planning.rules.workshops import footprint_of
from models.planning.setups.kit import kit_notes, setup_of
from models.planning.setups.lit import Lit, read_lit, solved_in
from models.planning.setups.plan import pavement_at
from models.planning.street.own_width import recorded_minima
from models.planning.street.width_ask import STATION_LENGTH_M
from models.planning.workshops.grounds import Grounds, moment_of
from models.problems import InputProblem
from models.rules.answers import Answer
from models.store.engine import Store
from models.store.setups import KeptSetup, SetupDraft
from models.store.spots import Spot
from models.street.clearance import Minimum, Pavement, clearance
from models.street.crowding import Crowding, crowding
from models.words import stations as words
from models.words.findings import findings_line
from models.words.said import Said, said
from models.words.setup_answer import face_works, light_names, moves_words, solved_answer
from models.workshop.rota import Post
from models.workshop.station import Station

USUAL_HOLDERS = 1
"""Where no setup is chosen yet: one light, held by somebody."""


@dataclass(frozen=True, slots=True)
class UnitLook:
    """One light of the setup. flash_id, battery_id: of the kit, "" for none. a_frame: flashes that each of its units
    fires a frame. power: of full; recycle_s, recycle_tired_s: at it."""

    name: str
    flash_id: str
    battery_id: str
    units: int
    a_frame: int
    power: float
    power_words: str
    recycle_s: float
    recycle_tired_s: float
    flashes_per_set: int | None
    held: bool


@dataclass(frozen=True, slots=True, eq=False)
class StationLight:
    """A station's setup in the light of an instant. subject, behind: EV100 on the face and behind it. setup: as kept,
    solved: with powers put in."""

    kept: KeptSetup
    setup: Setup
    lit: Lit
    solved: Solved

    @property
    def subject(self) -> EvFigure | None:
        return self.lit.subject


@dataclass(frozen=True, slots=True, kw_only=True)
class StationLook:
    """A station at an instant. works, reserve_stops, recycle_s: None without a setup whose kit is there.

    only_moved: it works once lights are moved, not as it is set up. power_words: whether the setup works and what to
    dial. key_left_stops: from the power the key is dialled to up to full, below zero what it lacks there, None where it
    is off. reserve_stops: what the key alone, at full power, has over the light there, so not what is left over what
    is dialled. width_from: what the
    depth taken comes from, "typed" or "setup", "" where the width left is not known. crowd: None where not counted.
    obstructs: short of what the rules there want left, without such a rule of a published minimum. holders: settled,
    where the station leaves it to its setup. off_m: from the spot's own point. notes: cautions and what is not known.
    """

    station: Station
    at: datetime
    setup_title: str
    works: bool | None
    only_moved: bool
    power_words: Said
    settings: str
    key_left_stops: float | None
    reserve_stops: float | None
    recycle_s: float | None
    recycle_tired_s: float | None
    units: tuple[UnitLook, ...]
    holders: int
    pose_s: float
    width_left_m: float | None
    width_from: str
    crowd: Crowding | None
    obstructs: bool
    strictest: Answer
    rules: Said
    looking_deg: float | None
    off_m: float
    notes: tuple[str, ...]

    @property
    def post(self) -> Post:
        """As the rota takes it."""
        return Post(key=self.station.id, holders=self.holders, watchers=self.station.watchers)

    @property
    def fires(self) -> dict[str, int]:
        """Flashes a frame, of all units, by id of the flash."""
        found: dict[str, int] = {}
        for unit in self.units:
            found[unit.flash_id] = found.get(unit.flash_id, 0) + unit.a_frame * unit.units
        return found


def station_look(store: Store, grounds: Grounds, station: Station, at: datetime | None = None) -> StationLook:
    """at: None for when the workshop starts. Nothing missing stops it: what is not known is told in the notes."""
    return look_and_light(store, grounds, station, at or grounds.workshop.starts)[0]


def look_and_light(
    store: Store, grounds: Grounds, station: Station, at: datetime
) -> tuple[StationLook, StationLight | None]:
    """Both at once, the light as `station_light` has it."""
    light, trouble = _lit(store, grounds, station, at)
    return _look(store, grounds, station, at, light, trouble), light


def station_light(store: Store, grounds: Grounds, station: Station, at: datetime) -> StationLight | None:
    """The setup in that light; None where none is chosen, its kit is gone, or the spot lies inside a building."""
    return _lit(store, grounds, station, at)[0]


def holders_of(station: Station, setup: SetupDraft | None) -> int:
    """As typed, else one for each held light of its setup."""
    if station.holders is not None:
        return station.holders
    return USUAL_HOLDERS if setup is None else sum(light.held for light in setup.lights)


def spot_at(spot: Spot, station: Station) -> Spot:
    """The spot moved to the station's exact place, as far as rules go; its light is worked out where it is kept."""
    if station.place is None:
        return spot
    return replace(spot, latitude_deg=station.place[0], longitude_deg=station.place[1])


def _look(
    store: Store, grounds: Grounds, station: Station, instant: datetime, light: StationLight | None, trouble: str
) -> StationLook:
    kept = grounds.setups.get(station.setup_id) if station.setup_id is not None else None
    pavement, width_from = _pavement(grounds, station, light)
    left_m = pavement.left_m if pavement else None
    rate = grounds.rate(instant)
    spot = spot_at(grounds.spot, station)
    off_m = metres_between(_point(grounds.spot), _point(spot))
    strictest, rules, minima = _rules(store, grounds, spot, left_m)
    figures = light.solved.figures if light else None
    units = tuple(_units(light)) if light else ()
    fired = [unit for unit in units if unit.a_frame] or units
    return StationLook(
        station=station,
        at=instant,
        setup_title=kept.title if kept else "",
        works=face_works(light.solved) or light.solved.ambient_exposes if light else None,
        only_moved=bool(light and not light.solved.ambient_exposes and moves_words(light.solved)),
        power_words=solved_answer(light.solved) if light else said(trouble),
        settings=light.solved.setup.settings.words if light else "",
        key_left_stops=_key_left(light.solved) if light else None,
        reserve_stops=_reserve(figures.lights) if figures else None,
        recycle_s=max(unit.recycle_s for unit in fired) if fired else None,
        recycle_tired_s=max(unit.recycle_tired_s for unit in fired) if fired else None,
        units=units,
        holders=holders_of(station, kept),
        pose_s=grounds.plan.pose_s if station.pose_s is None else station.pose_s,
        width_left_m=left_m,
        width_from=width_from,
        crowd=crowding(left_m, rate.people_per_h) if rate and left_m is not None else None,
        obstructs=bool(pavement and clearance(pavement, *minima).missed),
        strictest=strictest,
        rules=rules,
        looking_deg=_looking(grounds, station),
        off_m=off_m,
        notes=tuple(_notes(grounds, station, kept, width_from, off_m)),
    )


def _lit(store: Store, grounds: Grounds, station: Station, at: datetime) -> tuple[StationLight | None, str]:
    """The light, or why there is none."""
    kept = grounds.setups.get(station.setup_id) if station.setup_id is not None else None
    if kept is None:
        return None, words.NO_SETUP
    gone, _ = kit_notes(kept, grounds.kit)
    if gone:
        return None, " ".join(gone)
    looking = _looking(grounds, station)
    asked = {"looking": "any" if looking is None else f"{looking:.10g}"}
    try:
        lit = read_lit(store, asked, grounds.spot, moment_of(store, grounds, at))
        setup = setup_of(kept, grounds.kit)
    except InputProblem as problem:
        return None, words.no_light_words(problem.message)
    return StationLight(kept, setup, lit, solved_in(setup, kept.wanted, lit)), ""


def _looking(grounds: Grounds, station: Station) -> float | None:
    return grounds.spot.looking_deg if station.looking_deg is None else station.looking_deg


def _pavement(grounds: Grounds, station: Station, light: StationLight | None) -> tuple[Pavement | None, str]:
    """By the depth typed, else by what the setup takes; never by a guess."""
    width_m = grounds.spot.pavement_width_m
    if width_m is None:
        return None, ""
    length_m = STATION_LENGTH_M if station.width_m is None else station.width_m
    if station.depth_m is not None:
        return Pavement(width_m, station.depth_m, length_m), "typed"
    found = pavement_at(light.kept, light.solved.setup, light.lit) if light else None
    return (replace(found.pavement, length_m=length_m), "setup") if found else (None, "")


def _rules(
    store: Store, grounds: Grounds, spot: Spot, left_m: float | None
) -> tuple[Answer, Said, tuple[Minimum, ...]]:
    """The strictest answer, the line that says it, and the widths that rules want left there."""
    workshop = grounds.workshop
    footprint = replace(footprint_of(workshop, spot.zone), width_left_m=left_m)
    with store.reading() as s:
        found = findings_at(s, spot, footprint, today=grounds.today, meeting_point=workshop.meeting_point)
        minima = recorded_minima(s, spot, footprint, grounds.today)
    return found.strictest, findings_line(found.found, activity_names(found.found)), minima


def _units(light: StationLight) -> Iterator[UnitLook]:
    solved = light.solved
    for name, one, figure in zip(light_names(solved.setup), solved.lights, solved.figures.lights, strict=True):
        yield UnitLook(
            name=name,
            flash_id=one.light.flash.id,
            battery_id=one.light.battery.id if one.light.battery else "",
            units=one.light.units,
            a_frame=int(one.light.power > 0),
            power=one.light.power,
            power_words=one.rung.words if one.light.power else "off",
            recycle_s=figure.recycle_s,
            recycle_tired_s=figure.recycle_tired_s,
            flashes_per_set=figure.flashes_per_set,
            held=one.light.held,
        )


def _reserve(lights: tuple[LightFigures, ...]) -> float | None:
    """Of the key, of the weakest where there are several; of the first light without one."""
    keys = [one for one in lights if one.light.role == "key"] or list(lights[:1])
    return min((one.reserve.stops for one in keys if one.reserve), default=None)


def _key_left(solved: Solved) -> float | None:
    """Of the weakest key, of the first light without one."""
    keys = [one for one in solved.lights if one.light.role == "key"] or list(solved.lights[:1])
    lit = [-one.cannot_stops if one.cannot_stops > 0 else -log2(one.light.power) for one in keys if one.light.power]
    return min(lit, default=None)


def _notes(grounds: Grounds, station: Station, kept: KeptSetup | None, width_from: str, off_m: float) -> Iterator[str]:
    if kept is not None:
        yield from kit_notes(kept, grounds.kit)[1]
    spare = grounds.plan.group_size - 1
    needed = holders_of(station, kept) + station.watchers
    if needed > spare:
        yield words.short_of_hands_words(needed, grounds.plan.group_size)
    if not station.watchers:
        yield words.NOBODY_WATCHES
    if grounds.spot.pavement_width_m is None:
        yield words.PAVEMENT_NOT_MEASURED
    elif not width_from:
        yield words.DEPTH_NOT_MEASURED
    elif width_from == "setup":
        yield words.DEPTH_FROM_SETUP
    if off_m >= SAME_PLACE_M:
        yield words.off_the_spot_words(off_m)
    if _looking(grounds, station) is None:
        yield words.NO_BEARING


def _point(spot: Spot) -> tuple[float, float]:
    return spot.latitude_deg, spot.longitude_deg
