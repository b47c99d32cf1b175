"""Kit in words: what is owned, what nobody measured, how to measure it safely."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

SAFELY = (
    "In shade or at dusk, away from other lights, hold the meter where a face would be with its dome to the "
    "flash, and read one single flash; walls within a few metres help the flash and flatter the figure.",
    "Never fire towards open eyes, nor with the head against skin, cloth or paper: a head gets hot enough to burn, so "
    "let it rest as its maker says.",
)
"""Common practice, no source; the maker's own instructions come first."""


def kit_answer(counts: Iterable[tuple[int, str, str]], flashes: int, printed: Sequence[str]) -> str:
    """counts: (how many, one, many) of each kind. printed: names of flashes that nobody measured."""
    owned = [f"{count} {one if count == 1 else many}" for count, one, many in counts if count]
    if not owned:
        return "No kit is noted yet. Begin with a flash and a camera: every answer about light needs them."
    said = f"You have {_listed(owned)}."
    if not flashes:
        return f"{said} Without a flash nothing can be said about beating the light."
    if not printed:
        return f"{said} Every guide number is down as metered."
    only = "its guide number is" if len(printed) == 1 else "their guide numbers are"
    those = (
        "The flash is" if flashes == len(printed) == 1 else f"{len(printed)} of {flashes} flashes {_is(len(printed))}"
    )
    return f"{said} {those} only printed, not measured ({'; '.join(printed)}): {only} taken half a stop low."


def stops_apart(stops: float) -> str:
    """'0.4 stop over', 'the same as'."""
    if abs(stops) < 0.05:
        return "the same as"
    return f"{abs(stops):.1f} stop{'' if abs(stops) < 1.05 else 's'} {'over' if stops > 0 else 'under'}"


def _listed(parts: Sequence[str]) -> str:
    return " and ".join(filter(None, (", ".join(parts[:-1]), parts[-1])))


def _is(count: int) -> str:
    return "is" if count == 1 else "are"
