"""Times worth booking: windows ranked by what they are sure to give.

Without a forecast each window is worked out with a clear sky and at 8 oktas, and the worse counts. Hard filters first
(days, weekdays, hours, length, what is wanted, least reserve), then the worst reserve, then how much of the window is
what was wanted, then footfall (the quieter first, not counted last), then date. Reserve counts up to 2 stops. A lowest
power that overshoots, surroundings under EV 3, or so many walkers that no gap is to be expected speak against a
time: it then counts as having nothing in hand.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from math import ceil
from operator import itemgetter
from typing import TypeVar

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view
from numpy.typing import NDArray

from models.light.facing import COUNTED_STOPS
from models.light.window_parts import (
    DAY_MIN,
    WANTS,
    Ask,
    Bools,
    Floats,
    Ranked,
    Sky,
    SpotTimes,
    Want,
    Window,
    local_clock,
    wanted,
)
from models.light.window_words import DARK_EV, HOPELESS_PER_H, WANT_WORDS, against, reasons, why_nothing

__all__ = ["WANTS", "Ask", "Ranked", "Sky", "SpotTimes", "Want", "Window", "local_clock", "rank"]

Kind = TypeVar("Kind", bound=np.generic)

ENOUGH_MIN = 30
"""Golden light or low sun for this long, or for half of a shorter window, is enough to book it: house rule."""


def rank(spots: Iterable[SpotTimes], ask: Ask, limit: int = 20, of_each: int | None = None) -> Ranked:
    """The best windows over all spots, at most `of_each` of one spot. Those of one spot on one day stand at least their
    own length apart.

    One spot after the other, so that they may be worked out as they are asked for: a year of sixty is 300 MB.
    """
    best: list[tuple[tuple[float, ...], Window]] = []
    unmet = []
    for spot in spots:
        candidates = _candidates(spot, ask)
        if candidates.unmet:
            unmet.append(candidates.unmet)
        best += _best_of(spot, ask, candidates, limit if of_each is None else min(limit, of_each))
    best.sort(key=itemgetter(0))
    return Ranked(tuple(window for _, window in best[:limit]), tuple(unmet))


@dataclass(frozen=True, slots=True, eq=False)
class _Candidates:
    """The starts of one spot that pass every filter: step, instant, worst reserve of each sky, and what ranks them."""

    step: NDArray[np.intp]
    start_s: Floats
    worst: tuple[Floats, Floats]
    points_against: NDArray[np.intp]
    share: Floats
    footfall: Floats
    unmet: str


def _candidates(spot: SpotTimes, ask: Ask) -> _Candidates:
    length = ceil(ask.length_min / spot.step_min)
    starts = len(spot.unix_s) - length
    if starts <= 0:
        return _none(why_nothing(spot, ask, _asked_for(spot, ask), [], 0))
    share = _over(wanted(spot, ask.want)[:-1], length).mean(axis=1)
    clear, overcast = (_over(sky.reserve_stops, length + 1).min(axis=1) for _, sky in spot.skies)
    filters = _filters(spot, ask, length, share, np.minimum(clear, overcast))
    left, removed, in_dates = np.ones(starts, dtype=np.bool_), [], 0
    for k, (words, passed) in enumerate(filters):
        before = int(np.count_nonzero(left))
        left = left & passed
        if k == 0:
            in_dates = int(np.count_nonzero(left))
        else:
            removed.append((words, before - int(np.count_nonzero(left))))
    step = np.flatnonzero(left)
    unmet = "" if len(step) else why_nothing(spot, ask, _asked_for(spot, ask), removed, in_dates)
    return _Candidates(
        step,
        spot.unix_s[step],
        (clear[step], overcast[step]),
        _points_against(spot, length)[step],
        share[step],
        _footfall(spot, length, starts)[step],
        unmet,
    )


def _none(unmet: str) -> _Candidates:
    nothing = np.zeros(0)
    no_steps = np.zeros(0, dtype=np.intp)
    return _Candidates(no_steps, nothing, (nothing, nothing), no_steps, nothing, nothing, unmet)


def _filters(spot: SpotTimes, ask: Ask, length: int, share: Floats, worst: Floats) -> list[tuple[str, Bools]]:
    """Hard filters by their order, each with the words for what it removes; arrays over the possible starts."""
    starts = len(worst)
    minute, unix_s = spot.minute[:starts], spot.unix_s
    after_min = (minute - ask.from_min) % DAY_MIN
    whole = np.abs(unix_s[length:] - unix_s[:starts] - length * spot.step_min * 60) < 1
    needed = _needed_steps(ask.want, length, spot.step_min)
    return [
        ("outside the dates", _in_dates(spot, ask)[:starts]),
        ("on other weekdays", _on_weekdays(spot, ask)[:starts]),
        ("outside the hours", after_min + ask.length_min <= ask.open_min),
        ("broken by a clock change or without light figures", whole & np.isfinite(worst)),
        (f"without enough {WANT_WORDS[ask.want]}", share * length >= needed - 1e-9),
        (
            f"with less than {ask.min_reserve or 0:.1f} stops in hand",
            worst >= (-np.inf if ask.min_reserve is None else ask.min_reserve),
        ),
    ]


def _needed_steps(want: Want, length: int, step_min: float) -> int:
    """Shade all through; blue hour is short, so any of it; golden light and low sun for half an hour or half."""
    if want == "any":
        return 0
    if want == "shade":
        return length
    return 1 if want == "blue" else min(ceil(length / 2), max(1, round(ENOUGH_MIN / step_min)))


def _in_dates(spot: SpotTimes, ask: Ask) -> Bools:
    return np.asarray((spot.day >= np.datetime64(ask.first)) & (spot.day <= np.datetime64(ask.last)))


def _on_weekdays(spot: SpotTimes, ask: Ask) -> Bools:
    weekday = (spot.day.astype(np.int64) + 3) % 7  # 1970-01-01 was a Thursday
    return np.isin(weekday, sorted(ask.weekdays))


def _asked_for(spot: SpotTimes, ask: Ask) -> Bools:
    """The steps inside the dates, weekdays and hours asked for."""
    return _in_dates(spot, ask) & _on_weekdays(spot, ask) & ((spot.minute - ask.from_min) % DAY_MIN <= ask.open_min)


def _points_against(spot: SpotTimes, length: int) -> NDArray[np.intp]:
    points = np.zeros(len(spot.unix_s) - length, dtype=np.intp)
    for _, sky in spot.skies:
        points += _over(sky.too_strong, length + 1).any(axis=1)
        points += _over(sky.behind_ev < DARK_EV, length + 1).any(axis=1)
    if spot.footfall is not None:
        points += _over(spot.footfall[:-1] > HOPELESS_PER_H, length).any(axis=1)
    return points


def _footfall(spot: SpotTimes, length: int, starts: int) -> Floats:
    """Mean people an hour; not counted ranks after every count."""
    if spot.footfall is None:
        return np.full(starts, np.inf)
    mean = _over(spot.footfall[:-1], length).mean(axis=1)
    return np.where(np.isnan(mean), np.inf, mean)


def _best_of(
    spot: SpotTimes, ask: Ask, candidates: _Candidates, most: int
) -> Iterator[tuple[tuple[float, ...], Window]]:
    """The best windows of one spot, each with what it ranks by: the lower the better, the first the weightiest."""
    counted = np.minimum(*candidates.worst)
    counted = np.minimum(counted, np.where(candidates.points_against > 0, 0.0, COUNTED_STOPS))
    ranks = (
        -np.round(counted, 1),
        candidates.points_against,
        -candidates.share,
        candidates.footfall,
        candidates.start_s,
    )
    taken: dict[object, list[float]] = {}
    chosen = 0
    for row in np.lexsort(ranks[::-1]).tolist():
        if chosen == most:
            return
        start_s = float(candidates.start_s[row])
        that_day = taken.setdefault(spot.day[candidates.step[row]], [])
        if all(abs(start_s - other) >= 2 * ask.length_min * 60 for other in that_day):
            that_day.append(start_s)
            chosen += 1
            yield tuple(float(rank[row]) for rank in ranks), _window(spot, ask, candidates, row)


def _window(spot: SpotTimes, ask: Ask, candidates: _Candidates, row: int) -> Window:
    step = int(candidates.step[row])
    steps = slice(step, step + ceil(ask.length_min / spot.step_min) + 1)
    worst, sky_words = min((float(c[row]), words) for c, (words, _) in zip(candidates.worst, spot.skies, strict=True))
    start = datetime.fromtimestamp(float(spot.unix_s[step]), UTC)
    return Window(
        spot_id=spot.spot_id,
        name=spot.name,
        start=start,
        end=start + timedelta(minutes=ask.length_min),
        worst_reserve=worst,
        worst_sky=sky_words,
        want_share=float(candidates.share[row]),
        reasons=reasons(spot, steps, ask, (worst, sky_words)),
        against=against(spot, steps, worst),
    )


def _over(values: NDArray[Kind], steps: int) -> NDArray[Kind]:
    """(starts, steps) view of what each window covers."""
    return sliding_window_view(values, steps)
