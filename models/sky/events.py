"""When the sun rises, sets and crosses the heights that photographers plan by, for local days anywhere.

One search serves every event: a value that follows the sun is sampled, its turning points are added as nodes, so that
it runs one way between nodes, and each change of side is narrowed down by bisection. It works in UTC over local days,
from a date's first instant to the next date's; a band of light that crosses midnight is cut there and says so.
Heights are geometric (unrefracted centre of the sun). No event is an answer, never an error.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal

import numpy as np

from models.clock import from_unix_s, local_day, unix_s
from models.problems import InputProblem
from models.sky.sun import SUN_DEG, sun_positions
from models.units import FloatArray

CIVIL_DEG, NAUTICAL_DEG, ASTRONOMICAL_DEG = -6.0, -12.0, -18.0
"""Lower ends of the three twilights (USNO, Rise, Set and Twilight Definitions)."""

STEP_S = 600.0
"""Sampling of the search. Over two steps the sine of the height is a parabola to 1e-5 rad, 0.1 s of time."""

HALVINGS = 20
"""STEP_S / 2^20 = 0.6 ms."""


@dataclass(frozen=True)
class Limits:
    """Heights of the sun that bound the golden and the blue hour, and at which it counts as risen.

    Golden and blue follow common practice; no standard exists, so they are settings.
    """

    golden: tuple[float, float] = (-4.0, 6.0)
    blue: tuple[float, float] = (-6.0, -4.0)
    sun_deg: float = SUN_DEG

    def __post_init__(self) -> None:
        for name, (low, high) in (("golden", self.golden), ("blue", self.blue)):
            if not -90.0 <= low < high <= 90.0:
                raise InputProblem(name, f"give a lower and a higher sun, in degrees, not {low:g} and {high:g}")
        if not CIVIL_DEG < self.sun_deg < 90.0:
            raise InputProblem("sun_deg", f"give a height above {CIVIL_DEG:g} degrees, not {self.sun_deg:g}")

    @property
    def bands(self) -> dict[str, tuple[float, float]]:
        """Lower and upper height of every band, by name."""
        return {
            "golden": self.golden,
            "blue": self.blue,
            "civil": (CIVIL_DEG, self.sun_deg),
            "nautical": (NAUTICAL_DEG, CIVIL_DEG),
            "astronomical": (ASTRONOMICAL_DEG, NAUTICAL_DEG),
        }

    @property
    def heights(self) -> set[float]:
        """Every height whose crossing matters."""
        return {self.sun_deg, *(edge for edges in self.bands.values() for edge in edges)}


@dataclass(frozen=True)
class Crossing:
    """The sun passes a height, going up (rising) or down."""

    instant: datetime
    rising: bool


@dataclass(frozen=True)
class Band:
    """A stretch of one local day with the sun between two heights. Cut at midnight: `began_before`, `goes_on`."""

    name: str
    start: datetime
    end: datetime
    began_before: bool
    goes_on: bool


@dataclass(frozen=True)
class DayEvents:
    """One local day, `start` up to `end` (UTC). `always` says "up" or "down" when the sun neither rises nor sets."""

    day: date
    zone: str
    start: datetime
    end: datetime
    sunrises: tuple[datetime, ...]
    sunsets: tuple[datetime, ...]
    noon: datetime
    highest_deg: float
    lowest_deg: float
    always: Literal["up", "down"] | None
    golden: tuple[Band, ...]
    blue: tuple[Band, ...]
    civil: tuple[Band, ...]
    nautical: tuple[Band, ...]
    astronomical: tuple[Band, ...]

    @property
    def sunrise(self) -> datetime | None:
        """The first of the day: near midnight sun and polar night a day may have two, or none."""
        return self.sunrises[0] if self.sunrises else None

    @property
    def sunset(self) -> datetime | None:
        """The last of the day."""
        return self.sunsets[-1] if self.sunsets else None


def day_events(
    day: date, zone: str, latitude_deg: float, longitude_deg: float, limits: Limits | None = None
) -> DayEvents:
    """Everything the sun does in one local day."""
    return events_of_days((day,), zone, latitude_deg, longitude_deg, limits)[0]


def events_of_days(
    days: Sequence[date], zone: str, latitude_deg: float, longitude_deg: float, limits: Limits | None = None
) -> tuple[DayEvents, ...]:
    """`day_events` of many days, in the order given, at a fraction of the cost a day."""
    limits = limits or Limits()
    spans = [local_day(day, zone) for day in days]
    if not spans:
        return ()
    search = _Search(spans, latitude_deg, longitude_deg)
    noons = search.noons()
    found = search.passages(*limits.heights)
    return tuple(
        _one_day(day, zone, span, search.heights_deg[row], {level: found[level][row] for level in found}, noon, limits)
        for row, (day, span, noon) in enumerate(zip(days, spans, noons, strict=True))
    )


def crossings(
    level_deg: float, start: datetime, end: datetime, latitude_deg: float, longitude_deg: float
) -> tuple[Crossing, ...]:
    """Each passage of the sun through a geometric height from `start` up to, not including, `end`, in order."""
    if unix_s(end) <= unix_s(start):
        return ()
    return tuple(_Search([(start, end)], latitude_deg, longitude_deg).passages(level_deg)[level_deg][0])


class _Search:
    """The sun's height sampled over some spans of time: one row a span, with the turning points among the nodes."""

    def __init__(self, spans: Sequence[tuple[datetime, datetime]], latitude_deg: float, longitude_deg: float) -> None:
        self._place = latitude_deg, longitude_deg
        starts, ends = (np.array([unix_s(span[side]) for span in spans]) for side in (0, 1))
        steps = max(2, math.ceil(np.max(ends - starts) / STEP_S))
        grid_s = np.linspace(starts, ends, steps + 1, axis=1)
        heights_deg = self._height_deg(grid_s)
        turns_s = _turning_points(grid_s, np.sin(np.radians(heights_deg)))
        nodes_s = np.concatenate([grid_s, turns_s], axis=1)
        order = np.argsort(nodes_s, axis=1, kind="stable")
        self._nodes_s = np.take_along_axis(nodes_s, order, axis=1)
        heights_deg = np.concatenate([heights_deg, self._height_deg(turns_s)], axis=1)
        self.heights_deg: FloatArray = np.take_along_axis(heights_deg, order, axis=1)

    def passages(self, *levels_deg: float) -> dict[float, list[list[Crossing]]]:
        """By height, for each span, the passages of the sun through it; all are searched for in one go."""
        found = self._changes_of_side(self._height_deg, self.heights_deg, *levels_deg)
        return dict(zip(levels_deg, found, strict=True))

    def noons(self) -> list[datetime]:
        """For each span the sun's first passage of the meridian, pole to equator; failing that its highest instant."""
        (transits,) = self._changes_of_side(self._westing, self._westing(self._nodes_s), 0.0)
        inside_deg = np.where(self._nodes_s < self._nodes_s[:, -1:], self.heights_deg, -np.inf)
        highest_s = np.take_along_axis(self._nodes_s, inside_deg.argmax(axis=1)[:, None], axis=1)[:, 0]
        return [
            next((passage.instant for passage in row if passage.rising), from_unix_s(highest))
            for row, highest in zip(transits, highest_s, strict=True)
        ]

    def _height_deg(self, instants_s: FloatArray) -> FloatArray:
        return sun_positions(instants_s, *self._place)[0]

    def _westing(self, instants_s: FloatArray) -> FloatArray:
        """How far west of the meridian the sun stands, -1 to 1. It rises through 0 at the upper transit."""
        elevation_deg, azimuth_deg = np.radians(sun_positions(instants_s, *self._place))
        westing: FloatArray = -np.cos(elevation_deg) * np.sin(azimuth_deg)
        return westing

    def _changes_of_side(
        self, value: Callable[[FloatArray], FloatArray], at_nodes: FloatArray, *levels: float
    ) -> list[list[list[Crossing]]]:
        above = at_nodes >= np.array(levels)[:, None, None]
        which, rows, nodes = np.nonzero(above[..., 1:] != above[..., :-1])
        level, rising = np.array(levels)[which], above[which, rows, nodes + 1]
        low_s, high_s = self._nodes_s[rows, nodes], self._nodes_s[rows, nodes + 1]
        for _ in range(HALVINGS):
            middle_s = (low_s + high_s) / 2
            passed = (value(middle_s) >= level) == rising
            low_s, high_s = np.where(passed, low_s, middle_s), np.where(passed, middle_s, high_s)
        found: list[list[list[Crossing]]] = [[[] for _ in self._nodes_s] for _ in levels]
        for k, row, at_s, up in zip(which, rows, low_s, rising, strict=True):  # low: never the span's end
            found[k][row].append(Crossing(from_unix_s(at_s), bool(up)))
        return found


