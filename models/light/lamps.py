"""Street lamps: what they add to daylight from lighting-up time on."""

from __future__ import annotations

from models.units import illuminance_from_ev100

LIGHTING_CLASS_LX: dict[str, float] = {
    "P1": 15.0, "P2": 10.0, "P3": 7.5, "P4": 5.0, "P5": 3.0, "P6": 2.0,
    "C0": 50.0, "C1": 30.0, "C2": 20.0, "C3": 15.0, "C4": 10.0, "C5": 7.5,
}  # fmt: skip
"""Average horizontal illuminance maintained, lx: EN 13201-2, from memory."""

UNKNOWN_EV100 = (0.0, 5.0)
"""What an unmeasured lit street may show at night: common practice, no source."""


def lamps_lx(lighting_class: str | None, night_ev100: float | None) -> float | None:
    """Illuminance the lamps add, lx: the spot's own night reading, else its lighting class, else None (unknown)."""
    if night_ev100 is not None:
        return illuminance_from_ev100(night_ev100)
    return LIGHTING_CLASS_LX[lighting_class] if lighting_class else None
