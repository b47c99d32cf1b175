"""Orange gels and the white balance that goes with them."""

from __future__ import annotations

from models.light.accessories import Gel

DAYLIGHT_K = 5500
"""White balance everyone sets: common practice, no source (photographic daylight)."""

LOW_SUN_DEG = 10.0
"""Under this height the sun is visibly warm: common practice, no source."""

GELS = (
    Gel("1/4 orange", 0.34, 64),
    Gel("1/2 orange", 0.50, 109),
    Gel("full orange", 0.85, 159),
)
"""Mired shifts: one maker's data as tabulated on public mired pages. Losses: the same maker's swatch data, from memory
(another maker's run to 1.1 stop for the full one)."""


def kelvin_through(kelvin: float, shift_mired: float) -> float:
    """Colour temperature behind a gel: 1e6 / (1e6/T + shift), by the definition of the mired."""
    return 1e6 / (1e6 / kelvin + shift_mired)


def white_balance_words(sun_elevation_deg: float | None, sun_reaches: bool, gel: Gel | None) -> str:
    """What everyone sets, following the light on the skin; gels are chosen for the surroundings.

    sun_elevation_deg: None when not known; sun_reaches: direct sun falls on the subject or on what is behind.
    """
    low = sun_elevation_deg is not None and 0 < sun_elevation_deg < LOW_SUN_DEG and sun_reaches
    dusk = sun_elevation_deg is not None and sun_elevation_deg <= 0
    if gel is not None:
        return _with_gel(gel, low)
    daylight = f"White balance daylight, about {DAYLIGHT_K} K, the same for everyone."
    if low:
        return f"{daylight} A 1/4 to 1/2 orange gel on the flash matches the low sun ({_loss(*GELS[:2])})."
    if dusk:
        full = GELS[2]
        return (
            f"{daylight} For a colder dusk behind: a {full.name} gel on the flash and the white balance set to it, "
            f"about {_gelled(full)} K ({_loss(full)})."
        )
    return f"{daylight} No gel: leave the surroundings as they are."


def _with_gel(gel: Gel, low_sun: bool) -> str:
    if low_sun:
        return (
            f"White balance daylight, about {DAYLIGHT_K} K, the same for everyone: the {gel.name} gel matches the low "
            f"sun. Its {gel.loss_stops:.1f} stop is in the reserve."
        )
    return (
        f"White balance set to the gelled flash, about {_gelled(gel)} K, the same for everyone: skin stays neutral and "
        f"the surroundings turn colder. The {gel.name} gel's {gel.loss_stops:.1f} stop is in the reserve."
    )


def _gelled(gel: Gel) -> int:
    return round(kelvin_through(DAYLIGHT_K, gel.shift_mired) / 100) * 100


def _loss(*gels: Gel) -> str:
    return "it takes " + " to ".join(f"{gel.loss_stops:.1f}" for gel in gels) + " stop of the reserve"
