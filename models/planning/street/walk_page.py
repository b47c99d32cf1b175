"""The walk from a spot to anywhere: the answer, its notes, a sketch of the way, and where else one might go."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy.orm import Session

from models.exchange.geodesy import metres_between
from models.planning.rules.typed import meeting_text, meeting_words, read_meeting_point, spot_text
from models.planning.rules.what_if import Clause
from models.planning.sentence import Word
from models.planning.spot_answers import Drawing
from models.planning.street.walk import FURTHEST_NORTH_DEG, SAME_PLACE_M, Point, WalkAnswer, walk_between
from models.planning.street.way_drawn import way_drawn
from models.problems import InputProblem
from models.store import rules as kept
from models.store.engine import Store
from models.store.spots import Spot, get_spot, list_spots
from models.street.walking import DETOUR, FASTEST_M_S, GROUP_PACE_M_S, SLOWEST_M_S
from models.words import walk as words
from models.words.said import Said, said
from models.words.street import sources_of

PARAMETERS = ("to", "pace")
NOWHERE = "nowhere yet"
MOST_NEAR, MOST_MEETINGS = 6, 4
LONGEST_TEXT = 200
SOURCES_SHOWN = (*sources_of("Walking"), words.DETOUR_SOURCE)

_PACE = re.compile(r"(\d{1,3}(?:[.,]\d{1,12})?)\s*(m/s|km/h)?$")


@dataclass(frozen=True, slots=True)
class Elsewhere:
    """Somewhere to walk to, as `to` reads it, and how far as the crow flies."""

    words: str
    to: str
    distance_m: float


@dataclass(frozen=True, slots=True)
class WalkPage:
    """walk, sketch: None until it is said where to. elsewhere: spots near, and where workshops here meet."""

    spot: Spot
    answer: Said
    known: bool
    to: str
    walk: WalkAnswer | None
    sentence: Clause
    sketch: Drawing | None
    elsewhere: tuple[Elsewhere, ...]
    cautions: tuple[str, ...]
    working: tuple[str, ...]
    sources: tuple[tuple[str, str], ...]


def walk_page(store: Store, spot_id: int, asked: Mapping[str, str], now: datetime) -> WalkPage:
    """The walk from a spot to where the address says. Raises Missing, or InputProblem naming a parameter."""
    with store.reading() as s:
        spot = get_spot(s, spot_id)
    here = (spot.latitude_deg, spot.longitude_deg)
    pace_m_s, goal = read_pace(asked.get("pace", "")), _goal(store, asked.get("to", ""), here)
    to = meeting_words(goal, store)
    walk = walk_between(store, here, goal, pace_m_s) if goal else None
    elsewhere = _elsewhere(store, spot, here, now)
    return WalkPage(
        spot=spot,
        answer=said(f"{spot.name} to {to}. ") + walk.said if walk else words.SAY_WHERE,
        known=walk is not None,
        to=to,
        walk=walk,
        sentence=_sentence(spot, to, pace_m_s, elsewhere),
        sketch=way_drawn(store, walk, spot.name, to) if walk and walk.walks and _flat(spot) else None,
        elsewhere=elsewhere,
        cautions=words.WALKING_CAUTIONS,
        working=_working(walk),
        sources=SOURCES_SHOWN,
    )


def read_pace(text: str) -> float:
    """Metres a second from 'group pace', 'slow pace', '1.2 m/s' or '4 km/h'. Raises InputProblem('pace', ...)."""
    typed = " ".join(text.lower().split())
    named = {name: pace for words_, pace in words.PACES for name in (words_, words_.removesuffix(" pace"))}
    if not typed or typed in named:
        return named.get(typed, GROUP_PACE_M_S)
    found = _PACE.match(typed)
    pace_m_s = float(found[1].replace(",", ".")) / (3.6 if found[2] == "km/h" else 1.0) if found else 0.0
    if not SLOWEST_M_S <= pace_m_s <= FASTEST_M_S:
        raise InputProblem("pace", words.pace_problem(text.strip()[:40]))
    return pace_m_s


def _goal(store: Store, text: str, here: Point) -> Point | None:
    typed = text.strip()
    if len(typed) > LONGEST_TEXT:
        raise InputProblem("to", f"{len(typed)} characters are no place. Type a spot, or coordinates like 52.53, 5.23.")
    goal = read_meeting_point("to", "" if typed.lower() == NOWHERE else typed, store)
    if goal and metres_between(here, goal) < SAME_PLACE_M:
        raise InputProblem("to", "That is the spot itself. Choose another place.")
    return goal


def _flat(spot: Spot) -> bool:
    """Whether a walk from there can be laid on a sheet."""
    return abs(spot.latitude_deg) <= FURTHEST_NORTH_DEG


def _sentence(spot: Spot, to: str, pace_m_s: float, elsewhere: tuple[Elsewhere, ...]) -> Clause:
    shown, pace = to or NOWHERE, words.pace_words(pace_m_s)
    places = tuple((place.to, place.to) for place in elsewhere)
    paces = tuple((name, name) for name, _ in words.PACES)
    return Clause(
        (
            Word(f"From {spot.name} to ", "to", "where to", shown, shown, places, free=True),
            Word(" at ", "pace", "pace", pace, pace, paces, free=True),
        ),
        ".",
    )


def _elsewhere(store: Store, spot: Spot, here: Point, now: datetime) -> tuple[Elsewhere, ...]:
    with store.reading() as s:
        near = list_spots(s, order_by="distance", here=here, limit=MOST_NEAR + 1)
        meetings = _meetings(s, spot, here, now)
    spots = tuple(
        Elsewhere(other.name, spot_text(other, store), metres_between(here, (other.latitude_deg, other.longitude_deg)))
        for other in near
        if other.id != spot.id
    )
    return (*(place for place in spots if place.distance_m >= SAME_PLACE_M), *meetings)


def _meetings(s: Session, spot: Spot, here: Point, now: datetime) -> tuple[Elsewhere, ...]:
    """Where the workshops to come at this spot meet."""
    points = {
        workshop.meeting_point: workshop.title
        for workshop in kept.list_workshops(s, from_=now)
        if workshop.spot_id == spot.id and workshop.meeting_point
    }
    found = ((title, point, metres_between(here, point)) for point, title in points.items())
    return tuple(
        Elsewhere(f"Meeting point of {title}", meeting_text(point), away_m)
        for title, point, away_m in found
        if away_m >= SAME_PLACE_M
    )[:MOST_MEETINGS]


def _working(walk: WalkAnswer | None) -> tuple[str, ...]:
    if walk is None or not walk.walks:
        return ()
    pace, straight_m = f"{walk.pace_m_s:.2f} m/s", walk.straight_m * DETOUR
    along = [each for each in walk.walks if each.how == "footways"]
    return (
        f"Straight = {walk.straight_m:.0f} m as the crow flies × {DETOUR:g} = {straight_m:.0f} m; "
        f"{straight_m:.0f} m / {pace} = {straight_m / walk.pace_m_s:.0f} s",
        *(f"Along footways = {each.distance_m:.0f} m; / {pace} = {each.time_s:.0f} s" for each in along),
    )
