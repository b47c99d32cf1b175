"""The words of the hazards sheet: what it is, what is done about it, who does it. Usual cautions, to be edited."""

from __future__ import annotations

from collections.abc import Callable

from models.street.comfort import (
    SHELTER_MIN,
    SHELTER_S,
    UMBRELLA_FACE_M2,
    WindOnFace,
    heat_index_c,
    wind_chill_c,
    wind_on_face,
)
from models.street.weather import BEAUFORT_NAMES, WeatherHour
from models.words.said import listed, signed_minus
from models.workshop.hazards import STANDING_THERE, Hazard, HazardLine, Situation, hazards_of

SHEET_NOTE = (
    "Usual cautions to think through and to change, no assessment by an expert, and not complete. "
    "Local codes and licensed practice decide, and whoever is responsible on the spot."
)
EMERGENCY_WORDS = {
    "emergency_number": "Emergency number: not filled in. Find the number of the place (112 in the European Union).",
    "first_aider": "First-aider: nobody named. Ask who knows first aid, and where the kit is.",
    "ambulance_address": "Address for an ambulance: not filled in. Street, number, nearest corner, where to turn in.",
}
"""What is said of each while it is empty. 112: Directive (EU) 2018/1972, article 109."""
LOOK_FIRST = "Not looked at yet: {}"

WATCHER, HOLDER, ORGANISER, EVERYONE = "pavement watcher", "light holder", "organiser", "everyone"

HAZARDS: dict[str, tuple[str, str, str]] = {
    "noted": ("Noted at this spot", "", ORGANISER),
    "vehicles": (
        "Moving vehicles beside the pavement",
        "Nobody steps back into the road to frame. Stay a stride from the kerb; the watcher calls vehicles. "
        "No flash towards drivers.",
        WATCHER,
    ),
    "cycles": (
        "A cycle lane within reach",
        "Nobody and nothing on it, not for one frame. No flash towards riders. The watcher calls them.",
        WATCHER,
    ),
    "railway": (
        "A railway or tram line, or a platform",
        "Behind the line marked on the platform, nothing long or tall near wires, no flash towards drivers. "
        "Ask who runs it: most have rules of their own.",
        ORGANISER,
    ),
    "water": (
        "Water's edge",
        "Nobody walks backwards near it; a person stands between the shooter and the edge. Know where the ring or line "
        "hangs and where one gets out.",
        WATCHER,
    ),
    "drop": (
        "A drop, such as steps, a parapet or an open deck",
        "Nobody sits or leans on it or walks backwards near it. Nothing stands where it could fall on people below.",
        WATCHER,
    ),
    "trip": (
        "Trips over kerbs, steps, bollards, bags, stand legs",
        "Bags in one heap against the wall, legs folded or watched, no cables across the way. Walk the ground once "
        "before the first frame.",
        EVERYONE,
    ),
    "wind": ("Wind on a modifier", "", HOLDER),
    "temperature": (
        "Heat or cold: no temperature given for the hour",
        "Look at the forecast the evening before and again on the day.",
        ORGANISER,
    ),
    "heat": (
        "Heat",
        "Shade and water for everybody; models rest 10 minutes after 20. Nobody goes on who feels dizzy or sick: sit "
        "down in the shade, cool, call for help.",
        ORGANISER,
    ),
    "cold": (
        "Cold",
        "Coats on between frames, the models' first; rest 10 minutes after 20, out of the wind. Numb fingers, slurred "
        "words or shivering that will not stop: inside, and call for help.",
        ORGANISER,
    ),
    "lightning": (
        "Lightning",
        f"At the first thunder everybody goes into a building or a car and leaves the stands. Thunder within "
        f"{SHELTER_S:.0f} seconds of the flash is close; back out {SHELTER_MIN:.0f} minutes after the last thunder "
        "(US National Weather Service).",
        ORGANISER,
    ),
    "wet": (
        "Wet: a shower, wet ground, spray",
        "Flashes, packs and cells stay dry or stay in the bag; no external pack on wet ground. Wet leaves, metal and "
        "stone are slippery.",
        HOLDER,
    ),
    "heads": (
        "Hot flash heads, and flashes close to eyes",
        "Let heads cool as their maker says, nothing laid against a hot one. Never fire at eyes from close by.",
        HOLDER,
    ),
    "cells": (
        "Cells: hot, swollen, loose in a pocket",
        "In their boxes, poles covered, charged ones apart from flat ones. A hot or swollen cell goes on bare ground "
        "away from people and is not charged again.",
        HOLDER,
    ),
    "flashing": (
        "People sensitive to flashing light",
        "Ask attendees and models before the first flash, and say it to people who stop to watch. Single frames, never "
        "a series: more than three flashes a second is the bound of WCAG 2.2, 2.3.1. Stop when somebody asks.",
        ORGANISER,
    ),
    "crowd": (
        "Crowd attention: people stop to look, walk into the set, object",
        "The watcher speaks to people and keeps the way open; walkers first, frames second. People who are angry or "
        "press close: lights down, stay polite, walk on.",
        WATCHER,
    ),
    "dark": (
        "Dark: working alone, kit that draws eyes",
        "Nobody alone, not for the last bag either. Stay where people see you, something bright on whoever stands near "
        "the road, a light on stand legs, and the way back known.",
        EVERYONE,
    ),
    "sun": (
        "The sun through a lens",
        "Never look at the sun through a lens or an optical finder; frame on the screen, and cap lenses laid down in "
        "the sun.",
        EVERYONE,
    ),
}  # fmt: skip
"""By key: what, done, who. Common practice where no source is named."""


