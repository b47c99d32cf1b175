"""The sky cut into patches, and how bright each is for any place of the sun.

Seen from a sun that has moved round, the sky is the same sky turned. So one small table serves the whole sky: the
luminance of a patch by the sun's height, the patch's height and the angle in plan between them.
"""

from __future__ import annotations

from functools import cache
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from models.sky.dome import CLEAR, general_sky, traditional_overcast, unit_vectors

Floats = NDArray[np.floating]
Ints = NDArray[np.intp]

COLUMNS: Final = 36
ROWS: Final = 15
PATCHES: Final = COLUMNS * ROWS
COLUMN_DEG: Final = 360.0 / COLUMNS
ROW_DEG: Final = 90.0 / ROWS
SUN_STEP_DEG: Final = 5.0  # of the sun's places in the table, in plan; between them straight lines
SUN_RISE_DEG: Final = 3.0
TURNS: Final = int(360 / SUN_STEP_DEG)
RISES: Final = int(90 / SUN_RISE_DEG) + 1


class Places(NamedTuple):
    """Where n suns stand in the table: corner: (n, 4) indices of `cells`, share: (n, 4), cells: (c,) of the table."""

    corner: Ints
    share: Floats
    cells: Ints


def patch_of(azimuth_deg: Floats, elevation_deg: Floats) -> Ints:
    """Number of the patch that lies in these directions at or above the horizon."""
    column = (azimuth_deg / COLUMN_DEG).astype(np.intp) % COLUMNS
    row = np.clip((elevation_deg / ROW_DEG).astype(np.intp), 0, ROWS - 1)
    return column * ROWS + row


def overcast_luminance() -> Floats:
    """(PATCHES,) cd/m² of the traditional overcast sky that gives 1 lx on open level ground."""
    relative = np.tile(traditional_overcast(np.sin(np.radians(_row_deg()))), COLUMNS)
    return relative / (relative @ _projected_sr())


def places(azimuth_deg: Floats, elevation_deg: Floats) -> Places:
    """The four table cells round each sun; a sun below the horizon counts as on it."""
    turn, rise = azimuth_deg / SUN_STEP_DEG, np.clip(elevation_deg, 0.0, 90.0) / SUN_RISE_DEG
    left, low = np.floor(turn).astype(np.intp), np.minimum(rise.astype(np.intp), RISES - 2)
    along, up = turn - left, rise - low
    columns = np.stack([left, left + 1, left, left + 1], axis=1) % TURNS
    rows = np.stack([low, low, low + 1, low + 1], axis=1)
    share = np.stack([(1 - along) * (1 - up), along * (1 - up), (1 - along) * up, along * up], axis=1)
    cell = columns * RISES + rows
    needed = np.zeros(TURNS * RISES, bool)
    needed[cell] = True
    return Places((np.cumsum(needed) - 1)[cell], share, np.flatnonzero(needed))


def clear_luminance(cells: Ints) -> Floats:
    """(c, PATCHES) cd/m² of a clear sky that gives 1 lx on open level ground, the sun in these cells of the table."""
    turn, rise = cells // RISES, cells % RISES
    columns = np.round((np.arange(COLUMNS) + 0.5) * COLUMN_DEG / SUN_STEP_DEG).astype(np.intp)
    apart = (columns[None, :] - turn[:, None]) % TURNS
    luminance: Floats = _clear_table()[rise[:, None], apart].reshape(len(cells), PATCHES)
    return luminance


@cache
def _clear_table() -> Floats:
    """(RISES, TURNS, ROWS): by the sun's height, the angle in plan from sun to patch, and the patch's row."""
    sun = unit_vectors(0.0, np.arange(RISES) * SUN_RISE_DEG)
    patch = unit_vectors(np.arange(TURNS)[:, None] * SUN_STEP_DEG, _row_deg())
    relative = general_sky(CLEAR, patch[..., 2], np.tensordot(sun, patch, axes=(1, 2)))
    step = round(COLUMN_DEG / SUN_STEP_DEG)
    first = round(COLUMN_DEG / SUN_STEP_DEG / 2)
    ring = relative[:, first::step].reshape(RISES, PATCHES)
    table: Floats = (relative / (ring @ _projected_sr())[:, None, None]).astype(np.float32)
    return table


def _row_deg() -> Floats:
    return (np.arange(ROWS) + 0.5) * ROW_DEG


def _projected_sr() -> Floats:
    """(PATCHES,) solid angle times the sine of the elevation, exact over each patch; they add up to pi."""
    edges = np.sin(np.radians(np.arange(ROWS + 1) * ROW_DEG))
    return np.tile(np.diff(np.square(edges)) * np.pi / COLUMNS, COLUMNS)
