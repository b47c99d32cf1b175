"""Exposure values, lux, candela, stops, feet, points of the compass.

EV100 is the exposure value at ISO 100. Scalars give scalars, arrays give arrays of the same shape.
"""

from __future__ import annotations

from typing import Any, TypeVar, cast

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
Numbers = TypeVar("Numbers", float, FloatArray)

C_FLAT_LX_S = 250.0
"""Incident-light constant of a flat (cosine) receptor, lx s (ISO 2720:1974)."""

K_REFLECTED = 12.5
"""Reflected-light constant, cd s/m2 (ISO 2720:1974, the commonest choice)."""

EV0_LX = C_FLAT_LX_S / 100.0
"""Illuminance of EV100 0: 2.5 lx with C = 250."""

EV0_CD_M2 = K_REFLECTED / 100.0
"""Luminance of EV100 0: 0.125 cd/m2 with K = 12.5."""

NIGHT_FLOOR_EV = -12.0
"""No light is darker than this: 0.0006 lx, starlight and airglow without a moon (USNO Circular 171: 0.0005 lx)."""

METRES_PER_FOOT = 0.3048
"""International foot of 1959, exact."""

COMPASS = ("north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west")
"""Point k lies at bearing 45 k degrees."""


def ev100_from_illuminance(illuminance_lx: Numbers) -> Numbers:
    """EV100 of incident light, `log2(E * 100 / C)`; zero and less give NIGHT_FLOOR_EV (ISO 2720:1974)."""
    return _ev100(illuminance_lx, EV0_LX)


def illuminance_from_ev100(ev100: Numbers) -> Numbers:
    """Illuminance in lx of an EV100, `2.5 * 2^EV`."""
    return like(ev100, EV0_LX * np.exp2(ev100))


def ev100_from_luminance(luminance_cd_m2: Numbers) -> Numbers:
    """EV100 of a reflecting surface, `log2(L * 100 / K)`; zero and less give NIGHT_FLOOR_EV (ISO 2720:1974)."""
    return _ev100(luminance_cd_m2, EV0_CD_M2)


def luminance_from_ev100(ev100: Numbers) -> Numbers:
    """Luminance in cd/m2 of an EV100, `0.125 * 2^EV`."""
    return like(ev100, EV0_CD_M2 * np.exp2(ev100))


def stops_between(a: Numbers, b: Numbers) -> Numbers:
    """How many stops `a` is brighter than `b`: `log2(a / b)`. Both are amounts of light above zero, in one unit."""
    return like(a, np.log2(np.divide(a, b)))


def compass_words(bearing_deg: float) -> str:
    """The nearest of the eight points."""
    return COMPASS[round(bearing_deg / 45) % 8]


def _ev100(light: Numbers, of_ev0: float) -> Numbers:
    floor = of_ev0 * 2.0**NIGHT_FLOOR_EV
    return like(light, np.log2(np.maximum(light, floor) / of_ev0))


def like(given: Numbers, result: Any) -> Numbers:
    """`result` as a float where `given` is a scalar, as it is where `given` is an array."""
    return cast(Numbers, float(result) if np.ndim(given) == 0 else result)
