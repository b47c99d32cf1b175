"""Which walls bear on the light at a subject: all near by, and of the far ones those that show over what lies between.

    ____                         _______
   |    |    ____     __        |       |  shows from 20 m up
   |    |___|    |___|  |_______|       |
o  |____|___|____|___|__|_______|_______|
|<------ 80 m: whole ------>|<--- beyond: only panels that show
   buildings with their roofs      from the subject, or from 10 or 20 m above
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from models.street.scene import Walls
from models.street.sweep import look_round

# Measured against all walls within 500 m, at ten spots of the demo town and five of central Helsinki under 60 suns
# each: 0.016 stop on the planes; 50 m costs twice as much. tests/models/light/test_reach.py holds it in Helsinki.
WHOLE_M: Final = 80.0
ABOVE_M: Final = (0.0, 10.0, 20.0)
DIRECTIONS: Final = 720


def within_reach(walls: Walls, eye_m: float) -> Walls:
    """The walls that count for a subject at the origin whose eye is eye_m above the ground."""
    kept = near_buildings(walls)
    for above_m in ABOVE_M:
        kept[_showing(walls, eye_m + above_m)] = True
    return walls.only(kept)


def near_buildings(walls: Walls) -> NDArray[np.bool_]:
    """(n,) walls of buildings that come within WHOLE_M of the origin."""
    if not len(walls):
        return np.zeros(0, bool)
    along = walls.end_m - walls.start_m
    length = np.maximum((along**2).sum(axis=1), 1e-12)
    foot = np.clip(-(walls.start_m * along).sum(axis=1) / length, 0.0, 1.0)
    distance = np.hypot(*(walls.start_m + foot[:, None] * along).T)
    return np.isin(walls.building, walls.building[distance < WHOLE_M])


def _showing(walls: Walls, height_m: float) -> NDArray[np.intp]:
    """Walls of which some part shows over all nearer ones from this height above the origin."""
    hits = look_round(walls, DIRECTIONS, walls.top_m > height_m)
    order = np.lexsort((hits.distance_m, hits.bin))
    wall = hits.wall[order]
    tangent = (walls.top_m[wall] - height_m) / hits.distance_m[order]
    steep = tangent / (1.0 + tangent) + hits.bin[order]  # rises from one direction to the next, whatever the tangents
    before = np.maximum.accumulate(steep)
    shows = np.append(True, steep[1:] > before[:-1]) if len(steep) else np.zeros(0, bool)
    found: NDArray[np.intp] = wall[shows]
    return found
