"""Street lamps: what they add to daylight from lighting-up time on."""

from __future__ import annotations

from models.units import illuminance_from_ev100

LIGHTING_CLASS_LX: dict[str, float] = {
    "P1": 15.0, "P2": 10.0, "P3": 7.5, "P4": 5.0, "P5": 3.0, "P6": 2.0,
    "C0": 50.0, "C1": 30.0, "C2": 20.0, "C3": 15.0, "C4": 10.0, "C5": 7.5,
}  # fmt: skip
"""Average horizontal illuminance maintained, lx: EN 13201-2, from memory."""

UNKNOWN_EV100 = (0.0, 5.0)
"""What a face in an unmeasured street may read at night: common practice, no source."""

MIDDLE_EV100 = sum(UNKNOWN_EV100) / 2
UNKNOWN_STOPS = MIDDLE_EV100 - UNKNOWN_EV100[0]


def lamps_lx(lighting_class: str | None, night_ev100: float | None, ground_reflectance: float = 0.0) -> float | None:
    """Illuminance the lamps add on level ground, lx: from the spot's own night reading of a face, else its lighting
    class, else None (unknown)."""
    if night_ev100 is not None:
        return illuminance_from_ev100(night_ev100) / upright_share(ground_reflectance)
    return LIGHTING_CLASS_LX[lighting_class] if lighting_class else None


def upright_share(ground_reflectance: float) -> float:
    """What an upright plane gets for each lx that the lamps give on level ground, on the average.

    Lamps hang all along a street, so it is taken to get what an evenly bright ceiling gives it, half as much, and half
    of what the ground sends up. Common practice, no source.
    """
    return 0.5 * (1.0 + ground_reflectance)