def prefilled(situation: Situation) -> tuple[HazardLine, ...]:
    """The sheet's lines for a spot and an hour, to be edited and ticked."""
    return tuple(_line(hazard, situation) for hazard in hazards_of(situation))


def _line(hazard: Hazard, situation: Situation) -> HazardLine:
    what, done, who = HAZARDS[hazard.key]
    if hazard.key in FIGURES:
        what = FIGURES[hazard.key](hazard, situation)
    elif hazard.rests == "not looked at" and hazard.key in STANDING_THERE:
        what = LOOK_FIRST.format(what[0].lower() + what[1:])
    done = WIND_DONE[hazard.level or "weight"] if hazard.key == "wind" else done
    return HazardLine(key=hazard.key, what=what, done=done, who=who, rests=hazard.rests)


WIND_DONE = {
    "weight": "Weight on every stand, 5 to 10 kg, and a hand on every light that is up. Watch the gusts.",
    "hold": "Boxes and umbrellas are held by a person, not left to a stand, or come down. Weight on every stand.",
    "down": "Boxes and umbrellas down: bare heads or grids, held by a person. Weight on every stand that is left.",
    "no stands": "No stands at all. Bare flashes in the hand, or the fallback.",
}


def wind_at_words(strongest_m_s: float, found: WindOnFace) -> str:
    """'13.9 m/s, force 7 (near gale), pushes with 93 N'."""
    push = f", pushes with up to {found.drag_n:.0f} N" if found.drag_n >= 0.5 else ""
    return f"{strongest_m_s:.1f} m/s, force {found.force} ({BEAUFORT_NAMES[found.force]}){push}"


def no_stands_at_words(stations: list[str]) -> str:
    """The stations whose setups the wind of the hour allows no stand at; '' for none."""
    return f" Wind: no stands at all at {listed(stations)}." if stations else ""


def _wind(hazard: Hazard, situation: Situation) -> str:
    hour = situation.weather
    strongest = None if hour is None else hour.strongest_m_s
    if hour is None or strongest is None:
        return "Wind on a modifier: no wind given for the hour. Look at the forecast, gusts too"
    face_m2 = situation.face_m2 or UMBRELLA_FACE_M2
    found = wind_on_face(strongest, face_m2)
    what = "a face of" if situation.face_m2 else "an umbrella 1 m across,"
    which = "gusts" if hour.gust_m_s is not None else "gusts not given, wind"
    return (
        f"Wind: {which} of {strongest:.1f} m/s, force {found.force} ({BEAUFORT_NAMES[found.force]}), push with "
        f"{found.drag_n:.0f} N on {what} {face_m2:.2g} m²"
    )


def _heat(hazard: Hazard, situation: Situation) -> str:
    hour = situation.weather
    temperature_c, humidity_pct = _temperature_c(hour), None if hour is None else hour.humidity_pct
    if humidity_pct is None:
        return f"Heat: {temperature_c:.0f} °C, humidity not given, so no heat index"
    sun = ", and direct sun can add 8 °C to it" if situation.in_sun else " in the shade"
    index_c = heat_index_c(temperature_c, humidity_pct) or temperature_c
    return f"Heat: feels like {index_c:.0f} °C{sun}: {hazard.level} (US National Weather Service)"


def _cold(hazard: Hazard, situation: Situation) -> str:
    temperature_c = _temperature_c(situation.weather)
    wind_m_s = None if situation.weather is None else situation.weather.wind_m_s
    index_c = wind_chill_c(temperature_c, wind_m_s or 0.0)
    plain = f"Cold: {signed_minus(temperature_c, 0)} °C"
    if index_c is None:
        return f"{plain}, and people stand about" if wind_m_s is not None else f"{plain}, wind not given"
    risk = "" if hazard.level == "none" else f": {hazard.level} risk to bare skin (Environment Canada)"
    return f"{plain}, wind chill {signed_minus(index_c, 0)}{risk}"


def _wet(hazard: Hazard, situation: Situation) -> str:
    rain_mm = None if situation.weather is None else situation.weather.rain_mm
    return f"Wet: rain of {rain_mm:g} mm in the hour" if rain_mm else HAZARDS["wet"][0]


def _crowd(hazard: Hazard, situation: Situation) -> str:
    tight = f"; the way past the station is {hazard.level}" if hazard.rests == "here" else ""
    return HAZARDS["crowd"][0] + tight


def _sun(hazard: Hazard, situation: Situation) -> str:
    return "The sun in or near the picture" if hazard.rests == "here" else HAZARDS["sun"][0]


def _noted(hazard: Hazard, situation: Situation) -> str:
    return situation.noted.strip()


def _temperature_c(hour: WeatherHour | None) -> float:
    if hour is None or hour.temperature_c is None:
        raise ValueError("no temperature is given")
    return hour.temperature_c


FIGURES: dict[str, Callable[[Hazard, Situation], str]] = {
    "noted": _noted,
    "wind": _wind,
    "heat": _heat,
    "cold": _cold,
    "wet": _wet,
    "crowd": _crowd,
    "sun": _sun,
}
"""What is said with the figures of the hour."""
