"""The hazards sheet: what could hurt whom at this spot in this hour, what is done about it, by whom, and whether done.

It is a list to think with and calls no place safe: local codes and licensed practice decide.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from models.problems import InputProblem
from models.street.comfort import HEAT_BANDS_F, UMBRELLA_FACE_M2, chill, heat, heat_index_c, wind_chill_c, wind_on_face
from models.street.crowding import Crowd
from models.street.spot import LONGEST_NAME, trimmed
from models.street.weather import WeatherHour

Rests = Literal["here", "not looked at", "always"]
"""Why a line stands on the sheet: known of this spot and hour, nobody has looked yet, or wherever one works."""

MOST_LINES = 60
STANDING_ABOUT_COLD_C = 10.0
"""People who stand about are cold from here down, wind or not: common practice, no source."""
HEAT_BEGINS_C = (HEAT_BANDS_F[0] - 32) * 5 / 9


@dataclass(frozen=True, slots=True, kw_only=True)
class Situation:
    """A spot in one hour.

    noted: hazards noted of the spot. carriageway to uneven: whether it is there; None where nobody has looked.
    face_m2: of the largest modifier; None is taken for an umbrella 1 m across. in_sun: people stand in direct sun.
    sun_near_lens: it is in or near the picture. dark: in any part of the hour, packing included.
    """

    noted: str = ""
    carriageway: bool | None = None
    cycle_lane: bool | None = None
    railway: bool | None = None
    water: bool | None = None
    drop: bool | None = None
    uneven: bool | None = None
    weather: WeatherHour | None = None
    face_m2: float | None = None
    in_sun: bool = False
    sun_up: bool = True
    sun_near_lens: bool = False
    dark: bool = False
    crowd: Crowd | None = None


@dataclass(frozen=True, slots=True)
class Hazard:
    """key: its words, in models/words/hazards.py. level: how bad, where the hazard has steps."""

    key: str
    rests: Rests
    level: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class HazardLine:
    """A line as it is edited and printed. key: empty for a line of one's own. done: what is done about it."""

    key: str = ""
    what: str
    done: str
    who: str
    is_done: bool = False
    rests: Rests = "here"


@dataclass(frozen=True, slots=True, kw_only=True)
class HazardSheet:
    """The lines, and whom to call. ambulance_address: as an ambulance finds it. Empty: not filled in."""

    lines: tuple[HazardLine, ...]
    emergency_number: str = ""
    first_aider: str = ""
    ambulance_address: str = ""

    @property
    def missing(self) -> tuple[str, ...]:
        """The fields of the emergency still to be filled in."""
        return tuple(field for field in EMERGENCY if not getattr(self, field))

    @property
    def open(self) -> tuple[HazardLine, ...]:
        """The lines not yet seen to."""
        return tuple(line for line in self.lines if not line.is_done)


EMERGENCY = ("emergency_number", "first_aider", "ambulance_address")
STANDING_THERE = {
    "vehicles": "carriageway", "cycles": "cycle_lane", "railway": "railway", "water": "water", "drop": "drop",
    "trip": "uneven",
}  # fmt: skip
"""Hazards by the field that says whether their cause stands there."""
ALWAYS = ("lightning", "heads", "cells", "flashing")


def hazards_of(situation: Situation) -> tuple[Hazard, ...]:
    """What belongs on the sheet: known of the hour first, then what nobody has looked at, then the usual.

    Left out is only what somebody said is not there, and what the hour cannot bring.
    """
    found = [*_standing_there(situation), *_of_weather(situation), *_of_people(situation)]
    found += [Hazard(key, "always") for key in ALWAYS]
    order: tuple[Rests, ...] = ("here", "not looked at", "always")
    return tuple(sorted(found, key=lambda hazard: order.index(hazard.rests)))


