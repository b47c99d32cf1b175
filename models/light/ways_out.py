"""Ways out when the flash is too weak or too strong, least trouble first, each costed; and ways to a wider aperture."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import ceil, floor, log2

from models.light.exposure import Settings, aperture_value
from models.light.gels import GELS
from models.light.kit import Choice
from models.light.reserve import capacity_ev, sync
from models.light.series import APERTURES, SHUTTERS, metres_words, nearest, shutter_words, tenths

CLOSEST_M = 0.7
"""Nearer than this a light stands in the picture or spills unevenly: common practice, no source."""

MOST_UNITS = 8
"""More lights than this are nobody's street kit: common practice, no source."""

FASTEST_SYNC_S = 1 / 250
"""Cameras with a focal-plane shutter sync between 1/160 and 1/250 s: camera and flash makers' manuals."""

DIFFUSER_STOPS = 1.5
"""A plastic dome takes 1 to 2 stops: common practice, from memory."""

_ENOUGH = 0.01
"""A way that lacks less than this is enough."""


@dataclass(frozen=True, slots=True)
class WayOut:
    """One way out. gain_stops: by how much it brings the flash nearer; enough: it settles the matter alone."""

    kind: str
    words: str
    gain_stops: float
    cost_words: str
    enough: bool


@dataclass(frozen=True, slots=True)
class Alternative:
    """Another hour, side or bearing that somebody worked out: what it is, and the reserve there."""

    words: str
    reserve_stops: float


@dataclass(frozen=True, slots=True)
class Alternatives:
    """What the caller worked out for the place; None where nothing was."""

    later: Alternative | None = None
    across: Alternative | None = None
    bearing: Alternative | None = None


@dataclass(frozen=True, slots=True)
class WiderAperture:
    """A way to a wider aperture. Neither adds reserve: reserve_stops says what is left with it."""

    kind: str
    words: str
    settings: Settings
    reserve_stops: float


def when_too_weak(choice: Choice, reserve_stops: float, elsewhere: Alternatives) -> tuple[WayOut, ...]:
    """Ways to close a negative reserve, in order of least trouble."""
    short = -reserve_stops
    found = [
        *_closer(choice, short),
        *_barer(choice),
        *_zoomed(choice),
        *_more_units(choice, short),
        *_faster_sync(choice),
        *_elsewhere(reserve_stops, elsewhere),
    ]
    return tuple(_costed(found, short))


def when_too_strong(choice: Choice, over_stops: float, settings: Settings) -> tuple[WayOut, ...]:
    """Ways to weaken a flash whose lowest power overshoots by `over_stops`."""
    further = ceil(choice.distance_m * 2 ** (over_stops / 2) * 10) / 10
    back = 2 * log2(further / choice.distance_m)
    found = [_Way("step back", f"Step the light back: {metres_words(further)} m", back, _metres(choice, further))]
    if choice.modifier is None or choice.modifier.zooms:
        words = f"Diffuser on: about {tenths(DIFFUSER_STOPS)} stops weaker"
        found.insert(0, _Way("diffuser", words, DIFFUSER_STOPS, "nothing but the diffuser; softer light"))
    if choice.units > 1:
        gain = log2(choice.units)
        found.insert(0, _Way("fewer units", "Switch off all flashes but one", gain, "nothing"))
    found += _slower(choice, settings)
    if choice.gel is None:
        gel = GELS[-1]
        words = f"A {gel.name} gel on the flash, white balance set to it"
        found.append(_Way("gel", words, gel.loss_stops, "surroundings turn colder"))
    return tuple(_costed(found, over_stops))


def wider_apertures(choice: Choice, reserve_stops: float, settings: Settings) -> tuple[WiderAperture, ...]:
    """From settings at the sync speed towards the lens's widest aperture: by neutral density, and by high-speed sync as
    far as the camera's shutter goes."""
    wider = aperture_value(settings.aperture) - aperture_value(choice.camera.widest_aperture)
    return (*_filtered(reserve_stops, settings, wider), *_high_speed(choice, reserve_stops, settings, wider))


def _filtered(reserve_stops: float, settings: Settings, wider_stops: float) -> Iterator[WiderAperture]:
    """The strongest filter of whole stops, as they are sold, that the lens can open up for; density is 0.3 a stop."""
    stops = floor(wider_stops + 0.1)
    if stops < 1:
        return
    opened = nearest(APERTURES, settings.aperture * 2 ** (-stops / 2))
    count = "1 stop" if stops == 1 else f"{stops} stops"
    yield WiderAperture(
        "neutral density",
        f"A neutral-density filter of {count} (density {0.3 * stops:.1f}): {opened.words}, everything else as it is. "
        "It dims flash and daylight alike and adds no reserve.",
        replace(settings, aperture=opened.nominal),
        reserve_stops,
    )


@dataclass(frozen=True, slots=True)
class _Way:
    kind: str
    words: str
    gain_stops: float
    cost_words: str


def _costed(ways: list[_Way], wanted_stops: float) -> Iterator[WayOut]:
    for way in ways:
        if way.gain_stops > _ENOUGH:
            enough = way.gain_stops >= wanted_stops - _ENOUGH
            yield WayOut(way.kind, way.words, way.gain_stops, way.cost_words, enough)


