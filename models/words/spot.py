"""The answer about one spot at one moment, and the usual cautions."""

from __future__ import annotations

from collections.abc import Iterator

from models.light.facing import SunPlace
from models.light.flash import FlashAnswer
from models.light.power import fraction_words
from models.light.reserve import Reserve
from models.words.said import Said, doubt_words, ev_words, said, signed_minus, stops_in_hand_words

BINDS = {"backdrop": "the backdrop", "face": "the light on the face", "spot": "the light of the spot"}
LOW_SUN_DEG = 15.0
TELLING_STOPS = 0.15
TELLING_S = 1.0
"""Less than these is not worth a line."""


def place_and_time(name: str, moment: str, state: str, until: str | None, *, too_close: bool = False) -> Said:
    """'Saturday 17 October 2026, 16:40 CEST. Foundry Lane is in open shade until 17:05 (sun arrives).'"""
    rest = f" {until}." if until else " for the rest of the day."
    close = " The sun stands at the edge of what hides it, too close to call." if too_close else ""
    return said(f"{moment}. {name} is ", state, rest + close)


def lamps_not_known(unknown: tuple[float, float]) -> Said:
    """In place of what face and backdrop read, where nearly all light comes from lamps that nobody noted."""
    return said(
        " The face reads ", unknown_words(unknown), ": nobody noted the lamps here. What follows goes by the middle of "
        "that; measure the face at night and note it.",
    )  # fmt: skip


def unknown_words(unknown: tuple[float, float]) -> str:
    """'EV 0 to 5, not known'."""
    low, high = unknown
    return f"EV {low:g} to {high:g}, not known"


def brightness(face: float, doubt_stops: float, behind: float | None, looking: str | None, spread: str) -> Said:
    """What the face and the backdrop read."""
    if behind is None:
        return said(
            " The brightest way to face reads ", ev_words(face), f", {spread}give or take {doubt_words(doubt_stops)}."
        )
    return said(
        " The face reads ", ev_words(face), f" and what is behind it, looking {looking}, ", ev_words(behind),
        f", give or take {doubt_words(doubt_stops)}.",
    )  # fmt: skip


def flash(setup: str, answer: FlashAnswer) -> Said:
    """What the flash makes of it."""
    if answer.ambient_exposes:
        return said(f" {setup} is not needed: ", "the light already there exposes the face", ".")
    hand = stops_in_hand_words(answer.reserve.stops)
    if answer.too_weak:
        enough = [way.words for way in answer.ways_out if way.enough]
        least = f". Least trouble: {_lower(enough[0])}." if enough else ", more than any one way out closes."
        return said(f" {setup} {'has' if hand.endswith('hand') else 'is'} ", hand, least)
    if answer.too_strong:
        return said(f" {setup} is ", too_strong_words(answer), "; see the ways out.")
    return said(
        f" {setup} has ", hand, ": start at ", answer.start_at.words, f" with {answer.start_at.settings.words}.",
    )  # fmt: skip


def too_strong_words(answer: FlashAnswer) -> str:
    """'too strong: its lowest rung, 1/64, is 2.1 stops too much', at the settings that it starts with."""
    over = f"{-answer.start_at.remainder_stops:.1f}".removesuffix(".0")
    return (
        f"too strong: its lowest rung, {answer.start_at.words}, is {over} {'stop' if over == '1' else 'stops'} too much"
    )


def not_checked(controller: str) -> Said:
    """Nothing is recorded about the rules here yet; unknown is never permission."""
    whom = f" Ask first: {controller}." if controller else " Nobody is noted as controlling it: find out whom to ask."
    return said("", "Not checked:", f" stands on the ground, groups, paid teaching.{whom}")


def deleted_words(name: str, workshops: int) -> str:
    """What is said of a spot that was deleted. workshops: those to come there."""
    if not workshops:
        return f"{name} is deleted."
    stay = (
        "1 workshop to come there stays and needs"
        if workshops == 1
        else f"{workshops} workshops to come there stay and need"
    )
    return f"{name} is deleted. {stay} another spot."


def cautions(hazards: str, sun: SunPlace | None, sun_elevation_deg: float, dark: bool) -> tuple[str, ...]:
    """The usual cautions that this moment calls for."""
    return tuple(_cautions(hazards, sun, sun_elevation_deg, dark))


def _cautions(hazards: str, sun: SunPlace | None, sun_elevation_deg: float, dark: bool) -> Iterator[str]:
    if hazards:
        yield f"At this spot: {hazards.rstrip('.')}."
    if sun == "in the lens" or (sun == "rim from behind" and sun_elevation_deg < LOW_SUN_DEG):
        yield "The sun is in or near the picture: never look at it through a lens or an optical finder."
    if sun == "in the model's eyes":
        yield "The model faces the sun: let the eyes rest between frames."
    if dark:
        yield "After dark stay where people can see you, and do not work alone."
    yield "One hand on every standing light; flash heads and cells get hot. Local codes and licensed practice decide."


def binding(reserve: Reserve) -> str:
    """Which of the two terms the flash has to beat, and how far the other falls under the settings."""
    beats = f"This setup can beat {ev_words(reserve.capacity_ev)}, give or take {doubt_words(reserve.doubt_stops)}"
    what = BINDS[reserve.binds]
    asks = f"{what[0].upper()}{what[1:]} binds: it asks for {ev_words(reserve.ev_to_beat)}."
    if reserve.other_falls_stops is None:
        return f"{asks} {beats}."
    other = BINDS["face" if reserve.binds == "backdrop" else "backdrop"]
    falls = signed_minus(reserve.other_falls_stops, 1)
    return f"{asks} {other[0].upper()}{other[1:]} then falls {falls} stops under. {beats}."


def _split(answer: FlashAnswer) -> str:
    """Where what is in hand lies: in the power, and in the shutter up to the sync speed."""
    in_hand, in_power = answer.reserve.stops, answer.power_alone.stops_under_full
    if in_hand < TELLING_STOPS or in_hand - in_power < TELLING_STOPS:
        return ""
    return (
        f"Of the {in_hand:.1f} stops in hand, {signed_minus(in_power, 1)} lie in the power and "
        f"{in_hand - in_power:.1f} in the shutter, which can still go up to the sync speed."
    )


def _lower(words: str) -> str:
    return words[0].lower() + words[1:].replace(": ", ", ", 1)


def _start(words: str) -> str:
    return words[0].upper() + words[1:]


def flash_lines(answer: FlashAnswer) -> Iterator[str]:
    """What else to know about the flash at these settings."""
    yield binding(answer.reserve)
    if answer.too_strong:
        yield f"{_start(too_strong_words(answer))} at these settings."
    elif not answer.ambient_exposes:
        yield (
            f"Flash alone would need {fraction_words(answer.power_alone.fraction)} power at these settings; the light "
            f"already there lies {answer.face_under_stops:.1f} stops under them."
        )
        if split := _split(answer):
            yield split
    if not answer.ambient_exposes:
        per_set = f"; about {answer.flashes_per_set} flashes a set of cells" if answer.flashes_per_set else ""
        tired = f", {answer.recycle_tired_s:.1f} s on tired cells" if answer.recycle_tired_s >= TELLING_S else ""
        yield f"Ready again in about {answer.recycle_s:.1f} s{tired}{per_set}."
    if answer.faster_sync:
        yield f"{answer.faster_sync.words}."
    yield answer.white_balance_words
