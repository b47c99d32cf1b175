"""Heat: when the next flash is due, how many fit in a row, and ways to fire more.

Makers print a number of flashes for a band of powers and a rest after them. Each such row is a bucket: every flash of
its powers drops in, and it empties evenly over the rest. That is our planning rule (common practice, no source); the
printed rest itself decides. A flash stronger than a row's band drops into that row as well, for it heats no less.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor, inf
from typing import Literal

from models.light.accessories import HeatRow
from models.light.kit import Flash

_SAME_POWER = 1.01
"""Powers nearer than this ratio are the same rung."""

_JUST = 1e-9


@dataclass(frozen=True, slots=True)
class Fired:
    """A flash of `power` (fraction of full) at `at_s`, seconds from any one start."""

    at_s: float
    power: float


@dataclass(frozen=True, slots=True)
class HeatWay:
    """A way to fire more in a row. flashes: how many then fit, None for no printed end. units: flashes it takes.
    power: each one's power with it."""

    kind: Literal["swap units", "gang two", "fastest sync"]
    flashes: int | None
    units: int
    power: float
    enough: bool


def counted_rows(heat: Sequence[HeatRow], power: float) -> tuple[HeatRow, ...]:
    """The rows that a flash of this power drops into; none where nothing is printed for it.

    A power between two bands counts with the stronger one.
    """
    by_strength = sorted(heat, key=lambda row: row.from_power)
    under = [0.0, *(row.from_power for row in by_strength)]
    found = []
    for row, weaker in zip(by_strength, under, strict=False):
        above_weaker = weaker and power > weaker * _SAME_POWER
        if above_weaker or power >= row.to_power / _SAME_POWER:
            found.append(row)
    return tuple(found)


def level(row: HeatRow, heat: Sequence[HeatRow], fired: Sequence[Fired], now_s: float) -> float:
    """Flashes in a row's bucket now; `fired` by time."""
    held, then_s = 0.0, -inf
    for flash in fired:
        if flash.at_s <= now_s and row in counted_rows(heat, flash.power):
            held = _emptied(row, held, flash.at_s - then_s) + 1
            then_s = flash.at_s
    return _emptied(row, held, now_s - then_s)


def wait_s(flash: Flash, fired: Sequence[Fired], power: float, now_s: float) -> float:
    """Seconds until the next flash at `power` is due by heat, 0 when it may come now."""
    waits = [
        (level(row, flash.heat, fired, now_s) + 1 - row.flashes) * row.rest_s / row.flashes
        for row in counted_rows(flash.heat, power)
    ]
    return max((wait for wait in waits if wait > _JUST), default=0.0)


def flashes_in_a_row(
    flash: Flash, power: float, every_s: float, fired: Sequence[Fired] = (), now_s: float = 0.0
) -> int | None:
    """How many flashes at `power` fit from now on, one every `every_s` seconds; None: no printed limit ends them."""
    ends = [_in_a_row(row, level(row, flash.heat, fired, now_s), every_s) for row in counted_rows(flash.heat, power)]
    return min((count for count in ends if count is not None), default=None)


def steady_every_s(flash: Flash, power: float) -> float:
    """The pace at which it never comes to a stop: one flash every so many seconds, 0 where nothing is printed."""
    return max((row.rest_s / row.flashes for row in counted_rows(flash.heat, power)), default=0.0)


def heat_ways(
    flash: Flash, power: float, every_s: float, wanted: int, *, sync_power: float | None = None, spare: bool = True
) -> tuple[HeatWay, ...]:
    """Ways to fire `wanted` flashes in a row at that pace, least trouble first; those that gain nothing are left out.

    sync_power: the power needed at the fastest sync speed with a wider aperture, None where that is already set or out
    of reach. spare: a second unit is at hand.
    """
    now = flashes_in_a_row(flash, power, every_s)
    if now is None or now >= wanted:
        return ()
    tries: list[tuple[Literal["swap units", "gang two", "fastest sync"], int | None, int, float]] = []
    if sync_power is not None and sync_power < power:
        tries.append(("fastest sync", flashes_in_a_row(flash, sync_power, every_s), 1, sync_power))
    if spare:
        each = flashes_in_a_row(flash, power, every_s * 2)
        tries.append(("swap units", None if each is None else 2 * each, 2, power))
        if power / 2 >= flash.lowest_power / _SAME_POWER:
            tries.append(("gang two", flashes_in_a_row(flash, power / 2, every_s), 2, power / 2))
    return tuple(
        HeatWay(kind, count, units, each_power, count is None or count >= wanted)
        for kind, count, units, each_power in tries
        if count is None or count > now
    )


def _emptied(row: HeatRow, held: float, for_s: float) -> float:
    return max(held - for_s * row.flashes / row.rest_s, 0.0) if held else 0.0


def _in_a_row(row: HeatRow, held: float, every_s: float) -> int | None:
    """Flashes that fit into one bucket: the first at once, each next after `every_s` of emptying."""
    if held + 1 > row.flashes + _JUST:
        return 0
    stays = 1 - every_s * row.flashes / row.rest_s
    return None if stays <= _JUST else 1 + floor((row.flashes - 1 - held) / stays + _JUST)
