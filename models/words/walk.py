"""What is said of a walk beside its time: stairs, roads, where the ways come from, and what could not be found."""

from __future__ import annotations

from collections.abc import Iterator

from models.street.walking import FASTEST_M_S, GROUP_PACE_M_S, SLOW_PACE_M_S, SLOWEST_M_S
from models.words.said import Said, said

NO_FOOTWAYS = "No footways are on record there, so only the straight distance with a detour is given."
NO_WAY = "The footways on record do not lead there, so only the straight distance with a detour is given."
TOO_MANY_WAYS = "There are too many footways in between to look through; only the straight distance is given."
BY_HAND = "These ways were drawn by hand; they are taken to meet where they cross."
STAIRS = "Stairs on the way: ask before the day who cannot take them. Stands and bags are carried, not rolled."
CROSSINGS = "Roads on the way: the group crosses together, where there is a crossing. Nobody is left to run after."
WAITING = "Waiting at lights, stairs and stops to look are not in the time."
SAME_PLACE = said("", "It is the same place", ": there is no walk.")
WALKING_CAUTIONS = (
    "Walk it once yourself, at the hour of the workshop, before you promise a time.",
    "The slowest sets the pace. Somebody who knows the way walks last.",
    "Stands and flashes are packed on the walk; nobody walks and looks at a screen.",
)
SAY_WHERE = said(
    "", "Say where to", ": another spot, or coordinates like 52.53, 5.23. Below stand the places nearest to this one."
)
DETOUR_SOURCE = ("Detour", "1.3 times the straight distance; 1.2 to 1.4 in studies of street networks (from memory)")
PACES = (
    ("group pace", GROUP_PACE_M_S),
    ("slow pace", SLOW_PACE_M_S),
)


def too_far_words(distance_text: str) -> Said:
    return said("", "Too far to walk", f": {distance_text} as the crow flies.")


def pace_words(pace_m_s: float) -> str:
    """'group pace', 'slow pace', '1.20 m/s', as it may be typed again."""
    return next((words for words, pace in PACES if pace == pace_m_s), f"{pace_m_s:.2f} m/s")


def sketch_caption(*, known: bool) -> str:
    """What the sketch of a walk rests on."""
    if known:
        return "To scale. The way along the footways on record, between the houses near it."
    return "To scale. No way is on record: the broken line only joins both ends."


def pace_problem(text: str) -> str:
    low, high = f"{SLOWEST_M_S:g}", f"{FASTEST_M_S:g}"
    return f"“{text}” is not a walking pace. Type group pace, slow pace or like 1.2 m/s, from {low} to {high} m/s."


def walk_notes(*, stairs: int, crossings: int, off_m: float, by_hand: bool) -> Iterator[str]:
    """Notes on a walk along footways. off_m: of it, what lies off them."""
    if stairs:
        yield STAIRS
    if crossings:
        yield CROSSINGS
    if off_m >= 15:
        yield f"About {round(off_m / 5) * 5:d} m of it lie off the ways on record, across open ground."
    if by_hand:
        yield BY_HAND
