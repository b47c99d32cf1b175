"""What the weather does to people and to what stands on a stand: wind chill, heat index, wind on a modifier, lightning.

An index has a range; outside it there is none.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt
from typing import Literal

from models.street.weather import BEAUFORT_FROM_M_S, beaufort, drag_n

CHILL_WARMEST_C, CHILL_CALMEST_KM_H = 10.0, 4.8
"""The range of the formula (from memory)."""
CHILL_BANDS_C = (0.0, -10.0, -28.0, -40.0, -48.0)
"""Where the steps of CHILL begin: Environment Canada's wind chill hazards (from memory)."""
HEAT_BANDS_F = (80.0, 90.0, 103.0, 125.0)
"""Where the steps of HEAT begin: US National Weather Service, current wording."""
SUN_ADDS_F = 15.0
"""What direct sun can add to the heat index, at most: US National Weather Service."""
UMBRELLA_FACE_M2 = 0.79
"""An umbrella 1 m across."""
HOLD_N, DOWN_N = (drag_n(BEAUFORT_FROM_M_S[force - 1], UMBRELLA_FACE_M2) for force in (4, 5))
"""Drag on such an umbrella where force 4 begins, from which it is held by hand, and where force 5 begins, at which it
is taken down (common practice, no source). Other faces go by the same drag: our planning rule."""
NO_STANDS_FORCE = 6
"""Common practice, no source."""
SHELTER_S, SHELTER_MIN = 30.0, 30.0
"""The 30-30 rule: thunder within 30 s of the flash, go in; come out 30 minutes after the last thunder (US National
Weather Service, whose word to everybody now is to go in at the first thunder)."""
THUNDER_M_S = 1609.344 / 5
"""Five seconds a mile: US National Weather Service."""

Chill = Literal["none", "low", "moderate", "high", "very high", "severe"]
Heat = Literal["none", "caution", "extreme caution", "danger", "extreme danger"]
WindOn = Literal["weight", "hold", "down", "no stands"]

CHILLS: tuple[Chill, ...] = ("none", "low", "moderate", "high", "very high", "severe")
HEATS: tuple[Heat, ...] = ("none", "caution", "extreme caution", "danger", "extreme danger")


def wind_chill_c(temperature_c: float, wind_m_s: float) -> float | None:
    """The wind chill index, like degrees Celsius: Environment Canada and US National Weather Service, 2001."""
    km_h = wind_m_s * 3.6
    if temperature_c > CHILL_WARMEST_C or km_h < CHILL_CALMEST_KM_H:
        return None
    blown = float(km_h**0.16)
    return 13.12 + 0.6215 * temperature_c - 11.37 * blown + 0.3965 * temperature_c * blown


def chill(index_c: float | None) -> Chill:
    """What a wind chill index means for bare skin; an index is read to the whole degree."""
    return "none" if index_c is None else CHILLS[sum(round(index_c) <= bound for bound in CHILL_BANDS_C)]


def heat_index_c(temperature_c: float, humidity_pct: float) -> float | None:
    """How hot it feels in the shade, degrees Celsius; None under 80 F (27 C), where the index begins.

    Rothfusz, The heat index equation, US National Weather Service SR 90-23, 1990, with the adjustments of the service's
    Weather Prediction Center and its simpler formula where that stays under 80 F.
    """
    t, r = temperature_c * 9 / 5 + 32, humidity_pct
    simple = (t + 0.5 * (t + 61 + 1.2 * (t - 68) + 0.094 * r)) / 2
    index_f = simple if simple < HEAT_BANDS_F[0] else _regression_f(t, r) + _adjustment_f(t, r)
    return (index_f - 32) * 5 / 9 if round(index_f) >= HEAT_BANDS_F[0] else None


def heat(index_c: float | None, *, in_sun: bool = False) -> Heat:
    """What a heat index means for people who stand about; in the sun at its worst."""
    if index_c is None:
        return "none"
    index_f = round(index_c * 9 / 5 + 32 + (SUN_ADDS_F if in_sun else 0.0))
    return HEATS[sum(index_f >= bound for bound in HEAT_BANDS_F)]


@dataclass(frozen=True, slots=True)
class WindOnFace:
    """force: of the strongest wind. advice: weight the stand and keep a hand near; hold the modifier by hand; take it
    down; use no stands at all."""

    force: int
    drag_n: float
    advice: WindOn


def wind_on_face(strongest_m_s: float, face_m2: float) -> WindOnFace:
    """What a wind, gusts included, does to a modifier with such a face."""
    force, drag = beaufort(strongest_m_s), drag_n(strongest_m_s, face_m2)
    if force >= NO_STANDS_FORCE:
        return WindOnFace(force, drag, "no stands")
    return WindOnFace(force, drag, "down" if drag >= DOWN_N else "hold" if drag >= HOLD_N else "weight")


def thunder_distance_m(flash_to_thunder_s: float) -> float:
    return flash_to_thunder_s * THUNDER_M_S


def shelter_now(flash_to_thunder_s: float) -> bool:
    """Whether the 30-30 rule sends everybody in."""
    return flash_to_thunder_s <= SHELTER_S


def _regression_f(t: float, r: float) -> float:
    return (
        -42.379 + 2.04901523 * t + 10.14333127 * r - 0.22475541 * t * r - 0.00683783 * t**2 - 0.05481717 * r**2
        + 0.00122874 * t**2 * r + 0.00085282 * t * r**2 - 0.00000199 * t**2 * r**2
    )  # fmt: skip


def _adjustment_f(t: float, r: float) -> float:
    if r < 13 and 80 <= t <= 112:
        return -(13 - r) / 4 * sqrt((17 - abs(t - 95)) / 17)
    if r > 85 and 80 <= t <= 87:
        return (r - 85) / 10 * (87 - t) / 5
    return 0.0
