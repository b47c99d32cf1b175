"""What every sheet of a workshop says before all else, in words."""

from __future__ import annotations

from collections.abc import Sequence

from models.words.said import listed


def meet_words(place: str, by: str) -> str:
    """'Linden Walk (under the clock)'."""
    return f"{place} ({by})" if by else place


def down_for_words(caution: str, stations: Sequence[str]) -> str:
    """A caution for whoever stands before the camera, with where."""
    return f"{caution} Down for {listed(list(stations))}."


def two_places_words(name: str, station: str) -> str:
    """An attendee who stands in as a model."""
    return (
        f"{name[:1].upper()}{name[1:]} stands at {station} as its model and is down for turns too, so would be in two "
        f"places: choose another model for {station}, or let somebody stand in while {name} shoots."
    )


def wind_words(stations: Sequence[str], wind: str, done: str) -> str:
    """'Wind at A and B: 13.9 m/s, force 7 (near gale). No stands at all.' done: '' where no wind is known."""
    return f"Wind at {listed(list(stations))}: {wind}. {done or 'Look at the forecast, gusts too.'}"
