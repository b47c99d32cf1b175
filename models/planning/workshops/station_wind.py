"""What the wind of the hour does to a station's lights, as the hazards sheet has the wind."""

from __future__ import annotations

from dataclasses import dataclass

from models.light.wind import catches_wind, wind_on_lights
from models.planning.street.sky import weather_kept
from models.planning.workshops.grounds import Grounds
from models.planning.workshops.station_look import StationLight
from models.store.engine import Store
from models.store.hazards import sheet_of
from models.street.comfort import WindOn
from models.words.hazards import WIND_DONE, wind_at_words

NOT_KNOWN = "not known"


@dataclass(frozen=True, slots=True)
class StationWind:
    """words: the wind with its force. advice: None where no wind is known. done: what to do about it, "" for nothing
    said."""

    words: str
    advice: WindOn | None
    done: str


def wind_of(store: Store, grounds: Grounds, light: StationLight | None) -> StationWind | None:
    """In the hour it starts; None where no light has a stand or a face that the wind pushes."""
    if light is None or not any(map(catches_wind, light.setup.lights)):
        return None
    strongest = _strongest_m_s(store, grounds)
    found = None if strongest is None else wind_on_lights(light.setup.lights, strongest)
    if strongest is None or found is None:
        return StationWind(NOT_KNOWN, None, "")
    return StationWind(wind_at_words(strongest, found), found.advice, _done(found.advice, found.force))


def _done(advice: WindOn, force: int) -> str:
    return "" if advice == "weight" and not force else WIND_DONE[advice]


def _strongest_m_s(store: Store, grounds: Grounds) -> float | None:
    """As typed in the hazards sheet, else as kept for the spot."""
    starts = grounds.workshop.starts
    with store.reading() as s:
        sheet = sheet_of(s, grounds.workshop.id)
        hour = (sheet.hour.at(starts) if sheet else None) or weather_kept(s, grounds.spot.id, starts)
    return hour.strongest_m_s if hour else None
