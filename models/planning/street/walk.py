"""A walk from any point to any point: by the straight distance and along the footways that imports brought."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from sqlalchemy.orm import Session

from models.exchange.geodesy import metres_between
from models.planning.memory import Memory
from models.store.engine import Store
from models.store.town import FootwayRow, footway_sources, footways_in, reaches
from models.street.crossings import roads_crossed
from models.street.footways import Way, shortest_way
from models.street.town import Box, LonLat
from models.street.town import box_round as round_point
from models.street.walking import GROUP_PACE_M_S, Walk, shown, straight_walk
from models.words import walk as words
from models.words.said import Said
from models.words.street import walk_words

Point = tuple[float, float]
SAME_PLACE_M = 1.0
FARTHEST_M = 20_000.0
"""As the crow flies; nobody is asked to walk further with kit: our planning rule."""
ASIDE_M = 400.0
"""Footways are looked for so far beside both ends, since the way there may lead round: our planning rule."""
MOST_WAYS = 20_000
FURTHEST_NORTH_DEG = 89.9
"""And south: nearer to a pole no flat plane holds a walk."""
SHARED_POINTS = "openstreetmap"
"""In the attribution of imports whose ways share a point where they meet; all others were drawn by hand."""


@dataclass(frozen=True, slots=True)
class WalkAnswer:
    """How long a group walks from start to goal, each (latitude_deg, longitude_deg).

    straight_m: as the crow flies. walks: what is shown, both where they differ by more than a third, none where there
    is nothing to walk or too much. line: (longitude_deg, latitude_deg) along footways, empty where none lead there.
    """

    start: Point
    goal: Point
    straight_m: float
    pace_m_s: float
    walks: tuple[Walk, ...]
    said: Said
    notes: tuple[str, ...]
    line: tuple[LonLat, ...]


def walk_between(store: Store, start: Point, goal: Point, pace_m_s: float = GROUP_PACE_M_S) -> WalkAnswer:
    """The walk between two points, (latitude_deg, longitude_deg). Raises InputProblem for a pace nobody walks."""
    with store.reading() as s:
        return walk_in(s, start, goal, pace_m_s)


def walk_in(s: Session, start: Point, goal: Point, pace_m_s: float = GROUP_PACE_M_S) -> WalkAnswer:
    """The same in an open session; worked out once as long as the imports round there stay what they are."""
    away_m = metres_between(start, goal)
    straight = straight_walk(min(away_m, FARTHEST_M), pace_m_s)
    if away_m < SAME_PLACE_M:
        return WalkAnswer(start, goal, away_m, pace_m_s, (), words.SAME_PLACE, (), ())
    if away_m > FARTHEST_M:
        too_far = words.too_far_words(f"{away_m / 1000:,.0f} km")
        return WalkAnswer(start, goal, away_m, pace_m_s, (), too_far, (), ())
    key = f"{reaches(s).stamp(*start, away_m + 2 * ASIDE_M)} {start} {goal} {pace_m_s}"
    return _KEPT.once(key, lambda: _walked(s, start, goal, away_m, straight))


def _walked(s: Session, start: Point, goal: Point, away_m: float, straight: Walk) -> WalkAnswer:
    found, pace_m_s = _along(s, start, goal), straight.pace_m_s
    if found.way is None:
        return WalkAnswer(
            start, goal, away_m, pace_m_s, (straight,), walk_words((straight,)), (found.why, words.WAITING), ()
        )
    way, crossings = found.way, roads_crossed(found.way.line, found.ways)
    along = Walk("footways", way.distance_m, pace_m_s, way.stairs, crossings)
    walks = shown(straight, along)
    notes = words.walk_notes(stairs=way.stairs, crossings=crossings, off_m=way.off_m, by_hand=found.by_hand)
    return WalkAnswer(start, goal, away_m, pace_m_s, walks, walk_words(walks), (*notes, words.WAITING), way.line)


_KEPT = Memory[WalkAnswer](512)


class _Found(NamedTuple):
    """The way along footways, or why there is none."""

    way: Way | None
    ways: tuple[FootwayRow, ...] = ()
    by_hand: bool = False
    why: str = ""


def _along(s: Session, start: Point, goal: Point) -> _Found:
    if abs(start[0]) > FURTHEST_NORTH_DEG:
        return _Found(None, why=words.NO_FOOTWAYS)
    box = _box_round(start, goal)
    ways = footways_in(s, box, limit=MOST_WAYS + 1)
    if not ways:
        return _Found(None, why=words.NO_FOOTWAYS)
    if len(ways) > MOST_WAYS:
        return _Found(None, why=words.TOO_MANY_WAYS)
    by_hand = not any(SHARED_POINTS in source.lower() for source in footway_sources(s, box))
    way = shortest_way(ways, start, goal, by_hand=by_hand)
    return _Found(way, ways, by_hand, "" if way else words.NO_WAY)


def _box_round(start: Point, goal: Point) -> Box:
    """The box that holds both ends and what lies ASIDE_M round them; it may cross 180 degrees."""
    one, other = (round_point(*point, ASIDE_M) for point in (start, goal))
    south, north = min(one.south, other.south), max(one.north, other.north)
    if abs(start[1] - goal[1]) <= 180:
        return Box(south, min(one.west, other.west), north, max(one.east, other.east))
    east_of, west_of = (one, other) if start[1] < goal[1] else (other, one)
    return Box(south, west_of.west, north, east_of.east)