def _metres(choice: Choice, distance_m: float) -> str:
    change = distance_m - choice.distance_m
    if change > 0:
        return f"{metres_words(change)} m further; check the room behind the light"
    return f"{metres_words(-change)} m nearer; the light covers less and falls off faster"


def _gain(choice: Choice, changed: Choice) -> float:
    return capacity_ev(changed)[0] - capacity_ev(choice)[0]


def _closer(choice: Choice, short_stops: float) -> list[_Way]:
    distance_m = max(floor(choice.distance_m * 2 ** (-short_stops / 2) * 10) / 10, CLOSEST_M)
    if distance_m >= choice.distance_m:
        return []
    words = f"Closer: {metres_words(distance_m)} m instead of {metres_words(choice.distance_m)} m"
    return [_Way("closer", words, _gain(choice, replace(choice, distance_m=distance_m)), _metres(choice, distance_m))]


def _barer(choice: Choice) -> list[_Way]:
    if choice.modifier is None or choice.modifier.kind == "bare":
        return []
    words = f"Barer: go without {choice.modifier.name}"
    return [_Way("barer", words, _gain(choice, replace(choice, modifier=None)), "harder light")]


def _zoomed(choice: Choice) -> list[_Way]:
    longest = choice.flash.guide_numbers[-1][0]
    zoomed, bare = replace(choice, modifier=None, zoom_mm=longest), replace(choice, modifier=None)
    if _gain(bare, zoomed) <= _ENOUGH:
        return []
    words = f"Zoomed in and bare: {longest:.0f} mm"
    return [_Way("zoomed in", words, _gain(choice, zoomed), "harder light in a narrow beam: aim it with care")]


def _more_units(choice: Choice, short_stops: float) -> list[_Way]:
    units = min(ceil(choice.units * 2**short_stops - _ENOUGH), MOST_UNITS)
    more = units - choice.units
    if more <= 0:
        return []
    words = f"More flashes: {units} of them side by side"
    return [_Way("more units", words, log2(units / choice.units), f"{more} more to carry, trigger and feed with cells")]


def _faster_sync(choice: Choice) -> list[_Way]:
    held = sync(choice)
    limits = {"camera": choice.camera.sync_s, "flash": choice.flash.clean_sync_s}
    if choice.trigger is not None:
        limits["trigger"] = choice.trigger.sync_s
    limits[held.held_by] = FASTEST_SYNC_S
    without = max(limits.values())
    words = (
        f"A faster sync speed: the {held.held_by} holds you at {shutter_words(held.shutter_s)}; "
        f"another would allow {shutter_words(without)}"
    )
    return [_Way("faster sync", words, log2(held.shutter_s / without), f"another {held.held_by}")]


def _elsewhere(reserve_stops: float, elsewhere: Alternatives) -> list[_Way]:
    kinds = (
        ("later hour", elsewhere.later, "waiting"),
        ("other side of the street", elsewhere.across, "crossing over; clear that spot too"),
        ("another bearing", elsewhere.bearing, "another view behind the subject"),
    )
    return [_Way(kind, found.words, found.reserve_stops - reserve_stops, cost) for kind, found, cost in kinds if found]


def _slower(choice: Choice, settings: Settings) -> list[_Way]:
    """A slower shutter with a smaller aperture: the ambient stays, the flash loses. More ISO in its place would change
    nothing, for ISO and aperture act on both alike."""
    camera = choice.camera
    slower = log2(max(choice.hand_held_s, settings.shutter_s) / settings.shutter_s)
    room = 2 * log2(camera.smallest_aperture / settings.aperture) + log2(settings.iso / camera.base_iso)
    gain = min(slower, max(room, 0.0))
    slowest = nearest(SHUTTERS, settings.shutter_s * 2**gain).nominal
    words = f"A smaller aperture with a slower shutter: {shutter_words(slowest)}, {tenths(gain)} stops smaller"
    return [_Way("slower shutter", words, gain, "hold still; more ISO in place of time gains nothing")]


def _high_speed(choice: Choice, reserve_stops: float, settings: Settings, wider_stops: float) -> list[WiderAperture]:
    loss, trigger, fastest = choice.flash.hss_loss_stops, choice.trigger, choice.camera.min_shutter_s
    passes = trigger is None or trigger.passes_hss
    wider = min(wider_stops, log2(settings.shutter_s / fastest))
    if loss is None or not passes or wider < 1 / 3:
        return []
    aperture = max(nearest(APERTURES, settings.aperture * 2 ** (-wider / 2)).nominal, choice.camera.widest_aperture)
    shutter_s = max(nearest(SHUTTERS, settings.shutter_s * 2**-wider).nominal, fastest)
    faster = replace(settings, aperture=aperture, shutter_s=shutter_s)
    words = f"High-speed sync: {faster.words}. It costs {tenths(loss)} stops of the reserve and adds none."
    return [WiderAperture("high-speed sync", words, faster, reserve_stops - loss)]
