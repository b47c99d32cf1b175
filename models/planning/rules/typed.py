"""What people type about a workshop: how many, from when to when, how wide, which spot, where they meet."""

from __future__ import annotations

import re
from datetime import date, datetime, time, timedelta

from models.clock import (
    TimeInGap,
    TimeIsAmbiguous,
    day_words,
    require_aware,
    resolve_local,
    time_words,
    to_local,
    zone_short,
)
from models.exchange.geodesy import metres_between
from models.planning.moments import read_clock, read_date
from models.planning.places import read_place
from models.planning.sentence import read_length
from models.problems import InputProblem
from models.store.engine import Store
from models.store.spots import Spot, find_spot, get_spot, list_spots
from models.store.versions import Missing

NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
YES, NO = "yes", "no"
SHORTEST, LONGEST = timedelta(minutes=5), timedelta(hours=24)
OVERNIGHT = timedelta(hours=12)
"""An end that the clock shows before the start lies on the next day, if that makes it no longer than this."""
WIDEST_M = 30.0
SAME_PLACE_M = 1.0
"""A meeting point this near a spot is the spot."""

_COUNT = re.compile(r"(?P<count>\d{1,6}|[a-z]+)(?:\s+[a-z ]+)?$")
_NUMBER = re.compile(r"[+-]?\d+(?P<part>[.,]\d+)?(?:\s+[a-z ]+)?$")
_LASTS = re.compile(
    r"(?:(?P<h>\d{1,3}(?:[.,]\d{1,2})?)\s*h(?:ours?|rs?)?)?\s*(?:(?P<m>\d{1,4})\s*m(?:in(?:utes?)?)?)?$"
)
_ZONED = re.compile(r"(?P<clock>.*?\d(?:\s*[ap]\.?m\.?)?)\s*(?P<zone>(?:utc)?[+-]\d{2,4}|[a-z]{3,5}|)$")


def read_count(field: str, text: str, low: int, high: int) -> int:
    """How many, from '3', '3 stands', 'three people', 'none'."""
    typed = text.strip().lower()
    if not typed:
        raise InputProblem(field, f"Say how many: a number from {low} to {high}.")
    found = _COUNT.match(typed)
    word = "no" if found and found["count"] in ("none", "zero") else found["count"] if found else ""
    if word.isdecimal():
        count = int(word)
    elif word in NUMBERS:
        count = NUMBERS.index(word)
    else:
        if number := _NUMBER.match(typed):
            what = "is not a whole number" if number["part"] else "is out of reach"
            raise InputProblem(field, f"{text.strip()[:40]} {what}: give {low} to {high}.")
        raise InputProblem(field, f"“{text}” is not a number. Type it like {max(low, 3)}.")
    if not low <= count <= high:
        raise InputProblem(field, f"{count} is out of reach: give {low} to {high}.")
    return count


def read_yes(field: str, text: str) -> bool:
    """'yes' or 'no'; a ticked box sends 'on'."""
    typed = text.strip().lower()
    if typed in (YES, "on", "1", "true"):
        return True
    if typed in (NO, "", "0", "false"):
        return False
    raise InputProblem(field, f"“{text}” is neither yes nor no.")


def read_day(field: str, text: str, today: date) -> date:
    """A day as `read_date` reads it, but never today for want of a word."""
    if not text.strip():
        raise InputProblem(field, "Say which day. Type it like 2026-10-17, 17.10. or 17 Oct.")
    try:
        return read_date(text, today)
    except InputProblem as problem:
        raise InputProblem(field, problem.message) from None


def read_ends(field: str, text: str, starts: datetime, zone: str) -> datetime:
    """When it is over (UTC): a clock time, '18:30', or how long it takes, '90 min', '1.5 h', '1 h 30 min'."""
    typed, starts = text.strip().lower(), require_aware(starts)
    found = _LASTS.match(typed)
    if found and (found["h"] or found["m"]):
        hours = float((found["h"] or "0").replace(",", "."))
        ends = starts + timedelta(minutes=round(hours * 60) + int(found["m"] or 0))
    else:
        ends = _next_after(field, typed, starts, zone)
    if not SHORTEST <= ends - starts <= LONGEST:
        raise InputProblem(field, "from setting up to packed up takes from 5 minutes to 24 hours.")
    return ends


def lasts_text(starts: datetime, ends: datetime) -> str:
    """How long it takes, as it may be typed again: '90min'."""
    return f"{round((require_aware(ends) - require_aware(starts)).total_seconds() / 60)}min"


def ends_text(starts: datetime, ends: datetime, zone: str) -> str:
    """The clock time it is over, or how long it takes where the clock would be read back as another day."""
    text = clock_text(ends, zone)
    try:
        same = read_ends("ends", text, starts, zone) == require_aware(ends)
    except InputProblem:
        same = False
    return text if same else lasts_text(starts, ends)


