"""Warnings about a setup, in words: what is wrong, by how much, what to do."""

from __future__ import annotations

from collections.abc import Callable
from math import ceil

from models.light.series import shutter_words
from models.light.setup import Setup
from models.light.setup_warnings import Kind, Warned
from models.words.setup import stops_said
from models.words.setup_answer import light_names

OUR_CAUTION = "Our caution, no standard; local codes and licensed practice decide."


def warning_words(warned: Warned, setup: Setup) -> str:
    """One warning as a sentence or two, the light named by its role, numbered where several share one."""
    role = "" if warned.place is None else light_names(setup)[warned.place]
    return _WORDS[warned.kind](warned, role)


def _over_sync(warned: Warned, role: str) -> str:
    return (
        f"{shutter_words(warned.amount)} is faster than the {warned.what} syncs: part of the picture stays dark. "
        f"Go to {shutter_words(warned.limit)} or slower."
    )


def _off_the_ladder(warned: Warned, role: str) -> str:
    over = "over" if warned.amount > 0 else "under"
    return f"The {role} is set {stops_said(abs(warned.amount))} {over} {warned.what}, the nearest step its flash has."


def _cannot(warned: Warned, role: str) -> str:
    if warned.amount > 0:
        return f"The {role} lacks {stops_said(warned.amount)} at full power. Closer, barer, or one more unit."
    over = stops_said(-warned.amount)
    return f"The {role} gives {over} too much at its lowest power. Step it back or put a diffuser on."


def _lens(warned: Warned, role: str) -> str:
    filter_ = f"A neutral-density filter of {stops_said(warned.limit)}"
    fixes = f"{filter_} fixes it: {warned.what}." if warned.what else f"{filter_} would; none as strong is in the kit."
    return (
        f"The lens cannot stop down {stops_said(warned.amount)} further. {fixes} Flash and daylight dim alike: each "
        f"flash then needs {stops_said(warned.limit)} more, and nothing is added to the reserve."
    )


def _recycle(warned: Warned, role: str) -> str:
    return (
        f"The {role} is ready after {warned.amount:.1f} s on tired cells; you plan a frame every {warned.limit:.1f} s. "
        "Wait for it, or lower its power."
    )


def _heat(warned: Warned, role: str) -> str:
    return (
        f"The {role}'s printed heat limit is reached after {warned.amount:.0f} flashes in a row; you plan "
        f"{warned.limit:.0f}. Swap units, gang two at half the power, or go to the fastest sync speed."
    )


def _hold(warned: Warned, role: str) -> str:
    return (
        f"{_start(warned.what)} on the {role} pulls with about {warned.amount:.0f} N in this wind; from "
        f"{warned.limit:.0f} N on it comes down. Take it off or find shelter. {OUR_CAUTION}"
    )


def _by_hand(warned: Warned, role: str) -> str:
    return (
        f"{_start(warned.what)} on the {role} pulls with about {warned.amount:.0f} N in this wind: off its stand, "
        f"and hold it by hand. {OUR_CAUTION}"
    )


def _weight(warned: Warned, role: str) -> str:
    return (
        f"The {role}'s stand with {warned.what} tips in this wind: hang at least {ceil(warned.amount)} kg on it and "
        f"keep a hand on it, or hold it. {OUR_CAUTION}"
    )


def _stands_down(warned: Warned, role: str) -> str:
    return f"Wind of {warned.amount:.0f} m/s: take the {role}'s stand down. {OUR_CAUTION}"


def _not_judged(warned: Warned, role: str) -> str:
    return (
        f"Wind of {warned.amount:.0f} m/s, and the size of {warned.what} is not noted: whether the {role} stays up "
        "is not worked out. Measure its face, or leave it off."
    )


def _stand(warned: Warned, role: str) -> str:
    return f"The {role} is planned {warned.amount:.1f} m high; its stand reaches {warned.limit:.1f} m."


def _near(warned: Warned, role: str) -> str:
    return (
        f"The {role} is {warned.amount:.2g} m from the face, very near to the eyes for a flash head. Step it back, "
        f"ask the model first, and lower its power before the first frame. {OUR_CAUTION}"
    )


def _eyes(warned: Warned, role: str) -> str:
    return (
        f"The {role} shines within {warned.amount:.0f}° of the way people walk, into the eyes of those who come "
        f"towards it. Turn the setup, or wait for a gap. {OUR_CAUTION}"
    )


def _across(warned: Warned, role: str) -> str:
    return (
        f"The {role} shines across the {warned.what}. Turn the setup so that nobody riding or driving meets it. "
        f"{OUR_CAUTION}"
    )


def _in_the_lane(warned: Warned, role: str) -> str:
    return (
        f"The {role} would stand {warned.amount:.1f} m towards the {warned.what}, which begins at {warned.limit:.1f} "
        "m: move it, nobody stands there."
    )


_WORDS: dict[Kind, Callable[[Warned, str], str]] = {
    "over sync": _over_sync,
    "off the ladder": _off_the_ladder,
    "cannot": _cannot,
    "lens cannot stop down": _lens,
    "recycle": _recycle,
    "heat": _heat,
    "too much to hold": _hold,
    "hold by hand": _by_hand,
    "stand needs weight": _weight,
    "stands down": _stands_down,
    "wind not judged": _not_judged,
    "above its stand": _stand,
    "near the eyes": _near,
    "in walkers' eyes": _eyes,
    "across the lane": _across,
    "in the lane": _in_the_lane,
}


def _start(words: str) -> str:
    return words[:1].upper() + words[1:]
