"""Walls and ground to choose from, with the share of light they send back.

Sources: pvlib = SURFACE_ALBEDOS of pvlib 0.16.1; Oke = Boundary Layer Climates, 2nd ed. 1987, and Taha 1997, ranges as
tabulated together in a later thesis; LM-83 = IES LM-83-12 (from memory); Kyushu = albedo page of Kyushu University.
Most are of the whole solar spectrum, a little unlike visible light; a photographer's grey card on the wall is better.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Surface:
    """reflectance: 0..1, the default for this surface; source: where it comes from."""

    key: str
    name: str
    reflectance: float
    source: str


WALLS: tuple[Surface, ...] = (
    Surface("mixed", "mixed fronts", 0.30, "LM-83, external obstructions"),
    Surface("brick", "brick", 0.30, "within 0.20 to 0.40, from memory"),
    Surface("concrete", "concrete", 0.30, "pvlib; Oke 0.10 to 0.35"),
    Surface("stone", "stone", 0.28, "middle of Oke's 0.20 to 0.35"),
    Surface("limestone", "limestone, clean and light", 0.45, "0.35 to 0.60, lighting handbooks, from memory"),
    Surface("white paint", "white paint", 0.70, "middle of Oke's 0.50 to 0.90"),
    Surface("glass", "coated glass", 0.20, "0.10 to 0.35, glazing data sheets, from memory; here as if it were matt"),
    Surface("dark", "dark brick or soot", 0.15, "common practice, no source"),
)

GROUNDS: tuple[Surface, ...] = (
    Surface("asphalt", "asphalt", 0.12, "pvlib; Oke 0.05 to 0.20"),
    Surface("concrete", "concrete paving", 0.30, "pvlib; Oke 0.10 to 0.35"),
    Surface("stone", "stone setts", 0.22, "low half of Oke's stone, 0.20 to 0.35"),
    Surface("pale stone", "pale stone slabs", 0.35, "top of Oke's stone, 0.20 to 0.35"),
    Surface("grass", "grass", 0.20, "pvlib; Oke 0.16 to 0.28"),
    Surface("soil", "soil or gravel", 0.17, "pvlib"),
    Surface("sand", "sand", 0.40, "pvlib"),
    Surface("snow", "snow", 0.65, "pvlib"),
    Surface("water", "water", 0.06, "pvlib, sea"),
)