def read_instant(field: str, day: date, text: str, zone: str) -> datetime:
    """The instant (UTC) of a clock time on a local day: '17:00', '5 pm'; where it comes twice, '02:30 CET'."""
    found = _ZONED.match(text.strip().lower())
    letters = found["zone"] if found else ""
    clock = _clock(field, found["clock"] if found and letters else text)
    try:
        instants = [resolve_local(day, clock, zone)]
    except TimeInGap:
        raise InputProblem(
            field, f"{clock:%H:%M} does not exist on {day_words(day)}: the clocks go forward over it."
        ) from None
    except TimeIsAmbiguous as twice:
        instants = list(twice.choices)
    names = [zone_short(instant, zone) for instant in instants]
    if letters:
        instants = [instant for instant, name in zip(instants, names, strict=True) if name.lower() == letters]
    if not instants:
        raise InputProblem(field, f"“{text}”: at that time the clocks of {zone} show {' or '.join(names)}.")
    if len(instants) == 2:
        first, second = (f"{clock:%H:%M} {name}" for name in names)
        raise InputProblem(
            field, f"{clock:%H:%M} comes twice on {day_words(day)}: the clocks go back. Type {first} or {second}."
        )
    return instants[0]


def clock_text(instant: datetime, zone: str) -> str:
    """'17:00', and '02:30 CET' where the clocks show the time twice; `read_instant` reads it back."""
    local = to_local(instant, zone)
    twice = local.replace(fold=0).utcoffset() != local.replace(fold=1).utcoffset()
    return time_words(instant, zone) if twice else f"{local:%H:%M}"


def read_width(field: str, text: str) -> float | None:
    """Metres left for walkers, from '1.8', '1.8 m' or '6 ft'; None for nothing measured."""
    typed = text.strip().lower()
    if typed in ("", "not measured"):
        return None
    width_m = read_length(typed)
    if width_m is None or width_m > WIDEST_M:
        raise InputProblem(field, f"“{text}” is not a width. Type it like 1.8 m or 6 ft, up to {WIDEST_M:g} m.")
    return width_m


def width_text(width_m: float | None) -> str:
    """'1.8 m', or nothing."""
    return "" if width_m is None else f"{width_m:.2f}".rstrip("0").rstrip(".") + " m"


def read_spot(field: str, text: str, store: Store) -> Spot:
    """A spot by its name, a part of it, or its number."""
    with store.reading() as s:
        try:
            return find_spot(s, text)
        except Missing:
            raise InputProblem(field, f"there is no spot “{text.strip()}”. Type its name or its number.") from None
        except InputProblem as several:
            raise InputProblem(field, several.message) from None


def spot_text(spot: Spot, store: Store) -> str:
    """Its name, or its number where the name could mean another one; `read_spot` reads it back."""
    try:
        found = read_spot("spot", spot.name, store)
    except InputProblem:
        return str(spot.id)
    return spot.name if found.id == spot.id else str(spot.id)


def read_meeting_point(field: str, text: str, store: Store) -> tuple[float, float] | None:
    """Latitude and longitude where the walk begins, from coordinates or the name of a spot; None for nowhere noted."""
    typed = text.strip()
    if not typed:
        return None
    try:
        return read_place(typed)
    except InputProblem as no_place:
        if no_place.field != "place":
            raise InputProblem(field, no_place.message) from None
    try:
        spot = read_spot(field, typed, store)
    except InputProblem as no_spot:
        if "could be any of" in no_spot.message:
            raise
        raise InputProblem(field, f"“{text}” is neither a spot nor a place like 52.5301, 5.2312.") from None
    return spot.latitude_deg, spot.longitude_deg


def meeting_text(point: tuple[float, float] | None) -> str:
    """As it may be typed again: '52.530100, 5.231200'."""
    return "" if point is None else f"{point[0]:.6f}, {point[1]:.6f}"


def meeting_words(point: tuple[float, float] | None, store: Store) -> str:
    """The name of a spot that is there, else the coordinates; `read_meeting_point` reads it back."""
    if point is None:
        return ""
    with store.reading() as s:
        nearest = list_spots(s, order_by="distance", here=point, limit=1)
    if nearest and metres_between(point, (nearest[0].latitude_deg, nearest[0].longitude_deg)) < SAME_PLACE_M:
        return spot_text(nearest[0], store)
    return meeting_text(point)


def spot_or_none(store: Store, spot_id: int | None) -> Spot | None:
    """The spot, None where none is named or it was deleted."""
    if spot_id is None:
        return None
    with store.reading() as s:
        try:
            return get_spot(s, spot_id)
        except Missing:
            return None


def _next_after(field: str, typed: str, starts: datetime, zone: str) -> datetime:
    day = to_local(starts, zone).date()
    ends = read_instant(field, day, typed, zone)
    if ends > starts:
        return ends
    tomorrow = read_instant(field, day + timedelta(days=1), typed, zone)
    if tomorrow - starts > OVERNIGHT:
        raise InputProblem(field, f"“{typed}” is over before it starts at {clock_text(starts, zone)}.")
    return tomorrow


def _clock(field: str, text: str) -> time:
    try:
        return read_clock(text)
    except InputProblem as problem:
        raise InputProblem(field, problem.message) from None
