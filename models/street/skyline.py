"""How high what stands round a spot rises in every direction, and what that does to the sun.

    elevation         hand-measured: o-----o
       |      ______                      __
       |     |      |____       o-----o  |  |      one figure for each of 720 bearings,
       |_____|           |_____/       \\_|  |___   exact at the bearing of the bin itself
       +-----------------------------------------> bearing

The skyline holds tops only: the sky below a raised part (an arcade, a bridge between houses) seen from aside is lost,
and `source` says so. Under a raised part its underside becomes a roof.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from models.problems import InputProblem
from models.sky.sun import SUN_DEG, refracted_deg
from models.street.disc import (
    CANOPY_MARGIN_DEG,
    MEASURED,
    NOTHING,
    ROOF,
    STATES,
    Edges,
    SunStates,
    Through,
    covered,
    past_edges,
    told,
)
from models.street.rings import Floats
from models.street.scene import EYE_M, REACH_M, Canopy, SkylinePoint, Walls, building_over, roof_overhead
from models.street.sweep import look_round

__all__ = [
    "MEASURED",
    "NOTHING",
    "ROOF",
    "STATES",
    "InsideBuilding",
    "Skyline",
    "SunStates",
    "skyline_of",
    "sun_states",
]

MODEL_VERSION = "skyline 1"
DIRECTIONS = 720
WALLS_AT_ONCE = 8_192  # as many as fit a processor's near cache; all at once takes half as long again
MEASURED_GAP_DEG = 45.0  # hand-measured points further apart than this say nothing about what lies between
MEASURED_DOUBT_DEG = 1.0  # a telephone's clinometer held by hand: common practice, no source


class InsideBuilding(InputProblem):
    """The spot lies in a footprint that reaches the ground and no roof was noted: ask. `building` is its index."""

    def __init__(self, building: int) -> None:
        super().__init__("spot", "lies inside a building. Move it, set its floor height, or note the roof over it.")
        self.building = building


@dataclass(frozen=True, slots=True, eq=False)
class Skyline:
    """elevation_deg, doubt_deg: (n,). obstacle: (n,) int32, an index of Walls.building, NOTHING or MEASURED.

    Bin k is the bearing (k + 0.5) * 360 / n. doubt_deg is how far the top may be out, up or down. source: in words.
    """

    elevation_deg: Floats
    doubt_deg: Floats
    obstacle: NDArray[np.int32]
    source: str
    canopies: tuple[Canopy, ...] = ()

    @property
    def roof(self) -> bool:
        return any(canopy.is_roof for canopy in self.canopies)

    def at(self, azimuth_deg: ArrayLike) -> Floats:
        """Elevation on these bearings: between two bins in a straight line where both show one obstacle."""
        low, high, share = self.between(azimuth_deg)
        below, above = self.elevation_deg[low], self.elevation_deg[high]
        one = self.obstacle[low] == self.obstacle[high]
        return np.where(one, below + share * (above - below), np.where(share < 0.5, below, above))

    def between(self, azimuth_deg: ArrayLike) -> tuple[NDArray[np.intp], NDArray[np.intp], Floats]:
        """The two bins whose bearings enclose each azimuth, and how far it lies from the first to the second, 0..1."""
        n = len(self.elevation_deg)
        place = np.asarray(azimuth_deg, float) * (n / 360) - 0.5
        low = np.floor(place)
        return low.astype(np.intp) % n, (low.astype(np.intp) + 1) % n, place - low


def skyline_of(
    walls: Walls,
    canopies: Sequence[Canopy] = (),
    measured: Sequence[SkylinePoint] = (),
    eye_m: float = EYE_M,
    directions: int = DIRECTIONS,
) -> Skyline:
    """The skyline round the origin, of walls within 500 m; heights count from the ground (or floor) under the subject.

    Raises InsideBuilding where the origin lies in a footprint under no roof.
    """
    walls, canopies, under = _roofed(walls, tuple(canopies), eye_m)
    built = _of_walls(walls, eye_m, directions)
    drawn, used = _with_measured(built, measured)
    words = _building_words(walls, drawn.obstacle) + under + _measured_words(used, len(measured))
    return replace(drawn, source="; ".join(words), canopies=canopies)


def sun_states(skyline: Skyline, elevation_deg: ArrayLike, azimuth_deg: ArrayLike, months: ArrayLike) -> SunStates:
    """What becomes of the sun at each instant (T,); geometric elevations, which are refracted here; months 1..12.

    The disc crosses an edge over its own height; between two bins the shares of the disc they let through blend over
    half a degree, about the disc's width. "Too close to call": the sun stands nearer to the edge than the larger of
    its radius and the skyline's doubt, or one of the two bins shows it and the other does not; or it crosses the edge
    of a roof. Leaves have no sharp edge. An instant that is not a number is "down".
    """
    elevation, azimuth, month = np.broadcast_arrays(*map(np.atleast_1d, (elevation_deg, azimuth_deg, months)))
    up = np.flatnonzero(elevation >= SUN_DEG)
    seen, bearing = np.asarray(refracted_deg(elevation[up].astype(float))), azimuth[up]
    past = past_edges(seen, _edges(skyline, bearing))
    return told(elevation.shape, up, past, _through_canopies(skyline.canopies, seen, bearing, month[up]))


def _edges(skyline: Skyline, bearing_deg: Floats) -> Edges:
    low, high, place = skyline.between(bearing_deg)
    beside = np.stack([low, high])
    return Edges(skyline.elevation_deg[beside], skyline.doubt_deg[beside], skyline.obstacle[beside], place)


def _through_canopies(
    canopies: Sequence[Canopy], seen_deg: Floats, bearing_deg: Floats, month: NDArray[np.int_]
) -> Through:
    through, leaves, roof = np.ones(len(seen_deg)), np.zeros(len(seen_deg)), np.zeros(len(seen_deg))
    order = np.argsort(bearing_deg % 360)
    turned = np.concatenate([bearing_deg[order] % 360, bearing_deg[order] % 360 + 360])
    order = np.concatenate([order, order])
    for canopy in canopies:
        start = (canopy.bearing_from_deg - CANOPY_MARGIN_DEG) % 360
        end = start + min(canopy.width_deg + 2 * CANOPY_MARGIN_DEG, 360.0)
        near = order[slice(*np.searchsorted(turned, (start, end)))]
        shape = (canopy.bearing_from_deg, canopy.width_deg, canopy.elevation_from_deg, canopy.elevation_to_deg)
        cover = covered(*shape, seen_deg[near], bearing_deg[near])
        if canopy.is_roof:
            roof[near] += cover
            continue
        lets = np.array([canopy.transmittance(m) for m in range(1, 13)])[month[near] - 1]
        through[near] *= 1 - cover * (1 - lets)
        leaves[near] = np.maximum(leaves[near], cover)
    roof = np.minimum(roof, 1.0)
    return Through(through * (1 - roof), leaves, roof)


def _roofed(walls: Walls, canopies: tuple[Canopy, ...], eye_m: float) -> tuple[Walls, tuple[Canopy, ...], list[str]]:
    """Takes every building that stands over the origin out of the walls; a raised one leaves its underside."""
    words = []
    while (over := building_over(walls)) is not None:
        if float(walls.bottom_m[walls.building == over].min()) > eye_m:
            walls, underside = roof_overhead(walls, over, eye_m)
            canopies += underside
            words = ["under a raised part, its underside a roof"]
        elif any(canopy.is_roof for canopy in canopies):
            walls = walls.only(walls.building != over)
            words = ["inside a building, of which only the roof noted for the spot counts"]
        else:
            raise InsideBuilding(over)
    return walls, canopies, words


def _of_walls(walls: Walls, eye_m: float, directions: int) -> Skyline:
    """Tops as likely, and as high and as low as the doubts of all heights allow."""
    best, highest, lowest = np.zeros((3, directions))
    obstacle = np.full(directions, NOTHING, np.int32)
    for start in range(0, len(walls), WALLS_AT_ONCE):
        part = walls.only(slice(start, start + WALLS_AT_ONCE))
        hits = look_round(part, directions, part.top_m + part.doubt_m > eye_m)
        away = np.maximum(hits.distance_m, 1e-6)
        slope, spread = (part.top_m[hits.wall] - eye_m) / away, part.doubt_m[hits.wall] / away
        before = best[hits.bin]
        for kept, offered in ((best, slope), (highest, slope + spread), (lowest, slope - spread)):
            np.maximum.at(kept, hits.bin, offered)
        top = (slope == best[hits.bin]) & (slope > before)
        obstacle[hits.bin[top]] = part.building[hits.wall[top]]
    low, mid, high = np.degrees(np.arctan([lowest, best, highest]))
    return Skyline(mid, np.maximum(high - mid, mid - low), obstacle, "")


def _with_measured(built: Skyline, measured: Sequence[SkylinePoint]) -> tuple[Skyline, int]:
    """Straight lines between hand-measured neighbours in place of the buildings there; how many points were used."""
    points = sorted(measured, key=lambda point: point.bearing_deg % 360)
    elevation, doubt, obstacle = built.elevation_deg.copy(), built.doubt_deg.copy(), built.obstacle.copy()
    bearing = (np.arange(len(elevation)) + 0.5) * (360 / len(elevation))
    used: set[int] = set()
    for index, point in enumerate(points):
        after = (index + 1) % len(points)
        gap = (points[after].bearing_deg - point.bearing_deg) % 360
        if len(points) == 1 or gap > MEASURED_GAP_DEG:
            continue
        used |= {index, after}
        turn = (bearing - point.bearing_deg) % 360
        line = np.interp(turn, (0.0, gap or 1.0), (point.elevation_deg, points[after].elevation_deg))
        here = turn <= gap
        elevation[here], doubt[here], obstacle[here] = np.maximum(line[here], 0.0), MEASURED_DOUBT_DEG, MEASURED
    return replace(built, elevation_deg=elevation, doubt_deg=doubt, obstacle=obstacle), len(used)


def _building_words(walls: Walls, obstacle: NDArray[np.int32]) -> list[str]:
    seen = np.unique(obstacle[obstacle >= 0])
    if not len(seen):
        return [] if (obstacle == MEASURED).all() else [f"no building seen within {REACH_M:g} m"]
    shown = np.isin(walls.building, seen)
    words = [f"from {_counted(len(seen), 'building')}"]
    if walls.assumed is not None:
        assumed = len(np.unique(walls.building[shown & walls.assumed]))
        words.append(f"{_counted(assumed, 'height')} assumed" if assumed else "no height assumed")
    raised = len(np.unique(walls.building[shown & (walls.bottom_m > 0)]))
    if raised:
        words.append(f"the sky below {_counted(raised, 'raised part')} left out")
    return [", ".join(words)]


def _measured_words(used: int, given: int) -> list[str]:
    words = [f"hand-measured at {_counted(used, 'bearing')}"] if used else []
    if given > used:
        words.append(f"{_counted(given - used, 'measured bearing')} with no neighbour within 45 degrees, not used")
    return words


def _counted(count: int, thing: str) -> str:
    return f"{count} {thing}" if count == 1 else f"{count} {thing}s"
