"""Times worth booking: at one spot, or across all of them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from datetime import datetime
from math import hypot
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from models.clock import day_words, local_day, to_local, unix_s, zone_short
from models.light.flash import Choice, capacity_ev, reserve_series, too_strong_series
from models.light.lamps import UNKNOWN_STOPS
from models.light.windows import Ask, Sky, SpotTimes, Window, local_clock, rank
from models.planning.facings import behind_ev, blue_reaches, face_ev, sun_arrives
from models.planning.kit import kit_of
from models.planning.light import Series, SpotLight, light_along, spot_light, sun_path
from models.planning.now import doubt_of
from models.planning.sentence import ANY_WAY, OWN_WAY, Sentence, read_sentence
from models.planning.spots import home_zone
from models.planning.states import ORDER, state_codes
from models.planning.street.counts import footfall_of
from models.planning.times_ask import TimesForm, form_of, read_ask
from models.planning.turns import limits_of
from models.sky.events import Limits
from models.store import spots as kept
from models.store.engine import Store
from models.store.spots import Spot
from models.street.skyline import InsideBuilding
from models.words.said import Said, doubt_words, said, stops_in_hand_words

Kind = TypeVar("Kind", bound=np.generic)
STEP_S = 900.0
MOST_SPOTS = 60
MOST_WINDOWS = 20
MOST_OF_EACH = 3
"""Across all spots no more than this of one spot, or the best would hide all others; its own page has more."""

CLEAR_OKTAS, CLOSED_OKTAS = 0, 8


@dataclass(frozen=True, slots=True)
class BookingRow(Window):
    """One time worth booking; words: day, clock times and zone."""

    zone: str
    words: str


@dataclass(frozen=True, slots=True)
class TimesPage:
    """The times best first, why spots have none, the form as understood. spot: None across all of them."""

    spot: Spot | None
    answer: Said
    rows: tuple[BookingRow, ...]
    unmet: tuple[str, ...]
    left_out: tuple[str, ...]
    form: TimesForm
    sentence: Sentence
    rests_on: str


@dataclass(frozen=True, slots=True)
class _Rests:
    """What the times of one spot rest on."""

    skyline: str
    doubt_stops: float
    lamps_known: bool
    counted: bool


@dataclass(frozen=True, slots=True)
class _Aside:
    """What is noted while spots are gone through: what each rests on, and those that cannot be compared."""

    rests: list[_Rests]
    left_out: list[str]


def booking_times(store: Store, spot_id: int | None, asked: Mapping[str, str], now: datetime) -> TimesPage:
    """The best windows of a date range, each with its reasons; spot_id None compares all spots.

    asked: the parameters of times_ask and of the flash sentence. Raises Missing, or InputProblem naming a parameter.
    """
    with store.reading() as s:
        spot = None if spot_id is None else kept.get_spot(s, spot_id)
        found = (spot,) if spot else kept.list_spots(s, limit=MOST_SPOTS)
        total = 1 if spot else kept.count_spots(s)
    zone = spot.zone if spot else home_zone(store)
    ask = read_ask(asked, to_local(now, zone).date())
    usual, unchosen = (spot.looking_deg, ANY_WAY) if spot else (None, OWN_WAY)
    sentence = read_sentence(asked, kit_of(store), usual, unchosen=unchosen)
    aside = _Aside([], [])
    times = _all_times(store, found, ask, sentence, "looking" in asked, now, aside)
    ranked = rank(times, ask, MOST_WINDOWS, None if spot else MOST_OF_EACH)
    if total > len(found):
        aside.left_out.append(f"{total - len(found)} more spots: only the first {MOST_SPOTS} by name are compared.")
    zones = {each.id: each.zone for each in found}
    rows = tuple(_row(window, zones[window.spot_id]) for window in ranked.windows)
    rests_on = " ".join(_rests_on(aside.rests, sentence.choice))
    return TimesPage(
        spot, _answer(rows, ask, spot), rows, ranked.unmet, tuple(aside.left_out), form_of(ask), sentence, rests_on
    )


def _all_times(
    store: Store,
    found: Sequence[Spot],
    ask: Ask,
    sentence: Sentence,
    looking_chosen: bool,
    now: datetime,
    aside: _Aside,
) -> Iterator[SpotTimes]:
    """One spot after the other, worked out when it is asked for, so that no more than one is held."""
    limits, counted, is_holiday = limits_of(store), *footfall_of(store, found)
    for spot in found:
        looking = sentence.looking_deg if looking_chosen else spot.looking_deg
        try:
            light = spot_light(store, spot, now=now)
        except InsideBuilding:
            aside.left_out.append(f"{spot.name}: it lies inside a building.")
            continue
        doubt = max(doubt_of(light, oktas) for oktas in (CLEAR_OKTAS, CLOSED_OKTAS))
        aside.rests.append(_Rests(light.standing.skyline.source, doubt, light.lamps_lx is not None, spot.id in counted))
        times = _spot_times(spot.id, light, ask, sentence.choice, looking, limits)
        footfall = counted.get(spot.id)
        yield times if footfall is None else replace(times, footfall=footfall.over(times.day, times.minute, is_holiday))


def _rests_on(rests: Sequence[_Rests], choice: Choice) -> Iterator[str]:
    yield "No forecast is used: each time is worked out for a clear sky and for a closed one, and the worse ranks."
    if len(rests) == 1:
        yield f"Skyline {rests[0].skyline}."
    if rests:
        doubt = hypot(max(each.doubt_stops for each in rests), capacity_ev(choice)[1])
        yield f"No meter readings: every reserve is give or take {doubt_words(doubt)}."
    dark = sum(not each.lamps_known for each in rests)
    if dark:
        where = "here" if len(rests) == 1 else f"at {dark} of these spots"
        yield f"After dark the lamps {where} are not known: give or take {doubt_words(UNKNOWN_STOPS)} then."
    yield "Reserve counts up to 2 stops."
    yield _footfall_rests(sum(each.counted for each in rests), len(rests))


def _footfall_rests(counted: int, spots: int) -> str:
    if not counted:
        return "Footfall is not counted, so it ranks nothing."
    where = "" if spots == 1 else f" at {counted} of {spots} spots"
    return (
        f"Footfall is counted{where}: among times alike in stops and in light the quieter stands first and those not "
        "counted last. A time without a word of it is one in which nobody counted."
    )


def _spot_times(
    spot_id: int, light: SpotLight, ask: Ask, choice: Choice, looking_deg: float | None, limits: Limits
) -> SpotTimes:
    spot = light.spot
    unix = np.arange(
        unix_s(local_day(ask.first, spot.zone)[0]), unix_s(local_day(ask.last, spot.zone)[1]) + 86_400, STEP_S
    )
    day, minute = local_clock(unix, spot.zone)
    asked_for = (minute - ask.from_min) % (24 * 60) <= ask.open_min
    bearings = () if looking_deg is None else (looking_deg,)
    path = sun_path(light, unix[asked_for])
    clear, closed = (light_along(light, path, oktas, bearings) for oktas in (CLEAR_OKTAS, CLOSED_OKTAS))
    codes = state_codes(clear.sun, clear.elevation_deg, CLEAR_OKTAS, light.lighting_up_deg, light.lamps_lx is not None)
    return SpotTimes(
        spot_id=spot_id,
        name=spot.name,
        looking_deg=looking_deg,
        unix_s=unix,
        day=day,
        minute=minute,
        clear=_sky(clear, choice, looking_deg, asked_for),
        overcast=_sky(closed, choice, looking_deg, asked_for),
        state=_spread(np.array(ORDER)[codes], asked_for, ""),
        sun_elevation_deg=_spread(clear.elevation_deg, asked_for, np.nan),
        sun_azimuth_deg=_spread(clear.azimuth_deg, asked_for, np.nan),
        golden=_spread(_between(clear, limits.golden), asked_for, False),
        blue=_spread(_between(clear, limits.blue) & blue_reaches(light, ask.first.month), asked_for, False),
        sun_reaches=_spread(sun_arrives(clear), asked_for, False),
    )


def _sky(series: Series, choice: Choice, looking_deg: float | None, asked_for: NDArray[np.bool_]) -> Sky:
    face = face_ev(series.light, looking_deg)
    behind = None if looking_deg is None else behind_ev(series.light, looking_deg)
    return Sky(
        _spread(reserve_series(choice, face, behind), asked_for, np.nan),
        _spread(face if behind is None else behind, asked_for, np.nan),
        _spread(too_strong_series(choice, face, behind), asked_for, False),
    )


def _between(series: Series, limits: tuple[float, float]) -> NDArray[np.bool_]:
    low, high = limits
    return (series.elevation_deg >= low) & (series.elevation_deg <= high)


def _spread(values: NDArray[Kind], where: NDArray[np.bool_], rest: object) -> NDArray[Kind]:
    """The values at their places of the whole range, `rest` elsewhere."""
    whole = np.full(where.shape, rest, dtype=values.dtype)
    whole[where] = values
    return whole


def _row(window: Window, zone: str) -> BookingRow:
    start, end = to_local(window.start, zone), to_local(window.end, zone)
    words = f"{day_words(start.date())}, {start:%H:%M} to {end:%H:%M} {zone_short(window.start, zone)}"
    return BookingRow(**asdict(window), zone=zone, words=words)


def _answer(rows: Sequence[BookingRow], ask: Ask, spot: Spot | None) -> Said:
    where = f"at {spot.name}" if spot else "across your spots"
    span = f"from {day_words(ask.first)} to {day_words(ask.last)}"
    if not rows:
        return said(f"No time {where} {span} is what you look for. Below stands what ruled them out.")
    best = rows[0]
    place = "" if spot else f"{best.name}, "
    hand = stops_in_hand_words(best.worst_reserve)
    return said(f"Best {where}: ", f"{place}{best.words}", f", at worst {hand} {best.worst_sky}. Searched {span}.")
