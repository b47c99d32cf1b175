"""What is said of a workshop's map sketch: its title, what each place is called on it, and all of it in words."""

from __future__ import annotations

from collections.abc import Sequence

from models.units import compass_words
from models.words.briefing_parts import sentence
from models.words.said import listed

MEETING, SPOT, FALLBACK = "Meet", "Spot", "Fallback"
WALK, ONWARD = "From the meeting point to the spot", "From the spot to the fallback"
COMFORTS = {"toilets": "Toilets", "shelter": "Shelter", "coffee": "Coffee"}
"""As they are written beside their marks."""
BROKEN = "Broken line: no way on record."
NO_MEETING = "No meeting point yet: meet at the spot."
LOOK_FIRST = "Squares are from a map: look first."
FROM_THE_MAP = "Toilets, shelter and coffee are as a map has them: look before the day whether they are open."


def title_words(title: str) -> str:
    return f"Where {title} meets and works"


def station_words(name: str) -> str:
    return name if name.lower().startswith("station") else f"Station {name}"


def meeting_point_words(name: str) -> str:
    return f"Meeting point: {name}"


def far_words(distance_m: float, bearing_deg: float) -> str:
    """'120 m to the north-east': to ten metres, as well as a sketch has it."""
    if distance_m < 10:
        return "under 10 m away"
    away = f"{round(distance_m / 10) * 10:d} m" if distance_m < 995 else f"{distance_m / 1000:.1f} km"
    return f"{away} to the {compass_words(bearing_deg)}"


def comfort_words(kind: str, name: str, distance_m: float, bearing_deg: float) -> str:
    return f"{COMFORTS[kind].lower()}{f' ({name})' if name else ''} {far_words(distance_m, bearing_deg)}"


def off_words(distance_m: float, bearing_deg: float) -> str:
    """Of a fallback that lies off the sketch; short enough for a phone."""
    return f"Fallback {far_words(distance_m, bearing_deg)}: not drawn."


def sketch_words(
    *,
    spot: str,
    meeting: str,
    meets_by: str,
    walk: str,
    stations: Sequence[str],
    fallback: str,
    comforts: Sequence[str],
) -> str:
    """All places in words, for those who do not see the drawing. meeting, meets_by, walk, fallback: '' for none."""
    parts = [f"The spot is {spot}."]
    parts += [f"Meeting point: {meeting} of it."] if meeting else [NO_MEETING]
    parts += [f"To find it: {sentence(meets_by)}"] if meets_by else []
    parts += [f"The walk to the spot: {walk}"] if meeting and walk else []
    if stations:
        parts.append(f"Station{'s' * (len(stations) > 1)} {listed(list(stations))}.")
    parts += [f"Fallback: {fallback}."] if fallback else []
    parts += [f"Nearest to the spot: {listed(list(comforts))}. {FROM_THE_MAP}"] if comforts else []
    return " ".join(parts)
