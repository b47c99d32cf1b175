"""Spots and hours kept with a setup: in words, and whether it works there."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, time

from models.clock import day_words, zone_short
from models.light.setup import Setup
from models.planning.answers import Moment
from models.planning.moments import read_moment
from models.planning.sentence import bearing_words, read_looking
from models.planning.setups.lit import read_lit, solved_in
from models.problems import InputProblem
from models.store.engine import Store
from models.store.setups import KeptSetup, Try
from models.store.spots import Spot, shelf
from models.words.said import Said
from models.words.setup_answer import solved_answer


@dataclass(frozen=True, slots=True)
class TryShown:
    """A spot and hour in words, the address parameters that show it there, and whether the setup works (None: not
    worked out)."""

    words: str
    address: dict[str, str]
    verdict: Said | None


def tries_shown(store: Store, kept: KeptSetup, setup: Setup | None) -> tuple[TryShown, ...]:
    """Those whose spot is still there. setup: None leaves the verdicts out."""
    with store.reading() as s:
        spots = shelf.these(s, (tried.spot_id for tried in kept.tries))
        seen = {number for number in spots if shelf.find(s, number)[1]}
    return tuple(
        _shown(store, tried, spots[tried.spot_id], kept, setup) for tried in kept.tries if tried.spot_id in seen
    )


def try_of(spot: Spot, moment: Moment, asked: Mapping[str, str]) -> Try:
    """A spot and hour to be kept with a setup. Raises InputProblem naming looking."""
    looking = read_looking(asked["looking"]) if "looking" in asked else spot.looking_deg
    return Try(spot.id, f"{moment.local:%Y-%m-%d}", f"{moment.local:%H:%M}", moment.oktas, looking)


def moment_of(tried: Try, zone: str) -> Moment:
    """Of a time that comes twice the first. Raises InputProblem."""
    day = datetime.combine(date.fromisoformat(tried.on), time(12), UTC)
    return read_moment(tried.on, tried.at, str(tried.oktas), zone, day, "0")


def _shown(store: Store, tried: Try, spot: Spot, kept: KeptSetup, setup: Setup | None) -> TryShown:
    looking = {} if tried.looking_deg is None else {"looking": f"{tried.looking_deg:g}"}
    day = day_words(date.fromisoformat(tried.on))
    said_looking = f", looking {bearing_words(tried.looking_deg)}" if tried.looking_deg is not None else ""
    address = {"spot": str(spot.id), "on": tried.on, "at": tried.at, "sky": str(tried.oktas), **looking}
    words = f"{spot.name}, {day}, {tried.at}{_zone_of(tried, spot.zone)}, {tried.oktas} of 8 covered{said_looking}"
    return TryShown(words, address, _verdict(store, tried, spot, kept, setup) if setup else None)


def _zone_of(tried: Try, zone: str) -> str:
    """' CEST'; empty for a clock time that the zone's day no longer has."""
    try:
        return f" {zone_short(moment_of(tried, zone).instant, zone)}"
    except InputProblem:
        return ""


def _verdict(store: Store, tried: Try, spot: Spot, kept: KeptSetup, setup: Setup) -> Said | None:
    looking = "any" if tried.looking_deg is None else f"{tried.looking_deg:g}"
    try:
        lit = read_lit(store, {"looking": looking}, spot, moment_of(tried, spot.zone))
    except InputProblem:
        return None
    return solved_answer(solved_in(setup, kept.wanted, lit))
