"""What to be told about a setup before it goes up: what is wrong and by how much, never that all is well."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, cos, inf, log2, radians
from typing import Literal

from models.light.accessories import Filter, Stand
from models.light.battery import recycle_s
from models.light.heat import flashes_in_a_row
from models.light.kit import Modifier
from models.light.placing import bearing_deg, shines_deg
from models.light.power import Power, rung
from models.light.setup import Light, Setup, setup_sync
from models.light.solve import Solved
from models.light.wind import bag_kg, wind_on
from models.problems import InputProblem
from models.street.comfort import DOWN_N, HOLD_N, NO_STANDS_FORCE
from models.street.weather import BEAUFORT_FROM_M_S, beaufort

Kind = Literal[
    "over sync",
    "off the ladder",
    "cannot",
    "lens cannot stop down",
    "recycle",
    "heat",
    "too much to hold",
    "hold by hand",
    "stand needs weight",
    "stands down",
    "wind not judged",
    "above its stand",
    "near the eyes",
    "in walkers' eyes",
    "across the lane",
    "in the lane",
]

EYES_DEG = 45.0
"""A light aimed within this of the way people walk meets the eyes of those who come towards it: our caution, no
source."""

NEAR_EYES_M = 0.5
"""A flash head nearer to the face than this is told about: our caution, no source."""

ACROSS_DEG = 60.0
"""A light aimed within this of the way to the lane falls on those who pass there: our caution, no source."""

JUDGED_FROM_FORCE = 4
"""From here on umbrellas are held or taken down: common practice, from memory."""

_SAME_SHUTTER = 1.01
_ON_A_RUNG_STOPS = 0.05


@dataclass(frozen=True, slots=True)
class Warned:
    """One warning. place: of the light in the setup, None for the camera. amount, limit and what, by kind:

    over sync: shutter and sync speed in s, what holds it
    off the ladder: stops over (+) the nearest rung, its fraction, its words
    cannot: stops it lacks (+) or gives too much (-)
    lens cannot stop down: stops lacking, stops of the filter that fixes it, its name or "" if none is owned
    recycle: seconds on tired cells, the pace in s
    heat: flashes in a row that fit, those planned
    too much to hold, hold by hand: newtons of push, where that begins, the modifier
    stand needs weight: kg to hang on it, 0, the modifier
    stands down, wind not judged: m/s, the m/s it begins at, the modifier
    above its stand: m, its highest
    near the eyes: m to the face, the m from which nothing is said
    in walkers' eyes, across the lane: degrees between aim and way, those that count, the lane
    in the lane: m from the model towards the lane, where the lane begins, the lane
    """

    kind: Kind
    place: int | None
    amount: float = 0.0
    limit: float = 0.0
    what: str = ""


@dataclass(frozen=True, slots=True)
class Street:
    """What lies round the model. along_deg: compass bearing the walkway runs along, either way. lane_deg: bearing from
    the model to the nearest cycle lane or carriageway, lane_m: how far off it begins. None: not known."""

    along_deg: float | None = None
    lane_deg: float | None = None
    lane_m: float | None = None
    lane: str = "carriageway"


def warnings_of(
    setup: Setup,
    *,
    solved: Solved | None = None,
    filters: Sequence[Filter] = (),
    pace_s: float | None = None,
    frames: int | None = None,
    wind_m_s: float | None = None,
    street: Street | None = None,
    looking_deg: float | None = None,
) -> tuple[Warned, ...]:
    """All warnings of a setup as it stands, camera first, then light by light.

    solved: where its powers come from, if it was solved. pace_s: planned seconds between frames. frames: planned in a
    row. wind_m_s: forecast, gusts included. looking_deg: camera bearing; without it the street is not judged.
    """
    _check_plan(pace_s, frames, wind_m_s)
    found = [*_of_camera(setup, solved, filters)]
    for place, light in enumerate(setup.lights):
        found += _of_power(place, light, setup)
        if solved is not None and solved.lights[place].cannot_stops:
            found.append(Warned("cannot", place, solved.lights[place].cannot_stops))
        if light.power and light.role != "background" and light.distance_m < NEAR_EYES_M:
            found.append(Warned("near the eyes", place, light.distance_m, NEAR_EYES_M))
        found += _of_pace(place, light, pace_s, frames)
        found += _of_wind(place, light, wind_m_s)
        if street is not None and looking_deg is not None:
            found += _of_street(place, light, street, looking_deg)
    return tuple(found)


def _check_plan(pace_s: float | None, frames: int | None, wind_m_s: float | None) -> None:
    if pace_s is not None and not pace_s > 0:
        raise InputProblem("pace_s", "give seconds between frames")
    if frames is not None and frames < 1:
        raise InputProblem("frames", "give at least one frame")
    if wind_m_s is not None and not 0 <= wind_m_s < inf:
        raise InputProblem("wind_m_s", "give metres a second, gusts included")


def _of_camera(setup: Setup, solved: Solved | None, filters: Sequence[Filter]) -> Iterator[Warned]:
    held = setup_sync(setup)
    if setup.settings.shutter_s * _SAME_SHUTTER < held.shutter_s:
        yield Warned("over sync", None, setup.settings.shutter_s, held.shutter_s, held.held_by)
    lacking = 2 * log2(setup.settings.aperture / setup.camera.smallest_aperture)
    if solved is not None and solved.dialled.fit == "too bright":
        lacking = max(lacking, -solved.dialled.off_stops)
    if lacking > 1 / 6:
        strong = [filter_ for filter_ in filters if filter_.stops >= lacking - 1 / 6]
        fixes = min(strong, key=lambda filter_: filter_.stops, default=None)
        stops = fixes.stops if fixes else float(ceil(lacking - 1 / 6))
        yield Warned("lens cannot stop down", None, lacking, stops, fixes.name if fixes else "")


def _of_power(place: int, light: Light, setup: Setup) -> Iterator[Warned]:
    if light.power:
        nearest = rung(Power(light.power, setup.settings), light.flash.lowest_power, light.flash.rungs_per_stop)
        if abs(nearest.remainder_stops) > _ON_A_RUNG_STOPS:
            yield Warned("off the ladder", place, nearest.remainder_stops, nearest.fraction, nearest.words)


def _of_pace(place: int, light: Light, pace_s: float | None, frames: int | None) -> Iterator[Warned]:
    if pace_s is None or not light.power:
        return
    ready_s = recycle_s(light.flash.recycle_full_s, light.power, light.battery, tired=True)
    if ready_s > pace_s:
        yield Warned("recycle", place, ready_s, pace_s)
    in_a_row = flashes_in_a_row(light.flash, light.power, max(pace_s, ready_s))
    if frames is not None and in_a_row is not None and in_a_row < frames:
        yield Warned("heat", place, in_a_row, frames)


def _of_wind(place: int, light: Light, wind_m_s: float | None) -> Iterator[Warned]:
    stand = None if light.held else light.stand or Stand("", "")
    if stand is not None and light.height_m > stand.highest_m:
        yield Warned("above its stand", place, light.height_m, stand.highest_m)
    if wind_m_s is None:
        return
    if stand is not None and beaufort(wind_m_s) >= NO_STANDS_FORCE:
        yield Warned("stands down", place, wind_m_s, BEAUFORT_FROM_M_S[NO_STANDS_FORCE - 1])
    elif light.modifier is not None and not light.modifier.zooms:
        yield from _of_face(place, light, light.modifier, stand, wind_m_s)


def _of_face(place: int, light: Light, modifier: Modifier, stand: Stand | None, wind_m_s: float) -> Iterator[Warned]:
    found = wind_on(modifier, wind_m_s)
    if found is None:
        if beaufort(wind_m_s) >= JUDGED_FROM_FORCE:
            yield Warned("wind not judged", place, wind_m_s, BEAUFORT_FROM_M_S[JUDGED_FROM_FORCE - 1], modifier.name)
    elif found.drag_n >= DOWN_N:
        yield Warned("too much to hold", place, found.drag_n, DOWN_N, modifier.name)
    elif stand is not None and found.drag_n >= HOLD_N:
        yield Warned("hold by hand", place, found.drag_n, HOLD_N, modifier.name)
    elif stand is not None and (bag := bag_kg(stand, modifier, light.height_m, found.drag_n)) > 0:
        yield Warned("stand needs weight", place, bag, 0.0, modifier.name)


def _of_street(place: int, light: Light, street: Street, looking_deg: float) -> Iterator[Warned]:
    aim = shines_deg(light.axis_deg, looking_deg)
    past_the_model = light.power > 0 and light.role != "background"
    if street.along_deg is not None and past_the_model:
        aside = _between(aim, street.along_deg)
        aside = min(aside, 180 - aside)
        if aside <= EYES_DEG:
            yield Warned("in walkers' eyes", place, aside, EYES_DEG)
    if street.lane_deg is None:
        return
    across = _between(aim, street.lane_deg)
    if across <= ACROSS_DEG and past_the_model:
        yield Warned("across the lane", place, across, ACROSS_DEG, street.lane)
    if street.lane_m is not None:
        towards = light.ground_m * cos(radians(bearing_deg(light.axis_deg, looking_deg) - street.lane_deg))
        if towards > street.lane_m:
            yield Warned("in the lane", place, towards, street.lane_m, street.lane)


def _between(one_deg: float, other_deg: float) -> float:
    """Angle between two bearings, 0 to 180."""
    return abs((one_deg - other_deg + 180) % 360 - 180)
