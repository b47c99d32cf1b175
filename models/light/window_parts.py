"""What is asked of the times worth booking, and what is known of a spot from step to step."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal, get_args
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import NDArray

from models.problems import InputProblem

Want = Literal["any", "shade", "low sun behind", "golden", "blue"]
WANTS: tuple[Want, ...] = get_args(Want)

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Days = NDArray[np.datetime64]
Ints = NDArray[np.int64]

LOW_SUN_DEG = 15.0
BEHIND_DEG = 40.0
"""Low sun behind: within this of the bearing behind the subject, and lower than that. House rules."""

DAY_MIN = 24 * 60


@dataclass(frozen=True, slots=True)
class Ask:
    """What the organiser looks for. Days are local dates, both in; hours are local minutes of the day and may run over
    midnight; weekdays count from Monday = 0."""

    first: date
    last: date
    length_min: int = 60
    weekdays: frozenset[int] = frozenset(range(7))
    from_min: int = 0
    to_min: int = DAY_MIN
    want: Want = "any"
    min_reserve: float | None = None

    def __post_init__(self) -> None:
        if self.last < self.first:
            raise InputProblem("last", "the last day lies before the first")
        if not 15 <= self.length_min <= DAY_MIN:
            raise InputProblem("length_min", "give a length from 15 minutes to a day")
        if not self.weekdays or not self.weekdays <= set(range(7)):
            raise InputProblem("weekdays", "choose at least one day of the week")
        if not (0 <= self.from_min < DAY_MIN and 0 < self.to_min <= DAY_MIN):
            raise InputProblem("hours", "give hours between 00:00 and 24:00")
        if self.from_min == self.to_min:
            raise InputProblem("hours", "the hours begin and end at the same time")
        if self.open_min < self.length_min:
            raise InputProblem("hours", "the hours are shorter than the length asked for")
        if self.want not in WANTS:
            raise InputProblem("want", "choose one of: " + ", ".join(WANTS))

    @property
    def open_min(self) -> int:
        """Minutes from the first to the last hour asked for."""
        return (self.to_min - self.from_min) % DAY_MIN or DAY_MIN


@dataclass(frozen=True, slots=True, eq=False)
class Sky:
    """A spot under one sky, step by step, each (n,): stops in hand, EV100 of the surroundings (of the spot, before a
    bearing is chosen), and whether the lowest power overshoots."""

    reserve_stops: Floats
    behind_ev: Floats
    too_strong: Bools


@dataclass(frozen=True, slots=True, eq=False)
class SpotTimes:
    """A spot in steps of one length, each array (n,).

    unix_s: instants. day, minute: local date and minute of the day (local_clock gives both).
    state: "sun", "leaves", "shade", "dusk", "lamps" or "dark". golden, blue: inside those bands.
    sun_reaches: direct sun of a clear sky falls on the subject or on what is behind.
    footfall: people an hour (nan where not counted), None where nobody counted at all.
    """

    spot_id: int
    name: str
    looking_deg: float | None
    unix_s: Floats
    day: Days
    minute: Ints
    clear: Sky
    overcast: Sky
    state: NDArray[np.str_]
    sun_elevation_deg: Floats
    sun_azimuth_deg: Floats
    golden: Bools
    blue: Bools
    sun_reaches: Bools
    footfall: Floats | None = None

    @property
    def step_min(self) -> float:
        return float(self.unix_s[1] - self.unix_s[0]) / 60 if len(self.unix_s) > 1 else 15.0

    @property
    def skies(self) -> tuple[tuple[str, Sky], tuple[str, Sky]]:
        return ("with a clear sky", self.clear), ("at 8 oktas", self.overcast)


@dataclass(frozen=True, slots=True)
class Window:
    """A time worth booking: start and end in UTC, the worst reserve in it, under which sky, and why. want_share: how
    much of it is what was wanted. against: what speaks against it."""

    spot_id: int
    name: str
    start: datetime
    end: datetime
    worst_reserve: float
    worst_sky: str
    want_share: float
    reasons: tuple[str, ...]
    against: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Ranked:
    """Windows, best first, and for each spot without any the reason."""

    windows: tuple[Window, ...]
    unmet: tuple[str, ...]


def local_clock(unix_s: Floats, zone: str) -> tuple[Days, Ints]:
    """Local dates and minutes of the day of instants; an offset is looked up once a quarter hour."""
    quarters, back = np.unique(np.floor(unix_s / 900), return_inverse=True)
    place = ZoneInfo(zone)
    offsets = np.array([_offset_s(quarter * 900, place) for quarter in quarters.tolist()])
    minutes = np.floor((unix_s + offsets[back]) / 60).astype(np.int64)
    return (minutes // DAY_MIN).astype("datetime64[D]"), minutes % DAY_MIN


def wanted(spot: SpotTimes, want: Want) -> Bools:
    """(n,) whether each step is what is wanted, under a clear sky."""
    up = (spot.sun_elevation_deg > 0) & spot.sun_reaches
    if want == "shade":
        return np.asarray(spot.state == "shade")
    if want == "golden":
        return spot.golden & up
    if want == "blue":
        return spot.blue
    if want == "low sun behind":
        return up & (spot.sun_elevation_deg < LOW_SUN_DEG) & (aside_deg(spot) <= BEHIND_DEG)
    return np.ones(len(spot.unix_s), dtype=np.bool_)


def aside_deg(spot: SpotTimes) -> Floats:
    """(n,) how far the sun stands to the side of straight behind the subject; nan without a bearing."""
    looking = np.nan if spot.looking_deg is None else spot.looking_deg
    return np.abs((spot.sun_azimuth_deg - looking + 180) % 360 - 180)


def _offset_s(instant_s: float, place: ZoneInfo) -> float:
    offset = datetime.fromtimestamp(instant_s, place).utcoffset()
    return offset.total_seconds() if offset else 0.0
