"""Why a time is worth booking, what speaks against it, and why nothing was found: short sentences with figures."""

from __future__ import annotations

import numpy as np

from models.light.series import tenths
from models.light.window_parts import Ask, Bools, Floats, SpotTimes, Want, aside_deg, wanted
from models.street.footfall import PARTY_PEOPLE
from models.street.gaps import GAP_S, HOPELESS_PARTIES, clear_gap

DARK_EV = 3.0
"""Surroundings under this EV100 come out black at hand-held settings: house rule."""

HOPELESS_PER_H = HOPELESS_PARTIES / GAP_S * PARTY_PEOPLE * 3600
"""People an hour above which no clear line is to be expected."""

WANT_WORDS: dict[Want, str] = {
    "any": "anything",
    "shade": "open shade",
    "low sun behind": "low sun behind the subject",
    "golden": "golden light",
    "blue": "blue hour",
}


def reasons(spot: SpotTimes, steps: slice, ask: Ask, worst: tuple[float, str]) -> tuple[str, ...]:
    """What speaks for the window over these steps (its end included)."""
    found = [_reserve_reason(spot, steps, worst)]
    if ask.want != "any":
        found.append(_want_reason(spot, slice(steps.start, steps.stop - 1), ask.want))
    states = list(dict.fromkeys(spot.state[steps].tolist()))
    found.append(f"Light with a clear sky: {', then '.join(states)}.")
    return (*found, *_footfall_reason(spot, slice(steps.start, steps.stop - 1)))


def against(spot: SpotTimes, steps: slice, worst_reserve: float) -> tuple[str, ...]:
    """What speaks against it."""
    found = [f"The flash falls {tenths(-worst_reserve)} stops short."] if worst_reserve <= -0.05 else []
    for sky_words, sky in spot.skies:
        darkest = float(np.min(sky.behind_ev[steps]))
        if darkest < DARK_EV:
            at = clock(spot, steps.start + int(np.argmin(sky.behind_ev[steps])))
            found.append(f"Surroundings fall to EV100 {tenths(darkest)} {sky_words}, at {at}.")
        if np.any(sky.too_strong[steps]):
            at = clock(spot, steps.start + int(np.argmax(sky.too_strong[steps])))
            found.append(f"The flash's lowest power is too strong {sky_words}, from {at}.")
    crowded = np.zeros(0) if spot.footfall is None else spot.footfall[steps][:-1] > HOPELESS_PER_H
    if np.any(crowded):
        at = clock(spot, steps.start + int(np.argmax(crowded)))
        found.append(f"So many people come by that no clear line is to be expected, from {at}.")
    return tuple(found)


def why_nothing(spot: SpotTimes, ask: Ask, asked_for: Bools, removed: list[tuple[str, int]], starts: int) -> str:
    """Why no window is left at a spot: which filter took how many of the possible starts."""
    never = ask.want != "any" and not bool(np.any(wanted(spot, ask.want) & asked_for))
    if never and ask.want == "low sun behind" and spot.looking_deg is None:
        return f"{spot.name}: choose a camera bearing first; low sun behind needs one."
    if never and starts:
        return f"{spot.name}: {WANT_WORDS[ask.want]}: not at this spot in the days and hours asked for."
    took = "; ".join(f"{count} {words}" for words, count in removed if count)
    return (
        f"{spot.name}: none of {starts} possible starts is left: {took}." if starts else f"{spot.name}: no such days."
    )


def clock(spot: SpotTimes, step: int) -> str:
    hour, minute = divmod(int(spot.minute[step]), 60)
    return f"{hour:02d}:{minute:02d}"


def _reserve_reason(spot: SpotTimes, steps: slice, worst: tuple[float, str]) -> str:
    stops, sky_words = worst
    sky = dict(spot.skies)[sky_words]
    at = clock(spot, steps.start + int(np.argmin(sky.reserve_stops[steps])))
    counted = "; more than 2 counts as 2" if stops > 2 else ""
    return f"{tenths(stops)} stops in hand at worst, {sky_words}, at {at}{counted}."


def _want_reason(spot: SpotTimes, steps: slice, want: Want) -> str:
    good = wanted(spot, want)[steps]
    minutes = round(int(np.count_nonzero(good)) * spot.step_min)
    long = "throughout" if np.all(good) else f"for {minutes} minutes of it"
    words = WANT_WORDS[want].capitalize()
    elevation = spot.sun_elevation_deg[steps][good]
    if want == "blue":
        return f"{words} {long}: the sun {_degrees(-elevation)} under."
    if want == "shade":
        return f"{words} {long}."
    height = f"the sun {_degrees(elevation)} high"
    side = f", at most {aside_deg(spot)[steps][good].max():.0f}° aside" if want == "low sun behind" else ""
    return f"{words} {long}, if the sky is clear: {height}{side}."


def _degrees(angles_deg: Floats) -> str:
    low, high = f"{angles_deg.min():.0f}°", f"{angles_deg.max():.0f}°"
    return low if low == high else f"{low} to {high}"


def _footfall_reason(spot: SpotTimes, steps: slice) -> tuple[str, ...]:
    """Who comes by, the hour it ends at left out; nothing where nobody counted in any of it."""
    people = np.zeros(0) if spot.footfall is None else spot.footfall[steps]
    counted = people[~np.isnan(people)]
    if not len(counted):
        return ()
    mean = float(np.mean(counted))
    found = f"Footfall: about {float(f'{mean:.2g}'):,.0f} people an hour"
    gap = clear_gap(mean / PARTY_PEOPLE / 3600)
    wait = f", {gap.mean_wait_s:.0f} s on average for a clear line" if gap.expected and gap.mean_wait_s >= 1 else ""
    part = "" if len(counted) == len(people) else "; the rest of it not counted"
    return (f"{found}{wait}{part}.",)