def checked_sheet(sheet: HazardSheet) -> HazardSheet:
    """The sheet with its texts trimmed, or InputProblem naming the field."""
    if len(sheet.lines) > MOST_LINES:
        raise InputProblem("lines", f"{len(sheet.lines)} lines; at most {MOST_LINES}")
    lines = tuple(_checked_line(f"lines {number}", line) for number, line in enumerate(sheet.lines, start=1))
    number, aider = (trimmed(field, getattr(sheet, field), LONGEST_NAME) for field in EMERGENCY[:2])
    address = trimmed("ambulance_address", sheet.ambulance_address)
    return HazardSheet(lines=lines, emergency_number=number, first_aider=aider, ambulance_address=address)


def renewed(
    lines: tuple[HazardLine, ...], before: tuple[HazardLine, ...], after: tuple[HazardLine, ...]
) -> tuple[HazardLine, ...]:
    """The lines of a sheet once more is known of the hour. before, after: as prefilled then and now.

    What was edited and lines of one's own stay; what was left as prefilled is prefilled anew, and a tick with it only
    where the words are the same; what was taken out stays out; what is new comes last.
    """
    was, now = ({line.key: line for line in each} for each in (before, after))
    kept = [line for line in lines if _edited(line, was.get(line.key))]
    untouched = [line for line in lines if line not in kept and line.key in now]
    anew = {line.key: replace(now[line.key], is_done=line.is_done and _same(line, now[line.key])) for line in untouched}
    stay = [line if line in kept else anew[line.key] for line in lines if line in kept or line.key in anew]
    return (*stay, *(line for line in after if line.key not in was and line.key not in {each.key for each in stay}))


def _edited(line: HazardLine, usual: HazardLine | None) -> bool:
    return not line.key or usual is None or not _same(line, usual)


def _same(line: HazardLine, other: HazardLine) -> bool:
    return (line.what, line.done, line.who) == (other.what, other.done, other.who)


def _standing_there(situation: Situation) -> Iterator[Hazard]:
    if situation.noted:
        yield Hazard("noted", "here")
    for key, field in STANDING_THERE.items():
        there = getattr(situation, field)
        if there is not False:
            yield Hazard(key, "here" if there else "not looked at")


def _of_weather(situation: Situation) -> Iterator[Hazard]:
    hour = situation.weather
    wind = None if hour is None else hour.strongest_m_s
    if wind is None:
        yield Hazard("wind", "not looked at")
    else:
        yield Hazard("wind", "here", wind_on_face(wind, situation.face_m2 or UMBRELLA_FACE_M2).advice)
    if hour is None or hour.temperature_c is None:
        yield Hazard("temperature", "not looked at")
    else:
        yield from _of_temperature(situation, hour, hour.temperature_c)
    raining = hour is not None and bool(hour.rain_mm)
    yield Hazard("wet", "here" if raining else "always")


def _of_temperature(situation: Situation, hour: WeatherHour, temperature_c: float) -> Iterator[Hazard]:
    cold = chill(wind_chill_c(temperature_c, hour.wind_m_s or 0.0))
    if cold != "none" or temperature_c <= STANDING_ABOUT_COLD_C:
        yield Hazard("cold", "here", cold)
    if hour.humidity_pct is None:
        if temperature_c >= HEAT_BEGINS_C:
            yield Hazard("heat", "not looked at")
        return
    hot = heat(heat_index_c(temperature_c, hour.humidity_pct), in_sun=situation.in_sun)
    if hot != "none":
        yield Hazard("heat", "here", hot)


def _of_people(situation: Situation) -> Iterator[Hazard]:
    yield Hazard("crowd", "here" if situation.crowd in ("tight", "blocked") else "always", situation.crowd or "")
    if situation.dark:
        yield Hazard("dark", "here")
    if situation.sun_up:
        yield Hazard("sun", "here" if situation.sun_near_lens else "always")


def _checked_line(field: str, line: HazardLine) -> HazardLine:
    what = trimmed(field, line.what)
    if not what:
        raise InputProblem(field, "say what the hazard is, or take the line out")
    return replace(line, what=what, done=trimmed(field, line.done), who=trimmed(field, line.who, LONGEST_NAME))
