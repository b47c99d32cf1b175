"""How tight it gets for walkers: the walkway levels of service of the Highway Capacity Manual, in three words."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from math import inf
from typing import Literal

from models.street.clearance import Pavement

Level = Literal["A", "B", "C", "D", "E", "F"]
Crowd = Literal["room to pass", "tight", "blocked"]

LEVELS: tuple[Level, ...] = ("A", "B", "C", "D", "E", "F")
FLOW_BOUNDS = (16.0, 23.0, 33.0, 49.0, 75.0)
"""People a minute and metre of width up to which A to E hold: Highway Capacity Manual 2000, Exhibit 18-3, average flow
(D and E from memory)."""
SPACE_BOUNDS_M2 = (5.6, 3.7, 2.2, 1.4, 0.75)
"""Square metres a person above which A to E hold: the same exhibit."""
WORDS: dict[Level, Crowd] = {
    "A": "room to pass", "B": "room to pass", "C": "tight", "D": "tight", "E": "blocked", "F": "blocked",
}  # fmt: skip
"""Our planning rule: with a group standing there a level counts for worse than on an open walkway."""
BODY_M = 0.60
"""Width of a standing person: body ellipse of the Highway Capacity Manual 2000, after Fruin 1971."""


@dataclass(frozen=True, slots=True)
class Crowding:
    """walkers_min_m: people a minute and metre of width. narrow: the word comes from a width too narrow for two people
    to pass each other or for one at all, not from the level."""

    width_m: float
    walkers_min_m: float
    level: Level
    crowd: Crowd
    narrow: bool


def level_by_flow(walkers_min_m: float) -> Level:
    """The level at a flow of people a minute and metre of width, the 15 busiest minutes."""
    return LEVELS[bisect_left(FLOW_BOUNDS, walkers_min_m)]


def level_by_space(space_m2: float) -> Level:
    """The level at so many square metres a person."""
    return LEVELS[sum(space_m2 <= bound for bound in SPACE_BOUNDS_M2)]


def flow_of(speed_m_s: float, space_m2: float) -> float:
    """People a minute and metre of width that walk at a speed with so much room each: v = S / M."""
    return 60 * speed_m_s / space_m2


def crowding(width_m: float, people_per_h: float) -> Crowding:
    """How tight it gets on a width left free. An hour's mean hides its busiest minutes: ask with its upper end too."""
    flow = people_per_h / 60 / width_m if width_m > 0 else inf
    level = level_by_flow(flow)
    if width_m < BODY_M:
        return Crowding(width_m, flow, level, "blocked", WORDS[level] != "blocked")
    if width_m < 2 * BODY_M and WORDS[level] == "room to pass":
        return Crowding(width_m, flow, level, "tight", True)
    return Crowding(width_m, flow, level, WORDS[level], False)


def before_and_with(pavement: Pavement, people_per_h: float) -> tuple[Crowding, Crowding]:
    """The crowding without the station and with it."""
    return crowding(pavement.before_m, people_per_h), crowding(pavement.left_m, people_per_h)