def _turning_points(grid_s: FloatArray, values: FloatArray) -> FloatArray:
    """Vertices of the parabolas through three samples where these turn: (rows, most a row), filled up with ends."""
    before, after = np.diff(values, axis=1)[:, :-1], np.diff(values, axis=1)[:, 1:]
    rows, nodes = np.nonzero(before * after < 0)
    before, after = before[rows, nodes], after[rows, nodes]
    step_s = (grid_s[rows, -1] - grid_s[rows, 0]) / (grid_s.shape[1] - 1)
    vertex_s = grid_s[rows, nodes + 1] + step_s * (before + after) / (before - after) / 2
    rank = np.arange(len(rows)) - np.searchsorted(rows, rows)
    turns_s = np.repeat(grid_s[:, -1:], rank.max(initial=-1) + 1, axis=1)
    turns_s[rows, rank] = vertex_s
    return turns_s


def _one_day(
    day: date,
    zone: str,
    span: tuple[datetime, datetime],
    heights_deg: FloatArray,
    found: dict[float, list[Crossing]],
    noon: datetime,
    limits: Limits,
) -> DayEvents:
    suns = found[limits.sun_deg]
    up_at_start = bool(heights_deg[0] >= limits.sun_deg)
    always: Literal["up", "down"] | None = None if suns else "up" if up_at_start else "down"
    bands = {name: tuple(_bands(name, edges, span, heights_deg[0], found)) for name, edges in limits.bands.items()}
    return DayEvents(
        day=day,
        zone=zone,
        start=span[0],
        end=span[1],
        sunrises=tuple(sun.instant for sun in suns if sun.rising),
        sunsets=tuple(sun.instant for sun in suns if not sun.rising),
        noon=noon,
        highest_deg=float(heights_deg.max()),
        lowest_deg=float(heights_deg.min()),
        always=always,
        **bands,
    )


def _bands(
    name: str,
    edges: tuple[float, float],
    span: tuple[datetime, datetime],
    height_at_start_deg: float,
    found: dict[float, list[Crossing]],
) -> Iterator[Band]:
    start, end = span
    above = {edge: bool(height_at_start_deg >= edge) for edge in edges}
    began_before = above[edges[0]] and not above[edges[1]]
    began = start if began_before else None
    passages = [(passage.instant, edge, passage.rising) for edge in edges for passage in found[edge]]
    for instant, edge, rising in sorted(passages):
        above[edge] = rising
        inside = above[edges[0]] and not above[edges[1]]
        if inside and began is None:
            began = instant
        elif not inside and began is not None:
            yield Band(name, began, instant, began_before, goes_on=False)
            began, began_before = None, False
    if began is not None and start < end:
        yield Band(name, began, end, began_before, goes_on=True)
